"""What requests bring: closed shapes of bounded words. What is not in them is refused."""

from __future__ import annotations

from datetime import date
from typing import Annotated

from ninja import Path, Query, Schema
from pydantic import ConfigDict, Field

_NO_CONTROLS = r"^[^\x00-\x08\x0b\x0c\x0e-\x1f\x7f]*$"

Said = Annotated[str, Field(max_length=200, pattern=_NO_CONTROLS)]
Text = Annotated[str, Field(min_length=1, max_length=25_000, pattern=_NO_CONTROLS)]
Coins = Annotated[int, Field(ge=0, le=10_000_000, description="in the smallest coin (paise)")]
Number = Annotated[int, Path(ge=1, le=2**31 - 1)]
Before = Annotated[int | None, Query(ge=1, le=2**31 - 1)]
Key = Annotated[str, Path(max_length=120)]
Day = Annotated[date, Path()]


class Asked(Schema):
    """The base of what is asked: nothing beside what is named, and every value of its own kind."""

    model_config = ConfigDict(extra="forbid", strict=True)


class Nothing(Asked):
    """An empty object: the request says everything by its address."""


class SaidText(Asked):
    """A text as it was written or spoken."""

    text: Text


class DeedSaid(Asked):
    """What happened to a lot. `amount` in words or grams ("2 cups", "200 g"); without it, all there is."""

    deed: Annotated[str, Field(pattern="^(used|eaten|binned|opened)$")]
    amount: Said = ""
    why: Said = ""


class Bought(Asked):
    """How an item was bought, where it was not as listed."""

    amount: Said = ""
    paid: Coins | None = None
    instead: Said = ""


class StepSaid(Asked):
    """One step in words; `minutes` as in "4" or "4-6", `lines` as in "1, 3"."""

    text: Annotated[str, Field(min_length=1, max_length=2_000, pattern=_NO_CONTROLS)]
    minutes: Said = ""
    technique: Said = ""
    attention: Said = ""
    vessel: Said = ""
    heat: Said = ""
    lines: Said = ""
    ahead: bool = False
    until: Said = ""


class DishSaid(Asked):
    """A dish as a form says it; each line as a cook writes it ("2 bunches spinach, picked")."""

    name: Annotated[str, Field(min_length=1, max_length=120, pattern=_NO_CONTROLS)]
    course: Said
    portions: Annotated[float, Field(gt=0, le=200)]
    lines: Annotated[list[Annotated[str, Field(max_length=500, pattern=_NO_CONTROLS)]], Field(max_length=100)]
    steps: Annotated[list[StepSaid], Field(max_length=100)]


class PhraseSaid(Asked):
    """The house's pass phrase, and what this device is called."""

    phrase: Said
    device: Said = ""


class PlanAsked(Asked):
    """How long to search for a better plan [s]."""

    seconds: Annotated[int, Field(ge=1, le=300)] = 20


class PlanMeant(Asked):
    """A plan by its number."""

    plan: Annotated[int, Field(ge=1, le=2**31 - 1)]
