"""Small planning problems that a reader can hold in the head."""

from chauka.planning.problem import Cooking, Eating, Need, Place, Problem, Recipe, Slot, Source, Term

MISS = 20_000


def slots(count, *, minutes=60, portions=100, places=("dish",), empty=MISS):
    """One sitting a day."""
    return tuple(
        Slot(f"day {d}", d, minutes, portions, tuple(Place(p, empty) for p in places), (0,)) for d in range(count)
    )


def stock(item=0, *, grams=500, last=0, worth=1000, first=0, carry=0):
    """A lot that is there."""
    return Source(f"lot of {item}", (item,), first, last, grams * 1000, 0, worth, carry, stock=True)


def offer(item=0, *, grams=500, price=1000, first=0, last=99, most=9, carry=0):
    """Packs that can be bought."""
    return Source(f"offer of {item}", (item,), first, last, grams * 1000, price, price, carry, most)


def problem(days, sources, dishes, *, likings=None, limits=(), **more):
    """Every dish of `dishes` (each a dict item → grams per portion) can be cooked on every day."""
    table = slots(days) if isinstance(days, int) else days
    cookings, eatings = [], []
    for r, dish in enumerate(dishes):
        for s in range(len(table)):
            cookings.append(Cooking(r, s, 10, tuple(Need(i, s, g * 1000) for i, g in sorted(dish.items()))))
            eatings.append(Eating(len(cookings) - 1, s, (0,), (likings or [0] * len(dishes))[r]))
    return Problem(
        slots=table,
        items=tuple(f"item {i}" for i in range(1 + max((i for d in dishes for i in d), default=0))),
        sources=tuple(sources),
        recipes=tuple(Recipe(f"dish {r}", ()) for r in range(len(dishes))),
        cookings=tuple(cookings),
        eatings=tuple(eatings),
        limits=tuple(limits),
        **more,
    )


def eaten(result, prob):
    """Recipe names by slot."""
    return {
        prob.eatings[e].slot: prob.recipes[prob.cookings[prob.eatings[e].cooking].recipe].name
        for e in result.solution.choice.eatings
    }


__all__ = ["MISS", "Term", "eaten", "offer", "problem", "slots", "stock"]
