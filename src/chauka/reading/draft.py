"""A draft dish: what a text or a narration says, each value with the cues (or lines) it came from."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

from chauka.kitchen.forms import Attention, Heat, Technique, Vessel


class Asks(StrEnum):
    """What a question is about."""

    AMOUNT = "amount"
    UNIT = "unit"
    WEIGHT = "weight"
    TIME = "time"
    FOOD = "food"
    UNUSED = "unused"
    UNLISTED = "unlisted"
    YIELD = "yield"
    KEEPING = "keeping"


@dataclass(frozen=True, slots=True)
class Question:
    """What a careful editor would ask; `about` names the food or step, `cues` where the doubt arose."""

    about: str
    asks: Asks
    text: str
    cues: tuple[int, ...] = ()


@dataclass(slots=True)
class DraftLine:
    """One ingredient as it was said. `stated` is whether an amount was; a vague one ("a little") is not."""

    food: str
    low: float | None = None
    high: float | None = None
    unit: str | None = None
    form: list[str] = field(default_factory=list)
    cues: list[int] = field(default_factory=list)
    stated: bool = False
    vague: str = ""
    corrected_from: str = ""
    optional: bool = False
    approximate: bool = False
    to_taste: bool = False
    size: str | None = None
    text: str = ""
    """The line as written, where the text has a list of lines."""
    code: str | None = None
    """The food of the tables, None where it is not known."""
    sure: bool = False
    part: str = ""


@dataclass(slots=True)
class DraftStep:
    """One step. `lines` are places in the list of lines; `spoken` is its place in the order of telling."""

    text: str
    technique: Technique | None = None
    vessel: Vessel | None = None
    vessel_said: str = ""
    heat: Heat | None = None
    low_min: float | None = None
    high_min: float | None = None
    whistles: int | None = None
    until: str = ""
    attention: Attention | None = None
    lines: list[int] = field(default_factory=list)
    cues: list[int] = field(default_factory=list)
    spoken: int = 0
    corrected_from: str = ""
    at_once: bool = False
    wait_min: float | None = None
    done_before: bool = False

    @property
    def closed(self) -> bool:
        """Whether it has been said how long it goes on: what follows is another step."""
        return self.high_min is not None or self.whistles is not None or bool(self.until)


@dataclass(frozen=True, slots=True)
class Withdrawn:
    """A food that was named and then taken back."""

    food: str
    cues: tuple[int, ...]


@dataclass(slots=True)
class Draft:
    """Everything that was said of a dish; nothing that was not."""

    title: str = ""
    lines: list[DraftLine] = field(default_factory=list)
    steps: list[DraftStep] = field(default_factory=list)
    withdrawn: list[Withdrawn] = field(default_factory=list)
    yield_low: float | None = None
    yield_high: float | None = None
    yield_unit: str = ""
    yield_cues: list[int] = field(default_factory=list)
    keeping: str = ""
    keeping_cues: list[int] = field(default_factory=list)
    cautions: list[tuple[str, int]] = field(default_factory=list)
    notes: list[tuple[str, int]] = field(default_factory=list)
    asides: list[int] = field(default_factory=list)
    served_with: list[str] = field(default_factory=list)
    total_min: float | None = None
    cup_ml: float | None = None
    questions: list[Question] = field(default_factory=list)
    times_s: dict[int, tuple[float, float]] = field(default_factory=dict)
    """Start and end [s] of each cue, where the cues have times."""
