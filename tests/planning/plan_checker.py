"""An independent checker of table plans: kitchen nouns and facts only, no code of the planner."""

from collections import defaultdict
from datetime import datetime, time, timedelta
from itertools import pairwise

from chauka.kitchen import Course, Form, RuleKind

SLACK_G = 1.0


def plan_faults(plan, book, facts):
    """Everything that is wrong with a plan, in words."""
    return [
        *_allergies_and_rules(plan, book, facts),
        *_batches(plan, book, facts),
        *_minutes(plan, book),
        *_repetition(plan, book),
        *_sources(plan, book, facts),
        *_recipes(plan, book, facts),
        *_money(plan, book),
        *_intakes(plan, book, facts),
        *_terms(plan),
    ]


def _moment(plan, day, meal):
    return next(datetime.combine(s.day, s.serve) for s in plan.sittings if (s.day, s.meal) == (day, meal))


def _allergies_and_rules(plan, book, facts):
    out = []
    for sitting in plan.sittings:
        people = [book.house.person(p) for p in sitting.eaters]
        for serving in plan.at(sitting.day, sitting.meal):
            dish = book.dish(serving.dish)
            for person in people:
                out += [f"{person.name} is given {a}" for a in person.allergies & facts.allergens(dish)]
            traits = {t for line in dish.lines if not line.optional for t in facts.traits(line.food)}
            if RuleKind.NO_ONION_GARLIC in sitting.rules and "onion_garlic" in traits:
                out.append(f"{dish.id} on a day without onion")
            if RuleKind.FAST in sitting.rules and traits & {"grain", "pulse"}:
                out.append(f"{dish.id} on a fast day")
    return out


def _batches(plan, book, facts):
    out, eaten = [], defaultdict(float)
    for s in plan.servings:
        if s.batch is None:
            continue
        batch = plan.batch(s.batch)
        eaten[s.batch] += s.portions
        age = _moment(plan, s.day, s.meal) - _moment(plan, batch.day, batch.meal)
        if age < timedelta(0) or age > timedelta(days=facts.dish_life_days(book.dish(s.dish))):
            out.append(f"{s.dish} is eaten {age} after it was cooked")
    out += [
        f"{b.id} makes {b.portions}, {eaten[b.id]} are eaten"
        for b in plan.batches
        if abs(b.portions - eaten[b.id]) > 1e-6
    ]
    return out


def _minutes(plan, book):
    """The least that the work can be: half of the dish's hands-on minutes for any number of portions."""
    out = []
    for sitting in plan.sittings:
        here = [b for b in plan.batches if (b.day, b.meal) == (sitting.day, sitting.meal)]
        least = sum(
            book.dish(b.dish).hands_on_min * (0.5 + 0.5 * b.portions / 2 / book.dish(b.dish).portions) for b in here
        )
        if least > sitting.hands_on_min + 1e-6:
            out.append(f"{sitting.key} takes at least {least:.0f} minutes")
    return out


def _repetition(plan, book):
    out, days = [], defaultdict(list)
    for b in plan.batches:
        if book.dish(b.dish).course not in (Course.GRAIN, Course.DRINK) and "everyday" not in book.dish(b.dish).tags:
            days[b.dish].append(b.day)
    for name, on in days.items():
        on.sort()
        out += [f"{name} on {a} and {b}" for a, b in pairwise(on) if (b - a).days < 5]
    return out


def _sources(plan, book, facts):
    """Grams in, grams drawn, grams left; nothing before it is there or after its life."""
    out, holds, span = [], {}, {}
    for x in book.lots:
        if x.food:
            edible = facts.edible_fraction(x.food) if x.form is Form.WHOLE else 1.0
            holds[x.id], span[x.id] = x.grams * edible, (x.since, facts.lot_use_by(x))
    for p in plan.purchases:
        holds[p.id] = p.edible_g
        arrives = datetime.combine(p.day, time(10))
        forms = {line.form for d in book.dishes for line in d.lines if line.food == p.food}
        form = Form.DRY if Form.DRY in forms else Form.WHOLE
        span[p.id] = (arrives, arrives + timedelta(days=facts.bought_life_days(p.food, form)))
        if p.packs < 1:
            out.append(f"{p.id} is {p.packs} packs")
    drawn = defaultdict(float)
    for d in plan.draws:
        drawn[d.source] += d.grams
        batch = plan.batch(d.batch)
        at = _moment(plan, batch.day, batch.meal)
        if at > span[d.source][1] or at < span[d.source][0]:
            out.append(f"{d.source} is used at {at}, it is good from {span[d.source][0]} to {span[d.source][1]}")
    left = defaultdict(float)
    for x in plan.left_over:
        left[x.source] += x.grams
    for name, grams in holds.items():
        named = name in drawn or name in left or name.startswith("p")
        if named and abs(grams - drawn[name] - left[name]) > SLACK_G:
            out.append(f"{name} holds {grams:.0f} g, {drawn[name]:.0f} g are used and {left[name]:.0f} g are left")
    return out


def _recipes(plan, book, facts):
    """Each batch gets what its lines take for its portions."""
    out, got = [], defaultdict(float)
    for d in plan.draws:
        got[d.batch, d.food] += d.grams
    for b in plan.batches:
        dish, wanted = book.dish(b.dish), defaultdict(float)
        for line in dish.lines:
            if line.food != "K505" and not line.optional and not line.substitutes and line.form in _PLAIN_FORMS:
                wanted[line.food] += line.grams.mean * b.portions / dish.portions
        for food, grams in wanted.items():
            if abs(got[b.id, food] - grams) > SLACK_G + 0.01 * grams:
                out.append(f"{b.id} ({b.dish}) takes {got[b.id, food]:.0f} g of {food}, its lines say {grams:.0f} g")
    return out


_PLAIN_FORMS = {f for f in Form if f not in {Form.SOAKED, Form.SPROUTED, Form.BOILED, Form.COOKED}}


def _money(plan, book):
    out = []
    offers = {(o.food, o.pack): o for o in book.offers}
    for p in plan.purchases:
        offer = offers[p.food, p.pack]
        if p.cost != offer.price * p.packs:
            out.append(f"{p.id} costs {p.cost}")
        if p.day.weekday() not in (offer.weekdays or book.house.market_weekdays):
            out.append(f"{p.id} is bought on {p.day:%A}")
    budget = book.house.weekly_budget
    if budget is not None and plan.cost > budget * plan.days // 7:
        out.append(f"the plan costs {plan.cost}")
    return out


def _intakes(plan, book, facts):
    out = []
    for s in plan.shortfalls:
        person = book.house.person(s.person)
        goal = next(g for g in facts.goals(person, plan.start) if g.tag == s.tag)
        here = [x for x in plan.sittings if s.person in x.eaters]
        got = 0.0
        for sitting in here:
            people = sum(facts.portion_factor(book.house.person(p)) for p in sitting.eaters) + sitting.guests
            for x in plan.at(sitting.day, sitting.meal):
                mine = x.portions / people * facts.portion_factor(person)
                got += mine * facts.nutrients(book.dish(x.dish)).get(s.tag, 0.0)
        always = not any(r.kind is RuleKind.AWAY for r in book.house.rules)
        if always and abs(got / (goal.amount * plan.days) - s.share) > 0.02 * max(1, s.share):
            out.append(f"{s.person} gets {got / goal.amount / plan.days:.3f} of {s.tag}, stated {s.share:.3f}")
    return out


def _terms(plan):
    total = sum(plan.proof.terms.values())
    return [] if abs(total - plan.proof.value) < 1 else [f"terms come to {total}, value is {plan.proof.value}"]
