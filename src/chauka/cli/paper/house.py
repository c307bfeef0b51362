"""The house, its faults and its dumps on paper."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from datetime import date

from chauka.cli.paper.layout import columns, heading, listing
from chauka.kitchen import Cook, DayRule, House, Person, VesselStock
from chauka.services import words
from chauka.services.dumps import BackedUp, Dumped
from chauka.services.house import Fault, HouseView
from chauka.services.past import Past, Version
from chauka.services.sharing import Device
from chauka.store.copies import Copy
from chauka.store.undo import Undone


def view(seen: HouseView, today: date) -> Iterator[str]:
    """People, equipment, money and rules."""
    house = seen.house
    yield from heading(house.name, f"{words.count(seen.dishes, 'dish', 'dishes')}, {words.count(seen.lots, 'lot')}")
    yield from columns((_person(p, today) for p in house.people), "lrrl")
    yield ""
    yield from columns(_facts(house), "ll")


def _person(person: Person, today: date) -> tuple[str, ...]:
    notes = [str(c) for c in sorted(person.conditions)]
    notes += [f"no {a} (allergy)" for a in sorted(person.allergies)]
    notes += ["no chilli"] if person.chilli == 0 else []
    return (person.name, f"{int(person.age_years(today))} years", f"{person.weight_kg:g} kg", ", ".join(notes))


def _facts(house: House) -> Iterator[tuple[str, str]]:
    small = f" ({house.small_burners} small)" if house.small_burners else ""
    yield "Burners, cooks", f"{house.burners}{small}, {house.cooks}"
    if house.crew:
        yield "Who cooks", "; ".join(_cook(cook) for cook in house.crew)
    if house.bench_places is not None:
        yield "Bench", f"room for {house.bench_places} at once"
    yield "Vessels", listing([_vessel(v) for v in house.vessels])
    yield "Temperatures", f"room {house.room_c:g} °C, fridge {house.fridge_c:g} °C, freezer {house.freezer_c:g} °C"
    yield (
        "Measures",
        (
            f"cup {house.measures.cup_ml:g} ml, katori {house.measures.katori_ml:g} ml, tablespoon "
            f"{house.measures.tablespoon_ml:g} ml, teaspoon {house.measures.teaspoon_ml:g} ml"
        ),
    )
    yield "Market days", listing([words.DAYS[d] for d in house.market_weekdays]) or "none"
    budget = house.weekly_budget
    yield "Budget", "none" if budget is None else f"{words.money(budget, house.currency)} a week"
    yield "Region", ", ".join(x for x in (house.region, f"{house.altitude_m:g} m" if house.altitude_m else "") if x)
    for rule in house.rules:
        yield "Rule", _rule(rule)


def _cook(cook: Cook) -> str:
    leaves = f" leaves to others: {listing([str(t) for t in sorted(cook.cannot)])}" if cook.cannot else ""
    pace = f", takes {cook.pace:g} times as long" if cook.pace != 1 else ""
    return f"{cook.name}{leaves}{pace}"


def _vessel(stock: VesselStock) -> str:
    size = f" of {stock.litres:g} l" if stock.litres else ""
    return words.count(stock.count, str(stock.kind)) + size


def _rule(rule: DayRule) -> str:
    when = words.day(rule.on) if rule.on else f"every {words.DAYS[rule.weekday or 0]}"
    who = f": {', '.join(sorted(rule.people))}" if rule.people else f": {rule.guests}" if rule.guests else ""
    return f"{rule.kind}{who}, {when}" + (f", {rule.meal}" if rule.meal else "")


def faults(found: Sequence[Fault]) -> Iterator[str]:
    """What is wrong, in words."""
    if not found:
        yield "The book is whole: every food is known, every lot is from the past, every dish can be cooked."
        return
    yield f"{words.count(len(found), 'thing')} to set right:"
    yield from columns((("stops" if f.stops else "note", f.where, f.what) for f in found), "lll")


def dumped(made: Dumped, done: str) -> Iterator[str]:
    """A dump written or restored."""
    yield f"{done} {made.house}: {', '.join(f'{count} {what}' for what, count in made.counts.items())}."
    yield f"File: {made.path}"
    if made.copy:
        yield f"The book as it was before: {made.copy}"


def backed_up(made: BackedUp, done: str) -> Iterator[str]:
    """A copy made or put back."""
    yield f"{done} {made.path} ({made.bytes / 1e6:.1f} MB, looked through and whole)."
    if made.copy:
        yield f"The book as it was before: {made.copy}"


def copies(found: Sequence[Copy]) -> Iterator[str]:
    """The copies that there are."""
    if not found:
        yield "There is no copy yet; `chauka house backup` makes one."
    yield from columns(((words.moment(c.at), c.label, f"{c.bytes / 1e6:.1f} MB", str(c.path)) for c in found), "llrl")


def devices(found: Sequence[Device]) -> Iterator[str]:
    """The devices that are signed in."""
    if not found:
        yield "No device is signed in."
    yield from columns(
        ((d.name, f"since {words.moment(d.since)}", f"seen {words.moment(d.seen)}") for d in found), "lll"
    )


def history(seen: Past) -> Iterator[str]:
    """What was done by day, the newest first."""
    if not seen.days:
        yield "Nothing was done yet."
    for day, actions in seen.days:
        yield words.day(day)
        yield from columns(
            (
                (str(a.number), f"{a.at:%H:%M}", a.task + (" (taken back)" if a.taken_back else ""), a.note)
                for a in actions
            ),
            "rlll",
        )
    if seen.older is not None:
        yield f"Further back: `chauka house history --before {seen.older}`"


def undone(one: Undone, done: str) -> Iterator[str]:
    """An action taken back or done again."""
    yield f"{done}: {one.task}" + (f" ({one.note})" if one.note else "") + f", action {one.number}."


def versions(found: Sequence[Version]) -> Iterator[str]:
    """How a dish came to be what it is, the newest change first."""
    if not found:
        yield "Nothing was changed since the dish came into this book."
    for one in found:
        yield f"{words.moment(one.at)}: {one.task} (action {one.number})"
        yield from columns(
            ((d.place or "the dish", _said(d.before), "→", _said(d.after)) for d in one.differences), "llll"
        )


def _said(plain: object) -> str:
    if plain is None:
        return "not there"
    text = plain if isinstance(plain, str) else json.dumps(plain, ensure_ascii=False)
    return text if len(text) <= _LONGEST else text[: _LONGEST - 1] + "…"


_LONGEST = 36
