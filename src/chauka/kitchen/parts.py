"""Made-ahead parts: a chutney, a spice mix or a dough that is a dish of its own and goes into others.

A line that is `made` from another dish of the book stands for so many grams of that dish. Before an engine
looks at the dish, each such line gives way to the part's own lines, scaled by grams taken ÷ grams made, and the
part's steps come before those of the dish. So allergens, nutrients, shopping and work see what is really in it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from chauka.errors import Complaints, InputError
from chauka.kitchen.dish import After, Dish, Line, Step
from chauka.kitchen.house import Measures
from chauka.kitchen.scaling import amount_text, evaporated_g, step_for
from chauka.units import Estimate

_MEASURES = Measures()
_JOINT = "_"
"""Between the id of what is put in and its own ids; no id that a cook writes holds it."""


def with_parts(dish: Dish, dishes: Iterable[Dish], measures: Measures = _MEASURES) -> Dish:
    """The dish with nothing but real foods: parts, and parts of parts, put in with their lines and steps.

    A part that several lines take from is made once. The grams are in proportion to the part as it is written,
    since it is made and then taken from. Raises `InputError` for a part that is not among `dishes`, that needs
    itself, or that weighs nothing.
    """
    if not parts_of(dish):
        return dish
    known = {one.id: one for one in dishes}
    for part in _outermost_first(dish, known):
        dish = _with_part(dish, part, measures)
    return dish


def parts_of(dish: Dish) -> frozenset[str]:
    """Ids of the dishes that lines of this dish are made from."""
    return frozenset(line.made for line in dish.lines if line.made is not None)


def of_part(step: Step) -> tuple[str, str] | None:
    """The part that a step put in by `with_parts` makes, and the step's id there; None for a dish's own step."""
    part, joint, own = step.id.partition(_JOINT)
    return (part, own) if joint else None


def check_parts(dishes: Sequence[Dish], bad: Complaints) -> None:
    """Complain of each part that is not there, weighs nothing, or needs itself."""
    known = {dish.id: dish for dish in dishes}
    for dish in (one for one in dishes if parts_of(one)):
        try:
            _outermost_first(dish, known)
        except InputError as error:
            for complaint in (c for complaints in error.fields.values() for c in complaints):
                bad.add("dishes", complaint)


def check_whole(dish: Dish) -> None:
    """Refuse a dish whose parts are not put in: its foods would be wrong without a word."""
    if parts := parts_of(dish):
        said = f"holds parts ({', '.join(sorted(parts))}) whose foods are not put in; take it from the whole book"
        raise InputError({f"dish {dish.id}": (said,)})


def made_g(part: Dish) -> Estimate:
    """What the part as written weighs when it is made [g]: weighed, else what goes in less what boils away."""
    if part.yield_g is not None:
        return part.yield_g
    raw = Estimate.total([line.grams * line.eaten_share for line in part.lines])
    return Estimate(raw.mean - evaporated_g(part), raw.sd)


def _outermost_first(dish: Dish, known: Mapping[str, Dish]) -> tuple[Dish, ...]:
    """The parts of a dish and theirs, each before those that it is made from."""
    done: dict[str, Dish] = {}

    def visit(key: str, way: tuple[str, ...]) -> None:
        if key in way:
            round_ = " → ".join((*way[way.index(key) :], key))
            raise InputError({f"dish {dish.id}": (f"{dish.id!r} needs a part that needs itself: {round_}",)})
        if key in done:
            return
        part = known.get(key)
        if part is None:
            said = f"{way[-1]!r} takes a part from {key!r}, which is not in the dish book"
            raise InputError({f"dish {dish.id}": (said,)})
        for inner in sorted(parts_of(part)):
            visit(inner, (*way, key))
        if made_g(part).mean <= 0:
            said = f"{key!r} weighs nothing as it is written, so nobody can take grams of it; weigh it"
            raise InputError({f"dish {dish.id}": (said,)})
        done[key] = part

    for key in sorted(parts_of(dish)):
        visit(key, (dish.id,))
    return tuple(reversed(done.values()))


def _with_part(dish: Dish, part: Dish, measures: Measures) -> Dish:
    """The dish with every line made from this one part replaced; the part's own parts are still to come."""
    taken = [line for line in dish.lines if line.made == part.id]
    inside = {line.id: _lines(line, part, measures) for line in taken}
    share = sum(line.grams.mean for line in taken) / made_g(part).mean
    steps = tuple(_prefixed(step_for(step, share), part, taken) for step in part.steps)
    waited = {after.step for step in steps for after in step.after}
    last = tuple(After(step.id) for step in steps if step.id not in waited)
    placed = {line_id for step in steps for line_id in step.lines}
    loose = {key: [one.id for one in lines if one.id not in placed] for key, lines in inside.items()}
    return replace(
        dish,
        lines=tuple(one for line in dish.lines for one in inside.get(line.id, (line,))),
        steps=(*steps, *(_joined(step, loose, last) for step in dish.steps)),
        cautions=tuple(dict.fromkeys((*dish.cautions, *part.cautions))),
    )


def _lines(taken: Line, part: Dish, measures: Measures) -> tuple[Line, ...]:
    """The part's lines for the grams taken, under the part's name; both weights carry their spread."""
    made = made_g(part)
    share = taken.grams * Estimate(1 / made.mean, made.sd / made.mean**2)
    return tuple(
        replace(
            line,
            id=_inside(taken.id, line.id),
            grams=grams,
            amount=amount_text(line, grams, measures),
            part=part.name,
            optional=line.optional or taken.optional,
            eaten_share=line.eaten_share * taken.eaten_share,
        )
        for line in part.lines
        for grams in (line.grams * share,)
    )


def _prefixed(step: Step, part: Dish, taken: Sequence[Line]) -> Step:
    return replace(
        step,
        id=_inside(part.id, step.id),
        after=tuple(replace(after, step=_inside(part.id, after.step)) for after in step.after),
        lines=tuple(_inside(line.id, line_id) for line in taken for line_id in step.lines),
    )


def _joined(step: Step, loose: Mapping[str, Sequence[str]], last: tuple[After, ...]) -> Step:
    """The dish's step that takes the part in: after the part is made, with lines that no step of it takes."""
    if not any(line_id in loose for line_id in step.lines):
        return step
    lines = tuple(one for line_id in step.lines for one in loose.get(line_id, (line_id,)))
    return replace(step, lines=lines, after=(*step.after, *last))


def _inside(outer: str, inner: str) -> str:
    return f"{outer}{_JOINT}{inner}"
