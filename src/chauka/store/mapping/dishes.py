"""Dishes with their lines and steps ↔ rows of five tables."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Any

from chauka.kitchen import (
    After,
    Attention,
    Course,
    Dish,
    Form,
    Heat,
    Kept,
    Line,
    Served,
    Step,
    Substitute,
    Technique,
    Vessel,
)
from chauka.store import codec, models
from chauka.units import Estimate, Span


@dataclass(slots=True)
class DishRows:
    """Rows of all five tables, in the order in which they must be written."""

    dishes: list[models.Dish] = field(default_factory=list)
    lines: list[models.DishLine] = field(default_factory=list)
    substitutes: list[models.Substitute] = field(default_factory=list)
    steps: list[models.DishStep] = field(default_factory=list)
    after: list[models.StepAfter] = field(default_factory=list)

    def add(self, household: models.Household, dish: Dish, position: int) -> None:
        """Add the rows of one dish."""
        row = _dish_row(household, dish, position)
        self.dishes.append(row)
        for place, line in enumerate(dish.lines):
            line_row = _line_row(household, row, line, place)
            self.lines.append(line_row)
            self.substitutes += [
                models.Substitute(
                    household=household, position=i, line=line_row, food=s.food, ratio=s.ratio, note=s.note
                )
                for i, s in enumerate(line.substitutes)
            ]
        for place, step in enumerate(dish.steps):
            step_row = _step_row(household, row, step, place)
            self.steps.append(step_row)
            self.after += [
                models.StepAfter(
                    household=household,
                    position=i,
                    step=step_row,
                    after=a.step,
                    min_lag_min=a.min_lag_min,
                    max_lag_min=a.max_lag_min,
                )
                for i, a in enumerate(step.after)
            ]

    def write(self) -> None:
        """Insert everything, parents first; the caller holds the transaction."""
        models.Dish.objects.bulk_create(self.dishes)
        models.DishLine.objects.bulk_create(self.lines)
        models.Substitute.objects.bulk_create(self.substitutes)
        models.DishStep.objects.bulk_create(self.steps)
        models.StepAfter.objects.bulk_create(self.after)


def dishes_of(household: models.Household) -> tuple[Dish, ...]:
    """All dishes of the household, by five queries whatever their number."""
    substitutes = _by(models.Substitute.objects.of(household), "line_id")
    lines = _by(models.DishLine.objects.of(household), "dish_id")
    after = _by(models.StepAfter.objects.of(household), "step_id")
    steps = _by(models.DishStep.objects.of(household), "dish_id")
    return tuple(
        _dish(
            row,
            tuple(_line(line, substitutes[line.pk]) for line in lines[row.pk]),
            tuple(_step(step, after[step.pk]) for step in steps[row.pk]),
        )
        for row in models.Dish.objects.of(household)
    )


def _by(rows: Iterable[Any], owner: str) -> defaultdict[int, list[Any]]:
    groups: defaultdict[int, list[Any]] = defaultdict(list)
    for row in rows:
        groups[getattr(row, owner)].append(row)
    return groups


def _dish_row(household: models.Household, dish: Dish, position: int) -> models.Dish:
    return models.Dish(
        household=household,
        position=position,
        key=dish.id,
        name=dish.name,
        course=dish.course.value,
        base=dish.base,
        portions=dish.portions,
        names=dict(dish.names),
        yield_g_mean=dish.yield_g.mean if dish.yield_g else None,
        yield_g_sd=dish.yield_g.sd if dish.yield_g else None,
        kept=codec.to_plain(dish.kept),
        served=dish.served.value,
        hold_min=dish.hold_min,
        chilli=dish.chilli,
        batch=dish.batch,
        story=dish.story,
        cautions=list(dish.cautions),
        tags=sorted(dish.tags),
    )


def _dish(row: models.Dish, lines: tuple[Line, ...], steps: tuple[Step, ...]) -> Dish:
    return Dish(
        id=row.key,
        name=row.name,
        course=Course(row.course),
        base=row.base,
        portions=row.portions,
        lines=lines,
        steps=steps,
        names=MappingProxyType(row.names),
        yield_g=None if row.yield_g_mean is None else Estimate(row.yield_g_mean, row.yield_g_sd or 0.0),
        kept=codec.from_plain(Kept, row.kept, f"dish {row.key}.kept") if row.kept is not None else None,
        served=Served(row.served),
        hold_min=row.hold_min,
        chilli=row.chilli,
        batch=row.batch,
        story=row.story,
        cautions=tuple(row.cautions),
        tags=frozenset(row.tags),
    )


def _line_row(household: models.Household, dish: models.Dish, line: Line, position: int) -> models.DishLine:
    return models.DishLine(
        household=household,
        position=position,
        dish=dish,
        key=line.id,
        food=line.food,
        said=line.said,
        amount=line.amount,
        grams_mean=line.grams.mean,
        grams_sd=line.grams.sd,
        form=line.form.value,
        part=line.part,
        prep=line.prep,
        optional=line.optional,
        to_taste=line.to_taste,
        eaten_share=line.eaten_share,
        made=line.made,
    )


def _line(row: models.DishLine, substitutes: Sequence[models.Substitute]) -> Line:
    return Line(
        id=row.key,
        food=row.food,
        said=row.said,
        amount=row.amount,
        grams=Estimate(row.grams_mean, row.grams_sd),
        form=Form(row.form),
        part=row.part,
        prep=row.prep,
        optional=row.optional,
        to_taste=row.to_taste,
        eaten_share=row.eaten_share,
        substitutes=tuple(Substitute(food=s.food, ratio=s.ratio, note=s.note) for s in substitutes),
        made=row.made,
    )


def _step_row(household: models.Household, dish: models.Dish, step: Step, position: int) -> models.DishStep:
    return models.DishStep(
        household=household,
        position=position,
        dish=dish,
        key=step.id,
        text=step.text,
        technique=step.technique.value,
        minutes_low=step.minutes.low,
        minutes_high=step.minutes.high,
        attention=step.attention.value,
        vessel=step.vessel.value if step.vessel else None,
        heat=step.heat.value,
        lines=list(step.lines),
        ahead=step.ahead,
        until=step.until,
        whistles=step.whistles,
    )


def _step(row: models.DishStep, after: Sequence[models.StepAfter]) -> Step:
    return Step(
        id=row.key,
        text=row.text,
        technique=Technique(row.technique),
        minutes=Span(row.minutes_low, row.minutes_high),
        attention=Attention(row.attention),
        vessel=Vessel(row.vessel) if row.vessel else None,
        heat=Heat(row.heat),
        after=tuple(After(step=a.after, min_lag_min=a.min_lag_min, max_lag_min=a.max_lag_min) for a in after),
        lines=tuple(row.lines),
        ahead=row.ahead,
        until=row.until,
        whistles=row.whistles,
    )
