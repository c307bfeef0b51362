"""One dish as a cook looks at it: for as many as will eat, or for what was bought; and what an editor would mend."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from chauka import publishing, quantities, reading, tables
from chauka.errors import InputError
from chauka.kitchen import Dish, House, Line, Measures
from chauka.kitchen.scaling import WATER, Scaled, power, scale, scale_to
from chauka.quantities.units import MASSES
from chauka.services import cooked, shelf
from chauka.store import books
from chauka.store.models import Household

MOST_PORTIONS = 500.0
_LEAST_GRAMS_COUNTED = 5.0  # nobody counts peppercorns
_SAME = 0.02


@dataclass(frozen=True, slots=True)
class LineView:
    """One line for so many portions: the household measure (empty where there is none), why it does not grow with
    the dish (empty where it does), and what may stand in for it."""

    line: Line
    measure: str
    otherwise: str
    instead: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PartView:
    """Lines under one heading; the first part of a simple dish has no name."""

    name: str
    lines: tuple[LineView, ...]


@dataclass(frozen=True, slots=True)
class DishView:
    """A dish for so many portions (`factor` times as written), with everything that its sheet says.

    `fewer` and `more` are the portions that the two buttons lead to.
    """

    made: publishing.WriteUp
    written: Dish
    parts: tuple[PartView, ...]
    factor: float
    mind: tuple[str, ...]
    fewer: float
    more: float

    @property
    def as_written(self) -> bool:
        """Whether it is for as many as it was written for."""
        return self.factor == 1


@dataclass(frozen=True, slots=True)
class Remark:
    """What a careful editor would mend: where it stands, what is wrong, what to do; `mark` is its place in the form."""

    where: str
    mark: str
    text: str
    mend: str


def view(household: Household, dish_id: str, portions: str = "", line: str = "", have: str = "") -> DishView:
    """The dish as written, or for so many portions, or for what there is of one line ("800 g").

    Raises `InputError` in words for what is no number of portions and no weight.
    """
    book = books.load_book(household)
    dish = book.dish(dish_id)
    scaled = _asked(dish, book.house, portions.strip(), line, have.strip())
    made = publishing.write_up(scaled.dish, book.house, cooked.of_dish(household, dish))
    return DishView(
        made=made,
        written=dish,
        parts=tuple(_parts(dish, scaled, book.house.measures)),
        factor=scaled.factor,
        mind=scaled.warnings,
        fewer=_next(scaled.dish.portions, -1),
        more=_next(scaled.dish.portions, 1),
    )


def _asked(dish: Dish, house: House, portions: str, line: str, have: str) -> Scaled:
    if have:
        grams = shelf.bare_grams(have)
        if grams is None or grams <= 0:
            raise InputError({"have": (f"{have!r} is no weight; write it as in 800 g or 1.2 kg",)})
        return scale_to(dish, line, grams, house=house)
    if not portions:
        return scale(dish, dish.portions, house=house)
    try:
        wanted = float(portions.replace(",", "."))
    except ValueError:
        raise InputError({"portions": (f"{portions!r} is no number of portions; write it as in 6",)}) from None
    return scale(dish, wanted, house=house)


def _next(portions: float, by: int) -> float:
    """One more or fewer; halves below one, for a taste."""
    step = 0.5 if portions < 1 or (by < 0 and portions < 2) else 1.0
    return min(MOST_PORTIONS, max(0.5, (portions + by * step) // step * step))


def _parts(written: Dish, scaled: Scaled, measures: Measures) -> Iterator[PartView]:
    named: dict[str, list[LineView]] = {}
    for before, after in zip(written.lines, scaled.dish.lines, strict=True):
        instead = tuple(swap.note or tables.food(swap.food).name for swap in after.substitutes)
        said = measure(after, measures) or _about(before, after)
        seen = LineView(after, said, _otherwise(before, after, scaled.factor), instead)
        named.setdefault(after.part, []).append(seen)
    for name, lines in named.items():
        yield PartView(name, tuple(lines))


def measure(line: Line, measures: Measures) -> str:
    """How much it is in cups, spoons or pieces; empty where only the scale can say."""
    if line.amount and not _weighed(line.amount):
        return line.amount
    shown, grams, _ = quantities.show(line.grams, line.food, str(line.form), measures).partition(" (")
    crumbs = line.grams.mean < _LEAST_GRAMS_COUNTED and "piece" in shown
    return shown if grams and not crumbs else ""


def _about(before: Line, after: Line) -> str:
    """The nearest measure of the kind that was written, where none fits well: `good ½ tsp`, `scant 2 pinches`."""
    try:
        (part,) = quantities.read_amount(before.amount)
    except (InputError, ValueError):
        return ""
    if part.unit in MASSES or part.low != part.high or not before.grams.mean:
        return ""
    exact = float(part.low) * after.grams.mean / before.grams.mean
    near = min(_COUNTS, key=lambda count: abs(float(count) / exact - 1))
    said = str(replace(part, low=near, high=near))
    if abs(float(near) / exact - 1) <= _NEARLY:
        return said
    return f"good {said}" if exact > near else f"scant {said}"


_NEARLY = 0.06
_COUNTS = (*(Fraction(n, 8) for n in (1, 2, 4, 6)), *(Fraction(n, 2) for n in range(2, 41)))
"""What spoons and cups there are, and halves of them."""


def _weighed(amount: str) -> bool:
    try:
        return all(part.unit in MASSES for part in quantities.read_amount(amount))
    except InputError:
        return False


def _otherwise(before: Line, after: Line, factor: float) -> str:
    """In words why a line did not grow with the dish."""
    if not before.grams.mean or abs(after.grams.mean / before.grams.mean / factor - 1) <= _SAME:
        return ""
    times = f"{after.grams.mean / before.grams.mean:.3g} times, not {factor:.3g}"
    if before.food == WATER:
        return f"{times}: what boils away goes by the width of the pot"
    if power(before.food) < 1:
        return f"{times}: salt, spices and raising agents grow more slowly"
    return f"{times}: to whole pieces"


def remarks(household: Household, dish_id: str) -> tuple[Remark, ...]:
    """What a careful editor would mend before others cook from the dish."""
    book = books.load_book(household)
    dish = book.dish(dish_id)
    return tuple(_remark(found, dish) for found in reading.proofread(dish, book.house))


_FIELDS = {"yield_g": "What comes out", "kept": "How it keeps", "steps": "What is done"}


def _remark(found: reading.Finding, dish: Dish) -> Remark:
    for number, line in enumerate(dish.lines, 1):
        if line.id == found.where:
            return Remark(f"Line {number}, {line.said}", f"line-{number}", found.text, found.mend)
    for number, step in enumerate(dish.steps, 1):
        if step.id == found.where:
            return Remark(f"Step {number}", f"step-{number}", found.text, found.mend)
    return Remark(_FIELDS.get(found.where, found.where), found.where, found.text, found.mend)


def allergens(made: publishing.WriteUp) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Each allergen with the foods that bring it."""
    return tuple((name, tuple(tables.food(code).name for code in codes)) for name, codes in made.allergens.items())
