"""Dishes and what they give."""

from __future__ import annotations

from ninja import Schema

from chauka.kitchen import Attention, Course, Form, Heat, Technique, Vessel
from chauka.services.dishes import DishLineView, DishView
from chauka.services.nutrients import DishNutrientsView


class DishBrief(Schema):
    """One dish of the dish book."""

    id: str
    name: str
    course: Course
    base: str
    portions: float
    liked_by: list[str]

    @classmethod
    def of(cls, seen: DishLineView) -> DishBrief:
        """From the service's view."""
        dish = seen.dish
        return cls(
            id=dish.id,
            name=dish.name,
            course=dish.course,
            base=seen.base,
            portions=dish.portions,
            liked_by=list(seen.liked_by),
        )


class Line(Schema):
    """One ingredient line; `grams` ± `sd` of edible portion."""

    id: str
    food: str
    name: str
    said: str
    amount: str
    grams: float
    sd: float
    form: Form
    prep: str
    optional: bool
    to_taste: bool


class Step(Schema):
    """One step; minutes from `low` to `high`, `lines` by their ids."""

    id: str
    text: str
    technique: Technique
    low_min: float
    high_min: float
    attention: Attention
    vessel: Vessel | None
    heat: Heat
    lines: list[str]
    ahead: bool
    until: str


class Dish(Schema):
    """One dish with its lines, steps, allergens (and the foods that bring them) and cautions."""

    id: str
    name: str
    names: dict[str, str]
    course: Course
    portions: float
    story: str
    lines: list[Line]
    steps: list[Step]
    allergens: dict[str, list[str]]
    keeps_days: float
    keeps_because: str
    cautions: list[str]

    @classmethod
    def of(cls, seen: DishView) -> Dish:
        """From the service's view."""
        dish = seen.dish
        return cls(
            id=dish.id,
            name=dish.name,
            names=dict(dish.names),
            course=dish.course,
            portions=dish.portions,
            story=dish.story,
            lines=[
                Line(
                    id=line.id,
                    food=line.food,
                    name=seen.foods[line.food],
                    said=line.said,
                    amount=line.amount,
                    grams=line.grams.mean,
                    sd=line.grams.sd,
                    form=line.form,
                    prep=line.prep,
                    optional=line.optional,
                    to_taste=line.to_taste,
                )
                for line in dish.lines
            ],
            steps=[
                Step(
                    id=step.id,
                    text=step.text,
                    technique=step.technique,
                    low_min=step.minutes.low,
                    high_min=step.minutes.high,
                    attention=step.attention,
                    vessel=step.vessel,
                    heat=step.heat,
                    lines=list(step.lines),
                    ahead=step.ahead,
                    until=step.until,
                )
                for step in dish.steps
            ],
            allergens={allergen: list(codes) for allergen, codes in seen.allergens.items()},
            keeps_days=seen.life.plan_days,
            keeps_because=seen.life.reason,
            cautions=[*dish.cautions, *(caution.text for caution in seen.cautions)],
        )


class LineRead(Schema):
    """One line as written, what it was read as, and what is unclear about it."""

    text: str
    read_as: str
    unclear: str


class StepRead(Schema):
    """One step as it was heard; send it back with what is unclear put right."""

    text: str
    minutes: str
    technique: str
    attention: str
    vessel: str
    heat: str
    lines: str
    ahead: bool
    until: str
    unclear: str


class DishRead(Schema):
    """A text read as a dish: nothing of it is in the book yet. `questions` are what an editor would ask."""

    name: str
    course: str
    portions: str
    lines: list[LineRead]
    steps: list[StepRead]
    questions: list[str]
    unclear: bool


class NutrientLine(Schema):
    """One nutrient of a portion; `at_least` where the content of some foods is not known."""

    tag: str
    name: str
    unit: str
    mean: float
    sd: float
    at_least: bool


class Nutrients(Schema):
    """What a portion of a dish weighs and gives."""

    dish: str
    name: str
    portion_g: float
    how: str
    nutrients: list[NutrientLine]
    notes: list[str]

    @classmethod
    def of(cls, seen: DishNutrientsView) -> Nutrients:
        """From the service's view."""
        return cls(
            dish=seen.dish,
            name=seen.name,
            portion_g=seen.portion_g,
            how=seen.how,
            nutrients=[
                NutrientLine(
                    tag=line.tag,
                    name=line.name,
                    unit=line.unit,
                    mean=line.amount.mean,
                    sd=line.amount.sd,
                    at_least=line.amount.at_least,
                )
                for line in seen.nutrients
            ],
            notes=list(seen.notes),
        )
