"""Worker processes: `chauka work` on the open book, behind everything else that this machine does."""

from __future__ import annotations

import os
import subprocess
import sys
import threading

from chauka.store import opening
from chauka.store.models import Household


def start(household: Household) -> None:
    """Start a worker that outlives this process."""
    book = opening.file()
    words = ["work", f"--household={household.name}", *([f"--book={book}"] if book else [])]
    worker = subprocess.Popen(  # noqa: S603 - our own words
        [sys.executable, "-m", "chauka", *words],
        stdin=subprocess.DEVNULL,
        stdout=subprocess.DEVNULL,  # a pipe of the server's would break with it
        stderr=subprocess.DEVNULL,
        env={**os.environ, "OMP_NUM_THREADS": "1"},
        start_new_session=True,  # Ctrl-C at the server is not meant for it
    )
    threading.Thread(target=worker.wait, daemon=True, name="worker").start()  # else it stays as a zombie when it ends
