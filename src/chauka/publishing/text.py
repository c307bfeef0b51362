"""How amounts, minutes and facts are written: the same words in every output of a dish."""

from __future__ import annotations

import re
from collections.abc import Iterable

from chauka.composition import Amount, DishNutrients
from chauka.kitchen import Heat, Line, Step
from chauka.publishing.words import Words, words
from chauka.units import Estimate, Span

_DAY_MIN = 24 * 60
_COUNT = re.compile(r"[\d½¼¾⅓⅔⅛–-]+\Z")


def minutes_text(minutes: float, w: Words | None = None) -> str:
    """As in "25 min", "1 h 10 min", "2 days"."""
    units = (w or words()).units
    if minutes >= 2 * _DAY_MIN:
        return units["days"].format(n=f"{minutes / _DAY_MIN:.3g}")
    hours, rest = divmod(round(minutes), 60)
    hour = units["h1" if hours == 1 else "h"]
    parts = (hour.format(n=hours) if hours else "", units["min"].format(n=rest) if rest or not hours else "")
    return " ".join(p for p in parts if p)


def span_text(span: Span, w: Words | None = None) -> str:
    """As in "5–8 min" or "8–12 h"."""
    units = (w or words()).units
    if span.low == span.high:
        return minutes_text(span.low, w)
    if span.low >= 120 and span.low % 30 == 0 and span.high % 30 == 0 and span.high < 2 * _DAY_MIN:
        return units["h"].format(n=f"{span.low / 60:g}–{span.high / 60:g}")
    if span.high < 120:
        return units["min"].format(n=f"{span.low:g}–{span.high:g}")
    return units["to"].format(low=minutes_text(span.low, w), high=minutes_text(span.high, w))


def grams_text(grams: Estimate | float) -> str:
    """As in "350 g" or "2.5 g"; "–" where a line weighs nothing that is known."""
    mass_g = grams.mean if isinstance(grams, Estimate) else grams
    if not mass_g:
        return "–"
    return f"{mass_g:.0f} g" if round(mass_g, 1) >= 10 else f"{mass_g:.1f} g"


def amount_text(amount: Amount, unit: str, w: Words | None = None) -> str:
    """As in "12.3 ± 1.1 mg"; "at least 12.3 mg" where an ingredient's content is unknown, "not known" where all is."""
    decimals = 0 if amount.mean >= 100 else 1 if amount.mean >= 1 else 2
    unit = unit.replace("ug", "µg")
    if amount.at_least and not amount.mean:
        return (w or words()).notes["not_known"]
    if amount.at_least:
        return (w or words()).notes["at_least"].format(amount=f"{amount.mean:.{decimals}f} {unit}")
    return f"{amount.mean:.{decimals}f} ± {amount.sd:.{decimals}f} {unit}"


def nutrition_note(found: DishNutrients, w: Words) -> str:
    """What the figures rest on, and what the weight of the finished dish does."""
    return f"{w.notes['nutrition']} {w.notes[f'weight_{found.weight_basis.name.lower()}']}"


def line_text(line: Line) -> str:
    """One ingredient line as a reader sees it: amount as the cook says it, grams, food, preparation."""
    text = " ".join(part for part in line_parts(line) if part)
    if line.prep:
        text += f", {line.prep}"
    notes = [n for n, holds in (("optional", line.optional), ("to taste", line.to_taste)) if holds and n != line.amount]
    return text + (f" ({', '.join(notes)})" if notes else "")


def line_parts(line: Line) -> tuple[str, str]:
    """As in ("½ cup (46 g)", "milk"); a bare count keeps to its food, as in ("1", "bay leaf (0.4 g)")."""
    said, grams = line.amount.strip(), grams_text(line.grams)
    if line.grams.mean and _COUNT.match(said):
        return said, f"{line.said} ({grams})"
    return measure_text(line), line.said


def measure_text(line: Line) -> str:
    """As in "½ cup (46 g)"; once where it is said in grams; empty where nobody weighs or measures it."""
    grams, said = grams_text(line.grams), line.amount.strip()
    if not line.grams.mean:
        return said
    if not said or said.replace(" ", "") == grams.replace(" ", ""):
        return grams
    return f"{said} ({grams})"


def step_facts(step: Step, w: Words | None = None) -> str:
    """Vessel, flame, whistles and minutes of a step in one phrase."""
    w = w or words()
    facts = [
        w.vessels[step.vessel] if step.vessel else "",
        w.heats[step.heat] if step.heat is not Heat.NONE else "",
        w.notes["whistles"].format(n=step.whistles) if step.whistles else "",
        span_text(step.minutes, w) if step.minutes.high else "",
        w.notes["can_be_ahead"] if step.ahead else "",
    ]
    return " · ".join(f for f in facts if f)


def step_name(step: Step, lines: Iterable[Line]) -> str:
    """A short label that is not the instruction itself, as in "Wash split moong dal"."""
    technique = str(step.technique).replace("-", " ").capitalize()
    foods = [line.said for line in lines if line.id in step.lines]
    if not foods or len(foods) > 2:
        return technique
    return f"{technique} {' and '.join(foods)}"
