"""A run sheet on paper."""

from __future__ import annotations

from collections.abc import Iterator

from chauka.cli.paper.layout import INDENT, columns, heading, listing, noted, paragraph
from chauka.kitchen import Proof
from chauka.scheduling import Entry
from chauka.scheduling.sheet import spoken_minutes
from chauka.services import words
from chauka.services.stove import StoveView


def view(seen: StoveView, *, why: bool = False) -> Iterator[str]:
    """The timed steps of one sitting; with `why` the reason of each and the proof, goal by goal."""
    sheet, sitting = seen.sheet, seen.sitting
    yield from heading(f"Stove: {sitting.meal} on {words.day(sitting.day)}", f"on the table at {sitting.serve:%H:%M}")
    cooked = [f"{dish.name} for {words.portions(portions)}" for dish, portions in seen.cooked]
    if cooked:
        yield from paragraph(f"To cook: {listing(cooked)} (adult portions).")
    ready = [dish.name for dish, _ in seen.ready]
    if ready:
        yield from paragraph(f"Already made: {listing(ready)}; warm through what is eaten hot until it steams.")
    if not cooked:
        yield from paragraph("Nothing needs cooking.")
        return
    if sheet.entries:
        yield from paragraph(
            f"Begin at {sheet.starts_at:%H:%M}; {sheet.hands_on_min:.0f} minutes of it are work of the hands."
        )
        if why:
            yield from noted(((_row(e), _reason(e)) for e in sheet.entries), "lll")
        else:
            yield from columns(map(_row, sheet.entries), "lll")
    for clash in sheet.clashes:
        yield from paragraph(f"! {', '.join(clash.rules)}: {clash.way_out}")
    if sheet.entries:
        yield from paragraph(f"Proof: {sheet.proof.status}, {sheet.proof.seconds:.1f} s.")
    if why:
        yield from columns(_goals(sheet.proof), "lrl", INDENT * 2)
    for line in sheet.why:
        yield from paragraph(f"– {line}", hang=INDENT * 2)


def aloud(seen: StoveView) -> Iterator[str]:
    """Each step as a sentence to be read aloud."""
    for entry in seen.sheet.entries:
        yield from paragraph(entry.spoken())


def _row(entry: Entry) -> tuple[str, str, str]:
    amounts = f" – {listing([str(a) for a in entry.amounts])}" if entry.amounts else ""
    return f"{entry.start:%H:%M}–{entry.end:%H:%M}", entry.where, entry.text + amounts


def _reason(entry: Entry) -> str:
    late = f"; may start as late as {entry.latest:%H:%M}" if entry.slack_min >= 1 else "; no minute to lose"
    return f"{entry.why}{late}"


def _goals(proof: Proof) -> Iterator[tuple[str, str, str]]:
    for goal, value in proof.terms.items():
        if not goal.endswith(" bound"):
            bound = proof.terms[f"{goal} bound"]
            said = "cannot be less" if value <= bound else f"not proven; cannot be less than {spoken_minutes(bound)}"
            yield goal, spoken_minutes(value) if value else "none", said
