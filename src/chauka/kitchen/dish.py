"""A dish: a standardized recipe with exact lines, timed steps, yield and keeping."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from types import MappingProxyType

from chauka import tables
from chauka.errors import Complaints, DataError
from chauka.kitchen.forms import Attention, Course, Form, Heat, Place, Served, Technique, Vessel
from chauka.units import Estimate, Span

SLUG = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*\Z")
"""What ids look like: lower-case words joined by hyphens."""

_HEAVIEST_LINE_G = 50_000
_LONGEST_STEP_MIN = 7 * 24 * 60


@dataclass(frozen=True, slots=True)
class Substitute:
    """What may stand in for a line: another food at `ratio` grams per gram."""

    food: str
    ratio: float = 1.0
    note: str = ""


@dataclass(frozen=True, slots=True)
class Swap:
    """A line whose food is replaced for once: so many grams of `food` for each gram written."""

    line: str
    food: str
    ratio: float = 1.0


@dataclass(frozen=True, slots=True)
class Line:
    """One ingredient line.

    `grams` is the edible portion that goes in, in the form named; `said` is how the cook writes the
    food and `amount` how she writes the amount ("1 cup"), empty where it is to taste. `eaten_share`
    is the share that ends up in the dish: below 1 for frying oil and for water poured away.

    `made` is the id of a dish of the same book that this line is taken from: `food` then is what that dish is
    about, which no engine counts, as `parts.with_parts` puts the real foods in its place.
    """

    id: str
    food: str
    said: str
    amount: str
    grams: Estimate
    form: Form
    part: str = ""
    prep: str = ""
    optional: bool = False
    to_taste: bool = False
    eaten_share: float = 1.0
    substitutes: tuple[Substitute, ...] = ()
    made: str | None = None

    def __post_init__(self) -> None:
        bad = Complaints(f"line {self.id} ({self.said})")
        bad.check(
            self.grams.mean >= 0,
            "grams",
            f"{self.grams.mean:g} g is below zero; give the weight that goes in",
        )
        bad.check(
            self.grams.mean <= _HEAVIEST_LINE_G,
            "grams",
            f"{self.grams.mean:g} g is more than a household pot holds; check the unit",
        )
        bad.check(0 <= self.eaten_share <= 1, "eaten_share", f"{self.eaten_share} must lie between 0 and 1")
        if self.made is not None:
            bad.check(self.grams.mean > 0, "grams", f"say how many grams of {self.made!r} go in")
            bad.check(not self.substitutes, "substitutes", f"belong to the lines of {self.made!r}, not here")
        bad.raise_if_any()


@dataclass(frozen=True, slots=True)
class After:
    """This step starts at least `min_lag_min` and at most `max_lag_min` minutes after `step` ended.

    `max_lag_min` None means no limit; 0 with `min_lag_min` 0 means at once.
    """

    step: str
    min_lag_min: int = 0
    max_lag_min: int | None = None

    def __post_init__(self) -> None:
        bad = Complaints(f"lag after {self.step}")
        bad.check(self.min_lag_min >= 0, "min_lag_min", f"{self.min_lag_min} min is below zero")
        bad.check(
            self.max_lag_min is None or self.max_lag_min >= self.min_lag_min,
            "max_lag_min",
            f"at most {self.max_lag_min} min is less than at least {self.min_lag_min} min",
        )
        bad.raise_if_any()


@dataclass(frozen=True, slots=True)
class Step:
    """One timed step of a dish.

    `ahead` steps (soaking, sprouting, setting, long rests, boiling for the box) are done before the
    cooking session and stand on the bench list; the others stand on the run sheet. `vessel` is held
    from this step's start; the burner is held while `heat` is not NONE. `lines` are the ids of the
    lines that go in here.
    """

    id: str
    text: str
    technique: Technique
    minutes: Span
    attention: Attention
    vessel: Vessel | None = None
    heat: Heat = Heat.NONE
    after: tuple[After, ...] = ()
    lines: tuple[str, ...] = ()
    ahead: bool = False
    until: str = ""
    whistles: int | None = None

    def __post_init__(self) -> None:
        bad = Complaints(f"step {self.id}")
        bad.check(self.minutes.low >= 0, "minutes", f"{self.minutes.low:g} min is below zero")
        bad.check(self.minutes.high <= _LONGEST_STEP_MIN, "minutes", f"{self.minutes.high:g} min is over a week")
        bad.check(bool(self.text.strip()), "text", "is empty; say what to do")
        bad.raise_if_any()


@dataclass(frozen=True, slots=True)
class Kept:
    """How the author keeps a finished dish, as stated; the keeping engine may only shorten it.

    `why` is the source of the statement: a publication, or "common practice, no source".
    """

    place: Place
    days: Span
    why: str
    freezes: bool = False


@dataclass(frozen=True, slots=True)
class Dish:
    """A standardized recipe.

    `base` names the one food that the dish is about (its code), so that a day does not see the same
    base twice. `portions` is the number of adult portions that the lines make; `yield_g` the cooked
    weight when somebody weighed it. `chilli` is 0 (none) to 3 (hot). `hold_min` is how long it may
    wait hot before it suffers. `batch` means it is made ahead and eaten over several days.
    """

    id: str
    name: str
    course: Course
    base: str
    portions: float
    lines: tuple[Line, ...]
    steps: tuple[Step, ...]
    names: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    yield_g: Estimate | None = None
    kept: Kept | None = None
    served: Served = Served.HOT
    hold_min: int = 20
    chilli: int = 0
    batch: bool = False
    story: str = ""
    cautions: tuple[str, ...] = ()
    tags: frozenset[str] = frozenset()

    def __post_init__(self) -> None:
        bad = Complaints(f"dish {self.id or self.name}")
        bad.check(bool(SLUG.match(self.id)), "id", f"{self.id!r} must be lower-case words joined by hyphens")
        bad.check(bool(self.name.strip()), "name", "is empty")
        bad.check(self.portions > 0, "portions", f"{self.portions:g} must be above zero")
        bad.check(bool(self.lines), "lines", "a dish needs at least one line")
        bad.check(0 <= self.chilli <= 3, "chilli", f"{self.chilli} must lie between 0 and 3")
        self._check_references(bad)
        bad.raise_if_any()

    def _check_references(self, bad: Complaints) -> None:
        lines, seen = [line.id for line in self.lines], set[str]()
        for twice in {i for i in lines if lines.count(i) > 1}:
            bad.add("lines", f"the id {twice!r} stands twice")
        for step in self.steps:
            for gone in set(step.lines) - set(lines):
                bad.add("steps", f"step {step.id!r} uses line {gone!r}, which the dish does not list")
            for after in step.after:
                bad.check(
                    after.step in seen,
                    "steps",
                    f"step {step.id!r} comes after {after.step!r}: not an earlier step",
                )
            bad.check(step.id not in seen, "steps", f"the id {step.id!r} stands twice")
            seen.add(step.id)

    def line(self, line_id: str) -> Line:
        """The line of that id."""
        return next(line for line in self.lines if line.id == line_id)

    def step(self, step_id: str) -> Step:
        """The step of that id."""
        return next(step for step in self.steps if step.id == step_id)

    @property
    def foods(self) -> frozenset[str]:
        """Codes of all foods in the lines."""
        return frozenset(line.food for line in self.lines)

    @property
    def hands_on_min(self) -> float:
        """Middle of the hands-on minutes on the cooking day, one portion count as written [min]."""
        return sum(s.minutes.mid for s in self.steps if s.attention is Attention.HANDS_ON and not s.ahead)


def with_swaps(dish: Dish, swaps: Iterable[Swap]) -> Dish:
    """The dish as it is cooked with these swaps; what it is about follows a swap of its base."""
    for swap in swaps:
        old = dish.line(swap.line)
        said = f"{_called(swap.food)} (for {old.said})"
        new = replace(old, food=swap.food, grams=old.grams * swap.ratio, said=said, amount="", substitutes=())
        dish = replace(
            dish,
            base=swap.food if dish.base == old.food else dish.base,
            lines=tuple(new if line.id == swap.line else line for line in dish.lines),
            yield_g=None,
        )
    return dish


def _called(food: str) -> str:
    try:
        return tables.food(food).name.split(",", maxsplit=1)[0].lower()
    except DataError:
        return food
