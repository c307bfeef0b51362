"""An independent checker of answers to a planning problem: shares the nouns with the model, and no code.

It walks the choices once, finds by a maximum flow of its own whether the food can have come from where
the answer says, and adds up every term again.
"""

from collections import defaultdict

from chauka.planning.problem import Term

CRUMB_MG = 2.0


def faults(problem, solution):
    """Everything that is wrong with a solution, in words; empty when it is valid."""
    out = []
    eatings = [problem.eatings[e] for e in sorted(solution.choice.eatings)]
    out += _positions(problem, solution, eatings)
    out += _cooked(problem, solution, eatings)
    out += _minutes(problem, solution, eatings)
    out += _loads(problem, solution)
    out += _hard_limits(problem, solution)
    out += _budget(problem, solution)
    left, more = _food(problem, solution, eatings)
    out += more
    out += _terms(problem, solution, eatings, left)
    return out


def _positions(problem, solution, eatings):
    filled = defaultdict(int)
    for e in eatings:
        for p in e.places:
            filled[e.slot, p] += 1
    out = [f"position {k} is filled {n} times" for k, n in filled.items() if n > 1]
    everywhere = {(s, p) for s, slot in enumerate(problem.slots) for p in range(len(slot.places))}
    if everywhere - set(filled) != set(solution.empty):
        out.append("the empty positions are not the ones stated")
    return out


def _cooked(problem, solution, eatings):
    out, served = [], defaultdict(list)
    for e in eatings:
        served[e.cooking].append(e.slot)
    for c, slots in served.items():
        cooking = problem.cookings[c]
        recipe = problem.recipes[cooking.recipe]
        if c not in solution.choice.cookings:
            out.append(f"cooking {c} is eaten and not cooked")
        if cooking.ready is None and len(slots) > recipe.most_servings:
            out.append(f"cooking {c} feeds {len(slots)} slots")
        if cooking.ready is not None and sum(problem.slots[s].portions for s in slots) > cooking.ready:
            out.append(f"batch {c} is eaten beyond its portions")
    for c in solution.choice.cookings:
        cooking = problem.cookings[c]
        if cooking.ready is None and not served[c]:
            out.append(f"cooking {c} is cooked for nobody")
        ahead = problem.recipes[cooking.recipe].ahead
        if cooking.ready is None and not ahead and cooking.slot not in served[c]:
            out.append(f"cooking {c} is not eaten where it is cooked")
    return out


def _minutes(problem, solution, eatings):
    used = defaultdict(int)
    for c in solution.choice.cookings:
        used[problem.cookings[c].slot] += problem.cookings[c].minutes
    for e in eatings:
        used[e.slot] += e.minutes
        used[problem.cookings[e.cooking].slot] += e.cook_minutes
    return [f"slot {s} takes {m} minutes" for s, m in used.items() if s >= 0 and m > problem.slots[s].minutes]


def _loads(problem, solution):
    out = []
    for load in problem.loads:
        total = sum(amount for c, amount in load.uses if c in solution.choice.cookings)
        if total > load.at_most:
            out.append(f"{load.name} is taken {total} of {load.at_most}")
    return out


def _count(limit, solution):
    return len(solution.choice.cookings & set(limit.cookings)) + len(solution.choice.eatings & set(limit.eatings))


def _hard_limits(problem, solution):
    return [
        f"{limit.name} is overstepped"
        for limit in problem.limits
        if limit.weight is None and _count(limit, solution) > limit.at_most
    ] + [
        f"wish {w} is locked and not met"
        for w, wish in enumerate(problem.wishes)
        if wish.weight is None and not _met(problem, solution, wish)
    ]


def _met(problem, solution, wish):
    return any(
        problem.eatings[e].slot == wish.slot and problem.cookings[problem.eatings[e].cooking].recipe in wish.recipes
        for e in solution.choice.eatings
    )


def _budget(problem, solution):
    spent = sum(problem.sources[s].price * n for s, n in solution.choice.packs.items())
    return [f"spends {spent}"] if problem.budget is not None and spent > problem.budget else []


def _food(problem, solution, eatings):
    """Whether what was taken from each source meets every need while the source lives (a maximum flow)."""
    left = solution.left_mg
    stock = [
        float(s.pack_mg if s.stock else s.pack_mg * solution.choice.packs.get(k, 0))
        for k, s in enumerate(problem.sources)
    ]
    needs = defaultdict(float)
    for e in eatings:
        for need in problem.cookings[e.cooking].needs:
            needs[need.item, need.slot] += need.mg * problem.slots[e.slot].portions / 100
    taken = [has - stays for has, stays in zip(stock, left, strict=True)]
    out = [
        f"{problem.sources[k].name} gives {t:.0f} mg of {stock[k]:.0f}"
        for k, t in enumerate(taken)
        if t < -CRUMB_MG or t > stock[k] + CRUMB_MG
    ]
    if abs(sum(taken) - sum(needs.values())) > CRUMB_MG * (1 + len(needs)):
        out.append(f"{sum(taken):.0f} mg leave the sources and {sum(needs.values()):.0f} mg are needed")
    short = sum(needs.values()) - _most_flow(problem, taken, dict(needs))
    if short > CRUMB_MG * (1 + len(needs)):
        out.append(f"{short:.0f} mg are taken from a source that was dead or not yet there")
    return left, out


def _most_flow(problem, taken, needs):  # noqa: C901  (one textbook algorithm in one place)
    """The most that sources can give to needs: paths source → need → source → … one after the other."""
    free, open_needs, flow = list(taken), dict(needs), defaultdict(float)

    def alive(s, key):
        source = problem.sources[s]
        return key[0] in source.items and source.first <= key[1] <= source.last

    total = 0.0
    while True:
        parent = {("s", s): None for s in range(len(free)) if free[s] > 1e-3}
        queue, end = list(parent), None
        for node in queue:
            if node[0] == "s":
                steps = [("n", key) for key in needs if alive(node[1], key)]
            else:
                if open_needs[node[1]] > 1e-3:
                    end = node
                    break
                steps = [("s", s) for s in range(len(free)) if flow[s, node[1]] > 1e-3]
            for step in steps:
                if step not in parent:
                    parent[step] = node
                    queue.append(step)
        if end is None:
            return total
        path = [end]
        while parent[path[-1]] is not None:
            path.append(parent[path[-1]])
        path.reverse()
        back = [flow[path[k + 1][1], path[k][1]] for k in range(1, len(path) - 1, 2)]
        push = min([free[path[0][1]], open_needs[end[1]], *back])
        for k in range(0, len(path) - 1, 2):
            flow[path[k][1], path[k + 1][1]] += push
        for k in range(1, len(path) - 1, 2):
            flow[path[k + 1][1], path[k][1]] -= push
        free[path[0][1]] -= push
        open_needs[end[1]] -= push
        total += push


def _terms(problem, solution, eatings, left):  # noqa: C901, PLR0912  (every term, one after the other)
    """The terms added up again."""
    terms, out = dict.fromkeys(Term, 0.0), []
    for k, source in enumerate(problem.sources):
        terms[Term.MONEY] += source.price * solution.choice.packs.get(k, 0)
        share = left[k] / source.pack_mg
        if source.last >= len(problem.slots):
            terms[Term.MONEY] += source.carry * ((1 if source.stock else 0) - share)
        else:
            terms[Term.WASTE] += problem.waste_percent / 100 * source.worth * share
    for c, cooking in enumerate(problem.cookings):
        if cooking.ready:
            eaten = sum(problem.slots[e.slot].portions for e in eatings if e.cooking == c)
            terms[Term.WASTE] += problem.waste_percent / 100 * cooking.worth * (1 - eaten / cooking.ready)
    for c in solution.choice.cookings:
        cooking = problem.cookings[c]
        terms[Term.MINUTES] += problem.minute_cost * (cooking.minutes + cooking.before_minutes)
    for e in eatings:
        terms[Term.LIKING] += e.liking
        terms[Term.MINUTES] += problem.minute_cost * (e.minutes + e.cook_minutes)
    for s, p in solution.empty:
        place = problem.slots[s].places[p]
        terms[place.term] += place.empty
    for limit in problem.limits:
        if limit.weight is not None:
            terms[Term.REPETITION] += limit.weight * max(0, _count(limit, solution) - limit.at_most)
    for among in problem.among:
        touched = sum(bool(set(g) & solution.choice.cookings) for g in among.groups)
        terms[Term.REPETITION] += among.weight * max(0, among.at_least - touched)
    for wish in problem.wishes:
        if wish.weight is not None and not _met(problem, solution, wish):
            terms[Term.CHANGE] += wish.weight
    for t, target in enumerate(problem.targets):
        got = sum(
            problem.recipes[problem.cookings[e.cooking].recipe].nutrients[target.nutrient] * target.portion / 100
            for e in eatings
            if target.eater in problem.slots[e.slot].eaters
        )
        share = got / target.amount
        if abs(share - solution.shares[t]) > 1e-6 * max(1, share):
            out.append(f"target {t} is stated at {solution.shares[t]:.4f} and comes to {share:.4f}")
        off = 1 - share if target.floor else share - 1
        terms[Term.SHORTFALL if target.floor else Term.EXCESS] += target.weight * 100 * max(0.0, off)
    for term, amount in terms.items():
        if abs(amount - solution.terms[term]) > 1 + 1e-6 * abs(amount):
            out.append(f"{term} is stated at {solution.terms[term]:.1f} and comes to {amount:.1f}")
    if abs(sum(solution.terms.values()) - solution.value) > 1:
        out.append("the terms do not add up to the value")
    return out
