"""A finished write-up on paper."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from chauka import tables
from chauka.cli.paper.layout import INDENT, columns, heading, listing, paragraph
from chauka.kitchen import Line
from chauka.publishing import WriteUp
from chauka.publishing.check import Finding
from chauka.publishing.text import amount_text, grams_text, minutes_text, step_facts
from chauka.publishing.words import words
from chauka.services.page import PackView


def view(made: WriteUp, title: str = "") -> Iterator[str]:
    """The whole write-up: head, lines, steps, what a portion gives, keeping and cautions."""
    dish = made.dish
    yield from heading(f"{title}{dish.name}", ", ".join(dish.names.values()))
    if dish.story:
        yield from paragraph(dish.story)
    yield from paragraph(_facts(made))
    for part in made.parts:
        yield ""
        if part.name:
            yield f"{INDENT}{part.name}"
        yield from columns(
            ((line.amount or "to taste", grams_text(line.grams), _food(line)) for line in part.lines), "lrl"
        )
    yield ""
    for number, step in enumerate(dish.steps, start=1):
        until = f" Until {step.until}." if step.until else ""
        yield from paragraph(f"{number}. {step.text}{until} [{step_facts(step)}]", hang=INDENT * 2 + " ")
    yield ""
    yield from nutrition(made)
    yield from keeping(made)


def _facts(made: WriteUp) -> str:
    times = made.times
    facts = [
        f"makes {made.dish.portions:g} portions of {made.nutrition.portion_g.mean:.0f} g",
        f"hands {minutes_text(times.hands_on_min)}",
        f"on the fire {minutes_text(times.cook_min)}",
    ]
    if times.ahead_min:
        facts.append(f"begin {minutes_text(times.ahead_min)} ahead")
    return "; ".join(facts).capitalize() + "."


def _food(line: Line) -> str:
    prep = f", {line.prep}" if line.prep else ""
    swaps = "".join(f"; or {tables.food(s.food).name}" for s in line.substitutes)
    return f"{line.said}{prep}{' (optional)' if line.optional else ''}{swaps}"


def nutrition(made: WriteUp) -> Iterator[str]:
    """What a portion gives, with its spread."""
    panel = [
        f"{words().nutrients[nutrient.tag].lower()} {amount_text(amount, nutrient.unit)}"
        for nutrient, amount in made.panel
    ]
    if panel:
        yield from paragraph(f"A portion gives: {'; '.join(panel)}. (± one standard deviation; not medical advice.)")


def keeping(made: WriteUp) -> Iterator[str]:
    """How it keeps, what it contains, what to take care of."""
    life = made.life
    yield from paragraph(f"Keeps: {life.reason} ({life.rule}; {life.source})")
    if made.allergens:
        named = [f"{a} ({', '.join(tables.food(c).name for c in codes)})" for a, codes in made.allergens.items()]
        yield from paragraph(f"Contains: {listing(named)}.")
    for caution in (*made.dish.cautions, *(f"{c.text} ({c.source})" for c in made.cautions)):
        yield from paragraph(f"! {caution}")


def pack(made: PackView) -> Iterator[str]:
    """What was written where, by folder."""
    yield from heading(made.write_up.dish.name, f"{len(made.files)} files, {made.bytes / 1e6:.1f} MB, in {made.folder}")
    by_folder: dict[str, list[str]] = {}
    for file in made.files:
        folder, _, _ = file.path.rpartition("/")
        by_folder.setdefault(folder or ".", []).append(file.path.rpartition("/")[2])
    yield from columns(((f, str(len(names)), _some(names)) for f, names in by_folder.items()), "lrl")


def _some(names: list[str]) -> str:
    return ", ".join(names) if len(names) <= 6 else f"{', '.join(names[:4])} … {names[-1]}"


def printed(made: list[tuple[Path, int]]) -> Iterator[str]:
    """Files that were written, with their size."""
    yield from columns(((str(path), f"{size / 1000:.0f} kB") for path, size in made), "lr")


def checked(found: tuple[Finding, ...]) -> Iterator[str]:
    """What in a pack is not the dish's."""
    if not found:
        yield f"{INDENT}Every number in this pack is the dish's."
    for finding in found:
        yield from paragraph(f"{finding.path}: {finding.complaint}")
