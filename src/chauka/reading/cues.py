"""A timed narration (WebVTT, SubRip) or plain text → cues, and cues → sentences."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from chauka.errors import InputError
from chauka.reading.speech import tokenize
from chauka.reading.spoken_numbers import Token

_TIME = re.compile(r"(?:(\d{1,4}):)?(\d{1,2}):(\d{2})[.,](\d{1,3})")
_ARROW = re.compile(rf"^\s*{_TIME.pattern}\s*-->\s*{_TIME.pattern}")
_TAG = re.compile(r"<[^<>]{0,80}>|\{\\[^{}]{0,40}\}")
_ENDS = frozenset(".!?…")
LONGEST_TOLD = 25_000
"""Characters of a dish told or written down: half an hour of speech, a dozen pages of a book."""

MOST_WORDS = 8_000
"""Words and marks of the same: what is longer in signs than in words is no speech."""

_LONGEST_SENTENCE = 400
"""Captions made by a machine have no stops: what runs on for longer is heard as several sentences."""


@dataclass(frozen=True, slots=True)
class Cue:
    """One cue: its number from 1, its times [s] (None in plain text) and what is said."""

    number: int
    start_s: float | None
    end_s: float | None
    text: str


@dataclass(frozen=True, slots=True)
class Narration:
    """The cues and the title that the file gives itself, empty where it gives none."""

    title: str
    cues: tuple[Cue, ...]

    @property
    def timed(self) -> bool:
        """Whether the cues have times."""
        return bool(self.cues) and self.cues[0].start_s is not None


@dataclass(frozen=True, slots=True)
class Sentence:
    """One sentence as tokens; `text` as it stands."""

    tokens: tuple[Token, ...]
    text: str

    @property
    def cues(self) -> tuple[int, int]:
        """First and last cue."""
        return self.tokens[0].cue, self.tokens[-1].cue


def refuse_if_endless(letters: int) -> None:
    """Raise `InputError` where more is told than one dish needs."""
    if letters > LONGEST_TOLD:
        complaint = f"is longer than {LONGEST_TOLD} characters (half an hour of speech); give one dish at a time"
        raise InputError({"text": (complaint,)})


def is_timed(text: str) -> bool:
    """Whether the text is WebVTT or SubRip."""
    return text.lstrip("\ufeff \n").startswith("WEBVTT") or any(_ARROW.match(line) for line in text.splitlines()[:12])


def read_cues(text: str) -> Narration:
    """The cues of a WebVTT or SubRip file; each line of plain text is a cue without times."""
    text = text.lstrip("\ufeff").replace("\r\n", "\n").replace("\r", "\n")
    if not is_timed(text):
        lines = [line.strip() for line in text.split("\n") if line.strip()]
        return Narration("", tuple(Cue(n, None, None, line) for n, line in enumerate(lines, start=1)))
    title, cues = "", list[Cue]()
    for block in re.split(r"\n\s*\n", text):
        lines = block.strip("\n").split("\n")
        at = next((n for n, line in enumerate(lines[:2]) if _ARROW.match(line)), None)
        if at is not None:
            cues.append(_cue(lines, at, len(cues) + 1))
        elif lines[0].startswith(("NOTE", "WEBVTT")) and not cues:
            title = title or _title(" ".join(lines))
    return Narration(title, tuple(cue for cue in cues if cue.text))


def _cue(lines: list[str], at: int, number: int) -> Cue:
    found = _ARROW.match(lines[at])
    times = found.groups() if found else ()
    said = " ".join(_TAG.sub("", line).strip() for line in lines[at + 1 :])
    return Cue(number, _seconds(times[:4]), _seconds(times[4:8]), said.replace("&amp;", "&").strip())


def _seconds(parts: tuple[str | None, ...]) -> float:
    hours, minutes, seconds, millis = (part or "0" for part in parts)
    return int(hours) * 3600 + int(minutes) * 60 + int(seconds) + int(millis.ljust(3, "0")) / 1000


def _title(note: str) -> str:
    said = re.sub(r"^(?:NOTE|WEBVTT)\b[\s:-]*", "", note).strip()
    return re.split(r"\s+[-–—|]\s+", said)[0].strip() if said else ""


def sentences(cues: tuple[Cue, ...]) -> tuple[Sentence, ...]:
    """The sentences of all cues; one may run over several cues, a cue may hold several.

    Raises `InputError` where there are more words than one dish needs.
    """
    runs = tuple(_runs(cues))
    if (words := sum(map(len, runs))) > MOST_WORDS:
        raise InputError({"text": (f"has {words} words and marks; give one dish at a time, in at most {MOST_WORDS}",)})
    return tuple(map(_close, runs))


def _runs(cues: tuple[Cue, ...]) -> Iterator[list[Token]]:
    run: list[Token] = []
    for cue in cues:
        for token in tokenize(cue.text, cue.number):
            run.append(token)
            if token.text in _ENDS or len(run) == _LONGEST_SENTENCE:
                yield from [run] if len(run) > 1 else []
                run = []
        if cue.start_s is None and run:
            yield run
            run = []
    if run:
        yield run


def _close(parts: list[Token]) -> Sentence:
    text = " ".join(t.text for t in parts)
    return Sentence(tuple(parts), re.sub(r"\s+([.,;:!?…)])", r"\1", text))
