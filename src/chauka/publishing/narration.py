"""A spoken narration with its times: read from WebVTT or SubRip, word by word."""

from __future__ import annotations

import html
import re
from dataclasses import dataclass

from chauka.errors import InputError

_TIME = re.compile(r"(?:(\d{2,4}):)?([0-5]\d):([0-5]\d)[.,](\d{3})\Z")
_TAG = re.compile(r"<[^<>]*>")
_BLOCKS = ("NOTE", "STYLE", "REGION")


@dataclass(frozen=True, slots=True)
class Cue:
    """Words spoken from `start_s` to `end_s` [s from the start]."""

    start_s: float
    end_s: float
    text: str


@dataclass(frozen=True, slots=True)
class Word:
    """One word with its estimated time [s]; within a cue, time is shared by letters."""

    text: str
    start_s: float
    end_s: float


@dataclass(frozen=True, slots=True)
class Narration:
    """Cues in the order of their time."""

    cues: tuple[Cue, ...]

    @property
    def words(self) -> tuple[Word, ...]:
        """All words with their times."""
        return tuple(word for cue in self.cues for word in _words(cue))

    @property
    def end_s(self) -> float:
        """When the last word has been spoken [s]."""
        return max((cue.end_s for cue in self.cues), default=0.0)


def read_narration(text: str) -> Narration:
    """A narration from the text of a WebVTT or SubRip file.

    Settings, notes, styles and tags are dropped. Raises `InputError` naming the line of a time that cannot
    be read, of a cue that ends before it starts, or of one that starts before the cue above it.
    """
    cues: list[Cue] = []
    rows = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n").split("\n")
    for at, block in _blocks(rows):
        if block[0].startswith(("WEBVTT", *_BLOCKS)) and "-->" not in block[0]:
            continue
        cue = _cue(at, block)
        if cues and cue.start_s < cues[-1].start_s:
            raise _wrong(at, "starts before the cue above it; put the cues in the order of their time")
        if cue.text:
            cues.append(cue)
    if not cues:
        raise InputError({"narration": ("holds no words with times; expected a WebVTT or SubRip file",)})
    return Narration(tuple(cues))


def _blocks(rows: list[str]) -> list[tuple[int, list[str]]]:
    """Runs of lines without an empty one, each with the number of its first line."""
    blocks: list[tuple[int, list[str]]] = []
    fresh = True
    for number, row in enumerate(rows, start=1):
        if not row.strip():
            fresh = True
        elif fresh:
            blocks.append((number, [row]))
            fresh = False
        else:
            blocks[-1][1].append(row)
    return blocks


def _cue(at: int, block: list[str]) -> Cue:
    timing = next((i for i, row in enumerate(block[:2]) if "-->" in row), None)
    if timing is None:
        raise _wrong(at, f"{block[0][:40]!r} has no time; expected 00:00:05.000 --> 00:00:08.000")
    left, _, right = block[timing].partition("-->")
    start, end = _seconds(left.strip(), at + timing), _seconds((right.split() or [""])[0], at + timing)
    if end <= start:
        raise _wrong(at + timing, "ends before it starts; check both times")
    words = " ".join(html.unescape(_TAG.sub("", row)) for row in block[timing + 1 :])
    return Cue(start, end, " ".join(words.split()))


def _seconds(said: str, at: int) -> float:
    found = _TIME.match(said)
    if not found:
        raise _wrong(at, f"{said!r} is no time; expected as in 00:01:05.250")
    hours, minutes, seconds, milli = (int(x or 0) for x in found.groups())
    return hours * 3600 + minutes * 60 + seconds + milli / 1000


def _wrong(at: int, complaint: str) -> InputError:
    return InputError({f"narration line {at}": (complaint,)})


def _words(cue: Cue) -> list[Word]:
    words = cue.text.split()
    letters = sum(map(len, words)) or 1
    out, at = [], cue.start_s
    for word in words:
        end = at + (cue.end_s - cue.start_s) * len(word) / letters
        out.append(Word(word, at, end))
        at = end
    return out
