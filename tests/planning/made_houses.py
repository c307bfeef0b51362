"""Small planning problems made by chance, for laws that must hold on all of them."""

from dataclasses import replace

from hypothesis import strategies as st

from chauka.planning.problem import (
    Among,
    Cooking,
    Eating,
    Limit,
    Load,
    Need,
    Place,
    Problem,
    Recipe,
    Slot,
    Source,
    Target,
    Term,
    Wish,
)  # fmt: skip
from chauka.planning.rules import base_once_a_day, once_in_days, with_most_packs

small = st.integers


@st.composite
def problems(draw, max_slots=4, max_recipes=4):
    """A house of a few sittings, items, sources and recipes, with any of the rules."""
    n_slots, n_items, n_recipes = draw(small(1, max_slots)), draw(small(1, 3)), draw(small(1, max_recipes))
    places = (Place("dish", 20_000), Place("side", 300, Term.LIKING))
    slots = tuple(
        Slot(f"s{s}", s // 2, draw(small(10, 40)), draw(small(50, 400)), places, draw(st.sampled_from([(0,), (0, 1)])))
        for s in range(n_slots)
    )
    sources = tuple(draw(_sources(n_items, n_slots)) for _ in range(draw(small(1, 6))))
    recipes = tuple(
        Recipe(f"r{r}", (draw(small(0, 30_000)), draw(small(0, 900))), draw(small(1, 3)), ahead=draw(st.booleans()))
        for r in range(n_recipes)
    )
    cookings, eatings = [], []
    for r in range(n_recipes):
        place = (draw(small(0, 1)),) if draw(small(0, 4)) else (0, 1)
        mg = {i: draw(small(0, 150_000)) for i in range(n_items)}
        for s in range(n_slots):
            if not draw(small(0, 5)):
                continue
            at = draw(small(max(0, s - 1), s))
            cookings.append(
                Cooking(r, s, draw(small(0, 30)), tuple(Need(i, at, m) for i, m in mg.items() if m), draw(small(0, 5)))
            )
            liking, last = draw(small(0, 900)), min(n_slots, s + draw(small(1, 3)))
            eatings.append(Eating(len(cookings) - 1, s, place, liking))
            eatings.extend(
                Eating(len(cookings) - 1, t, place, liking + 100, draw(small(0, 4)), draw(small(0, 4)))
                for t in range(s + 1, last)
            )
    if draw(st.booleans()):
        cookings.append(Cooking(0, -1, 0, (), ready=draw(small(60, 800)), worth=draw(small(0, 900))))
        eatings.extend(Eating(len(cookings) - 1, s, (1,), draw(small(0, 500)), 1) for s in range(n_slots))
    problem = Problem(
        slots=slots,
        items=tuple(f"i{i}" for i in range(n_items)),
        sources=sources,
        recipes=recipes,
        cookings=tuple(cookings),
        eatings=tuple(eatings),
        nutrients=("iron", "sodium"),
        eaters=("a", "b"),
        targets=tuple(Target(draw(small(0, 1)), n, draw(small(1_000, 60_000)), 100, n == 0, 60) for n in (0, 1)),
        among=(Among("greens", 2, tuple((c,) for c in range(min(3, len(cookings)))), 3000),),
        loads=tuple(
            Load("burner", s, 40, tuple((c, 25) for c, k in enumerate(cookings) if k.slot == s)) for s in range(n_slots)
        ),
        wishes=(Wish(0, (0,), 1500),) if draw(st.booleans()) else (),
        budget=draw(st.one_of(st.none(), small(0, 6000))),
        minute_cost=draw(small(0, 100)),
    )
    limits: list[Limit] = []
    if draw(st.booleans()):
        limits += once_in_days(slots, cookings, days=2, exempt=frozenset())
    limits += base_once_a_day(slots, cookings, eatings, {r: f"base {r % 2}" for r in range(n_recipes)}, 900)
    return with_most_packs(replace(problem, limits=tuple(limits)))


@st.composite
def _sources(draw, n_items, n_slots):
    items = tuple(sorted(draw(st.sets(small(0, n_items - 1), min_size=1, max_size=2))))
    first, life = draw(small(0, n_slots)), draw(small(0, 6))
    mg, price = draw(small(20, 900)) * 1000, draw(small(0, 3000))
    stock, last = draw(st.booleans()), first + life
    worth = draw(small(0, 3000)) if stock else price
    carry = draw(small(0, worth)) * 9 // 10 if last >= n_slots else 0
    return Source("any", items, 0 if stock else first, last, mg, 0 if stock else price, worth, carry, 1, stock)
