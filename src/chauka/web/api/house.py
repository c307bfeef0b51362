"""House, door and ledger: what the house is, letting a device in, and taking actions back."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from ninja import Router, Status

from chauka.services import health as service
from chauka.services import house, past, sharing
from chauka.web.api import answers, shapes
from chauka.web.api.problems import answers as problems
from chauka.web.api.problems import problem
from chauka.web.common import now, whose

router = Router()


@router.get("/health", response={200: answers.Health, 503: answers.Health}, tags=["house"], url_name="health")
def health(request: HttpRequest) -> Status[answers.Health]:
    """Whether the server runs, its book answers, and whoever plans is heard of; asked for without the phrase too."""
    found = service.view()
    return Status(200 if found.well else 503, answers.Health.model_validate(found, from_attributes=True))


@router.post("/sign-in", response={200: answers.Token, **problems(429)}, tags=["house"], url_name="sign-in")
def sign_in(request: HttpRequest, said: shapes.PhraseSaid) -> answers.Token | HttpResponse:
    """Give the house's pass phrase once, where the pages are shared; the answer is this device's token."""
    knock = sharing.knock(str(request.META.get("REMOTE_ADDR", "")), said.phrase, said.device, now())
    if knock.token:
        return answers.Token(token=knock.token)
    if not knock.wait_s:
        return problem(403, "that is not the pass phrase of this house")
    response = problem(429, f"too many tries; wait {int(knock.wait_s // 60) + 1} minutes")
    response["Retry-After"] = str(int(knock.wait_s) + 1)
    return response


@router.get("/house", response={200: answers.House, **problems(409)}, tags=["house"])
def read(request: HttpRequest) -> answers.House:
    """The house and how much its book holds."""
    return answers.House.of(house.view(whose()))


@router.get("/ledger", response={200: answers.Past, **problems(409)}, tags=["ledger"])
def ledger(request: HttpRequest, before: shapes.Before = None) -> answers.Past:
    """What was done, the newest first; `before` an action of that number."""
    seen = past.view(whose(), before)
    return answers.Past(actions=[answers.Action.of(d) for _, of_day in seen.days for d in of_day], older=seen.older)


@router.post("/ledger/undo", response={200: answers.Undone, **problems(409)}, tags=["ledger"])
def undo(request: HttpRequest, said: shapes.Nothing) -> answers.Undone:
    """Take back the last action in force."""
    done = past.undo(whose(), now())
    return answers.Undone(number=done.number, task=done.task, note=done.note)


@router.post("/ledger/redo", response={200: answers.Undone, **problems(409)}, tags=["ledger"])
def redo(request: HttpRequest, said: shapes.Nothing) -> answers.Undone:
    """Do again what was taken back last."""
    done = past.redo(whose(), now())
    return answers.Undone(number=done.number, task=done.task, note=done.note)
