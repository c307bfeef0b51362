"""Taking an action back: every thing it touched is as it was before, and the ledger says so.

The ledger only grows, so its rows are set right by rows of the same deed with the weight and money
below zero. Taking back is an action like any other and can be taken back itself. What was touched
again later is not overwritten: the later action has to be taken back first. Prices seen stay seen.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from chauka.errors import InputError
from chauka.kitchen import Dish, House, Lot, Offer
from chauka.store import books, codec, ledger, marks, models, photos, plans
from chauka.store.ledger import Recorder
from chauka.store.mapping import dishes, stock
from chauka.store.models import Household

TASK = "take back"
COUNTER = "taken back"
"""The reason of a ledger row that sets another right."""
TAKEN_BACK = "taken back"
"""The kind of the change by which an action is known to have been taken back; its key is the action's number."""


def is_taken_back(household: Household, numbers: set[int]) -> frozenset[int]:
    """Those of the actions that were taken back."""
    found = models.Change.objects.of(household).filter(kind=TAKEN_BACK, key__in=[str(n) for n in numbers])
    return frozenset(int(number) for number, after in marks.newest(found).items() if after)


def take_back(household: Household, number: int, now: datetime) -> None:
    """Take one action back, whole or not at all. Raises `InputError` where something was changed again since."""
    row = models.Action.objects.of(household).filter(number=number).first()
    if row is None:
        raise InputError({"action": (f"there is no action {number} in this book",)})
    if is_taken_back(household, {number}):
        raise InputError({"action": (f"“{row.task}” was taken back already",)})
    with ledger.action(household, now, TASK, f"{row.task}: {row.note}" if row.note else row.task) as recorder:
        for change in models.Change.objects.of(household).filter(action=row).order_by("-pk"):
            _restore(recorder, change)
        for deed in models.LedgerRow.objects.of(household).filter(action=row):
            _counter(recorder, deed)
        recorder.changed(TAKEN_BACK, str(number), None, True)


def _counter(recorder: Recorder, row: models.LedgerRow) -> None:
    deed = stock.deed_of(row)
    cost = None if deed.cost is None else -deed.cost
    recorder.did(replace(deed, at=recorder.at, grams=-deed.grams, cost=cost, why=COUNTER))


def _restore(recorder: Recorder, change: models.Change) -> None:
    if change.kind == TAKEN_BACK:
        recorder.changed(change.kind, change.key, change.after, change.before)
        return
    now_there, put = _mark(change.kind) if change.kind in marks.KINDS else _THINGS[change.kind]
    if now_there(recorder.household, change.key) != change.after:
        name = change.key or change.kind
        raise InputError({change.kind: (f"{name} has changed again since; take the later action back first",)})
    put(recorder, change.key, change.before)


def _mark(kind: str) -> _Thing:
    """How marks of one kind are read and set."""
    return (
        lambda household, key: marks.read(household, kind, key),
        lambda recorder, key, before: marks.write(recorder, kind, key, before),
    )


def _lot_there(household: Household, key: str) -> Any:
    row = models.Lot.objects.of(household).filter(key=key, gone=False).first()
    return None if row is None else codec.to_plain(stock.lot_of(row))


def _put_lot(recorder: Recorder, key: str, plain: Any) -> None:
    if plain is not None:
        recorder.put(codec.from_plain(Lot, plain, f"lot {key}"))
        return
    before = _lot_there(recorder.household, key)
    models.Lot.objects.of(recorder.household).filter(key=key).update(gone=True)
    recorder.changed("lot", key, before, None)


def _house_there(household: Household, _key: str) -> Any:
    household.refresh_from_db()
    return codec.to_plain(books.load_house(household))


def _put_house(recorder: Recorder, key: str, plain: Any) -> None:
    books.save_house(recorder, codec.from_plain(House, plain, f"house {key}"))


def _dish_there(household: Household, key: str) -> Any:
    return next((codec.to_plain(d) for d in dishes.dishes_of(household) if d.id == key), None)


def _put_dish(recorder: Recorder, key: str, plain: Any) -> None:
    if plain is not None:
        books.save_dish(recorder, codec.from_plain(Dish, plain, f"dish {key}"))
        return
    books.remove_dish(recorder, key)


def _offers_there(household: Household, _key: str) -> Any:
    return [codec.to_plain(stock.offer_of(row)) for row in models.Offer.objects.of(household)]


def _put_offers(recorder: Recorder, _key: str, plain: Any) -> None:
    books.save_offers(recorder, codec.from_plain(tuple[Offer, ...], plain, "offers"))


def _plan_there(household: Household, key: str) -> Any:
    row = models.Plan.objects.of(household).filter(number=int(key)).first()
    return None if row is None else {"accepted": codec.to_plain(row.accepted)}


def _put_plan(recorder: Recorder, key: str, plain: Any) -> None:
    """None takes a proposal away, with all that is needed to bring it back; else it is accepted or not, or brought
    back."""
    row = models.Plan.objects.of(recorder.household).filter(number=int(key)).first()
    if plain is None:
        if row is not None:
            recorder.changed("plan", key, plans.as_plain(row), None)
            row.delete()
        return
    before = _plan_there(recorder.household, key)
    if row is None:
        if "document" not in plain:
            raise InputError({"plan": ("a newer one has taken its place; plan anew",)})
        plans.bring_back(recorder.household, int(key), plain)
    else:
        said = plain["accepted"]
        row.accepted = said and datetime.fromisoformat(said)
        row.save()
    recorder.changed("plan", key, before, {"accepted": plain["accepted"]})


def _put_photo(recorder: Recorder, key: str, plain: Any) -> None:
    photos.show(recorder, key, None if plain is None else codec.from_plain(photos.Photo, plain, f"photo of {key}"))


_Thing = tuple[Callable[[Household, str], Any], Callable[[Recorder, str, Any], None]]
_THINGS: Mapping[str, _Thing] = {
    "lot": (_lot_there, _put_lot),
    "house": (_house_there, _put_house),
    "dish": (_dish_there, _put_dish),
    "offers": (_offers_there, _put_offers),
    "plan": (_plan_there, _put_plan),
    photos.SHOWN: (photos.plain, _put_photo),
}


def newest(household: Household, most: int, before: int | None = None) -> tuple[tuple[int, datetime, str, str], ...]:
    """Number, moment, task and note of the last actions, the newest first; `before` a number pages on."""
    found = models.Action.objects.of(household).order_by("-number")
    if before is not None:
        found = found.filter(number__lt=before)
    return tuple((a.number, a.at, a.task, a.note) for a in found[:most])


@dataclass(frozen=True, slots=True)
class Undone:
    """One action by its number, task and note."""

    number: int
    task: str
    note: str


def undo(household: Household, now: datetime) -> Undone:
    """Take back the last action that is still in force. Raises `InputError` where there is none."""
    return _again(household, now, _in_force(household), "nothing is left to take back")


def redo(household: Household, now: datetime) -> Undone:
    """Do again what was taken back last. Raises `InputError` where nothing was, or where something new came after."""
    return _again(household, now, _taken_back_last(household), "nothing was taken back that could be done again")


def _again(household: Household, now: datetime, row: models.Action | None, nothing: str) -> Undone:
    if row is None:
        raise InputError({"action": (nothing,)})
    take_back(household, row.number, now)
    return Undone(row.number, row.task, row.note)


def _in_force(household: Household) -> models.Action | None:
    """The newest action that did something and was not taken back."""
    for row, taken_back in _from_the_newest(household):
        if row.task != TASK and not taken_back and _did_something(household, row):
            return row
    return None


def _taken_back_last(household: Household) -> models.Action | None:
    """The newest taking back that was not itself taken back, unless something new was done since."""
    for row, taken_back in _from_the_newest(household):
        if taken_back or not _did_something(household, row) or _does_again(household, row):
            continue
        return row if row.task == TASK else None
    return None


def _does_again(household: Household, row: models.Action) -> bool:
    """Whether this took back a taking back."""
    if row.task != TASK:
        return False
    target = models.Change.objects.of(household).filter(action=row, kind=TAKEN_BACK).order_by("-pk")[0].key
    return bool(models.Action.objects.of(household).filter(number=int(target), task=TASK).exists())


def _from_the_newest(household: Household) -> Iterator[tuple[models.Action, bool]]:
    before: int | None = None
    while True:
        found = models.Action.objects.of(household).order_by("-number")
        rows = list((found if before is None else found.filter(number__lt=before))[:_AT_ONCE])
        if not rows:
            return
        gone = is_taken_back(household, {row.number for row in rows})
        yield from ((row, row.number in gone) for row in rows)
        before = rows[-1].number


_AT_ONCE = 100


def _did_something(household: Household, row: models.Action) -> bool:
    """Whether it changed anything: a proposal that nobody follows did not."""
    changes = models.Change.objects.of(household).filter(action=row)
    moved = any(not (c.kind == "plan" and c.before is None) for c in changes)
    return moved or models.LedgerRow.objects.of(household).filter(action=row).exists()


def of_thing(household: Household, kind: str, key: str) -> tuple[tuple[int, datetime, str, Any, Any], ...]:
    """Number, moment, task, before and after of every change of one thing, the newest first."""
    found = models.Change.objects.of(household).filter(kind=kind, key=key).order_by("-pk").select_related("action")
    return tuple((c.action.number, c.action.at, c.action.task, c.before, c.after) for c in found)
