"""A dump restores to an equal house; a damaged one is refused with the place of the fault."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.store import generated
from tests.store.test_books import _example, rolled_back

from chauka.errors import InputError
from chauka.kitchen import Book, Deed, Form, LedgerRow, Lot, Place, PriceSeen, TablePlan
from chauka.store import books, dump, ledger, models, plain_json, plans, undo
from chauka.store.models import Household

AT = datetime.fromisoformat("2027-03-14T18:00")
same_file = settings(max_examples=25, deadline=None, suppress_health_check=list(HealthCheck))


@pytest.fixture
def owner(book_file: Path) -> Household:
    """A house that has done something of everything."""
    lot = Lot("spinach", 400.0, Form.WHOLE, Place.FRIDGE, AT, food="D001", cost=4000)
    owner = books.create(replace(_example(dishes=2), lots=(lot, replace(lot, id="leek"))))
    ledger.record(owner, LedgerRow(at=AT, deed=Deed.BINNED, grams=400.0, lot="leek", why="forgotten"))
    ledger.record(owner, LedgerRow(at=AT, deed=Deed.USED, grams=1.5, lot="spinach", minutes=3.0))
    with ledger.action(owner, AT, "buy") as recorder:
        recorder.saw(PriceSeen("D001", AT.date(), 400.0, 4000))
    return owner


@same_file
@given(
    book=generated.books(),
    plan=generated.plans,
    rows=st.lists(generated.ledger_rows, max_size=3),
    pictures=generated.pictures,
)
def test_any_house_dumped_and_restored_is_equal(
    book_file: Path, book: Book, plan: TablePlan, rows: list[LedgerRow], pictures: list[bytes]
) -> None:
    with rolled_back():
        owner = books.create(book)
        kept = plans.propose(owner, plan, AT)
        plans.accept(owner, kept.number, AT)
        for row in rows:
            ledger.record(owner, replace(row, lot=None))
        generated.keep_photos(owner, pictures, AT)
        taken = dump.take(owner)
        restored = dump.restore(dump.from_json(dump.to_json(taken, AT).encode()))
        assert dump.take(restored) == taken
        assert books.load_book(restored) == book
        assert plans.current(restored).plan == plan  # type: ignore[union-attr]
        assert [r.deed for r in ledger.rows(restored)] == [r.deed for r in rows]
        assert generated.shown_pictures(restored) == pictures


def test_the_whole_story_survives_a_file(owner: Household, tmp_path: Path) -> None:
    before = dump.write(owner, tmp_path / "house.json", AT)
    restored = dump.restore(dump.read(tmp_path / "house.json"))
    assert dump.take(restored) == before
    assert ledger.free_lot_id(restored, "leek") == "leek-2"
    assert models.Household.objects.count() == 1
    assert dump.counts(before)["ledger rows"] == 2


def test_a_dump_replaces_what_happened_since(owner: Household, tmp_path: Path) -> None:
    before = dump.write(owner, tmp_path / "house.json", AT)
    ledger.record(owner, LedgerRow(at=AT, deed=Deed.USED, grams=100.0, lot="spinach"))
    assert dump.take(dump.restore(dump.read(tmp_path / "house.json"))) == before


def test_another_house_is_replaced_only_when_told(owner: Household) -> None:
    taken = dump.take(owner)
    other = replace(taken, house=replace(taken.house, name="next door"))
    with pytest.raises(InputError, match=r"this book is of 'h', the dump is of 'next door'"):
        dump.restore(other)
    assert dump.take(books.household()) == taken
    dump.restore(other, over_another=True)
    assert dump.take(books.household()) == other


def test_a_dump_that_numbers_nothing_is_numbered_in_its_order(owner: Household) -> None:
    """Version 1 had no numbers of actions and plans."""
    document = _document(owner)
    document["version"] = 1
    for action in document["sections"]["actions"]:
        del action["number"]
    restored = dump.restore(dump.from_json(_resummed(document)))
    assert [a.number for a in dump.take(restored).actions] == [1, 2, 3]


def test_a_dump_from_before_there_were_photos_is_read(owner: Household) -> None:
    document = _document(owner)
    document["version"] = 2
    del document["sections"]["photos"]
    assert dump.from_json(_resummed(document)) == dump.take(owner)


@pytest.mark.parametrize(
    ("field", "value", "complaint"),
    [
        ("data", "PHNjcmlwdD4=", r"photos\[0\]\.photo [0-9a-f]{12}\.data: is no JPEG"),
        ("data", "/9j/", r"photos\[0\].*: does not fit the sum"),
        ("data", "§", r"photos\[0\].*: is not written in base 64"),
        ("width", 0, r"photos\[0\].*: 0 × 3 is no size of a photo"),
        ("digest", "../../etc/passwd", r"photos\[0\].*does not fit the sum"),
    ],
)
def test_a_wrong_photo_is_refused(owner: Household, field: str, value: object, complaint: str) -> None:
    generated.keep_photos(owner, [b"a picture"], AT)
    document = _document(owner)
    document["sections"]["photos"][0][field] = value
    with pytest.raises(InputError, match=complaint):
        dump.from_json(_resummed(document))


def test_what_was_taken_back_stays_so_through_a_dump(owner: Household, tmp_path: Path) -> None:
    """Actions keep their numbers, whichever keys the rows get."""
    undo.take_back(owner, 2, AT)
    dump.write(owner, tmp_path / "house.json", AT)
    ledger.record(owner, LedgerRow(at=AT, deed=Deed.USED, grams=1.0, lot="spinach"))
    restored = dump.restore(dump.read(tmp_path / "house.json"))
    assert undo.is_taken_back(restored, {1, 2, 3, 4}) == {2}
    with ledger.action(restored, AT, "buy") as recorder:
        assert recorder.number == 5


def _document(owner: Household) -> dict[str, Any]:
    document: dict[str, Any] = json.loads(dump.to_json(dump.take(owner), AT))
    return document


def _resummed(document: dict[str, Any]) -> bytes:
    """As a hand that also repairs the sums would leave it."""
    document["sha256"] = {name: plain_json.sum_of(section) for name, section in document["sections"].items()}
    return json.dumps(document).encode()


def test_a_changed_figure_is_noticed(owner: Household) -> None:
    document = _document(owner)
    document["sections"]["lots"][0]["grams"] = 4.0
    with pytest.raises(InputError, match="section 'lots' was damaged or changed by hand"):
        dump.from_json(json.dumps(document).encode())


@pytest.mark.parametrize(
    ("path", "value", "complaint"),
    [
        (("lots", 0, "grams"), -4.0, r"lots\[0\]\.lot spinach\.grams: -4 g is below zero"),
        (("lots", 0, "grams"), "much", r'lots\[0\]\.grams: "much" should be a number'),
        (("lots", 0, "since"), "yesterday", r"lots\[0\]\.since: 'yesterday' should be as in"),
        (("lots", 0, "form"), "pulverised", r"lots\[0\]\.form: .*should be one of whole, picked"),
        (
            ("dishes", 1, "lines", 0, "grams", "mean"),
            True,
            r"lines\[0\]\.grams\.mean: true should be a number",
        ),
        (("dishes", 0, "lines"), [], r"dishes\[0\]\.dish d0\.lines: a dish needs at least one line"),
        (("house", "burners"), 0, r"house\.house h\.burners: a kitchen needs at least one burner"),
        (("house", "altitude"), 1, r"house\.altitude: is not known here"),
        (("actions", 0, "rows", 0, "deed"), None, r"actions\[0\]\.rows\[0\]\.deed: null should be one of bought"),
    ],
)
def test_a_wrong_value_is_refused_with_its_place(
    owner: Household, path: tuple[str | int, ...], value: object, complaint: str
) -> None:
    document = _document(owner)
    *way, last = path
    node = document["sections"]
    for step in way:
        node = node[step]
    node[last] = value
    before = dump.take(owner)
    for data in (_resummed(document), json.dumps(document).encode()):
        with pytest.raises(InputError, match=complaint):
            dump.restore(dump.from_json(data))
    assert dump.take(books.household()) == before


def test_a_missing_field_is_named(owner: Household) -> None:
    document = _document(owner)
    del document["sections"]["dishes"][0]["base"]
    with pytest.raises(InputError, match=r"dishes\[0\]\.base: is missing"):
        dump.from_json(_resummed(document))


def test_lots_that_do_not_belong_together_are_refused(owner: Household) -> None:
    document = _document(owner)
    document["sections"]["lots"] *= 2
    with pytest.raises(InputError, match="the lot id 'spinach' stands 2 times"):
        dump.from_json(_resummed(document))


@pytest.mark.parametrize(
    ("data", "complaint"),
    [
        (b"", "damaged at line 1, column 1"),
        (b"\xff\xfe", "no text in UTF-8: byte 0 is wrong"),
        (b"[1, 2]", "is not a dump of chauka"),
        (b'{"format": "other"}', 'its "format" should be "chauka book"'),
        (b'{"format": "chauka book", "version": 99}', "has version 99; this chauka reads version 3"),
        (b'{"format": "chauka book", "version": 1}', "cut short"),
        (b'{"format": "chauka book", "version": 1, "sections": {}, "sha256": {}}', "has no section 'house'"),
        (b'{"a": NaN}', "holds NaN, which is not a number"),
        (b"[" * 100_000, "damaged|nested too deeply"),
    ],
)
def test_a_foreign_file_is_refused(data: bytes, complaint: str) -> None:
    with pytest.raises(InputError, match=complaint):
        dump.from_json(data)


@given(st.binary(max_size=60) | st.text(max_size=60).map(lambda t: t.encode("utf-8", "ignore")))
@settings(max_examples=200, deadline=None)
def test_no_bytes_do_anything_but_an_input_error(data: bytes) -> None:
    with pytest.raises(InputError):
        dump.from_json(data)


@same_file
@given(cut=st.floats(0, 0.999), noise=st.binary(min_size=1, max_size=4), at=st.floats(0, 1))
def test_a_dump_cut_or_overwritten_never_restores_as_something_else(
    owner: Household, cut: float, noise: bytes, at: float
) -> None:
    whole = dump.to_json(dump.take(owner), AT).encode()
    place = int(at * len(whole))
    for data in (whole[: int(cut * (len(whole) - 1))], whole[:place] + noise + whole[place + len(noise) :]):
        try:
            read = dump.from_json(data)
        except InputError:
            continue
        assert read == dump.take(owner)  # the noise fell on a blank or on what is only said in the head


def test_a_dump_is_written_whole_or_not_at_all(
    owner: Household, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "house.json"
    path.write_text("the old one")

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", full)
    with pytest.raises(OSError, match="No space left"):
        dump.write(owner, path, AT)
    assert path.read_text() == "the old one"
    assert [p.name for p in tmp_path.iterdir() if "house" in p.name] == ["house.json"]


def test_a_file_that_is_not_there_is_named(tmp_path: Path) -> None:
    with pytest.raises(InputError, match=r"gone.json: cannot be read: No such file"):
        dump.read(tmp_path / "gone.json")
