"""The text under a film: story, amounts, chapters, care and credits, never longer than allowed."""

from __future__ import annotations

from collections.abc import Sequence

from chauka.publishing.narration import Cue
from chauka.publishing.page_data import NO_CREDITS, Credits
from chauka.publishing.text import line_text, minutes_text
from chauka.publishing.words import words
from chauka.publishing.write_up import WriteUp

MOST_LETTERS = 5000
"""The common limit of film platforms (common practice, no source)."""


def description(
    write_up: WriteUp, chapters: Sequence[Cue] = (), credit: Credits | None = None, *, most: int = MOST_LETTERS
) -> str:
    """Amounts and chapters stay longest; where the text grows too long, the story goes first, then the care."""
    w, dish, by = words(), write_up.dish, credit or NO_CREDITS
    head = "\n".join((dish.name, *dish.names.values()))
    lines = [w.heads["lines"] + f" ({dish.portions:g} portions)"]
    for part in write_up.parts:
        lines += [part.name.capitalize() + ":"] if part.name else []
        lines += [line_text(line) for line in part.lines]
    times = write_up.times
    facts = [f"{w.heads[k]}: {minutes_text(v)}" for k, v in _facts(times.hands_on_min, times.cook_min, times.total_min)]
    care = [*dish.cautions, *(c.text for c in write_up.cautions)]
    contains = ", ".join(w.allergens.get(a, a) for a in write_up.allergens)
    if contains:
        care.insert(0, f"{w.heads['contains']}: {contains}.")
    sections = [
        (0, head),
        (5, dish.story),
        (2, " · ".join(facts)),
        (1, "\n".join(lines)),
        (1, "\n".join(f"{_clock(c.start_s)} {c.text}" for c in chapters) if len(chapters) > 1 else ""),
        (4, f"{w.heads['keeping']}: {write_up.life.reason}."),
        (3, "\n".join(care)),
        (2, "\n".join(x for x in (by.author or "", by.page_url or "") if x)),
    ]
    return _fitted([(rank, text) for rank, text in sections if text], most)


def _facts(hands: int, cook: int, total: int) -> tuple[tuple[str, int], ...]:
    return (("hands", hands), ("fire", cook), ("total", total))


def _fitted(sections: list[tuple[int, str]], most: int) -> str:
    """Leave out whole sections, the least needed first; at the very last cut at the end of a line."""
    while True:
        text = "\n\n".join(text for _, text in sections) + "\n"
        if len(text) <= most:
            return text
        least = max(rank for rank, _ in sections)
        if least <= 1:
            break
        sections = [s for s in sections if s[0] != least]
    cut = text[: max(most - 2, 0)].rsplit("\n", 1)[0]
    return f"{cut}\n…"[:most]


def _clock(seconds: float) -> str:
    """As in 1:05 or 1:02:05, as film platforms read chapters."""
    whole = int(seconds)
    hours, minutes, secs = whole // 3600, whole // 60 % 60, whole % 60
    return f"{hours}:{minutes:02}:{secs:02}" if hours else f"{minutes}:{secs:02}"
