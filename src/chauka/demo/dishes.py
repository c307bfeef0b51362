"""The demo house's dish book: one file a dish."""

from __future__ import annotations

from importlib.resources import files

from chauka.demo.dish_file import read_dish
from chauka.kitchen import Dish, Measures


def dishes(measures: Measures) -> tuple[Dish, ...]:
    """Every dish of the book, by id, its amounts in the house's own measures."""
    found = sorted(files("chauka.demo").joinpath("dishes").iterdir(), key=lambda file: file.name)
    return tuple(
        read_dish(file.read_text(encoding="utf-8"), f"dishes/{file.name}", measures)
        for file in found
        if file.name.endswith(".toml")
    )
