"""The real server in a process of its own, and a phone that talks to it."""

from __future__ import annotations

import http.client
import os
import re
import signal
import socket
import subprocess
import sys
import urllib.parse
from collections.abc import Callable, Mapping
from pathlib import Path
from types import TracebackType
from typing import Self

START_S = 60
TODAY = "2027-03-14"


class Serving:
    """`chauka serve` on one book; a context manager that ends it."""

    def __init__(
        self,
        book: Path | None,
        *options: str,
        environment: Mapping[str, str] | None = None,
        before: Callable[[], None] | None = None,
    ) -> None:
        file = () if book is None else ("--book", str(book))
        self.process = subprocess.Popen(  # noqa: S603 - our own command
            [sys.executable, "-m", "chauka", "serve", "--port", "0", "--today", TODAY, *file, *options],
            preexec_fn=before,  # noqa: PLW1509 - sets limits of the child, in a test without threads yet
            env={**os.environ, "PYTHONUNBUFFERED": "1", **(environment or {})},
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
        )
        self.said: list[str] = []
        self.port = self._port()

    def _port(self) -> int:
        assert self.process.stdout is not None
        for line in self.process.stdout:
            self.said.append(line)
            if found := re.search(r"http://[^:/]+:(\d+)/", line):
                return int(found[1])
        self.process.wait(START_S)
        self.process.stdout.close()
        raise AssertionError("the server said no address: " + "".join(self.said))

    def kill(self) -> None:
        """As a power cut would: no warning, nothing flushed."""
        self.process.send_signal(signal.SIGKILL)
        self._end()

    def stop(self) -> None:
        """As Ctrl-C would."""
        if self.process.poll() is None:
            self.process.send_signal(signal.SIGINT)
            self._end()

    def _end(self) -> None:
        self.process.wait(START_S)
        assert self.process.stdout is not None
        self.said.extend(self.process.stdout)
        self.process.stdout.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, _: type[BaseException] | None, __: BaseException | None, ___: TracebackType | None) -> None:
        self.stop()


class Phone:
    """A browser as plain as can be: one connection, cookies, the form's own token."""

    def __init__(self, port: int, *, timeout_s: float = 30.0) -> None:
        self.port, self.timeout_s = port, timeout_s
        self.cookies: dict[str, str] = {}
        self.line: http.client.HTTPConnection | None = None

    def get(self, path: str, **headers: str) -> tuple[int, str]:
        """Status and text of a page."""
        status, body, _ = self.ask("GET", path, headers=headers)
        return status, body

    def post(self, path: str, **fields: str) -> int:
        """Status of a form sent."""
        if "csrftoken" not in self.cookies:
            self.get("/shelf/")
        body = urllib.parse.urlencode(fields | {"csrfmiddlewaretoken": self.cookies.get("csrftoken", "")})
        kind = {"Content-Type": "application/x-www-form-urlencoded"}
        return self.ask("POST", path, body=body, headers=kind)[0]

    def ask(
        self, method: str, path: str, *, body: str | bytes | None = None, headers: Mapping[str, str] | None = None
    ) -> tuple[int, str, http.client.HTTPMessage]:
        """One request; a connection that breaks is an OSError or HTTPException."""
        if self.line is None:
            self.line = http.client.HTTPConnection("127.0.0.1", self.port, timeout=self.timeout_s)
            self.line.connect()
            self.line.sock.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
        cookies = "; ".join(f"{name}={value}" for name, value in self.cookies.items())
        try:
            self.line.request(method, path, body, {**({"Cookie": cookies} if cookies else {}), **(headers or {})})
            answer = self.line.getresponse()
            text = answer.read().decode("utf-8", "replace")
        except BaseException:
            self.close()
            raise
        for cookie in answer.headers.get_all("Set-Cookie") or ():
            name, _, value = cookie.partition(";")[0].partition("=")
            self.cookies[name.strip()] = value.strip()
        return answer.status, text, answer.headers

    def close(self) -> None:
        """Hang up."""
        if self.line is not None:
            self.line.close()
            self.line = None
