"""What comes with a plan, with names for people: mends of shortfalls, and what to do when the market lacks a food."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from chauka.kitchen import Book, Gap, Instead, MarketRisk, Mend, MendKind, Recourse, StandIn, TablePlan
from chauka.services import foods, words
from chauka.services.intake import NUTRIENTS


@dataclass(frozen=True, slots=True)
class NamedMend:
    """A mend with the names of its food and dish; `food` is "" where no food is added."""

    mend: Mend
    food: str
    dish: str


@dataclass(frozen=True, slots=True)
class NamedGap:
    """What somebody lacks of a nutrient, with the mends."""

    name: str
    nutrient: str
    gap: Gap
    mends: tuple[NamedMend, ...]


@dataclass(frozen=True, slots=True)
class NamedSwap:
    """One dish in place of another at a sitting."""

    swap: Instead
    dish: str
    instead: str


@dataclass(frozen=True, slots=True)
class NamedRecourse:
    """What to do when a food is missing: `buy` as (food, packs in words, cost), dishes by name."""

    recourse: Recourse
    food: str
    buy: tuple[tuple[str, str, int], ...]
    in_house: tuple[str, ...]
    works: tuple[str, ...]
    swaps: tuple[NamedSwap, ...]
    lost: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Advice:
    """All of it; `market` is the coming market day, None where the plan says nothing about it."""

    gaps: tuple[NamedGap, ...]
    market: date | None
    recourse: tuple[NamedRecourse, ...]
    risk: MarketRisk | None


def of_plan(plan: TablePlan, book: Book) -> Advice:
    """What a plan brings with it."""
    called = foods.called(book)
    dishes = {dish.id: dish.name for dish in book.dishes}
    people = {person.id: person.name for person in book.house.people}

    def food(code: str) -> str:
        return called.get(code) or foods.name(code)

    def recourse(one: Recourse) -> NamedRecourse:
        return NamedRecourse(
            recourse=one,
            food=food(one.food),
            buy=tuple((food(s.food), _bought(s, one.day), s.cost) for s in one.stand_ins if s.packs),
            in_house=tuple(food(s.food) for s in one.stand_ins if not s.packs),
            works=tuple(dishes[d] for d in one.works),
            swaps=tuple(NamedSwap(s, dishes[s.dish], dishes[s.instead]) for s in one.swaps),
            lost=tuple(dishes[d] for d in one.lost),
        )

    return Advice(
        gaps=tuple(
            NamedGap(
                people[gap.person],
                NUTRIENTS[gap.tag][0],
                gap,
                tuple(NamedMend(m, food(m.food) if m.food else "", dishes[m.dish]) for m in gap.mends),
            )
            for gap in plan.gaps
            if gap.person in people
        ),
        market=plan.recourse[0].day if plan.recourse else None,
        recourse=tuple(recourse(one) for one in plan.recourse),
        risk=plan.risk,
    )


def _bought(one: StandIn, market: date) -> str:
    later = f" on {words.day(one.day)}" if one.day and one.day != market else ""
    return f"{_packs(one.pack, one.packs)}{later}"


def _packs(pack: str, packs: int) -> str:
    return pack if packs == 1 else f"{packs} × {pack}"


def mend_words(one: NamedMend, gap: NamedGap, currency: str) -> str:
    """As in: add 40 g amaranth to Thursday's dal: folate 82 → 95 %, Rs 6."""
    mend = one.mend
    closes = f"{gap.nutrient} {100 * mend.before:.0f} → {100 * mend.after:.0f} %"
    bought = f", buying {_packs(mend.pack, mend.packs)}" if mend.pack else ""
    cost = words.money(mend.cost, currency, whole_units=True) if mend.cost else "at no cost"
    return f"{_deed(one, gap)}: {closes}, {cost}{bought}"


def _deed(one: NamedMend, gap: NamedGap) -> str:
    mend = one.mend
    when = f"{mend.day:%A}'s {mend.meal}"
    if mend.kind is MendKind.ADD:
        return f"add {words.weight(mend.grams)} {one.food} to {one.dish} ({when})"
    if mend.kind is MendKind.SIDE:
        return f"serve {one.dish} beside {when}"
    often = f"each of the {mend.times} times that it is served" if mend.times > 1 else when
    return f"half a portion more of {one.dish} for {gap.name}, {often}"


def recourse_words(one: NamedRecourse, currency: str) -> Iterator[str]:
    """As in: if no broad beans, buy 500 g bottle gourd: dishes B and D still work."""
    more = one.recourse.cost
    cost = f" ({words.money(abs(more), currency, whole_units=True)} {'more' if more > 0 else 'less'})" if more else ""
    parts = list[str]()
    taken = [*(f"buy {packs} ({food})" for food, packs, _ in one.buy), *(f"take {f}" for f in one.in_house)]
    works = f"{', '.join(one.works)} still {'works' if len(one.works) == 1 else 'work'}" if one.works else ""
    if taken or works:
        parts.append(": ".join(filter(None, [", ".join(taken) or "leave it out", works])))
    parts.extend(f"{s.instead} instead of {s.dish} on {words.day(s.swap.day)}, {s.swap.meal}" for s in one.swaps)
    if one.lost:
        parts.append(f"nothing was found for {', '.join(one.lost)}")
    yield f"If there is no {one.food}: {'; '.join(parts)}{cost}."
