"""Sharing the pages at home: one pass phrase for the house, and the devices that gave it.

Both are in a file beside the book that only its owner can read; never in the book, so that a copy of
the book gives nobody a way in. The phrase is kept as a slow hash, a device's token as a hash.
"""

from __future__ import annotations

import hashlib
import json
import secrets
import threading
from collections import deque
from collections.abc import Callable
from dataclasses import asdict, dataclass, replace
from datetime import datetime, timedelta
from pathlib import Path
from time import monotonic

from django.contrib.auth.hashers import check_password, make_password

from chauka.errors import InputError
from chauka.store import opening
from chauka.store.files import write_whole
from chauka.store.location import book_path

SHORTEST = 12
"""Letters of a pass phrase: four short words."""

DEVICE_DAYS = 30
"""A device that did not come back for so long must give the phrase again."""

_SEEN_EVERY = timedelta(hours=1)


@dataclass(frozen=True, slots=True)
class Device:
    """One phone or laptop that gave the phrase."""

    name: str
    since: datetime
    seen: datetime


@dataclass(frozen=True, slots=True)
class _Kept:
    phrase: str
    devices: dict[str, Device]


_writing = threading.Lock()


def file() -> Path:
    """Where phrase and devices of the open book are."""
    book = opening.file() or book_path()
    return book.with_name(book.name + ".sharing")


def has_phrase() -> bool:
    """Whether a pass phrase was set."""
    return bool(_read().phrase)


def set_phrase(phrase: str) -> None:
    """Set the pass phrase; every device has to give it anew. Raises `InputError` where it is too short."""
    if len(phrase.strip()) < SHORTEST:
        raise InputError({"pass phrase": (f"needs at least {SHORTEST} letters; four words are easy to remember",)})
    with _writing:
        _write(_Kept(make_password(phrase.strip()), {}))


def sign_in(phrase: str, name: str, now: datetime) -> str | None:
    """The token of a new device, if the phrase is right."""
    kept = _read()
    if not kept.phrase or not check_password(phrase.strip(), kept.phrase):
        return None
    token = secrets.token_urlsafe(32)
    with _writing:
        kept = _read()
        device = Device(" ".join(name.split())[:40] or "a device", now, now)
        _write(replace(kept, devices={**_fresh(kept, now), _hash(token): device}))
    return token


def is_signed_in(token: str, now: datetime) -> bool:
    """Whether the token is of a device that gave the phrase and came back in time."""
    kept, key = _read(), _hash(token)
    device = _fresh(kept, now).get(key)
    if device is None:
        return False
    if now - device.seen >= _SEEN_EVERY:
        with _writing:
            kept = _read()
            if key in kept.devices:
                _write(replace(kept, devices={**_fresh(kept, now), key: replace(device, seen=now)}))
    return True


def sign_out(token: str) -> None:
    """Forget this device."""
    with _writing:
        kept = _read()
        _write(replace(kept, devices={k: d for k, d in kept.devices.items() if k != _hash(token)}))


def sign_out_named(name: str | None) -> int:
    """Forget all devices of that name (None: all there are); returns how many."""
    with _writing:
        kept = _read()
        left = {} if name is None else {k: d for k, d in kept.devices.items() if d.name != name}
        _write(replace(kept, devices=left))
    return len(kept.devices) - len(left)


def devices(now: datetime) -> tuple[Device, ...]:
    """The devices that are signed in, the one seen last first."""
    return tuple(sorted(_fresh(_read(), now).values(), key=lambda d: d.seen, reverse=True))


def _fresh(kept: _Kept, now: datetime) -> dict[str, Device]:
    return {k: d for k, d in kept.devices.items() if now - d.seen < timedelta(days=DEVICE_DAYS)}


def _hash(token: str) -> str:
    return hashlib.sha256(token.encode()).hexdigest()  # of 256 random bits: nothing to guess


def _read() -> _Kept:
    try:
        plain = json.loads(file().read_text(encoding="utf-8"))
        made = {
            key: Device(d["name"], datetime.fromisoformat(d["since"]), datetime.fromisoformat(d["seen"]))
            for key, d in plain["devices"].items()
        }
        return _Kept(plain["phrase"], made)
    except FileNotFoundError:
        return _Kept("", {})
    except (ValueError, KeyError, TypeError, AttributeError):
        raise InputError({str(file()): ("is damaged; set the pass phrase anew",)}) from None


def _write(kept: _Kept) -> None:
    write_whole(file(), json.dumps(asdict(kept), default=datetime.isoformat).encode(), mode=0o600)


@dataclass(frozen=True, slots=True)
class Knock:
    """What came of giving the phrase: the token of a new device, or how long to wait before the next try [s]."""

    token: str | None
    wait_s: float = 0.0


LONGEST = 200
"""Letters of a phrase that are looked at: hashing more is work for nothing."""


def knock(address: str, phrase: str, name: str, now: datetime) -> Knock:
    """Let a device in, if the phrase is right and that address has not tried too often."""
    if wait_s := limit.wait_s(address):
        return Knock(None, wait_s)
    limit.tried(address)
    token = sign_in(phrase[:LONGEST], name, now)
    if token is not None:
        limit.right(address)
    return Knock(token)


class Limit:
    """At most so many wrong tries in a while, from one address and from all together."""

    def __init__(
        self, *, each: int = 5, all_together: int = 40, while_s: float = 900.0, clock: Callable[[], float] = monotonic
    ) -> None:
        self.each, self.all_together, self.while_s, self.clock = each, all_together, while_s, clock
        self._wrong: deque[tuple[float, str]] = deque()
        self._lock = threading.Lock()

    def wait_s(self, address: str) -> float:
        """How long that address has to wait before its next try [s]; 0 where it may try."""
        with self._lock:
            now = self.clock()
            while self._wrong and now - self._wrong[0][0] >= self.while_s:
                self._wrong.popleft()
            mine = [at for at, who in self._wrong if who == address]
            if len(mine) >= self.each:
                return self.while_s - (now - mine[-self.each])
            if len(self._wrong) >= self.all_together:
                return self.while_s - (now - self._wrong[-self.all_together][0])
            return 0.0

    def tried(self, address: str) -> None:
        """A try begins: it counts as wrong until it is `right`, so that many at once do not slip through."""
        with self._lock:
            self._wrong.append((self.clock(), address))

    def right(self, address: str) -> None:
        """The phrase was right: what that address tried before is forgotten."""
        with self._lock:
            self._wrong = deque((at, who) for at, who in self._wrong if who != address)


limit = Limit()
"""Wrong tries at this server's door."""
