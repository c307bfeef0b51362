"""The table plan on paper."""

from __future__ import annotations

from collections.abc import Iterator

from chauka.cli.paper.layout import INDENT, columns, heading, listing, paragraph
from chauka.services import advice, words
from chauka.services.intake import NutrientIntake
from chauka.services.table import OnTable, TableDay, TableSitting, TableView, Wasted

NOTES = (
    "≥ is at least, because some foods' content is unknown; “of max” is a ceiling, not a goal. What is eaten besides "
    "the planned sittings is not counted. Reference intakes are for populations, not medical advice. They come from:"
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
    notes = [f"with {food} for {own}" for food, own in dish.swaps]
    notes += [f"mild for {listing(dish.mild)}"] if dish.mild else []
    if dish.kept:
        notes.insert(0, "made before")
    elif dish.cooked is not None and dish.cooked > dish.portions + 0.05:
        kept = words.portions(dish.cooked - dish.portions)
        notes.insert(0, f"make {words.portions(dish.cooked)} portions, keep {kept}")
    return f"{dish.name} ({', '.join(notes)})" if notes else dish.name


def proof(view: TableView) -> Iterator[str]:
    """How good the plan is, in a sentence."""
    found = view.proof

    def said(coins: float) -> str:
        return words.money(coins, view.currency, whole_units=True)

    better = "How much better it could be was not found out in that time; allow more --seconds."
    if view.could_be_better_by is not None and view.gap_percent is not None:
        better = (
            f"No plan can be below {said(found.bound)}, so this one could not be better by more than "
            f"{said(view.could_be_better_by)} (gap {view.gap_percent:.1f} %)."
        )
    total = f"Everything that the house minds adds up to {said(found.value)}."
    yield from paragraph(f"Proof: {found.status}, {found.seconds:.0f} s. {total} {better}")
    terms = [f"{name} {said(value)}" for name, value in found.terms.items() if value]
    if terms:
        yield from paragraph(f"In it: {listing(terms)}.")
    stages = [f"{stage.term} {said(stage.value)} (not below {said(stage.bound)})" for stage in found.order]
    if stages:
        yield from paragraph(f"One wish after the other: {', then '.join(stages)}.")


def clashes(view: TableView) -> Iterator[str]:
    """Rules that cannot all hold, and the way out."""
    for clash in view.clashes:
        cost = "" if clash.cost is None else f" ({words.money(clash.cost, view.currency)})"
        yield from paragraph(f"! These cannot all hold: {listing(clash.rules)}. The way out: {clash.way_out}{cost}.")


def waste(view: TableView) -> Iterator[str]:
    """What is expected in the bin."""
    cost = words.money(view.waste_cost, view.currency, whole_units=True)
    yield from heading("Expected waste", f"{words.weight(view.waste_g)}, worth {cost}" if view.waste_g else "none")
    if view.wasted:
        yield from columns((_wasted(w, view.currency) for w in _by_cost(view.wasted)), "lrrl")
    else:
        yield from paragraph("Everything perishable that is bought or on the shelf is eaten in time.")


def _by_cost(wasted: tuple[Wasted, ...]) -> list[Wasted]:
    return sorted(wasted, key=lambda w: (-w.left.cost, w.name))


def _wasted(one: Wasted, currency: str) -> tuple[str, ...]:
    cost = words.money(one.left.cost, currency, whole_units=True)
    return (one.name, words.weight(one.left.grams), cost, f"past its last day on {words.day(one.left.on)}")


def nutrition(view: TableView) -> Iterator[str]:
    """Each person's day on average, against the reference intakes."""
    yield from heading("Nutrition", "a day on average, mean ± standard deviation")
    if not view.intake:
        return
    people = ["", *(p.name for p in view.intake)]
    by_nutrient = [[p.nutrients[i] for p in view.intake] for i in range(len(view.intake[0].nutrients))]
    align = "l" + "r" * len(view.intake)
    yield from columns([people, *((_named(row[0]), *map(_amount, row)) for row in by_nutrient)], align)
    yield ""
    yield f"{INDENT}Share of the reference intake"
    yield from columns([people, *((row[0].name, *map(_share, row)) for row in by_nutrient)], align)
    yield ""
    yield f"{INDENT}Probability of meeting one's own requirement by these meals alone"
    asked = [row for row in by_nutrient if any(one.probability is not None for one in row)]
    yield from columns([people, *((row[0].name, *map(_probability, row)) for row in asked)], align)
    yield from _iron(view)
    yield from paragraph(NOTES)
    yield from _sources(view)


def _iron(view: TableView) -> Iterator[str]:
    """What would help the iron of those who get little."""
    for one in view.iron.advice:
        at = listing([f"{s.day:%a} {s.meal}" for s in one.sittings])
        source = one.note.source.capitalize()
        yield from paragraph(
            f"Iron of {listing(view.iron.short)}: at {at}. {one.note.text} ({source}.)", hang=INDENT * 2
        )


def mends(view: TableView) -> Iterator[str]:
    """The cheapest mend of each shortfall."""
    found = [(gap, gap.mends[0]) for gap in view.advice.gaps if gap.mends]
    if found:
        yield from heading("Cheapest mends of what is lacking", "each for itself")
        for gap, mend in found:
            yield from paragraph(f"{gap.name}: {advice.mend_words(mend, gap, view.currency)}.", hang=INDENT * 2)


def recourse(view: TableView) -> Iterator[str]:
    """What to do when the coming market lacks something."""
    if view.advice.market is None:
        return
    yield from heading(f"If the market of {words.day(view.advice.market)} lacks something")
    for one in view.advice.recourse:
        for line in advice.recourse_words(one, view.currency):
            yield from paragraph(line, hang=INDENT * 2)
    risk = view.advice.risk
    if risk:
        yield from paragraph(
            f"Over {risk.scenarios} markets drawn by chance: {words.weight(risk.expected_waste_g)} in the bin and "
            f"{words.money(risk.expected_cost, view.currency, whole_units=True)} on average, one in ten more than "
            f"{words.weight(risk.bad_waste_g)} and {words.money(risk.bad_cost, view.currency, whole_units=True)}; "
            f"planned {words.weight(risk.planned_waste_g)} and "
            f"{words.money(risk.planned_cost, view.currency, whole_units=True)}."
        )


def _named(one: NutrientIntake) -> str:
    return f"{one.name} [{one.unit}]"


def _amount(one: NutrientIntake) -> str:
    if one.unknown:
        return "not known"
    return f"{'≥ ' if one.at_least else ''}{words.amount(one.mean, one.sd, '')}"


def _share(one: NutrientIntake) -> str:
    if one.share is None or one.unknown:
        return "–"
    mark = "" if one.verified else "*"
    return f"{'≥ ' if one.at_least else ''}{100 * one.share:.0f} %{' of max' if one.ceiling else ''}{mark}"


def _probability(one: NutrientIntake) -> str:
    if one.probability is None or one.unknown:
        return "–"
    return f"{'≥ ' if one.at_least else ''}{100 * one.probability:.0f} %"


def _sources(view: TableView) -> Iterator[str]:
    """Where the references come from, each source once."""
    about: dict[str, list[str]] = {}
    for one in (n for p in view.intake for n in p.nutrients if n.source):
        names = about.setdefault(one.source + ("" if one.verified else " (from memory, marked *)"), [])
        if one.name not in names:
            names.append(one.name)
    for source, names in about.items():
        yield from paragraph(f"{source}: {', '.join(names)}.", hang=INDENT * 2)
