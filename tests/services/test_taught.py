"""Names that the house teaches: they hold at once, can be taken back, and must be certain."""

from __future__ import annotations

import pytest
from tests.services.small_house import BOOK, NOW

from chauka.errors import InputError
from chauka.services import taught, typed
from chauka.store import books, models, undo
from chauka.store.models import Household

ON_BOTH = True

pytestmark = pytest.mark.django_db


@pytest.fixture
def owner(book_file: object) -> Household:
    """A household with the small house's book."""
    return books.create(BOOK)


def test_a_taught_name_is_understood_when_typing(owner: Household) -> None:
    """A word that no table has is a food once it was taught."""
    with pytest.raises(InputError, match="which food"):
        typed.add(owner, "500 g zorblat", NOW)
    taught.teach(owner, " Zorblat ", "C033", NOW)
    (lot,) = typed.add(owner, "500 g zorblat", NOW)
    assert next(one for one in books.load_book(owner).lots if one.id == lot).food == "C033"


def test_a_name_can_be_taken_back(owner: Household) -> None:
    """Teaching is an action like any other."""
    taught.teach(owner, "zorblat", "C033", NOW)
    action = models.Action.objects.of(owner).order_by("-pk").first()
    assert action is not None
    undo.take_back(owner, action.number, NOW)
    assert "zorblat" not in taught.names(owner)


@pytest.mark.parametrize(("name", "food"), [("", "C033"), ("x" * 81, "C033"), ("zorblat", "no such food at all")])
def test_what_is_not_certain_is_refused(owner: Household, name: str, food: str) -> None:
    """An empty or overlong name and an unknown food are named, and nothing is taught."""
    with pytest.raises(InputError):
        taught.teach(owner, name, food, NOW)
    assert not taught.names(owner)
