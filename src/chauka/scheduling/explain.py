"""Why the session begins when it does, what keeps dishes waiting, and what would help."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from chauka.kitchen import Clash, Dish, House, Vessel, VesselStock
from chauka.scheduling.jobs import Kitchen, KitchenProblem
from chauka.scheduling.kitchen_problem import kitchen_problem
from chauka.scheduling.measure import Spots, lateness, wait
from chauka.scheduling.problem import Due, Goal, Kind, Problem
from chauka.scheduling.schedule import Schedule, Status
from chauka.scheduling.sheet import first_clause, joined, spoken_minutes
from chauka.scheduling.slack import latest_starts
from chauka.scheduling.solve import solve
from chauka.scheduling.times import TICKS_PER_MIN
from chauka.scheduling.vessels import pots

_NAMED, _WORDS = 5, 6
"""So many steps are named in a sentence, each in so many words."""

_GRAVE = (Goal.LATENESS, Goal.OVER_HOLD)


def reasons(asked: KitchenProblem, answer: Schedule) -> tuple[str, ...]:
    """Plain sentences: what has no slack, what waits, what is not proven."""
    out = [_critical(asked, answer.spots)]
    for due in asked.problem.dues:
        out += _about_due(asked, due, answer.spots)
    out += asked.cautions
    if asked.made_ahead:
        out.append(f"{joined(asked.made_ahead)}: made ahead, nothing is left to do at the stove")
    open_goals = [level for level in answer.levels if not level.proven and level.goal is not Goal.ORDER]
    for level in open_goals:
        out.append(
            f"{level.goal} is {_said(level.value)}; not proven best, but it cannot be below {_said(level.bound)}"
        )
    return tuple(out)


def clashes(
    dishes: Sequence[tuple[Dish, float]], kitchen: Kitchen, asked: KitchenProblem, answer: Schedule, *, seconds: float
) -> tuple[Clash, ...]:
    """What cannot all be had, and the least that would help; empty where everything comes hot and in time.

    Each scarce thing is given one more in turn, and the session solved again: a burner, a cook,
    each kind of vessel that several dishes want, and an earlier start.
    """
    if answer.status is Status.UNKNOWN:
        return (Clash(("no schedule was found in the time given",), "allow more seconds, or cook one dish less"),)
    now = grave(answer)
    if answer.spots and not any(now):
        return ()
    trials = _more_of_something(kitchen, asked.problem)
    helped = []
    for said, more in trials:
        trial = kitchen_problem(dishes, more)
        goals = replace(trial.problem, goals=_GRAVE)
        then = solve(goals, seconds=seconds / len(trials))
        if then.spots and (not answer.spots or grave(then) < now):
            helped.append((grave(then), said))
    ways = [f"{said} ({_gain(after)})" for after, said in sorted(helped)]
    way_out = " or ".join(ways[:3]) if ways else "serve one of them cool, or cook it ahead"
    return (Clash(_rules(asked, answer), way_out),)


def _rules(asked: KitchenProblem, answer: Schedule) -> tuple[str, ...]:
    if not answer.spots:
        return tuple(_scarce(asked)) or ("these steps cannot follow each other as their dishes ask",)
    out = []
    for due in asked.problem.dues:
        late, waits = lateness(due, answer.spots), wait(due, answer.spots)
        if late:
            out.append(f"{_name(asked, due)} would be {_said(late)} late")
        elif due.cap is not None and waits > due.cap:
            out.append(f"{_name(asked, due)} waits {_said(waits)}, longer than the {_said(due.cap)} it likes")
    return (*out, *_scarce(asked))


def _scarce(asked: KitchenProblem) -> list[str]:
    """Sentences on vessels that more dishes want than there are."""
    out = []
    for resource in asked.problem.resources:
        holds = [h for h in asked.problem.holds if h.resource == resource.name and not h.way]
        if resource.kind is Kind.VESSEL and len(holds) > resource.capacity:
            names = [asked.jobs[h.tasks[0]].parts[0].dish.name for h in holds]
            count = "the only" if resource.capacity == 1 else f"the {resource.capacity}"
            out.append(f"{joined(names)} all need {count} {resource.name}")
    return out


def _more_of_something(kitchen: Kitchen, problem: Problem) -> list[tuple[str, Kitchen]]:
    trials = [
        ("one burner more", replace(kitchen, burners=kitchen.burners + 1)),
        ("a second pair of hands", replace(kitchen, cooks=kitchen.cooks + 1)),
    ]
    if kitchen.not_before is not None:
        trials.append(("an earlier start", replace(kitchen, not_before=None)))
    scarce = [resource.name for resource in problem.resources if resource.kind is Kind.VESSEL]
    trials += [(f"one {name} more", replace(kitchen, house=_with_one_more(kitchen.house, name))) for name in scarce]
    return trials


def _with_one_more(house: House, name: str) -> House:
    """The house with one vessel more of that kind and size."""
    pot = next(pot for kind in Vessel for pot in pots(house, kind) if pot.name == name)
    return replace(house, vessels=(*house.vessels, VesselStock(pot.kind, 1, pot.litres)))


def grave(answer: Schedule) -> tuple[int, ...]:
    """Lateness and hold beyond the cap: what a cook would give something for."""
    return tuple(level.value for level in answer.levels if level.goal in _GRAVE)


def _gain(after: tuple[int, ...]) -> str:
    if not any(after):
        return "then everything is hot and in time"
    return f"then {_said(after[0])} late, {_said(after[1])} too long kept hot"


def _critical(asked: KitchenProblem, spots: Spots) -> str:
    """The steps that allow no delay."""
    latest = latest_starts(asked.problem, spots)
    tight = [t for t in sorted(spots, key=lambda t: spots[t].start) if latest[t] == spots[t].start]
    texts = []
    for task in tight:
        job = asked.jobs[task]
        text = f"{job.parts[0].dish.name}: {_few_words(job.step.text)}"
        if not job.wash and text not in texts:
            texts.append(text)
    begin = asked.moment(min(spot.start for spot in spots.values()))
    if not texts:
        return f"begin at {begin:%H:%M}"
    if len(texts) > _NAMED:
        texts = [*texts[: _NAMED - 1], "…", texts[-1]]
    return f"begin at {begin:%H:%M}: no minute to lose with {' → '.join(texts)}"


def _few_words(text: str) -> str:
    words = first_clause(text.rstrip(". ")).split()
    return " ".join(words[:_WORDS]).lower() + (" …" if len(words) > _WORDS else "")


def _about_due(asked: KitchenProblem, due: Due, spots: Spots) -> list[str]:
    late, waits = lateness(due, spots), wait(due, spots)
    if late:
        return [f"{_name(asked, due)} is {_said(late)} late"]
    if due.cap is not None and waits > due.cap:
        return [f"{_name(asked, due)} is ready {_said(waits)} before it is served: cover it, and warm it up"]
    return []


def _name(asked: KitchenProblem, due: Due) -> str:
    job = asked.jobs[due.tasks[0]]
    return next(p.dish.name for p in job.parts if p.dish.id == due.id)


def _said(ticks: int) -> str:
    return spoken_minutes(ticks / TICKS_PER_MIN) if ticks else "0 min"
