"""Fixtures of the command line' tests."""

from tests.store.fixtures import blank_book, book_file, free_to_open

__all__ = ["blank_book", "book_file", "free_to_open"]
