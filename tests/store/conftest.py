"""Fixtures of the store's tests."""

from tests.store.fixtures import blank_book, book_file, free_to_open, on_both, postgres_address

__all__ = ["blank_book", "book_file", "free_to_open", "postgres_address"]

pytest_generate_tests = on_both
