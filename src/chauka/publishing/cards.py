"""Which cards a film of the dish needs, and what stands on each; how long lists and texts are split.

Title and chapter cards, the list of what goes in (part by part), the spice mix, one card for each
ingredient, and one or more for each step.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum

from chauka import tables
from chauka.kitchen import Form, Line, Step
from chauka.publishing.style import Style
from chauka.publishing.text import grams_text, line_parts, measure_text, minutes_text, span_text, step_name
from chauka.publishing.words import words
from chauka.publishing.write_up import WriteUp

ROW_LETTERS = 36
"""Letters that one row of a card takes before it turns to a second line, at the least cap height."""

STEP_LETTERS = 140
"""Letters on one step card: about what is read in the nine seconds that a step is on the screen."""

_SPICES = "Condiments and Spices"
_FEW_SPICES = 3
_STOPS = (re.compile(r"(?<=[.!?])\s+"), re.compile(r"(?<=[;:,])\s+"), re.compile(r"\s+"))


class CardKind(StrEnum):
    """What a card is for."""

    TITLE = "title"
    CHAPTER = "chapter"
    LIST = "list"
    SPICES = "spices"
    LINE = "line"
    STEP = "step"


@dataclass(frozen=True, slots=True)
class Card:
    """One card: a head, rows of (amount, what), a text, a quiet foot; `lines` and `step` are what it shows."""

    id: str
    kind: CardKind
    head: str
    rows: tuple[tuple[str, str], ...] = ()
    text: str = ""
    foot: str = ""
    lines: tuple[str, ...] = ()
    step: str | None = None

    @property
    def alt(self) -> str:
        """The card in words, for those who do not see it."""
        rows = "; ".join(" ".join(part for part in row if part) for row in self.rows)
        parts = [part.strip().rstrip(".") for part in (self.head, rows, self.text, self.foot) if part.strip()]
        return ". ".join(parts) + "."


def cards(write_up: WriteUp, style: Style) -> tuple[Card, ...]:
    """All cards of a dish, in the order in which a film may need them."""
    return (
        _title(write_up),
        *_lists(write_up, style.lines),
        *_spices(write_up, style.lines),
        *(_line(line) for line in write_up.dish.lines),
        *_chapters(write_up),
        *(card for number, step in enumerate(write_up.dish.steps, start=1) for card in _step(step, number, write_up)),
    )


def _title(write_up: WriteUp) -> Card:
    dish, times = write_up.dish, write_up.times
    makes = words().heads["portions"].format(
        n=f"{dish.portions:g}", g=grams_text(write_up.nutrition.portion_g)
    )  # fmt: skip
    foot = f"{makes} · {minutes_text(times.total_min)}"
    return Card("title", CardKind.TITLE, dish.name, text=" · ".join(dish.names.values()), foot=foot)


def _lists(write_up: WriteUp, most: int) -> Iterator[Card]:
    head = words().heads["lines"]
    for at, part in enumerate(write_up.parts, start=1):
        pages = split(part.lines, most)
        for page, lines in enumerate(pages, start=1):
            foot = f"{page} of {len(pages)}" if len(pages) > 1 else ""
            yield Card(
                f"list-{at}-{page}", CardKind.LIST, (part.name or head).capitalize(), rows=_rows(lines), foot=foot,
                lines=tuple(line.id for line in lines),
            )  # fmt: skip


def _spices(write_up: WriteUp, most: int) -> Iterator[Card]:
    """The dry spices of a dish together, where there are at least three."""
    dry = [x for x in write_up.dish.lines if x.form is Form.DRY and tables.food(x.food).group == _SPICES]
    if len(dry) < _FEW_SPICES:
        return
    pages = split(dry, most)
    for page, lines in enumerate(pages, start=1):
        foot = f"{page} of {len(pages)}" if len(pages) > 1 else ""
        yield Card(
            f"spices-{page}", CardKind.SPICES, "Spice mix", rows=_rows(lines), foot=foot,
            lines=tuple(line.id for line in lines),
        )  # fmt: skip


def _line(line: Line) -> Card:
    return Card(f"line-{line.id}", CardKind.LINE, line.said, text=measure_text(line) or "to taste", lines=(line.id,))


def _chapters(write_up: WriteUp) -> Iterator[Card]:
    """One card for each stretch of the film."""
    heads, steps = words().heads, write_up.dish.steps
    chapters = [("lines", True), ("before", any(s.ahead for s in steps)), ("cooking", any(not s.ahead for s in steps))]
    for name, holds in chapters:
        if holds:
            yield Card(f"chapter-{name}", CardKind.CHAPTER, heads[name], foot=write_up.dish.name)


def _step(step: Step, number: int, write_up: WriteUp) -> Iterator[Card]:
    said = step.text + (f" Until {step.until}." if step.until else "")
    pieces = split_text(said, STEP_LETTERS)
    for at, piece in enumerate(pieces, start=1):
        last = at == len(pieces)
        foot = span_text(step.minutes) if last and step.minutes.high else ""
        yield Card(
            f"step-{number}" + (f"-{at}" if len(pieces) > 1 else ""), CardKind.STEP,
            f"{number}  {step_name(step, write_up.dish.lines)}", text=piece, foot=foot, lines=step.lines, step=step.id,
        )  # fmt: skip


def _rows(lines: Iterable[Line]) -> tuple[tuple[str, str], ...]:
    return tuple(line_parts(line) for line in lines)


def row_height(line: Line) -> int:
    """Lines that a row takes on a card."""
    return math.ceil(len(" ".join(line_parts(line))) / ROW_LETTERS)


def split(lines: Sequence[Line], most: int) -> list[tuple[Line, ...]]:
    """Cards of at most `most` printed lines, filled as evenly as they can be; no ingredient is left out or repeated."""
    fewest = max(1, math.ceil(sum(map(row_height, lines)) / most))
    for pages in range(fewest, len(lines) + 1):
        dealt = _deal(lines, pages)
        if all(sum(map(row_height, page)) <= most or len(page) == 1 for page in dealt):
            return dealt
    return [(line,) for line in lines]


def _deal(lines: Sequence[Line], pages: int) -> list[tuple[Line, ...]]:
    each, more = divmod(len(lines), pages)
    sizes = [each + (page < more) for page in range(pages)]
    starts = [sum(sizes[:page]) for page in range(pages)]
    return [tuple(lines[start : start + size]) for start, size in zip(starts, sizes, strict=True)]


def split_text(text: str, most: int) -> list[str]:
    """Pieces of at most `most` letters, cut at the end of sentences, else after commas, else between words."""
    text = " ".join(text.split())
    if len(text) <= most:
        return [text]
    for stop in _STOPS:
        pieces = stop.split(text)
        if len(pieces) > 1 and all(len(p) <= most for p in pieces):
            gathered = _gather(pieces, most)
            return [*(_open_end(p) for p in gathered[:-1]), gathered[-1]]
    return [text[at : at + most] for at in range(0, len(text), most)]


def _open_end(piece: str) -> str:
    """A piece cut within its sentence says that it goes on."""
    return piece if piece[-1] in ".!?" else piece.rstrip(",;:") + " …"


def _gather(pieces: Sequence[str], most: int) -> list[str]:
    """Join neighbours while they fit, so that the cards are about equally full."""
    total = sum(map(len, pieces)) + len(pieces) - 1
    fair = min(most, math.ceil(total / math.ceil(total / most) * 1.15))
    out: list[str] = []
    for piece in pieces:
        if out and len(out[-1]) + 1 + len(piece) <= fair:
            out[-1] += " " + piece
        else:
            out.append(piece)
    return out
