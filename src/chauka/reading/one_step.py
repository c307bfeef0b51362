"""The words of one step, read by themselves: what is done, how long, and which of the lines go in."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from chauka.errors import InputError
from chauka.reading.draft import DraftStep
from chauka.reading.recipe import Written, draft_of


def read_steps(text: str, lines: Sequence[str]) -> tuple[DraftStep, ...]:
    """The steps that some words tell, one or more; `lines` of a step are places in the lines given, from 0."""
    listed = [(number, line, "") for number, line in enumerate(lines, 1)]
    try:
        draft = draft_of(Written("", listed, [(len(lines) + 1, text)]))
    except InputError:
        return ()
    place = {n: line.cues[0] - 1 for n, line in enumerate(draft.lines) if line.cues and line.cues[0] <= len(lines)}
    return tuple(replace(step, lines=sorted({place[n] for n in step.lines if n in place})) for step in draft.steps)
