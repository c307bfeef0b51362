"""A PostgreSQL server of the tests' own, in a temporary folder; skipped where Debian's package is not installed."""

from __future__ import annotations

import os
import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

NOBODY = "nobody"
_FOLDERS = [Path("/usr/local/bin"), *sorted(Path("/usr/lib/postgresql").glob("*/bin"), reverse=True)]


def programs() -> Path | None:
    """The folder of Debian's PostgreSQL server, the newest there is."""
    return next((f.resolve() for f in _FOLDERS if (f / "initdb").exists() and (f / "postgres").exists()), None)


def _as_nobody(*words: str) -> list[str]:
    """PostgreSQL refuses to run as root."""
    return ["runuser", "-u", NOBODY, "--", *words] if os.geteuid() == 0 else list(words)


@contextmanager
def server() -> Iterator[str]:
    """The address of an empty database in a server that ends with the test run."""
    found = programs()
    if found is None:
        pytest.skip("no PostgreSQL server on this machine; sudo apt-get install postgresql brings it")
    folder = Path(tempfile.mkdtemp(prefix="chauka-pg-"))
    folder.chmod(0o700)
    if os.geteuid() == 0:
        shutil.chown(folder, NOBODY)
    data = str(folder / "data")
    quiet = {"check": True, "capture_output": True, "text": True, "timeout": 60, "cwd": "/"}
    init = ["initdb", "-D", data, "-U", "cook", "--auth=trust", "--encoding=UTF8", "--locale=C"]
    start = [
        "pg_ctl",
        "-D",
        data,
        "-w",
        "-l",
        str(folder / "log"),
        "-o",
        f"-k {folder} -c listen_addresses=''",
        "start",
    ]
    try:
        _run(found, init, quiet)
        _run(found, start, quiet)
        _run(found, ["createdb", "-h", str(folder), "-U", "cook", "kitchen"], quiet)
        yield f"postgresql://cook@/kitchen?host={folder}"
    finally:
        subprocess.run(  # noqa: S603 - our own words
            _as_nobody(str(found / "pg_ctl"), "-D", data, "-m", "immediate", "-w", "stop"),
            check=False, capture_output=True, timeout=60, cwd="/",
        )  # fmt: skip
        shutil.rmtree(folder, ignore_errors=True)


def _run(found: Path, words: list[str], how: dict[str, object]) -> None:
    program = found / words[0]
    command = _as_nobody(str(program if program.exists() else words[0]), *words[1:])
    subprocess.run(command, **how)  # type: ignore[call-overload] # noqa: S603, PLW1510 - checked, by `how`
