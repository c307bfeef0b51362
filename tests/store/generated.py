"""Books, plans and ledgers that hypothesis makes up: every field of every noun takes part."""

from __future__ import annotations

import math
import string
from datetime import date, datetime, time
from types import MappingProxyType
from typing import Any

from hypothesis import strategies as st

from chauka.kitchen import (
    After,
    Attention,
    Batch,
    Book,
    Clash,
    Condition,
    Cook,
    Course,
    DayRule,
    Deed,
    Dish,
    Draw,
    Form,
    Heat,
    House,
    Kept,
    LedgerRow,
    LeftOver,
    Line,
    Lot,
    Meal,
    MealTime,
    Measures,
    Offer,
    Person,
    Place,
    Proof,
    Purchase,
    RuleKind,
    Served,
    Serving,
    Sex,
    Shortfall,
    Sitting,
    Step,
    Substitute,
    TablePlan,
    Technique,
    Vessel,
    VesselStock,
    Weights,
)
from chauka.store import ledger, photos
from chauka.store.models import Household
from chauka.units import Estimate, Span

ids = st.text(string.ascii_lowercase + string.digits, min_size=1, max_size=6)
texts = st.text(st.characters(exclude_categories=["Cs", "Cc"]), max_size=8)
said = st.sampled_from(["palak", "पालक", "½ cup “heaped”", "a\nb", "  x "])
amounts = st.floats(0, 40_000, allow_nan=False)
days = st.dates(date(2000, 1, 1), date(2099, 12, 31))
moments = st.datetimes(datetime(2000, 1, 1), datetime(2099, 12, 31))  # noqa: DTZ001 - local wall time
coins = st.integers(0, 10**12)
estimates = st.builds(Estimate, mean=amounts, sd=amounts)
spans = st.tuples(amounts, amounts).map(lambda two: Span(min(two) / 10, max(two) / 10))
word_sets = st.frozensets(ids, max_size=3)


def _tuples(of: st.SearchStrategy[Any], most: int = 2) -> st.SearchStrategy[Any]:
    return st.lists(of, max_size=most).map(tuple)


def _mapping(values: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    return st.dictionaries(ids, values, max_size=3).map(MappingProxyType)


substitutes = st.builds(Substitute, food=ids, ratio=amounts, note=texts)
people = st.builds(
    Person,
    id=ids,
    name=texts,
    sex=st.sampled_from(Sex),
    born=days,
    weight_kg=st.floats(2, 300),
    activity=st.floats(1.2, 2.5),
    conditions=st.frozensets(st.sampled_from(Condition)),
    allergies=word_sets,
    aversions=word_sets,
    chilli=st.integers(0, 3),
    liking=_mapping(st.integers(1, 5)),
)
rules = st.one_of(
    st.builds(DayRule, kind=st.sampled_from(RuleKind), weekday=st.integers(0, 6), people=word_sets),
    st.builds(
        DayRule,
        kind=st.sampled_from(RuleKind),
        on=days,
        meal=st.none() | st.sampled_from(Meal),
        guests=st.integers(0, 9),
    ),
)
houses = st.builds(
    House,
    name=ids,
    people=st.lists(people, min_size=1, max_size=3, unique_by=lambda p: p.id).map(tuple),
    burners=st.integers(1, 6),
    vessels=_tuples(
        st.builds(VesselStock, kind=st.sampled_from(Vessel), count=st.integers(0, 9), litres=st.none() | amounts)
    ),
    meal_times=_tuples(
        st.builds(
            MealTime,
            meal=st.sampled_from(Meal),
            weekday=st.integers(0, 6),
            serve=st.times(time(0, 0), time(23, 59)),
            hands_on_min=st.integers(0, 300),
        )
    ),
    market_weekdays=_tuples(st.integers(0, 6)),
    cooks=st.integers(1, 3),
    rules=_tuples(rules),
    region=texts,
    altitude_m=amounts,
    fridge_c=st.floats(-2, 15),
    room_c=amounts,
    freezer_c=st.floats(-30, 0),
    currency=ids,
    weekly_budget=st.none() | coins,
    measures=st.builds(Measures, cup_ml=amounts, katori_ml=amounts, tablespoon_ml=amounts, teaspoon_ml=amounts),
    weights=st.builds(Weights, waste_per_coin=amounts, missed_dish=coins, minute=st.integers(0, 999)),
    frying_fat=ids,
    small_burners=st.integers(0, 1),
    bench_places=st.none() | st.integers(1, 4),
    crew=_tuples(
        st.builds(Cook, name=texts, cannot=st.frozensets(st.sampled_from(Technique)), pace=st.floats(0.25, 4))
    ),
)
lines = st.builds(
    Line,
    id=ids,
    food=ids,
    said=said,
    amount=texts,
    grams=estimates,
    form=st.sampled_from(Form),
    part=texts,
    prep=texts,
    optional=st.booleans(),
    to_taste=st.booleans(),
    eaten_share=st.floats(0, 1),
    substitutes=_tuples(substitutes),
)


@st.composite
def _steps(draw: st.DrawFn, line_ids: list[str]) -> tuple[Step, ...]:
    made: list[Step] = []
    for key in draw(st.lists(ids, max_size=3, unique=True)):
        after = []
        if made:
            low, more = draw(st.integers(0, 600)), draw(st.none() | st.integers(0, 600))
            after = [After(draw(st.sampled_from([s.id for s in made])), low, None if more is None else low + more)]
        made.append(
            Step(
                id=key,
                text=draw(said),
                technique=draw(st.sampled_from(Technique)),
                minutes=draw(spans),
                attention=draw(st.sampled_from(Attention)),
                vessel=draw(st.none() | st.sampled_from(Vessel)),
                heat=draw(st.sampled_from(Heat)),
                after=tuple(after),
                lines=tuple(draw(st.lists(st.sampled_from(line_ids), max_size=2))),
                ahead=draw(st.booleans()),
                until=draw(texts),
                whistles=draw(st.none() | st.integers(0, 9)),
            )
        )
    return tuple(made)


@st.composite
def dishes(draw: st.DrawFn) -> Dish:
    """Any dish."""
    its_lines = draw(st.lists(lines, min_size=1, max_size=3, unique_by=lambda line: line.id))
    return Dish(
        id=draw(ids),
        name=draw(said),
        course=draw(st.sampled_from(Course)),
        base=draw(ids),
        portions=draw(st.floats(0.5, 40)),
        lines=tuple(its_lines),
        steps=draw(_steps([line.id for line in its_lines])),
        names=draw(_mapping(texts)),
        yield_g=draw(st.none() | estimates),
        kept=draw(
            st.none() | st.builds(Kept, place=st.sampled_from(Place), days=spans, why=texts, freezes=st.booleans())
        ),
        served=draw(st.sampled_from(Served)),
        hold_min=draw(st.integers(0, 300)),
        chilli=draw(st.integers(0, 3)),
        batch=draw(st.booleans()),
        story=draw(texts),
        cautions=draw(_tuples(texts)),
        tags=draw(word_sets),
    )


offers = st.builds(
    Offer,
    food=ids,
    pack=texts,
    grams=st.floats(0.1, 40_000),
    price=coins,
    stall=texts,
    weekdays=_tuples(st.integers(0, 6)),
)


def _lots(dish_ids: list[str]) -> st.SearchStrategy[Lot]:
    common = {
        "id": ids,
        "grams": amounts,
        "form": st.sampled_from(Form),
        "place": st.sampled_from(Place),
        "since": moments,
        "age_days": amounts,
        "covered": st.booleans(),
        "cost": st.none() | coins,
        "note": texts,
    }
    of_food = st.builds(Lot, **common, food=ids)
    return of_food | st.builds(Lot, **common, dish=st.sampled_from(dish_ids)) if dish_ids else of_food


@st.composite
def books(draw: st.DrawFn) -> Book:
    """Any book."""
    some = draw(st.lists(dishes(), max_size=3, unique_by=lambda d: d.id))
    lots = draw(st.lists(_lots([d.id for d in some]), max_size=4, unique_by=lambda lot: lot.id))
    return Book(
        house=draw(houses), dishes=tuple(some), offers=tuple(draw(st.lists(offers, max_size=4))), lots=tuple(lots)
    )


meals = st.sampled_from(Meal)
proofs = st.builds(
    Proof, value=amounts, bound=amounts | st.just(-math.inf), seconds=amounts, status=texts, terms=_mapping(amounts)
)
plans = st.builds(
    TablePlan,
    start=days,
    days=st.integers(1, 28),
    sittings=_tuples(
        st.builds(
            Sitting,
            day=days,
            meal=meals,
            serve=st.times(),
            hands_on_min=st.integers(0, 200),
            eaters=_tuples(ids),
            guests=st.integers(0, 9),
            rules=st.frozensets(st.sampled_from(RuleKind)),
        )
    ),
    batches=_tuples(st.builds(Batch, id=ids, dish=ids, day=days, meal=meals, portions=amounts)),
    servings=_tuples(
        st.builds(
            Serving,
            day=days,
            meal=meals,
            course=st.sampled_from(Course),
            dish=ids,
            portions=amounts,
            batch=st.none() | ids,
            lot=st.none() | ids,
        )
    ),
    purchases=_tuples(
        st.builds(
            Purchase,
            id=ids,
            day=days,
            food=ids,
            pack=texts,
            packs=st.integers(0, 99),
            grams=amounts,
            edible_g=amounts,
            cost=coins,
            stall=texts,
            feeds=_tuples(ids),
        )
    ),
    draws=_tuples(st.builds(Draw, source=ids, batch=ids, food=ids, grams=amounts)),
    left_over=_tuples(
        st.builds(LeftOver, source=ids, food=ids, grams=amounts, cost=coins, binned=st.booleans(), on=days)
    ),
    shortfalls=_tuples(st.builds(Shortfall, person=ids, tag=ids, share=amounts)),
    proof=proofs,
    clashes=_tuples(st.builds(Clash, rules=_tuples(texts), way_out=texts, cost=st.none() | coins)),
)
ledger_rows = st.builds(
    LedgerRow,
    at=moments,
    deed=st.sampled_from(Deed),
    grams=amounts,
    lot=st.none() | ids,
    food=st.none() | ids,
    dish=st.none() | ids,
    cost=st.none() | coins,
    minutes=st.none() | amounts,
    why=texts,
)

pictures = st.lists(st.binary(max_size=20).map(lambda data: b"\xff\xd8\xff" + data), max_size=3)


def keep_photos(owner: Household, some: list[bytes], at: datetime) -> None:
    """Let lots and dishes of no matter which names show these, each in an action of its own."""
    for number, data in enumerate(some):
        jpeg = data if data.startswith(b"\xff\xd8\xff") else b"\xff\xd8\xff" + data
        with ledger.action(owner, at, "show a photo") as recorder:
            digest = photos.keep(owner, jpeg, 4, 3)
            photos.show(recorder, f"dish/{number}", photos.Photo(digest, 4, 3, "what it shows"))


def shown_pictures(owner: Household) -> list[bytes]:
    """The bytes of what is shown, in order."""
    shown = photos.all_shown(owner, "dish/")
    return [photos.jpeg(owner, shown[key].digest) or b"" for key in sorted(shown)]
