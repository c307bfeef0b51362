"""Table: the plan of the coming days, and planning anew with progress and a way to stop."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST

from chauka.errors import InputError
from chauka.services import by_hand, changes, plan_days, running
from chauka.services import table as service
from chauka.services.intake import NutrientIntake
from chauka.store import books
from chauka.store.models import Household
from chauka.web.common import now, page, whose
from chauka.web.figures.intake_figure import intake_figure
from chauka.web.remember import remembered

SECONDS = 20.0
MOST_SECONDS = 300.0
DAYS = 7


@page
def view(request: HttpRequest) -> HttpResponse:
    """The plan in force, or an invitation to make one."""
    household, moment = whose(), now()
    planning = running.current(household)
    complaint = planning.complaint if planning else ""
    if complaint:
        running.clear(household)
    seen = remembered("table", household, moment, lambda: _seen(household, moment))
    running_now = planning if planning and not planning.done else None
    context = {
        "planning": running_now,
        "complaint": complaint,
        "seconds": SECONDS,
        "today": moment.date(),
        "change": remembered("change", household, moment, lambda: changes.view(household, moment)),
        "wishes": by_hand.wishes(household, moment),
        "dish_names": {dish.id: dish.name for dish in books.load_book(household).dishes},
    }
    figures = [(person, intake_figure(person)) for person in seen.intake] if seen else []
    shown = {"seen": seen, "intake_rows": _by_nutrient(seen), "figures": figures}
    return render(request, "table/view.html", context | shown)


def _seen(household: Household, moment: datetime) -> service.TableView | None:
    return service.view(household, moment) if plan_days.current(household, moment) else None


@dataclass(frozen=True, slots=True)
class IntakeRow:
    """One nutrient, a cell for each person."""

    name: str
    ceiling: bool
    cells: tuple[NutrientIntake, ...]


def _by_nutrient(seen: service.TableView | None) -> list[IntakeRow]:
    if seen is None or not seen.intake:
        return []
    columns = zip(*(person.nutrients for person in seen.intake), strict=True)
    return [IntakeRow(cells[0].name, cells[0].ceiling, cells) for cells in columns]


@require_POST
@page
def plan(request: HttpRequest) -> HttpResponse:
    """Begin to plan the coming days from today."""
    said = request.POST.get("seconds", str(SECONDS))
    try:
        seconds = float(said)
    except ValueError:
        seconds = float("nan")
    if not 1 <= seconds <= MOST_SECONDS:
        raise InputError({"seconds": (f"{said!r}: give 1 to {MOST_SECONDS:.0f}",)})
    moment = now()
    wishes = by_hand.wishes(whose(), moment)
    running.start(whose(), running.Asked(moment.date(), moment, DAYS, seconds, wishes.locked, wishes.refused))
    return redirect("table")


@page
def progress(request: HttpRequest) -> HttpResponse:
    """How far the planning is; tells the page to load anew when it is done."""
    planning = running.current(whose())
    if planning is None or planning.done:
        return HttpResponse(status=204, headers={"HX-Refresh": "true"})
    return render(request, "table/progress.html", {"planning": planning})


@require_POST
@page
def stop(_request: HttpRequest) -> HttpResponse:
    """Stop planning; the best plan so far is kept."""
    running.stop(whose())
    return redirect("table")


@require_POST
@page
def leave(_request: HttpRequest) -> HttpResponse:
    """Stay with the plan in force."""
    plan_days.leave(whose(), now())
    return redirect("table")


@require_POST
@page
def accept(request: HttpRequest) -> HttpResponse:
    """Follow this plan from now on."""
    number = request.POST.get("number", "")
    if not (number.isascii() and number.isdigit() and len(number) < 10):
        raise InputError({"plan": (f"{number!r} is no plan's number",)})
    plan_days.accept(whose(), int(number), now())
    return redirect("table")
