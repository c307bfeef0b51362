"""Photos in the book: kept once, shown by an action, taken back and brought back, never of another household."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from pathlib import Path

import pytest
from tests.services.small_house import BOOK
from tests.store.generated import keep_photos

from chauka.errors import InputError
from chauka.store import books, ledger, models, photos, soundness, undo
from chauka.store.models import AppendOnlyError, Household

AT = datetime.fromisoformat("2027-03-14T18:00")
ONE, OTHER = b"\xff\xd8\xff one", b"\xff\xd8\xff other"


@pytest.fixture
def owner(book_file: Path) -> Household:
    return books.create(BOOK)


def _show(owner: Household, jpeg: bytes | None) -> None:
    with ledger.action(owner, AT, "show a photo") as recorder:
        photo = None if jpeg is None else photos.Photo(photos.keep(owner, jpeg, 4, 3), 4, 3, "a bowl")
        photos.show(recorder, "dish/rice", photo)


def _shown(owner: Household) -> bytes | None:
    found = photos.shown(owner, "dish/rice")
    return None if found is None else photos.jpeg(owner, found.digest)


def test_each_way_back_shows_what_was_shown(owner: Household) -> None:
    for jpeg in (ONE, OTHER, None):
        _show(owner, jpeg)
    seen = []
    for _ in range(3):
        undo.undo(owner, AT)
        seen.append(_shown(owner))
    assert seen == [OTHER, ONE, None]
    for _ in range(2):
        undo.redo(owner, AT)
    assert _shown(owner) == OTHER
    assert list(soundness.disagreements(owner)) == []


def test_an_older_photo_is_not_taken_back_under_a_newer(owner: Household) -> None:
    _show(owner, ONE)
    _show(owner, OTHER)
    with pytest.raises(InputError, match="has changed again since"):
        undo.take_back(owner, 1, AT)
    assert _shown(owner) == OTHER


def test_the_same_photo_twice_is_kept_once(owner: Household) -> None:
    keep_photos(owner, [ONE, ONE], AT)
    assert models.Photo.objects.of(owner).count() == 1
    assert len(photos.all_shown(owner, "dish/")) == 2


def test_a_photo_is_never_changed(owner: Household) -> None:
    _show(owner, ONE)
    with pytest.raises(AppendOnlyError):
        models.Photo.objects.of(owner).update(data=OTHER)


def test_another_household_has_none_of_it(owner: Household) -> None:
    _show(owner, ONE)
    other = books.create(replace(BOOK, house=replace(BOOK.house, name="next door")))
    found = photos.shown(owner, "dish/rice")
    assert found is not None
    assert photos.jpeg(other, found.digest) is None
    assert photos.shown(other, "dish/rice") is None


def test_a_photo_that_rots_is_found(owner: Household) -> None:
    _show(owner, ONE)
    models.Photo.objects.of(owner).model._base_manager.update(data=OTHER)
    assert [what for _, what in soundness.disagreements(owner)] == ["is damaged: its bytes do not fit their sum"]
    models.Photo._base_manager.all().delete()
    assert [what for _, what in soundness.disagreements(owner)] == ["should show a photo that is gone"]
