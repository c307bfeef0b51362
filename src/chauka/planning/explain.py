"""Why: what a purchase is for, what a dish uses up, and what a plan is worth."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable
from dataclasses import dataclass

from chauka.kitchen import Book, TablePlan


@dataclass(frozen=True, slots=True)
class Used:
    """So many edible grams that a batch takes from a lot or purchase."""

    source: str
    food: str
    grams: float
    shared_with: tuple[str, ...]


def sittings_fed(plan: TablePlan, purchase_id: str) -> tuple[str, ...]:
    """The sittings that a purchase feeds, as in "2027-03-17 dinner: Spinach dal"; by dish id."""
    purchase = next(p for p in plan.purchases if p.id == purchase_id)
    fed = [s for s in plan.servings if s.batch in purchase.feeds]
    return tuple(f"{s.day.isoformat()} {s.meal}: {s.dish}" for s in fed)


def why_purchase(plan: TablePlan, book: Book, purchase_id: str) -> str:
    """One sentence: what a purchase feeds, and what stays of it."""
    purchase = next(p for p in plan.purchases if p.id == purchase_id)
    names = _unique([book.dish(plan.batch(b).dish).name for b in purchase.feeds])
    left = next((x for x in plan.left_over if x.source == purchase_id), None)
    tail = ""
    if left:
        fate = "would be left to spoil" if left.binned else "stays for later"
        tail = f"; {left.grams:.0f} g {fate}"
    return f"for {', '.join(names) or 'the cupboard'}{tail}"


def uses(plan: TablePlan, batch_id: str) -> tuple[Used, ...]:
    """What a batch takes from which lot or purchase, largest first."""
    sharing = defaultdict[str, list[str]](list)
    for draw in plan.draws:
        if draw.batch != batch_id and draw.batch not in sharing[draw.source]:
            sharing[draw.source].append(draw.batch)
    mine = [d for d in plan.draws if d.batch == batch_id]
    return tuple(
        Used(d.source, d.food, d.grams, tuple(sharing[d.source])) for d in sorted(mine, key=lambda d: -d.grams)
    )


def why_dish(plan: TablePlan, book: Book, batch_id: str, called: Callable[[str], str] | None = None) -> tuple[str, ...]:
    """Reasons for a batch: the lots it empties, what it shares a purchase with, where else it is eaten.

    `called` gives the house's word for a food's code; without it lots and purchases are named by id.
    """
    out = list[str]()
    batch = plan.batch(batch_id)
    left = {x.source for x in plan.left_over if x.grams > 1}
    lots = {lot.id: lot for lot in book.lots}
    for used in uses(plan, batch_id):
        last = not _drawn_after(plan, used.source, batch_id)
        if used.source in lots and used.source not in left and last:
            name = lots[used.source].note or (called(used.food) if called else used.source)
            out.append(f"uses up {name} ({used.grams:.0f} g)")
        elif used.source not in lots and used.shared_with and used.grams >= 50:
            others = _unique([book.dish(plan.batch(b).dish).name for b in used.shared_with])
            name = called(used.food) if called else used.source
            out.append(f"shares what was bought for it ({used.grams:.0f} g of {name}) with {', '.join(others[:3])}")
    kept = [s for s in plan.servings if s.batch == batch_id and (s.day, s.meal) != (batch.day, batch.meal)]
    out.extend(f"is eaten again on {s.day:%A} at {s.meal}" for s in kept)
    return tuple(out)


def _drawn_after(plan: TablePlan, source: str, batch_id: str) -> bool:
    batch = plan.batch(batch_id)
    when = (batch.day, batch.meal.order)
    others = [plan.batch(d.batch) for d in plan.draws if d.source == source and d.batch != batch_id]
    return any((b.day, b.meal.order) > when for b in others)


def _unique(names: list[str]) -> list[str]:
    return list(dict.fromkeys(names))


def proof_sentence(plan: TablePlan, currency: str) -> str:
    """What the proof says to a cook: "could not be better by more than INR 14"."""
    proof = plan.proof
    if proof.gap_percent < 0.05:
        return "no plan is better"
    better = max(0.0, proof.value - proof.bound) / 100
    return f"could not be better by more than {currency} {better:,.0f} ({proof.gap_percent:.1f} %)"
