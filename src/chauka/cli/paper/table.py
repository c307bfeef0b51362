"""The table plan on paper."""

from __future__ import annotations

from collections.abc import Iterator

from chauka.cli.paper.layout import columns, heading, listing, paragraph
from chauka.services import words
from chauka.services.intake import NutrientIntake, PersonIntake
from chauka.services.table import OnTable, TableDay, TableSitting, TableView

NOTES = (
    "≥ is at least, because some foods' content is unknown; max is a ceiling. What is eaten besides the planned "
    "sittings is not counted. Reference intakes are for populations, not medical advice."
)


def plan(view: TableView) -> Iterator[str]:
    """Dishes by day and sitting, then the proof."""
    aside = "followed" if view.accepted else f"proposal {view.number}: `chauka table accept` to follow it"
    yield from heading(f"Table: {words.count(len(view.days), 'day')} from {words.day(view.start)}", aside)
    for day in view.days:
        yield from _day(day)
    yield ""
    yield from proof(view)
    yield from clashes(view)


def _day(day: TableDay) -> Iterator[str]:
    rules = dict.fromkeys(str(rule) for s in day.sittings for rule in sorted(s.sitting.rules))
    notes = [*rules, *(["market"] if day.market else [])]
    yield words.day(day.day) + (f"   ({', '.join(notes)})" if notes else "")
    yield from columns((_sitting(s) for s in day.sittings), "llrl")


def _sitting(one: TableSitting) -> tuple[str, ...]:
    sitting = one.sitting
    heads = len(sitting.eaters) + sitting.guests
    return (
        str(sitting.meal),
        f"{sitting.serve:%H:%M}",
        f"for {heads}",
        "; ".join(_dish(d) for d in one.dishes) or "nothing fits",
    )


def _dish(dish: OnTable) -> str:
    if dish.kept:
        return f"{dish.name} (made before)"
    if dish.cooked is not None and dish.cooked > dish.portions + 0.05:
        return f"{dish.name} (make {dish.cooked:.1f} portions, keep {dish.cooked - dish.portions:.1f})"
    return dish.name


def proof(view: TableView) -> Iterator[str]:
    """How good the plan is, in a sentence."""
    found = view.proof
    better = words.money(view.could_be_better_by, view.currency)
    text = (
        f"Proof: {found.status}. Everything that the house minds adds up to {words.money(found.value, view.currency)}; "
        f"no plan can be below {words.money(found.bound, view.currency)}. So this one could not be better by more than "
        f"{better} (gap {view.gap_percent:.1f} %). Found in {found.seconds:.0f} s."
    )
    yield from paragraph(text)
    terms = [f"{name} {words.money(value, view.currency)}" for name, value in found.terms.items() if value]
    if terms:
        yield from paragraph(f"In it: {listing(terms)}.")


def clashes(view: TableView) -> Iterator[str]:
    """Rules that cannot all hold, and the way out."""
    for clash in view.clashes:
        cost = "" if clash.cost is None else f" ({words.money(clash.cost, view.currency)})"
        yield from paragraph(
            f"! {listing(clash.rules)}: these cannot all hold. Least costly way out: {clash.way_out}{cost}"
        )


def waste(view: TableView) -> Iterator[str]:
    """What is expected in the bin, and what is carried on."""
    cost = words.money(view.waste_cost, view.currency)
    yield from heading("Expected waste", f"{words.weight(view.waste_g)}, worth {cost}" if view.waste_g else "none")
    if view.wasted:
        yield from columns(
            (
                (
                    w.name,
                    words.weight(w.left.grams),
                    words.money(w.left.cost, view.currency),
                    f"on {words.day(w.left.on)}",
                )
                for w in sorted(view.wasted, key=lambda w: -w.left.cost)
            ),
            "lrrl",
        )
    else:
        yield from paragraph("Everything perishable that is bought or on the shelf is eaten in time.")


def nutrition(view: TableView) -> Iterator[str]:
    """Each person's day on average, against the reference intakes."""
    yield from heading("Nutrition", "a day on average: mean ± sd (% of the reference)")
    if not view.intake:
        return
    names = [("", *(p.name for p in view.intake))]
    rows = [_nutrient_row(i, view.intake) for i in range(len(view.intake[0].nutrients))]
    yield from columns([*names, *rows], "l" + "l" * len(view.intake))
    yield from paragraph(NOTES)


def _nutrient_row(index: int, people: tuple[PersonIntake, ...]) -> tuple[str, ...]:
    first = people[0].nutrients[index]
    return (f"{first.name} [{first.unit}]", *(_cell(p.nutrients[index]) for p in people))


def _cell(one: NutrientIntake) -> str:
    share = "" if one.share is None else f" ({'max ' if one.ceiling else ''}{100 * one.share:.0f} %)"
    return f"{'≥ ' if one.at_least else ''}{words.amount(one.mean, one.sd, '')}{share}"
