"""The demo house, written by us as plain files: people, dishes, market and shelf of one spring in a hill town."""

from chauka.demo.dish_file import read_dish
from chauka.demo.dish_text import dish_toml
from chauka.demo.scenario import book, written
from chauka.demo.shelf import START

__all__ = ["START", "book", "dish_toml", "read_dish", "written"]
