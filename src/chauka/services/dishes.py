"""The dish book: all dishes at a glance, and one with everything known about it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from chauka import composition, keeping
from chauka.kitchen import Book, Course, Dish, Place
from chauka.services import cooked, foods
from chauka.store import books
from chauka.store.models import Household


@dataclass(frozen=True, slots=True)
class DishLineView:
    """One dish of the catalogue."""

    dish: Dish
    base: str
    liked_by: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Sought:
    """One dish of the catalogue with every name by which it may be looked for, folded."""

    line: DishLineView
    names: str


@dataclass(frozen=True, slots=True)
class DishView:
    """One dish: its nutrients, allergens, life and cautions; `foods` maps codes to names."""

    dish: Dish
    foods: Mapping[str, str]
    nutrients: composition.DishNutrients
    allergens: Mapping[str, tuple[str, ...]]
    life: keeping.Life
    cautions: tuple[keeping.Caution, ...]


def catalogue(household: Household) -> tuple[DishLineView, ...]:
    """All dishes, by course and name."""
    book = books.load_book(household)
    return tuple(
        DishLineView(dish, foods.name(dish.base), _liked_by(dish, book))
        for dish in sorted(book.dishes, key=lambda d: (list(Course).index(d.course), d.name))
    )


def to_look_through(household: Household) -> tuple[Sought, ...]:
    """The catalogue made ready to be searched, which takes longer than to list it: keep it while the book stays."""
    return tuple(Sought(line, _names(line.dish)) for line in catalogue(household))


def _liked_by(dish: Dish, book: Book) -> tuple[str, ...]:
    return tuple(p.name for p in book.house.people if p.liking.get(dish.id, 3) >= 4)


def _names(dish: Dish) -> str:
    own = (dish.name, *dish.names.values(), *dish.tags, dish.course, *(line.said for line in dish.lines))
    return " ".join((*map(foods.folded, own), *dict.fromkeys(foods.all_names(code) for code in dish.foods)))


def is_meant(one: Sought, words: str) -> bool:
    """Whether each word is in a name of the dish or of a food in it, in any language that the tables have."""
    return all(word in one.names for word in foods.folded(words).split())


def show(household: Household, dish_id: str) -> DishView:
    """One dish with everything that the engines know about it."""
    book = books.load_book(household)
    dish = book.dish(dish_id)
    return DishView(
        dish=dish,
        foods={line.food: foods.name(line.food) for line in dish.lines},
        nutrients=composition.dish_nutrients(dish, weighed_before=cooked.of_dish(household, dish)),
        allergens=composition.dish_allergens(dish),
        life=keeping.dish_life(dish, dish.kept.place if dish.kept else Place.FRIDGE, book.house),
        cautions=tuple(keeping.cautions(dish)),
    )
