"""A dump as a folder of plain files: JSON Lines and photos that chauka reads back, CSV tables for other programs."""

from __future__ import annotations

import base64
import csv
import hashlib
import io
import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import fields
from datetime import datetime
from typing import Any

from chauka.errors import InputError
from chauka.store import codec, dump, plain_json
from chauka.store.dump import Dump

MANIFEST = "manifest.json"
FORMAT = "chauka export"
PHOTOS = "photos"
"""The folder of the photos, each named by its sum; in the JSON Lines their name stands for their bytes."""


def to_files(taken: Dump, now: datetime) -> dict[str, bytes]:
    """Name and content of every file; the manifest has a sum of each JSON Lines file."""
    lines = {f"{f.name}.jsonl": _lines(getattr(taken, f.name)) for f in fields(Dump) if f.name != PHOTOS}
    lines[f"{PHOTOS}.jsonl"] = _lines(
        tuple(codec.to_plain(one) | {"data": _photo_file(one.digest)} for one in taken.photos)
    )
    photos = {_photo_file(one.digest): one.jpeg for one in taken.photos}
    tables = {f"csv/{name}.csv": _table(rows) for name, rows in _tables(taken).items()}
    manifest = {
        "format": FORMAT,
        "version": dump.VERSION,
        "written": now.isoformat(),
        "sha256": {name: hashlib.sha256(data).hexdigest() for name, data in lines.items()},
    }
    return {MANIFEST: json.dumps(manifest, indent=1).encode() + b"\n", **lines, **photos, **tables}


def _photo_file(digest: str) -> str:
    return f"{PHOTOS}/{digest}.jpg"


def _lines(section: Any) -> bytes:
    things = section if isinstance(section, tuple) else (section,)
    return "".join(f"{codec.to_text(one)}\n" for one in things).encode()


def _tables(taken: Dump) -> Mapping[str, Iterable[Mapping[str, Any]]]:
    here = [(lot, False) for lot in taken.lots] + [(lot, True) for lot in taken.gone_lots]
    return {
        "lots": [{**_flat(lot), "gone": gone} for lot, gone in here],
        "offers": [_flat(one) for one in taken.offers],
        "prices": [_flat(one) for one in taken.prices],
        "ledger": [
            {"action": a.number, "task": a.task, "note": a.note, **_flat(row)} for a in taken.actions for row in a.rows
        ],
        "lines": [{"dish_id": d.id, "dish": d.name, **_flat(line)} for d in taken.dishes for line in d.lines],
    }


def _flat(noun: object) -> dict[str, Any]:
    plain: dict[str, Any] = codec.to_plain(noun)
    return {name: _cell(value) for name, value in plain.items()}


def _cell(value: Any) -> Any:
    return json.dumps(value, ensure_ascii=False) if isinstance(value, dict | list) else value


def _table(rows: Iterable[Mapping[str, Any]]) -> bytes:
    """CSV (RFC 4180, UTF-8); a cell that a spreadsheet would take for a formula begins with an apostrophe."""
    rows = list(rows)
    text = io.StringIO()
    if rows:
        writer = csv.DictWriter(text, list(rows[0]))
        writer.writeheader()
        writer.writerows({k: _harmless(v) for k, v in row.items()} for row in rows)
    return text.getvalue().encode()


def _harmless(value: Any) -> Any:
    return f"'{value}" if isinstance(value, str) and value[:1] in ("=", "+", "-", "@", "\t", "\r") else value


def from_files(files: Mapping[str, bytes], name: str) -> Dump:
    """The dump in the files of an export, read and checked in full; an `InputError` names file and line."""
    version, sums = _manifest(files, name)
    sections: dict[str, Any] = {}
    for field in fields(Dump):
        file = f"{field.name}.jsonl"
        if file in files:
            sections[field.name] = _read_lines(files[file], f"{name}/{file}")
        elif dump.SINCE.get(field.name, 0) <= version:
            raise InputError({f"{name}/{file}": ("is missing. Nothing was changed",)})
    if len(sections["house"]) != 1:
        raise InputError({f"{name}/house.jsonl": ("should be one line. Nothing was changed",)})
    sections["house"] = sections["house"][0]
    sections[PHOTOS] = [_with_its_bytes(one, files, name) for one in sections.get(PHOTOS, ())]
    with plain_json.shallow(name):
        made = dump.from_sections(sections, name)
    for file, said in sums.items():
        if hashlib.sha256(files.get(file, b"")).hexdigest() != said:
            raise InputError({f"{name}/{file}": ("was damaged or changed: it does not fit its sum",)})
    return made


def _with_its_bytes(photo: Any, files: Mapping[str, bytes], name: str) -> Any:
    """A photo's line with its file in it; the photo itself checks that the file fits its sum."""
    if not isinstance(photo, dict):
        return photo  # which the reader of the section will refuse
    file = str(photo.get("data"))
    if not file.startswith(f"{PHOTOS}/") or file not in files:
        raise InputError({f"{name}/{file}": ("is missing. Nothing was changed",)})
    return photo | {"data": base64.b64encode(files[file]).decode("ascii")}


def _manifest(files: Mapping[str, bytes], name: str) -> tuple[int, Mapping[str, str]]:
    """The version of the export, and the sums of its files."""
    where = f"{name}/{MANIFEST}"
    try:
        manifest = json.loads(files[MANIFEST])
        version = manifest["version"]
        right = manifest["format"] == FORMAT and version in dump.READABLE
        sums: Mapping[str, str] = dict(manifest["sha256"])
    except (KeyError, ValueError, TypeError, RecursionError):
        right, version, sums = False, 0, {}
    if not right:
        raise InputError({where: ("is not the manifest of an export that this chauka reads. Nothing was changed",)})
    return version, sums


def _read_lines(data: bytes, where: str) -> Sequence[Any]:
    found = []
    for number, line in enumerate(data.split(b"\n"), start=1):
        if not line.strip():
            continue
        try:
            found.append(plain_json.plain_of(line.decode()))
        except (ValueError, RecursionError) as error:
            raise InputError({where: (f"line {number} is damaged: {error}. Nothing was changed",)}) from None
    return found
