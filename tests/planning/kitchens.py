"""A house small enough to plan by hand, and facts that need no tables."""

from datetime import date, datetime, time, timedelta

from chauka.kitchen import (
    Attention,
    Book,
    Course,
    Dish,
    Form,
    Heat,
    House,
    Line,
    Lot,
    Meal,
    MealTime,
    Offer,
    Person,
    Place,
    Sex,
    Step,
    Technique,
    Vessel,
    VesselStock,
)  # fmt: skip
from chauka.planning.facts import Goal
from chauka.units import Estimate, Span

SUNDAY = date(2027, 3, 14)
ANNA = Person("anna", "Anna", Sex.FEMALE, date(1990, 1, 1), 60)
BEN = Person("ben", "Ben", Sex.MALE, date(2018, 1, 1), 25, allergies=frozenset({"peanuts"}), chilli=0)


class PlainFacts:
    """Facts by rule: grains are G…, pulses P…, leaves L…, onions O…, nuts N…; everything keeps three days but grain."""

    def portion_factor(self, person):
        return 0.5 if person.id == "ben" else 1.0

    def goals(self, person, on):
        return (Goal("PROCNT", 30.0, True), Goal("NA", 2000.0, False))

    def nutrients(self, dish):
        return {"PROCNT": 12.0, "NA": 500.0}

    def portion_g(self, dish):
        return sum(line.grams.mean for line in dish.lines) / dish.portions

    def allergens(self, dish):
        return frozenset({"peanuts"}) if any(f.startswith("N") for f in dish.foods) else frozenset()

    def traits(self, food):
        kinds = {"G": "grain", "P": "pulse", "L": "leafy_green", "O": "onion_garlic"}
        return frozenset({kinds[food[0]]}) if food[0] in kinds else frozenset()

    def food_name(self, food):
        return food

    def edible_fraction(self, food):
        return 0.8 if food.startswith("L") else 1.0

    def bought_life_days(self, food, form):
        return 200.0 if form is Form.DRY else 3.0

    def lot_use_by(self, lot):
        return lot.since + timedelta(days=200 if lot.form is Form.DRY else 3)

    def dish_life_days(self, dish):
        return 2.0

    def is_plain_food(self, food):
        return not food.startswith("S")

    def is_hot(self, food):
        return food.startswith("H")

    def season_points(self, food, month):
        return 0.0


def dish(name, course, lines, *, minutes=10, ahead_hours=0, batch=False, vessel=Vessel.POT, chilli=0):
    """A dish of four portions; `lines` maps food → grams."""
    steps = []
    if ahead_hours:
        soak = Span(60 * ahead_hours, 60 * ahead_hours)
        steps.append(Step("soak", "Soak.", Technique.SOAK, soak, Attention.HANDS_OFF, ahead=True, lines=("l0",)))
    steps.append(Step("cook", "Cook.", Technique.BOIL, Span(minutes, minutes), Attention.HANDS_ON, vessel, Heat.MEDIUM))
    forms = {"G": Form.DRY, "P": Form.DRY}
    return Dish(
        name,
        name.title(),
        course,
        next(iter(lines)),
        4,
        tuple(
            Line(f"l{k}", food, food, "", Estimate(g), forms.get(food[0], Form.WASHED))
            for k, (food, g) in enumerate(lines.items())
        ),
        tuple(steps),
        batch=batch,
        chilli=chilli,
    )


RICE = dish("rice", Course.GRAIN, {"G1": 300}, minutes=5)
DAL = dish("dal", Course.PULSE, {"P1": 200, "O1": 50}, minutes=12)
PLAIN_DAL = dish("plain-dal", Course.PULSE, {"P2": 200}, minutes=12)
BEANS = dish("beans", Course.PULSE, {"P3": 200}, minutes=12, ahead_hours=10)
GREENS = dish("greens", Course.VEGETABLE, {"L1": 400})
GOURD = dish("gourd", Course.VEGETABLE, {"V1": 400})
PORRIDGE = dish("porridge", Course.BREAKFAST, {"G2": 200})
PANCAKE = dish("pancake", Course.BREAKFAST, {"G2": 220, "P2": 40}, minutes=15)
NUT_RELISH = dish("nut-relish", Course.SIDE, {"N1": 80}, batch=True)

DISHES = (RICE, DAL, PLAIN_DAL, BEANS, GREENS, GOURD, PORRIDGE, PANCAKE, NUT_RELISH)


def house(**changes):
    """Two people, two burners, market on Sunday and Wednesday, an hour for each meal."""
    settings = {
        "name": "Small house",
        "people": (ANNA, BEN),
        "burners": 2,
        "vessels": (VesselStock(Vessel.POT, 3),),
        "meal_times": tuple(
            MealTime(meal, weekday, time(hour), 60)
            for weekday in range(7)
            for meal, hour in ((Meal.BREAKFAST, 8), (Meal.LUNCH, 13), (Meal.DINNER, 20))
        ),
        "market_weekdays": (2, 6),
    }
    return House(**{**settings, **changes})


def book(dishes=DISHES, *, offers=None, lots=(), **changes):
    """Everything is on sale unless `offers` says otherwise."""
    foods = sorted({f for d in dishes for f in d.foods})
    on_sale = offers if offers is not None else tuple(Offer(f, "500 g", 500, 3000, "stall") for f in foods)
    return Book(house(**changes), tuple(dishes), tuple(on_sale), tuple(lots))


def lot(name, food, grams, *, form=Form.WHOLE, place=Place.FRIDGE, days=1.0, cost=1000):
    """A lot that came in some days before the first morning."""
    return Lot(name, grams, form, place, datetime.combine(SUNDAY, time(7)) - timedelta(days=days), food=food, cost=cost)
