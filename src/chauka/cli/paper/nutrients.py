"""Nutrients of dishes as plain text."""

from __future__ import annotations

from collections.abc import Iterator

from chauka.cli.paper.layout import columns, heading, listing, noted, paragraph
from chauka.composition import Amount, LabelRow, WhyRow
from chauka.services import foods, words
from chauka.services.cooked import Weighing
from chauka.services.nutrients import AllergenView, BookNutrients, DishNutrientsView, LabelView, NutrientLine, WhyView

BOOK_TAGS = {
    "ENERC_KCAL": "energy", "PROCNT": "protein", "FAT": "fat", "FIBTG": "fibre", "FE": "iron", "CA": "calcium",
    "FOL": "folate", "NA": "sodium",
}  # fmt: skip


def of_dish(view: DishNutrientsView) -> Iterator[str]:
    """One portion and 100 g as eaten, nutrient by nutrient."""
    yield from heading(f"{view.name}: one portion of {words.weight(view.portion_g)}")
    header = ("", "a portion", "100 g as eaten", "")
    yield from columns((header, *(_line(line) for line in view.nutrients)), "lrrl")
    yield from paragraph(f"Cooked weight: {view.how}.")
    unknown = dict.fromkeys(code for line in view.nutrients if line.amount.at_least for code in line.amount.missing)
    if unknown:
        names = listing([foods.short(code) for code in unknown])
        yield from paragraph(f"“At least” and “not known”: the tables do not give every nutrient of {names}.")
    for note in view.notes:
        yield from paragraph(note)
    for iron in view.iron:
        yield from paragraph(f"Iron: {iron.text} ({iron.source.capitalize()}.)")


def _line(line: NutrientLine) -> tuple[str, str, str, str]:
    return (line.tag, _said(line.amount, line.unit), _said(line.per_100g, line.unit), line.name)


def _said(of: Amount, unit: str) -> str:
    if of.at_least and not of.mean:
        return "not known"
    return words.amount(of.mean, of.sd, unit.replace("ug", "µg"), at_least=of.at_least)


def why(view: WhyView) -> Iterator[str]:
    """Each line's grams, table value, what cooking leaves of it, and its share of the doubt; then the cooked weight."""
    yield from heading(f"{view.name} of {view.dish} [{view.unit}]")
    header = ("", "grams", "per 100 g", "left", "gives", "doubt")
    yield from noted([(header, ""), *((_row(row, view.unit), _rests_on(row)) for row in view.rows)], "lrrrrr")
    yield from paragraph(
        f"In all {_said(view.total, view.unit)}; a portion {_said(view.per_portion, view.unit)}; "
        f"100 g as eaten {_said(view.per_100g, view.unit)}."
    )
    part = view.cooked_g.mean / view.raw_g.mean if view.raw_g.mean else 1.0
    yield from paragraph(
        f"Yield {part:.2f}: {words.estimate(view.raw_g, 'g')} go in and {words.estimate(view.cooked_g, 'g')} come "
        f"out. {view.how[:1].upper()}{view.how[1:]}."
    )
    parts = (
        ("grams", view.doubt.grams),
        ("table values", view.doubt.table),
        ("losses in cooking", view.doubt.retention),
        ("what is unknown", view.doubt.unknown),
        ("the cooked weight", view.doubt.cooked_weight),
    )
    said = [f"{name} {100 * share:.0f} %" for name, share in parts if share >= 0.005]
    if said:
        yield from paragraph(f"The doubt of 100 g comes from {listing(said)}.")


def _row(row: WhyRow, unit: str) -> tuple[str, ...]:
    value = "not known" if row.given.at_least else "none" if row.value.mean is None else f"{row.value.mean:.4g}"
    grams, left, share = words.estimate(row.grams, ""), f"{100 * row.factor:.0f} %", f"{100 * row.doubt_share:.0f} %"
    return (row.line, grams, value, left, _said(row.given, unit), share)


def _rests_on(row: WhyRow) -> str:
    return f"{row.food} {row.name} ({row.table}); {row.basis or row.retention}"


def label(view: LabelView) -> Iterator[str]:
    """The label's rows, rounded as the rule says."""
    yield from heading(f"{view.name}: label by {view.rule}", f"a portion is {words.weight(view.portion_g)}")
    header = ("", "unit", "100 g", "a portion", "of the day")
    yield from columns((header, *(_label_row(row) for row in view.rows)), "llrrr")
    named = [f"{allergen} ({', '.join(names)})" for allergen, names in view.allergens.items()]
    yield from paragraph(f"Contains: {listing(named) if named else 'none'} of what {view.regime} wants named.")
    yield from paragraph("* of a reference written down from memory. For the home cook: not a packer's declaration.")


def _label_row(row: LabelRow) -> tuple[str, ...]:
    percent = "" if row.percent is None else f"{row.percent} %{'*' if row.from_memory else ''}"
    return (row.name, row.unit, row.per_100g, row.per_portion, percent)


def allergens(view: AllergenView) -> Iterator[str]:
    """Allergens with the foods that bring them, what the cook says may be there, and flags of diets."""
    yield from heading(f"{view.name}: allergens by {view.regime}")
    rows = [(allergen, ", ".join(names)) for allergen, names in view.allergens.items()]
    yield from columns(rows or [("none", "of those that the list wants named")], "ll")
    flags = [flag.replace("_", " and ") for flag in view.flags]
    yield from paragraph(f"For diets: {listing(flags) if flags else 'no onion, garlic, root, egg, dairy or gluten'}.")


def weighed(done: Weighing) -> Iterator[str]:
    """What was weighed, beside what had been reckoned."""
    portions = f"{words.portions(done.portions)} portions"
    yield f"{done.name}: {words.weight(done.grams)} for {portions} written down."
    yield f"Reckoned until now: {words.weight(done.reckoned_g)} ({done.reckoned_how})."


def of_book(view: BookNutrients) -> Iterator[str]:
    """A few nutrients of every dish; `--json` gives all."""
    yield from heading("A portion of every dish", "≥ where a table does not give all of it")
    units = ("", *(view.units[tag].replace("ug", "µg") for tag in BOOK_TAGS))
    rows = ((dish, *(_known(view, dish, tag) for tag in BOOK_TAGS)) for dish in sorted(view.dishes))
    yield from columns((("dish", *BOOK_TAGS.values()), units, *rows), "l" + "r" * len(BOOK_TAGS), widest=(33,))


def _known(view: BookNutrients, dish: str, tag: str) -> str:
    amount = view.dishes[dish][tag]
    if tag not in view.at_least[dish]:
        return f"{amount:.3g}"
    return f"≥ {amount:.3g}" if amount else "not known"
