"""Readers that stand before a book: what they refuse must change nothing in it."""

from __future__ import annotations

import json
import random
from collections.abc import Callable
from functools import partial
from typing import Any

from django.db import transaction
from django.test import Client

from benchmarks.fuzz import mutate
from benchmarks.fuzz.readers import AMOUNTS, LINES, NOW, RECIPE, SPOKEN, Reader
from chauka.errors import ChaukaError
from chauka.kitchen import Deed
from chauka.services import house_changes, market, new_dish, shelf, typed
from chauka.services.dish_form import DishForm, LineForm, StepForm
from chauka.store import books
from chauka.store.models import Household

Deeds = Callable[[Household, Any], object]
_PERSON = {"name": "Asha", "born": "1990-05-01", "weight_kg": "55", "sex": "female", "conditions": "", "chilli": "2"}
_NUMBERS = {s.key: "6" for s in house_changes.SETTINGS}


class ChangedError(Exception):
    """Something was refused, and the book changed all the same."""


def _guarded(household: Household, deed: Deeds, given: Any) -> None:
    """Do it, and take back what it wrote; refused, nothing may have been written."""
    before = books.revision(household)
    try:
        with transaction.atomic():
            deed(household, given)
            transaction.set_rollback(True)
    except ChaukaError:
        if books.revision(household) != before:
            raise ChangedError(f"revision {before} → {books.revision(household)}") from None
        raise


def _log(household: Household, given: tuple[str, str]) -> None:
    lot = books.load_book(household).lots[0].id
    shelf.log(household, lot, Deed.USED, NOW, amount=given[0], why=given[1])


def _bought(household: Household, given: tuple[str, str]) -> None:
    market.buy(household, given[1], given[0], 1000, NOW)


def _numbers(household: Household, given: dict[str, str]) -> None:
    house_changes.set_numbers(household, given, NOW)


def _person(household: Household, given: dict[str, str]) -> None:
    house_changes.set_person(household, house_changes.read_person(given, books.load_house(household)), NOW)


def _rule(_: Household, given: list[str]) -> None:
    house_changes.read_rule(given[0], given[1], given[2], given[3], frozenset())


def _rule_said(chance: random.Random) -> list[str]:
    return [mutate.text(chance, [w]) if chance.random() < 0.3 else w for w in ("guests", "3", "", "2")]


def _dish(household: Household, given: DishForm) -> None:
    new_dish.looked_at(household, given)
    new_dish.keep(household, given, NOW)


def _dish_form(chance: random.Random) -> DishForm:
    def said(usual: str) -> str:
        return mutate.text(chance, [usual]) if chance.random() < 0.15 else usual

    steps = [
        StepForm(
            said("Fry it."), said("4-6"), said("saute"), said("hands-on"), said("wok"), said("medium"), said("1, 2")
        )
        for _ in range(chance.randrange(4))
    ]
    lines = tuple(LineForm(said(chance.choice(LINES))) for _ in range(chance.randrange(4)))
    return DishForm(said("Greens"), said("vegetable"), said("2"), lines, tuple(steps))


def _fields(chance: random.Random, usual: dict[str, str]) -> dict[str, str]:
    return {k: mutate.text(chance, [v]) if chance.random() < 0.3 else v for k, v in usual.items()}


_ADDRESSES = (
    ("GET", "/api/dishes/boiled-rice"), ("GET", "/api/ledger?before=5"), ("GET", "/api/stove/2027-03-14/dinner"),
    ("POST", "/api/shelf"), ("POST", "/api/dishes/read"), ("POST", "/api/dishes"), ("POST", "/api/shelf/rice-1/log"),
    ("POST", "/api/sign-in"), ("POST", "/api/ledger/undo"), ("PUT", "/api/market/1/2027-03-14/C033"),
    ("DELETE", "/api/bench/1/abc"), ("POST", "/shelf/add"), ("POST", "/shelf/rice-1/log"), ("POST", "/house/numbers"),
    ("GET", "/dishes/boiled-rice/"), ("POST", "/house/rule"), ("GET", "/shelf/"), ("POST", "/market/tick"),
)  # fmt: skip
_BODY = {
    "text": "1 kg rice", "deed": "used", "amount": "2 g", "why": "x", "phrase": "a", "name": "Greens", "portions": 2.0,
    "course": "vegetable", "lines": ["1 cup rice"], "steps": [{"text": "Boil it.", "minutes": "4"}], "paid": 5,
}  # fmt: skip


def _request(chance: random.Random) -> tuple[str, str, bytes, str, dict[str, str]]:
    method, path = chance.choice(_ADDRESSES)
    if chance.random() < 0.3:
        path = "/" + mutate.damaged(path, chance).lstrip("/").encode("utf-8", "replace").decode()
    if chance.random() < 0.1:
        method = chance.choice(("PATCH", "HEAD", "OPTIONS", "TRACE", "PUT", "DELETE", "GET"))
    body = mutate.plain(_BODY, chance)
    kind = "application/json"
    data = json.dumps(body).encode("utf-8", "surrogatepass")
    if not path.startswith("/api/") and isinstance(body, dict):
        kind = "application/x-www-form-urlencoded"
        data = "&".join(f"{k}={v}" for k, v in body.items()).encode("utf-8", "surrogatepass")
    if chance.random() < 0.2:
        data = mutate.data(data, chance)
    if chance.random() < 0.1:
        kind = chance.choice(("text/plain", "multipart/form-data; boundary=x", "application/json; charset=utf-7", ""))
    odd = (
        {"accept-language": mutate.noise(chance, 30), "x-odd": mutate.noise(chance, 30)}
        if chance.random() < 0.1
        else {}
    )
    return method, path, data, kind, {k: v.encode("ascii", "replace").decode() for k, v in odd.items()}


class FaultError(Exception):
    """The server answered with 500 or more."""


def _asked(client: Client, household: Household, given: tuple[str, str, bytes, str, dict[str, str]]) -> None:
    method, path, data, kind, headers = given
    before = books.revision(household)
    with transaction.atomic():
        answer = client.generic(method, path, data, content_type=kind, headers=headers)
        after = books.revision(household)
        transaction.set_rollback(True)
    if answer.status_code >= 500:
        raise FaultError(f"{answer.status_code} to {method} {path}")
    if answer.status_code >= 400 and after != before:
        raise ChangedError(f"{answer.status_code} to {method} {path}")


def readers(household: Household) -> tuple[Reader, ...]:
    """The readers before this book."""
    client = Client(SERVER_NAME="localhost", raise_request_exception=False)

    def of(name: str, share: float, make: Callable[[random.Random], Any], deed: Deeds) -> Reader:
        return Reader(name, share, make, partial(_guarded, household, deed))

    return (
        of("shelf", 3, lambda c: mutate.text(c, SPOKEN), lambda h, text: typed.add(h, text, NOW)),
        of("log", 3, lambda c: (mutate.text(c, AMOUNTS), mutate.noise(c, 40)), _log),
        of("bought", 2, lambda c: (mutate.text(c, AMOUNTS), mutate.text(c, ["spinach", "C033", "rice"])), _bought),
        of("numbers", 2, lambda c: _fields(c, _NUMBERS), _numbers),
        of("person", 2, lambda c: _fields(c, _PERSON), _person),
        of("rule", 2, _rule_said, _rule),
        of("dish-form", 1, _dish_form, _dish),
        of("dish-text", 0.5, lambda c: mutate.text(c, [RECIPE]), _dish_of_text),
        Reader("http", 2, _request, partial(_asked, client, household)),
    )


def _dish_of_text(household: Household, text: str) -> None:
    new_dish.from_text(text, books.load_book(household), {})
