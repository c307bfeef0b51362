"""Cards in step with a narration: when each appears and goes, and the film's chapters.

Two layers, each with one card at a time: plates (title, chapters, lists, spices) and the lower third
(an ingredient while it is first spoken of, a step as it begins).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from chauka.publishing.cards import Card, CardKind
from chauka.publishing.follow import Followed
from chauka.publishing.narration import Cue
from chauka.publishing.text import step_name
from chauka.publishing.words import words
from chauka.publishing.write_up import WriteUp

WORDS_PER_SECOND = 3.0
"""Reading speed for holding a card: 180 words a minute (Ofcom guidance as reported by BBC R&D, 2015)."""

FIND_S = 1.0
"""Time to find the card before reading it; ours."""

LEAST_HOLD_S = 1.5
LATE_S = 1.5
"""A card comes no later after its words than a caption may (BBC subtitle guidelines)."""

LEAST_CHAPTER_S = 10.0
"""Shortest chapter that film platforms take (common practice, no source)."""


class Layer(StrEnum):
    """Where on the screen a card stands, so which cards must not meet."""

    PLATE = "plates"
    LOWER_THIRD = "lower third"


@dataclass(frozen=True, slots=True)
class Showing:
    """One card on the screen from `start_s` to `end_s` [s]."""

    card: Card
    layer: Layer
    start_s: float
    end_s: float


def hold_s(card: Card) -> float:
    """How long a card must stand to be read [s]."""
    return FIND_S + len(card.alt.split()) / WORDS_PER_SECOND


def showings(cards: Sequence[Card], followed: Followed, end_s: float) -> tuple[Showing, ...]:
    """All cards that the narration speaks of, in the order of their time; no two of a layer meet."""
    plates = _laid(_plates(cards, followed, end_s), Layer.PLATE, end_s)
    thirds = _laid(_thirds(cards, followed), Layer.LOWER_THIRD, end_s)
    return tuple(sorted((*plates, *thirds), key=lambda s: (s.start_s, s.layer)))


def chapters(write_up: WriteUp, followed: Followed, end_s: float) -> tuple[Cue, ...]:
    """Chapters from steps, the first at 0; one that would be shorter than ten seconds joins the one before it."""
    dish = write_up.dish
    starts = [(0.0, dish.name)]
    first_step = min(followed.steps.values(), default=end_s)
    early = [at for at in followed.lines.values() if at < first_step]
    if len(early) >= 2:
        starts.append((min(early), words().heads["lines"]))
    starts += [(followed.steps[s.id], step_name(s, dish.lines)) for s in dish.steps if s.id in followed.steps]
    kept: list[tuple[float, str]] = []
    for at, name in sorted(starts, key=lambda s: s[0]):
        if (not kept or at - kept[-1][0] >= LEAST_CHAPTER_S) and end_s - at >= (LEAST_CHAPTER_S if kept else 0):
            kept.append((at, name))
    ends = [at for at, _ in kept[1:]] + [max(end_s, 0.01)]
    return tuple(Cue(round(at, 3), round(end, 3), name) for (at, name), end in zip(kept, ends, strict=True))


def _plates(cards: Sequence[Card], followed: Followed, end_s: float) -> Iterable[tuple[float, Card]]:
    first_step = min(followed.steps.values(), default=end_s)
    for card in cards:
        if card.kind is CardKind.TITLE:
            yield 0.5, card
        elif card.kind in (CardKind.LIST, CardKind.SPICES):
            spoken = [followed.lines[i] for i in card.lines if i in followed.lines]
            if spoken:
                yield min(spoken), card
        elif card.kind is CardKind.CHAPTER:
            at = {
                "chapter-lines": min(followed.lines.values(), default=end_s) - 3.0,
                "chapter-cooking": first_step,
            }.get(card.id)
            if at is not None and 0 <= at < end_s:
                yield at, card


def _thirds(cards: Sequence[Card], followed: Followed) -> Iterable[tuple[float, Card]]:
    seen: Mapping[str, float] = followed.steps
    for card in cards:
        if card.kind is CardKind.LINE and card.lines[0] in followed.lines:
            yield followed.lines[card.lines[0]], card
        elif card.kind is CardKind.STEP and card.step in seen:
            yield seen[str(card.step)], card


def _laid(wanted: Iterable[tuple[float, Card]], layer: Layer, end_s: float) -> list[Showing]:
    """One after another: a card gives way to the next when it has been up long enough, and waits for the one before.

    An ingredient whose turn comes more than 1.5 s after its word is left to the list card.
    """
    queue = sorted(wanted, key=lambda w: w[0])
    out: list[Showing] = []
    for n, (at, card) in enumerate(queue):
        start = max(at, out[-1].end_s if out else 0.0)
        following = queue[n + 1][0] if n + 1 < len(queue) else end_s
        if card.kind is CardKind.LINE and start - at > LATE_S:
            continue
        end = min(start + hold_s(card), max(following, start + LEAST_HOLD_S), end_s)
        if end - start >= LEAST_HOLD_S - 1e-9:
            out.append(Showing(card, layer, round(start, 3), round(end, 3)))
    return out
