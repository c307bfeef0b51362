"""Files that are either written whole or not at all, and never readable by others where they hold a secret."""

from __future__ import annotations

import os
import secrets
import tempfile
from pathlib import Path


def write_whole(path: Path, data: bytes, *, mode: int = 0o600) -> None:
    """Write a file so that a reader sees the old one or the new one, also after a power cut.

    Writes beside the target, syncs, renames over it and syncs the folder.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    handle, temporary = tempfile.mkstemp(prefix=f".{path.name}.", dir=path.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        Path(temporary).chmod(mode)
        Path(temporary).replace(path)
    except BaseException:
        Path(temporary).unlink(missing_ok=True)
        raise
    _sync_folder(path.parent)


def _sync_folder(folder: Path) -> None:
    if not hasattr(os, "O_DIRECTORY"):
        return  # only POSIX can, and need, sync a folder
    handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def secret_key(beside: Path) -> str:
    """The key that signs this book's web forms, in a file beside the book that only its owner can read.

    Made on first use. The book can then be copied or sent without the key.
    """
    path = beside.with_name(beside.name + ".key")
    try:
        return path.read_text(encoding="ascii").strip()
    except FileNotFoundError:
        path.parent.mkdir(parents=True, exist_ok=True)
    key = secrets.token_urlsafe(48)
    try:
        handle = os.open(path, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600)
    except FileExistsError:  # another process was first
        return path.read_text(encoding="ascii").strip()
    with os.fdopen(handle, "w", encoding="ascii") as file:
        file.write(key)
    return key
