"""`chauka serve`: the pages, on this machine alone unless told otherwise."""

from __future__ import annotations

import ipaddress
import os
import socket
import threading
import time
from contextlib import suppress
from datetime import date
from pathlib import Path

import click
import waitress
from django.conf import settings
from django.core.wsgi import get_wsgi_application

from chauka.cli.session import BOOK, HOUSEHOLD, TODAY
from chauka.errors import InputError
from chauka.services import clock, sharing
from chauka.store import copies
from chauka.store.books import household
from chauka.store.location import HOUSEHOLD_VARIABLE
from chauka.store.opening import open_book, use_setting

HOST, PORT = "127.0.0.1", 8642
THREADS = 6
COPY_EVERY_S = 600.0
LARGEST_REQUEST = 20_000_000  # bytes; pages refuse far less, this stops what would fill the disk
CONNECTIONS = 200

SHARED = """\
The pages are shared: everybody on this network who knows the address and the pass phrase can read and change this
book. What passes is not encrypted, nor is the phrase: share only at home, and stop it (Ctrl-C) when it is not
needed."""


@click.command()
@click.option("--host", default=HOST, show_default=True, help="The address to listen on.")
@click.option("--port", type=click.IntRange(0, 65535), default=PORT, show_default=True, help="0: any free one.")
@click.option("--share", is_flag=True, help="Allow an address that other machines can reach. Read what it says.")
@BOOK
@HOUSEHOLD
@TODAY
def command(
    *, host: str, port: int, share: bool, book: Path | None, house_name: str | None, today: date | None
) -> None:
    """Open the pages in a browser on this machine.

    Nothing beyond this machine can reach them unless --host and --share say so.
    """
    loopback = _is_loopback(host)
    if not loopback and not share:
        raise InputError(
            {"host": (f"{host} can be reached from other machines; add --share if that is meant, or leave --host out",)}
        )
    opened = open_book(book)
    if house_name is not None:
        os.environ[HOUSEHOLD_VARIABLE] = household(house_name).name
    use_setting("CHAUKA_TODAY", today.isoformat() if today else None)
    use_setting("ALLOWED_HOSTS", [*settings.ALLOWED_HOSTS, _shown(host), *([] if loopback else _names())])
    if share and not sharing.has_phrase():
        raise InputError({"share": ("needs a pass phrase first: `chauka house phrase` sets one",)})
    use_setting("CHAUKA_SHARED", share or None)
    if not loopback:
        click.echo(SHARED, err=True)
    server = _server(host, port)
    click.echo(f"The book: {opened or 'the database of DATABASE_URL'}")
    click.echo(f"The pages: http://{_shown(host)}:{server.effective_port}/   (stop with Ctrl-C)")
    threading.Thread(target=_copy_every_day, daemon=True, name="copies").start()
    threading.Thread(target=_warm, daemon=True, name="warm").start()
    try:
        server.run()
    except KeyboardInterrupt:
        pass
    finally:
        server.close()


def _warm() -> None:
    """Take up what was being planned when the pages were stopped, and load what the first pages need.

    Solvers and tables take seconds to load: that is done here, beside the first answers.
    """
    from chauka.services import running  # noqa: PLC0415
    from chauka.services.warm import warm  # noqa: PLC0415

    with suppress(InputError):  # an empty book, or several: the pages say so
        running.current(household())
    warm(clock.now(settings.CHAUKA_TODAY or None))


def _copy_every_day() -> None:
    """Copy the book on each day on which something has changed, for as long as the pages are open."""
    while True:
        try:
            copies.make_daily(clock.now())
        except InputError as error:
            click.echo(f"chauka: today's copy of the book was not made: {error}", err=True)
        time.sleep(COPY_EVERY_S)


def _server(host: str, port: int) -> waitress.server.BaseWSGIServer:
    """The server, its socket bound by us so that a port in use is a word and not half a server."""
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    try:
        bound = socket.create_server((host, port), family=family)
    except OSError as error:
        complaint = f"{host}:{port} cannot be used: {os.strerror(error.errno or 0)}; try another --port"
        raise InputError({"port": (complaint,)}) from None
    return waitress.create_server(
        get_wsgi_application(),
        sockets=[bound],
        threads=THREADS,
        ident="chauka",
        max_request_body_size=LARGEST_REQUEST,
        connection_limit=CONNECTIONS,
    )


def _is_loopback(host: str) -> bool:
    """Whether only this machine can reach the address; a name is looked up."""
    try:
        found = {str(info[4][0]) for info in socket.getaddrinfo(host, None)}
    except OSError:
        raise InputError({"host": (f"{host!r} is no address of this machine; write it as in {HOST}",)}) from None
    return all(ipaddress.ip_address(address.partition("%")[0]).is_loopback for address in found)


def _names() -> list[str]:
    """Names and addresses by which others may ask for the pages; any other host header is refused."""
    name = socket.gethostname()
    names = [name, f"{name}.local"]
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))  # a documentation address (RFC 5737): nothing is sent
            names.append(str(probe.getsockname()[0]))
        except OSError:
            pass  # no way out of this machine: the names above are all there are
    return names


def _shown(host: str) -> str:
    return f"[{host}]" if ":" in host else host
