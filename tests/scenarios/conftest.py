"""Fixtures of the scenarios's tests."""

from tests.cli.running import run, small_house
from tests.store.fixtures import blank_book, book_file, free_to_open

__all__ = ["blank_book", "book_file", "free_to_open", "run", "small_house"]
