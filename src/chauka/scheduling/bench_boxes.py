"""The boxes that work ahead fills: one for each cooking that a bunch is split for, and one for each dish kept."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from datetime import datetime, timedelta

from chauka.keeping import Need
from chauka.kitchen import Book, Form, Lot, Place, TablePlan, Technique
from chauka.scheduling.bench import BenchEntry, BoxLabel
from chauka.scheduling.larder import Larder
from chauka.scheduling.sheet import joined

BECOMES = {
    Technique.PICK: Form.PICKED, Technique.WASH: Form.WASHED, Technique.PEEL: Form.PEELED, Technique.CUT: Form.CHOPPED,
    Technique.GRATE: Form.GRATED, Technique.GRIND: Form.GROUND, Technique.SOAK: Form.SOAKED,
    Technique.SPROUT: Form.SPROUTED, Technique.SET: Form.SET, Technique.BOIL: Form.BOILED,
    Technique.PRESSURE_COOK: Form.BOILED, Technique.STEAM: Form.BOILED, Technique.BLANCH: Form.BLANCHED,
}  # fmt: skip
"""The form that a step leaves the food in; every other cooking leaves it COOKED."""

_BOXED_AFTER = timedelta(hours=2)
"""What stands longer than this goes into a box in the refrigerator (the two-hour rule of cooked food)."""


WORTH_A_BOX_G = 50.0
"""A few sprigs are no bunch: they are picked when they are used, and share one box. A custom of the program."""


def food_boxes(entries: Iterable[BenchEntry], book: Book, larder: Larder) -> Iterator[BoxLabel]:
    """A box for each result that stands longer than two hours; leaves for several sittings, a box for each."""
    for entry in entries:
        if entry.needed - entry.done_by <= _BOXED_AFTER or not entry.foods:
            continue
        worth_it = len(entry.shares) > 1 and all(share.grams >= WORTH_A_BOX_G for share in entry.shares)
        if entry.technique is Technique.PICK and worth_it:
            yield from _split(entry, book, larder)
        else:
            yield _one_box(entry, book, larder)


def _one_box(entry: BenchEntry, book: Book, larder: Larder) -> BoxLabel:
    form, food = BECOMES.get(entry.technique, Form.COOKED), entry.foods[0]
    life = larder.food(food, form)
    names = tuple(book.dish(d).name for d in entry.dishes)
    return BoxLabel(
        name=joined([a.said for a in entry.amounts]) or joined(names),
        form=form,
        grams=math.fsum(a.grams for a in entry.amounts) or None,
        packed=entry.done_by.date(),
        use_by=None if life.days is None else _to_the_hour(entry.done_by + timedelta(days=life.days)),
        why=life.why,
        food=food,
        for_dishes=names,
    )


def _split(entry: BenchEntry, book: Book, larder: Larder) -> Iterator[BoxLabel]:
    """The picked bunch as the keeping engine splits it: each box in the form that still reaches its sitting."""
    food, form = entry.foods[0], Form.PICKED
    said = joined([a.said for a in entry.amounts])
    grams = math.fsum(share.grams for share in entry.shares)
    lot = Lot(f"bench {food}", grams, form, Place.FRIDGE, entry.done_by, food=food)
    needs = [Need(share.at, share.grams, form, book.dish(share.dish).name) for share in entry.shares]
    for box in larder.boxes(lot, needs, said):
        reason = box.use_by.reason if box.safe else f"will not keep until then: use it first ({box.use_by.reason})"
        yield BoxLabel(
            name=said,
            form=box.form,
            grams=box.grams,
            packed=entry.done_by.date(),
            use_by=_to_the_hour(box.use_by.at) if box.use_by.known else None,
            why=reason,
            food=food,
            for_dishes=(f"{box.name}, {box.at:%a}" if box.at else box.name,),
        )


def dish_boxes(
    cooked: Iterable[tuple[str, datetime]], plan: TablePlan, book: Book, larder: Larder
) -> Iterator[BoxLabel]:
    """A box for each cooking (batch id, served at) of which some is eaten at a later sitting."""
    for batch_id, serve in cooked:
        batch = plan.batch(batch_id)
        dish, there = book.dish(batch.dish), (batch.day, batch.meal)
        later = [s for s in plan.servings if s.batch == batch.id and (s.day, s.meal) != there]
        if not later:
            continue
        share, life = math.fsum(s.portions for s in later) / dish.portions, larder.dish(dish)
        yield BoxLabel(
            name=dish.name,
            form=Form.COOKED,
            grams=dish.yield_g.mean * share if dish.yield_g else None,
            packed=batch.day,
            use_by=None if life.days is None else _to_the_hour(serve + timedelta(days=life.days)),
            why=life.why,
            dish=dish.id,
            for_dishes=tuple(f"{s.day:%a} {s.meal}" for s in later),
        )


def _to_the_hour(moment: datetime) -> datetime:
    """Rounded down: a label is written with a thick pen, and errs on the safe side."""
    return moment.replace(minute=0, second=0, microsecond=0)
