"""Every choice of a tiny problem, tried one by one: what the search is held against."""

from itertools import chain, combinations

from chauka.planning.model import Choice, Model


def size(problem):
    """How many choices there are of eatings and packs."""
    count = 2 ** len(problem.eatings)
    for source in problem.sources:
        count *= 1 if source.stock else source.most + 1
    return count


def solutions(problem):
    """Every choice that breaks no rule, with its best flows."""
    model, ready = Model(problem), {c for c, k in enumerate(problem.cookings) if k.ready is not None}
    eatings = range(len(problem.eatings))
    for chosen in chain.from_iterable(combinations(eatings, k) for k in range(len(eatings) + 1)):
        cooked = frozenset(ready | {problem.eatings[e].cooking for e in chosen})
        for packs in _purchases(problem):
            solution = model.complete(Choice(cooked, frozenset(chosen), packs))
            if solution:
                yield solution


def _purchases(problem):
    out = [{}]
    for s, source in enumerate(problem.sources):
        if not source.stock:
            out = [{**packs, s: n} for packs in out for n in range(source.most + 1)]
    return out
