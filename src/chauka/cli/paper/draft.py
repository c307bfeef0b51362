"""A draft dish and its questions on paper."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from chauka.cli.paper.layout import INDENT, columns, heading, listing, paragraph
from chauka.reading import Draft, DraftLine, DraftStep, amount_text


def draft(made: Draft) -> Iterator[str]:
    """The lines, the steps, what else was said, and what to ask."""
    yield from heading(made.title or "A dish without a name", _serves(made))
    yield from columns((_line(line) for line in made.lines), "llrl")
    yield ""
    for number, step in enumerate(made.steps, start=1):
        yield from paragraph(f"{number}. {step.text}{_facts(step)}", hang=INDENT * 2 + " ")
    yield ""
    if made.keeping:
        yield from paragraph(f"Keeps: {made.keeping}")
    for gone in made.withdrawn:
        yield from paragraph(f"Taken back: {gone.food} (cues {_cues(gone.cues)}).")
    for text, _ in made.cautions:
        yield from paragraph(f"! {text}")
    yield from heading("Questions", str(len(made.questions)))
    for question in made.questions:
        where = f" (cues {_cues(question.cues)})" if question.cues else ""
        yield from paragraph(f"? {question.text}{where}", hang=INDENT * 2)
    if not made.questions:
        yield from paragraph("None: everything is said.")


def read_line(data: dict[str, Any]) -> str:
    """One ingredient line in one row: amount, unit, food, form."""
    low, high = data["qty_low"], data["qty_high"]
    amount = "" if low is None else f"{low:g}" if low == high else f"{low:g}–{high:g}"
    form = f" ({', '.join(data['form'])})" if data["form"] else ""
    return f"{amount:>8} {data['unit'] or '':<12} {data['food']}{form}"


def _serves(made: Draft) -> str:
    if made.yield_low is None or made.yield_high is None:
        return "serves: not said"
    number = f"{made.yield_low:g}" if made.yield_low == made.yield_high else f"{made.yield_low:g}–{made.yield_high:g}"
    return f"for {number} {made.yield_unit}"


def _line(line: DraftLine) -> tuple[str, ...]:
    amount = amount_text(line) or line.vague or ("to taste" if line.to_taste else "not stated")
    forms = f"{line.food}{', ' + ', '.join(line.form) if line.form else ''}"
    code = line.code or "not known"
    was = f", first said {line.corrected_from}" if line.corrected_from else ""
    return amount, forms, code if line.sure else f"{code}?", f"cues {_cues(line.cues)}{was}"


def _facts(step: DraftStep) -> str:
    facts = [str(step.technique)] if step.technique else []
    facts += [step.vessel_said] if step.vessel_said else []
    facts += [f"{step.heat} heat"] if step.heat else []
    if step.low_min is not None and step.high_min is not None:
        facts.append(
            f"{step.low_min:g} min" if step.low_min == step.high_min else f"{step.low_min:g}–{step.high_min:g} min"
        )
    facts += [f"{step.whistles} whistles"] if step.whistles else []
    return f" [{listing(facts, 'and')}]" if facts else ""


def _cues(cues: object) -> str:
    numbers = sorted({int(c) for c in cues}) if isinstance(cues, list | tuple) else []
    return "–".join(str(n) for n in ((numbers[0], numbers[-1]) if len(numbers) > 2 else numbers))
