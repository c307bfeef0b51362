"""Nutrients of dishes as plain text."""

from __future__ import annotations

from collections.abc import Iterator

from chauka.cli.paper.layout import columns, heading, paragraph
from chauka.composition import WhyRow
from chauka.services import words
from chauka.services.nutrients import BookNutrients, DishNutrientsView, NutrientLine, WhyView

BOOK_TAGS = ("ENERC_KCAL", "PROCNT", "FAT", "FIBTG", "FE", "CA", "FOL", "NA")


def of_dish(view: DishNutrientsView) -> Iterator[str]:
    """One portion, nutrient by nutrient."""
    yield from heading(f"{view.name}: one portion of {words.weight(view.portion_g)}")
    yield from columns((_line(line) for line in view.nutrients), "lrl")
    yield from paragraph(f"Cooked weight: {view.how}.")
    for note in view.notes:
        yield from paragraph(note)


def _line(line: NutrientLine) -> tuple[str, str, str]:
    of = line.amount
    return (line.tag, words.amount(of.mean, of.sd, line.unit, at_least=of.at_least), line.name)


def why(view: WhyView) -> Iterator[str]:
    """Each line's grams, table value, what cooking leaves of it, and its share of the doubt."""
    yield from heading(f"{view.name} of {view.dish} [{view.unit}]")
    header = ("line", "grams", "per 100 g", "left", "gives", "doubt", "table row; retention row")
    yield from columns((header, *(_row(row) for row in view.rows)), "lrrrrrl")


def _row(row: WhyRow) -> tuple[str, ...]:
    value = "not known" if row.value.mean is None else f"{row.value.mean:.4g}"
    gives = f"{row.given.mean:.3g} ± {row.given.sd:.2g}" if row.value.mean is not None else "at least 0"
    source = f"{row.food} {row.name} ({row.table}); {row.basis or row.retention}"
    return (
        row.line,
        f"{row.grams.mean:.1f} ± {row.grams.sd:.1f}",
        value,
        f"{100 * row.factor:.0f} %",
        gives,
        f"{100 * row.doubt_share:.0f} %",
        source,
    )


def of_book(view: BookNutrients) -> Iterator[str]:
    """A few nutrients of every dish; `--json` gives all."""
    yield from heading("A portion of every dish")
    header = ("dish", *(f"{tag} [{view.units[tag]}]" for tag in BOOK_TAGS))
    rows = ((dish, *(f"{amounts[tag]:.3g}" for tag in BOOK_TAGS)) for dish, amounts in sorted(view.dishes.items()))
    yield from columns((header, *rows), "l" + "r" * len(BOOK_TAGS), widest=(36,))
