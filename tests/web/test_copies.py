"""Copies from the pages: looked into, put in place, taken back; what is foreign or damaged is refused in words."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client

from chauka.services import restoring
from chauka.store import books
from chauka.store.models import Household

PLAIN = {"accept-encoding": "identity"}


def _bring(client: Client, data: bytes) -> tuple[int, str]:
    answer = client.post("/house/copies/bring", {"file": SimpleUploadedFile("x", data)}, headers=PLAIN)
    return answer.status_code, answer.headers.get("Location", "") or answer.content.decode()


@pytest.mark.parametrize("as_dump", [True, False], ids=["dump", "copy"])
def test_there_and_back(client: Client, household: Household, *, as_dump: bool) -> None:
    """What the file holds is shown, then it is in place, then it is taken back; three states, none mixed."""
    if as_dump:
        data = client.get("/house/copies/everything.json", headers=PLAIN).content
    else:
        client.post("/house/copies/take")
        (copy, *_) = restoring.there()
        answer = client.get(f"/house/copies/{copy.path.name}/file", headers=PLAIN)
        data = b"".join(answer.streaming_content)  # type: ignore[attr-defined]
    lots = len(books.load_book(household).lots)
    client.post("/shelf/add", {"text": "333 g paneer"})
    status, where = _bring(client, data)
    assert status == 302
    shown = client.get(where, headers=PLAIN).content.decode()
    assert re.search(rf"Lots</th><td class=\"num\">{lots}</td><td class=\"num\">{lots + 1}</td>", shown)
    placed = client.post(f"{where}put", headers=PLAIN).content.decode()
    assert len(books.load_book(books.household()).lots) == lots
    back = re.search(r'action="(/house/copies/[^"]+/put)"', placed)
    assert back is not None
    client.post(back[1])
    assert len(books.load_book(books.household()).lots) == lots + 1


def test_foreign_damaged_and_cut_files(client: Client, household: Household, tmp_path: Path) -> None:
    """Nothing of them stays, nothing is changed, and the words name the fault, never a path of the server."""
    dump = client.get("/house/copies/everything.json", headers=PLAIN).content
    before = books.revision(household)
    for data, fault in (
        (b"a letter", "line 1"),
        (dump[: len(dump) // 2], "line"),
        (b"SQLite format 3\0" + b"\0" * 5000, "file"),
        (dump.replace(b'"fridge_c": 6', b'"fridge_c": 66', 1), "66 °C is no refrigerator"),
    ):
        status, said = _bring(client, data)
        assert status == 422
        alert = re.search(r'role="alert">(.*?)</p>', said, re.DOTALL)
        assert alert is not None
        assert fault in alert[1]
        assert "/copies/incoming" not in said
    assert books.revision(household) == before
    assert client.get("/house/copies/incoming-000000000000/").status_code == 422
