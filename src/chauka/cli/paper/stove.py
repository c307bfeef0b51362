"""A run sheet on paper."""

from __future__ import annotations

from collections.abc import Iterator

from chauka.cli.paper.layout import INDENT, columns, heading, listing, paragraph
from chauka.services import words
from chauka.services.stove import StoveView


def view(seen: StoveView) -> Iterator[str]:
    """The timed steps of one sitting."""
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
    yield from _entries(seen)
    for clash in sheet.clashes:
        yield from paragraph(f"! {', '.join(clash.rules)}: {clash.way_out}")
    yield from _proof(seen)


def _entries(seen: StoveView) -> Iterator[str]:
    sheet = seen.sheet
    if not sheet.entries:
        return
    yield from paragraph(
        f"Begin at {sheet.starts_at:%H:%M}; {sheet.hands_on_min:.0f} minutes of it are work of the hands."
    )
    yield from columns(
        (
            (
                f"{e.start:%H:%M}–{e.end:%H:%M}",
                e.where,
                e.text + (f" – {listing([str(a) for a in e.amounts])}" if e.amounts else ""),
            )
            for e in sheet.entries
        ),
        "lll",
    )


def _proof(seen: StoveView) -> Iterator[str]:
    proof = seen.sheet.proof
    yield from paragraph(f"Proof: {proof.status}, {proof.seconds:.1f} s.")
    for line in seen.sheet.why:
        yield from paragraph(f"– {line}", hang=INDENT * 2)
