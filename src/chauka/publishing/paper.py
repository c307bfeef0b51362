"""The sheet as a tagged PDF: the same write-up, set for A4 or A5, labelled in English or Hindi."""

from __future__ import annotations

from typing import Any

from chauka import quantities, tables
from chauka.kitchen import Dish, Line
from chauka.publishing import press, text
from chauka.publishing.press import Sheet
from chauka.publishing.style import Style, style
from chauka.publishing.words import Language, Words, words
from chauka.publishing.write_up import WriteUp

WITHIN = frozenset({"FASAT", "FSUGAR"})
"""Nutrients that are part of the row above them."""


_LEAST_WEIGHED_G = 0.1
_LEAST_COUNTED_G = 5.0


def sheet_pdf(
    write_up: WriteUp,
    *,
    paper: Sheet = Sheet.A4,
    language: Language = Language.ENGLISH,
    look: Style | None = None,
    author: str = "",
) -> bytes:
    """The sheet as PDF/UA-1. Raises `InputError` for a sign that no font has."""
    data = sheet_data(write_up, words(language)) | {"paper": str(paper), "author": author}
    return press.pdf("sheet", data, look or style(), title=write_up.dish.name, language=str(language))


def sheet_data(write_up: WriteUp, w: Words) -> dict[str, Any]:
    """Every text of the sheet, ready to be set."""
    dish, times = write_up.dish, write_up.times
    facts = [
        (w.heads["makes"], portions_text(write_up, w)),
        (w.heads["hands"], text.minutes_text(times.hands_on_min, w)),
        (w.heads["fire"], text.minutes_text(times.cook_min, w)),
        (w.heads["ahead"], text.minutes_text(times.ahead_min, w) if times.ahead_min else ""),
        (w.heads["total"], text.minutes_text(times.total_min, w)),
    ]
    return {
        "said": {
            **w.heads,
            "nutrition_note": text.nutrition_note(write_up.nutrition, w),
            "scaling_note": w.notes["scaling"],
        },
        "course": w.courses[dish.course],
        "names": list(dish.names.items()),
        "story": dish.story,
        "photo": _photo(write_up),
        "facts": [fact for fact in facts if fact[1]],
        "parts": [{"name": p.name, "lines": [_line(line, w) for line in p.lines]} for p in write_up.parts],
        "steps": [
            {"text": s.text, "until": f"Until {s.until}." if s.until else "", "facts": text.step_facts(s, w)}
            for s in dish.steps
        ],
        "keeping": f"{write_up.life.reason} ({write_up.life.rule}; {write_up.life.source}).",
        "freezing": [w.notes["freezes"]] if dish.kept and dish.kept.freezes else [],
        "ahead": [f"{text.span_text(s.minutes, w)}: {s.text}" for s in dish.steps if s.ahead],
        "contains": [
            f"{w.allergens.get(a, a)} ({', '.join(tables.food(c).name for c in codes)})"
            for a, codes in write_up.allergens.items()
        ],
        "cautions": [*dish.cautions, *(f"{c.text} ({c.source})" for c in write_up.cautions)],
        "portion": text.grams_text(write_up.nutrition.portion_g),
        "nutrients": [
            {"name": w.nutrients[n.tag], "amount": text.amount_text(a, n.unit, w), "within": n.tag in WITHIN}
            for n, a in write_up.panel
        ],
        "swaps": swaps(dish, w),
        "scaled": {
            "heads": ["", *(w.heads["for_n"].format(n=f"{n:g}") for n in portions_beside(dish))],
            "rows": scaled(write_up),
        },
        "foot": " · ".join((dish.name, *dish.names.values())),
    }  # fmt: skip


def _photo(write_up: WriteUp) -> dict[str, Any] | None:
    """The photo byte by byte: the typesetter is given text alone."""
    photo = write_up.photo
    return {"jpeg": list(photo.jpeg), "words": photo.words} if photo else None


def portions_text(write_up: WriteUp, w: Words) -> str:
    """As in "5 portions of 255 g"."""
    grams = text.grams_text(write_up.nutrition.portion_g)
    return w.heads["portions"].format(n=f"{write_up.dish.portions:g}", g=grams)


def swaps(dish: Dish, w: Words) -> list[tuple[str, str]]:
    """What may stand in for each line, with the weight that does."""
    return [
        (
            w.heads["instead"].format(food=line.said),
            "; ".join(
                f"{text.grams_text(line.grams.mean * s.ratio)} {s.note or tables.food(s.food).name}"
                if line.grams.mean else s.note or tables.food(s.food).name
                for s in line.substitutes
            ) + ".",
        )
        for line in dish.lines if line.substitutes
    ]  # fmt: skip


def portions_beside(dish: Dish) -> tuple[float, ...]:
    """The portions of the scaling table: a few, and as many again as the dish makes."""
    few = [n for n in (2.0, 4.0, 6.0, 8.0) if n != dish.portions]
    return tuple(sorted({*few[:3], 2 * dish.portions}))


def scaled(write_up: WriteUp) -> list[list[str]]:
    """Each weighed line for other numbers of portions, in measures and grams."""
    dish = write_up.dish
    return [
        [line.said, *(_for(line, n / dish.portions, write_up) for n in portions_beside(dish))]
        for line in dish.lines if line.grams.mean
    ]  # fmt: skip


def _for(line: Line, factor: float, write_up: WriteUp) -> str:
    grams = line.grams * factor
    if grams.mean < _LEAST_WEIGHED_G:
        return f"< {_LEAST_WEIGHED_G:g} g"
    shown = quantities.show(grams, line.food, line.form, write_up.measures)
    counts_crumbs = grams.mean < _LEAST_COUNTED_G and " piece" in shown  # nobody counts peppercorns
    return text.grams_text(grams) if counts_crumbs else shown


def _line(line: Line, w: Words) -> dict[str, str]:
    measure, grams = line.amount.strip(), text.grams_text(line.grams)
    food = line.said + (f", {line.prep}" if line.prep else "")
    notes = [
        w.notes[n] for n, holds in (("optional", line.optional), ("to_taste", line.to_taste))
        if holds and w.notes[n] != measure
    ]  # fmt: skip
    said_in_grams = measure.replace(" ", "") == grams.replace(" ", "")
    return {
        "measure": "" if said_in_grams else measure,
        "grams": grams,
        "food": food + (f" ({', '.join(notes)})" if notes else ""),
    }
