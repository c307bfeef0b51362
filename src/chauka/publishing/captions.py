"""Captions from a narration, re-broken to norms of reading speed and line length; WebVTT and SubRip.

Norms: two lines of at most 42 letters (captioning platforms), 17 letters a second for adults, at least 1 s
and at most 7 s; a caption stays within 1.5 s of the speech (BBC subtitle guidelines).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from chauka.publishing.narration import Cue, Narration, Word

LINE_LETTERS = 42
LINES = 2
LETTERS_PER_SECOND = 17.0
LEAST_S, MOST_S = 1.0, 7.0
GAP_S = 0.08
"""Two frames at 25 a second between captions, so that the change is seen (common practice, no source)."""

_MOST_LETTERS = LINE_LETTERS * LINES
_PAUSE_S = 0.7


@dataclass(frozen=True, slots=True)
class Norms:
    """How many captions keep each norm [share], and how fast the fastest is [letters/s]."""

    captions: int
    speed: float
    line: float
    length: float
    fastest: float


def captions(narration: Narration) -> tuple[Cue, ...]:
    """The narration's words as captions; breaks fall at sentences, then at commas and pauses, where they can."""
    words = _short_enough(narration.words)
    breaks = _breaks(words)
    chunks = [words[a:b] for a, b in pairwise(breaks)]
    return tuple(_timed(chunks))


def two_lines(text: str) -> tuple[str, ...]:
    """One line where it fits, else two that are as even as words allow, the lower the longer."""
    if len(text) <= LINE_LETTERS:
        return (text,)
    words = text.split()
    ways = [(" ".join(words[:i]), " ".join(words[i:])) for i in range(1, len(words))]
    fits = [way for way in ways if max(map(len, way)) <= LINE_LETTERS]
    if not fits:
        return tuple(text[at : at + LINE_LETTERS] for at in range(0, len(text), LINE_LETTERS))
    return min(fits, key=lambda way: (way[0][-1] not in ".!?,;:", abs(len(way[0]) - len(way[1])), len(way[0])))


def norms(cues: Sequence[Cue]) -> Norms:
    """How well captions keep the norms."""
    n = len(cues) or 1
    speeds = [len(c.text) / (c.end_s - c.start_s) for c in cues]
    return Norms(
        captions=len(cues),
        speed=sum(s <= LETTERS_PER_SECOND + 1e-6 for s in speeds) / n,
        line=sum(
            all(len(x) <= LINE_LETTERS for x in two_lines(c.text)) and len(two_lines(c.text)) <= LINES for c in cues
        )
        / n,
        length=sum(LEAST_S - 1e-6 <= c.end_s - c.start_s <= MOST_S + 1e-6 for c in cues) / n,
        fastest=max(speeds, default=0.0),
    )


def webvtt(cues: Sequence[Cue], *, broken: bool = True) -> str:
    """As WebVTT; `broken` False leaves each text on one line, as chapter titles want it."""
    blocks = [
        f"{stamp(c.start_s)} --> {stamp(c.end_s)}\n"
        + "\n".join(_escaped(x) for x in (two_lines(c.text) if broken else (c.text,)))
        for c in cues
    ]
    return "WEBVTT\n\n" + "\n\n".join(blocks) + "\n"


def subrip(cues: Sequence[Cue]) -> str:
    """As SubRip."""
    return "".join(
        f"{n}\n{stamp(c.start_s, ',')} --> {stamp(c.end_s, ',')}\n"
        + "\n".join(two_lines(c.text)).replace("-->", "→")
        + "\n\n"
        for n, c in enumerate(cues, start=1)
    )


def stamp(seconds: float, point: str = ".") -> str:
    """As in 00:01:05.250."""
    milli = round(seconds * 1000)
    return f"{milli // 3_600_000:02}:{milli // 60_000 % 60:02}:{milli // 1000 % 60:02}{point}{milli % 1000:03}"


def _escaped(text: str) -> str:
    return text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")


def _short_enough(words: Sequence[Word]) -> list[Word]:
    """No single word longer than a line: a web address or the like is cut."""
    out: list[Word] = []
    for word in words:
        parts = [word.text[at : at + LINE_LETTERS] for at in range(0, len(word.text), LINE_LETTERS)]
        each = (word.end_s - word.start_s) / len(parts)
        out += [Word(part, word.start_s + i * each, word.start_s + (i + 1) * each) for i, part in enumerate(parts)]
    return out


def _breaks(words: Sequence[Word]) -> list[int]:
    """Where captions begin, the sum of their faults least."""
    n = len(words)
    best = [0.0] + [math.inf] * n
    came = [0] * (n + 1)
    for start in range(n):
        letters = -1
        for end in range(start + 1, n + 1):
            letters += 1 + len(words[end - 1].text)
            if end > start + 1 and (letters > _MOST_LETTERS or len(two_lines(_text(words[start:end]))) > LINES):
                break
            cost = best[start] + _fault(words, start, end, letters)
            if cost < best[end]:
                best[end], came[end] = cost, start
    breaks = [n]
    while breaks[-1] > 0:
        breaks.append(came[breaks[-1]])
    return breaks[::-1]


def _fault(words: Sequence[Word], start: int, end: int, letters: int) -> float:
    last = words[end - 1]
    until = words[end].start_s if end < len(words) else last.end_s + MOST_S
    shown = min(until - words[start].start_s, MOST_S)
    spoken = last.end_s - words[start].start_s
    pause = until - last.end_s
    fault = 1.0  # each caption costs, so that there are not more than needed
    fault += 12.0 * max(0.0, letters / max(shown, 0.05) / LETTERS_PER_SECOND - 1)
    fault += 6.0 * max(0.0, LEAST_S - shown) + 8.0 * max(0.0, spoken - MOST_S)
    fault += 0.0 if last.text[-1] in ".!?" else 0.5 if last.text[-1] in ",;:" or pause >= _PAUSE_S else 1.6
    fault += 1.5 * sum(
        b.start_s - a.end_s >= _PAUSE_S for a, b in zip(words[start : end - 1], words[start + 1 : end], strict=True)
    )
    fault += 0.8 * sum(w.text[-1] in ".!?" for w in words[start : end - 1])
    return fault


def _timed(chunks: Sequence[Sequence[Word]]) -> list[Cue]:
    """Each caption from its first word until it can be read, but never into the next."""
    out = []
    for chunk, following in zip(chunks, [*chunks[1:], None], strict=True):
        text, start = _text(chunk), chunk[0].start_s
        wanted = max(chunk[-1].end_s, start + LEAST_S, start + len(text) / LETTERS_PER_SECOND)
        limit = following[0].start_s - GAP_S if following else math.inf
        end = min(wanted, limit, start + MOST_S)
        if following and end < start + 0.2:
            end = following[0].start_s
        out.append(Cue(round(start, 3), round(max(end, start + 0.01), 3), text))
    return out


def _text(words: Sequence[Word]) -> str:
    return " ".join(w.text for w in words)
