"""A schedule → the rows of a run sheet."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import replace
from datetime import timedelta

from chauka.kitchen import Attention, Technique, Vessel
from chauka.kitchen.counts import counted_text
from chauka.scheduling.jobs import BENCH, BURNERS, LARGE_BURNERS, SMALL_BURNERS, Job, KitchenProblem, Part
from chauka.scheduling.measure import is_taken
from chauka.scheduling.problem import Kind
from chauka.scheduling.schedule import Spot
from chauka.scheduling.sheet import Amount, Entry, Lane, first_clause, joined
from chauka.scheduling.slack import Arc, binding, latest_starts
from chauka.scheduling.times import TICKS_PER_MIN

Spots = Mapping[str, Spot]


def entries(kitchen: KitchenProblem, spots: Spots) -> tuple[Entry, ...]:
    """All rows in the order of their start; lots of bread that follow at once are one row."""
    burner, vessel = burner_numbers(kitchen, spots), vessel_names(kitchen, spots)
    latest, tight = latest_starts(kitchen.problem, spots), binding(kitchen.problem, spots)
    rows = []
    for task_id, job in kitchen.jobs.items():
        spot = spots[task_id]
        if job.wash and (spot.end == spot.start or not _washed_for_another(kitchen, spots, task_id)):
            continue
        if job.instead and spot.end == spot.start:  # an open pot has no pressure to lose
            continue
        rows.append(
            Entry(
                start=kitchen.moment(spot.start),
                end=kitchen.moment(spot.end),
                lane=_lane(job, burner.get(task_id)),
                text=_text(job, vessel.get(task_id)),
                dishes=tuple(p.dish.id for p in job.parts),
                steps=() if job.wash else tuple((p.dish.id, p.step.id) for p in job.parts),
                tasks=(task_id,),
                attention=Attention.HANDS_ON if job.wash else job.step.attention,
                latest=kitchen.moment(latest[task_id]),
                cook=_cook(kitchen, task_id, spot),
                burner=burner.get(task_id),
                vessel=vessel.get(task_id),
                amounts=() if job.wash else amounts(job.parts),
                until="" if job.wash else job.step.until,
                why=_why(kitchen, tight[task_id]),
                wash=job.wash,
            )
        )
    # What goes on by itself is set going first, then the hands turn to their own work.
    rows.sort(key=lambda e: (e.start, e.attention is Attention.HANDS_ON, e.end, e.tasks))
    return tuple(_gone_on(_joined_lots(rows)))


def amounts(parts: Iterable[Part]) -> tuple[Amount, ...]:
    """Grams of each line that goes in, summed over dishes that name the same thing."""
    grams: dict[str, float] = defaultdict(float)
    for part in parts:
        for line in (part.dish.line(i) for i in part.step.lines):
            grams[line.said] += 0.0 if line.to_taste else line.grams.mean * part.ratio
    return tuple(Amount(said, g) for said, g in grams.items())


def burner_numbers(kitchen: KitchenProblem, spots: Spots) -> dict[str, int]:
    """Which burner each vessel stands on: where it stood before if that is free, else the lowest free.

    Large burners have the low numbers; small ones come after them.
    """
    count = kitchen.problem.resource(BURNERS).capacity
    free_at, stood = dict.fromkeys(range(1, count + 1), 0), dict[tuple[str, Vessel | None], int]()
    numbers = {}
    needs = {t.id: {n.resource for n in t.modes[spots[t.id].mode].needs} for t in kitchen.problem.tasks}
    on_fire = [t for t, job in kitchen.jobs.items() if not job.wash and BURNERS in needs[t]]
    for task in sorted(on_fire, key=lambda t: (spots[t].start, spots[t].end)):
        spot, job = spots[task], kitchen.jobs[task]
        key = (job.parts[0].dish.id, job.vessel)
        allowed = {b: at for b, at in free_at.items() if _carries(b, needs[task], kitchen.large_burners)}
        # Where reality put two pots on one burner, the one that is free first is as good a guess as any.
        free = [b for b, at in allowed.items() if at <= spot.start] or [min(allowed, key=lambda b: allowed[b])]
        numbers[task] = stood[key] if stood.get(key) in free else min(free)
        free_at[numbers[task]], stood[key] = spot.end, numbers[task]
    return numbers


def _carries(burner: int, needs: Collection[str], large: int) -> bool:
    if LARGE_BURNERS in needs:
        return burner <= large
    return SMALL_BURNERS not in needs or burner > large


def vessel_names(kitchen: KitchenProblem, spots: Spots) -> dict[str, str]:
    """The vessel of each task; numbered where several dishes want one of a kind and size of which there are several."""
    ways = {t.id: t.modes[spots[t.id].mode].way for t in kitchen.problem.tasks}
    names = {t: ways[t] or job.vessel_name or str(job.vessel) for t, job in kitchen.jobs.items() if job.vessel}
    taken = [h for h in kitchen.problem.holds if is_taken(kitchen.problem, h, spots)]
    for hold in taken:
        names |= dict.fromkeys(hold.tasks, hold.resource)
    for resource in kitchen.problem.resources:
        if resource.kind is not Kind.VESSEL or resource.capacity < 2:
            continue
        free_at = dict.fromkeys(range(1, resource.capacity + 1), 0)
        held = [h for h in taken if h.resource == resource.name]
        for hold in sorted(held, key=lambda h: min(spots[t].start for t in h.tasks)):
            begins = min(spots[t].start for t in hold.tasks)
            number = min([n for n, at in free_at.items() if at <= begins] or list(free_at))
            free_at[number] = max(spots[t].end for t in hold.tasks)
            names |= dict.fromkeys(hold.tasks, f"{resource.name} {number}")
    return names


def _lane(job: Job, burner: int | None) -> Lane:
    if job.wash or job.step.attention is Attention.HANDS_ON:
        return Lane.HANDS
    if burner is not None:
        return Lane.BURNER
    return Lane.ASIDE if job.step.attention is Attention.HANDS_OFF else Lane.HANDS


def _cook(kitchen: KitchenProblem, task_id: str, spot: Spot) -> int | None:
    cooks = [r.name for r in kitchen.problem.resources if r.kind is Kind.COOK]
    mode = kitchen.problem.task(task_id).modes[spot.mode]
    return next((cooks.index(need.resource) + 1 for need in mode.needs if need.resource in cooks), None)


def _unnumbered(vessel: str | None) -> str:
    """`pot 2` is one of the pots."""
    return (vessel or "").rstrip(" 0123456789")


def _text(job: Job, vessel: str | None) -> str:
    dishes = joined([p.dish.name for p in job.parts])
    if job.wash:
        return f"empty and rinse the {vessel or job.vessel}"
    things = ", ".join(str(a) for a in amounts(job.parts))
    if len(job.parts) > 1 and things:
        return f"{_VERBS.get(job.step.technique, str(job.step.technique))} {things} for {dishes}"
    instead = f" (in the {vessel} instead of the {job.vessel})" if _unnumbered(vessel) in job.instead else ""
    return f"{dishes}: {counted_text(job.step.text, job.parts[0].ratio).rstrip('. ')}{instead}"


_VERBS = {
    Technique.PICK: "pick over", Technique.CUT: "chop", Technique.PRESSURE_COOK: "bring to pressure together",
    Technique.BOIL: "boil together", Technique.STEAM: "steam together", Technique.REST: "leave alone",
    Technique.COOL: "leave to cool",
}  # fmt: skip


def _washed_for_another(kitchen: KitchenProblem, spots: Spots, wash: str) -> bool:
    """Whether some other dish takes the vessel afterwards; if not, it can wait in the sink."""
    taken = [h for h in kitchen.problem.holds if is_taken(kitchen.problem, h, spots)]
    own = next(h for h in taken if wash in h.tasks)
    others = (h for h in taken if h.resource == own.resource and h is not own)
    return any(min(spots[t].start for t in other.tasks) >= spots[wash].end for other in others)


def _why(kitchen: KitchenProblem, tight: tuple[Arc, ...]) -> str:
    """Why it starts then: what it had to wait for, or what it must be in time for."""
    for arc in sorted(tight, key=lambda a: a.because is not None):
        before = kitchen.jobs[arc.first]
        work = "washing up" if before.wash else first_clause(before.step.text.rstrip(". "))
        said = f"{joined([p.dish.name for p in before.parts])} ({work})"
        return f"follows {said}" if arc.because is None else f"when {said} leaves {_thing(arc.because)}"
    return "so that it is ready when it is needed, not before"


_THINGS = {
    BURNERS: "a burner", LARGE_BURNERS: "a large burner", SMALL_BURNERS: "a small burner", BENCH: "room at the bench",
}  # fmt: skip


def _thing(resource: str) -> str:
    if resource in _THINGS:
        return _THINGS[resource]
    return "the hands" if resource.startswith("cook ") else f"the {resource}"


def _joined_lots(rows: list[Entry]) -> list[Entry]:
    """One row for lots that follow each other without a break."""
    out: list[Entry] = []
    for row in rows:
        same = [i for i, e in enumerate(out) if e.steps and e.steps == row.steps and e.end == row.start]
        if same and row.start - out[same[-1]].end < timedelta(minutes=1 / TICKS_PER_MIN):
            i = same[-1]
            out[i] = replace(out[i], end=row.end, tasks=out[i].tasks + row.tasks)
        else:
            out.append(row)
    return out


def _gone_on(rows: list[Entry]) -> Iterator[Entry]:
    """Later rows of a step say that it goes on, and weigh nothing a second time."""
    seen: set[tuple[tuple[str, str], ...]] = set()
    for row in rows:
        if row.steps and row.steps in seen:
            dish, text = row.text.split(": ", 1)
            yield replace(row, text=f"{dish}, go on: {text}", amounts=())
        else:
            yield row
        seen.add(row.steps)
