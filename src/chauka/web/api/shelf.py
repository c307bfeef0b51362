"""Shelf: what is in the house, what came in, and what happened to it."""

from __future__ import annotations

from django.http import HttpRequest
from ninja import Router, Status

from chauka.kitchen import Deed
from chauka.services import shelf, typed
from chauka.store import books
from chauka.web.api import answers, shapes
from chauka.web.api.problems import answers as problems
from chauka.web.api.problems import found
from chauka.web.common import now, whose
from chauka.web.remember import remembered

router = Router(tags=["shelf"])


@router.get("", response={200: answers.Shelf, **problems(409)})
def view(request: HttpRequest) -> answers.Shelf:
    """Every lot with its use-by and the reason, first expired first."""
    household, moment = whose(), now()
    seen = remembered("shelf", household, moment, lambda: shelf.view(household, moment))
    return answers.Shelf(at=seen.at, lots=[answers.Lot.of(one) for one in seen.lots])


@router.post("", response={201: answers.Added, **problems(409)})
def add(request: HttpRequest, said: shapes.SaidText) -> Status[answers.Added]:
    """Put on the shelf what the text names, as in "2 bunches spinach, 1 kg rice from Sunday"; all of it or nothing."""
    return Status(201, answers.Added(lots=list(typed.add(whose(), said.text, now()))))


@router.post("/{lot}/log", response={200: answers.Logged, **problems(404, 409)})
def log(request: HttpRequest, lot: shapes.Key, said: shapes.DeedSaid) -> answers.Logged:
    """Some of a lot was used, eaten or binned, or it was opened."""
    household = whose()
    found(lot, (one.id for one in books.load_book(household).lots), "lot")
    if said.deed == "opened":
        done = shelf.open_lot(household, lot, now())
    else:
        done = shelf.log(household, lot, Deed(said.deed), now(), amount=said.amount.strip() or None, why=said.why)
    return answers.Logged(lot=lot, name=done.name, deed=done.deed, grams=done.grams, left_g=done.lot.grams)
