"""The page: a dish written up for others."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from chauka import publishing
from chauka.kitchen import Book
from chauka.store import books
from chauka.store.models import Household


@dataclass(frozen=True, slots=True)
class PageView:
    """A finished write-up: its numbers, the sheet as HTML, and the page data for search engines."""

    write_up: publishing.WriteUp
    html: str
    data: dict[str, Any]


def write_up(household: Household, dish_id: str) -> PageView:
    """The write-up of one dish, as cooked in this house."""
    return of_book(books.load_book(household), dish_id)


def of_book(book: Book, dish_id: str) -> PageView:
    """The same for a book already loaded."""
    made = publishing.write_up(book.dish(dish_id), book.house)
    return PageView(made, publishing.sheet_html(made), publishing.page_data(made))
