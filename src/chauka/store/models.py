"""The tables. Every row belongs to one household and is only ever read through it.

No rule of the kitchen stands here: rows are turned into nouns, which check themselves, by `mapping`.
"""

from __future__ import annotations

from typing import Any, ClassVar, NoReturn, Self

from django.db import models


class Household(models.Model):
    """One house; `document` holds what stays the same from week to week, people apart."""

    name = models.TextField(unique=True)
    document = models.JSONField()

    def __str__(self) -> str:
        return self.name


class OwnedRows(models.QuerySet[Any]):
    """Rows that belong to households."""

    def of(self, household: Household) -> Self:
        """Only this household's rows."""
        return self.filter(household=household)


class Owned(models.Model):
    """A row of one household, with its place in the order in which it was written down."""

    household = models.ForeignKey(Household, on_delete=models.CASCADE, related_name="+")
    position = models.PositiveIntegerField(default=0)

    objects: ClassVar[Any] = OwnedRows.as_manager()

    class Meta:
        abstract = True
        ordering = ("position", "pk")


class Person(Owned):
    """Someone who eats here."""

    key = models.TextField()
    name = models.TextField()
    sex = models.CharField(max_length=20)
    born = models.DateField()
    weight_kg = models.FloatField()
    activity = models.FloatField()
    conditions = models.JSONField()
    allergies = models.JSONField()
    aversions = models.JSONField()
    chilli = models.IntegerField()
    liking = models.JSONField()

    class Meta(Owned.Meta):
        constraints = (models.UniqueConstraint(fields=("household", "key"), name="person_key_once"),)


class Dish(Owned):
    """A dish without its lines and steps."""

    key = models.TextField()
    name = models.TextField()
    course = models.CharField(max_length=20)
    base = models.TextField()
    portions = models.FloatField()
    names = models.JSONField()
    yield_g_mean = models.FloatField(null=True)
    yield_g_sd = models.FloatField(null=True)
    kept = models.JSONField(null=True)
    served = models.CharField(max_length=20)
    hold_min = models.IntegerField()
    chilli = models.IntegerField()
    batch = models.BooleanField()
    story = models.TextField()
    cautions = models.JSONField()
    tags = models.JSONField()

    class Meta(Owned.Meta):
        constraints = (models.UniqueConstraint(fields=("household", "key"), name="dish_key_once"),)


class DishLine(Owned):
    """One ingredient line."""

    dish = models.ForeignKey(Dish, on_delete=models.CASCADE, related_name="+")
    key = models.TextField()
    food = models.TextField()
    said = models.TextField()
    amount = models.TextField()
    grams_mean = models.FloatField()
    grams_sd = models.FloatField()
    form = models.CharField(max_length=20)
    part = models.TextField()
    prep = models.TextField()
    optional = models.BooleanField()
    to_taste = models.BooleanField()
    eaten_share = models.FloatField()
    made = models.TextField(null=True)  # the key of the dish that it is taken from; None where it is a food

    class Meta(Owned.Meta):
        constraints = (models.UniqueConstraint(fields=("dish", "key"), name="line_key_once"),)
        indexes = (models.Index(fields=("household", "food"), name="line_by_food"),)


class Substitute(Owned):
    """What may stand in for a line."""

    line = models.ForeignKey(DishLine, on_delete=models.CASCADE, related_name="+")
    food = models.TextField()
    ratio = models.FloatField()
    note = models.TextField()


class DishStep(Owned):
    """One timed step; `lines` are the keys of the lines that go in."""

    dish = models.ForeignKey(Dish, on_delete=models.CASCADE, related_name="+")
    key = models.TextField()
    text = models.TextField()
    technique = models.CharField(max_length=20)
    minutes_low = models.FloatField()
    minutes_high = models.FloatField()
    attention = models.CharField(max_length=20)
    vessel = models.CharField(max_length=40, null=True)  # unknown is None throughout chauka, never ""
    heat = models.CharField(max_length=20)
    lines = models.JSONField()
    ahead = models.BooleanField()
    until = models.TextField()
    whistles = models.IntegerField(null=True)

    class Meta(Owned.Meta):
        constraints = (models.UniqueConstraint(fields=("dish", "key"), name="step_key_once"),)


class StepAfter(Owned):
    """A lag between two steps of one dish; `after` is the key of the earlier one."""

    step = models.ForeignKey(DishStep, on_delete=models.CASCADE, related_name="+")
    after = models.TextField()
    min_lag_min = models.IntegerField()
    max_lag_min = models.IntegerField(null=True)


class Offer(Owned):
    """One pack that a stall sells."""

    food = models.TextField()
    pack = models.TextField()
    grams = models.FloatField()
    price = models.BigIntegerField()
    stall = models.TextField()
    weekdays = models.JSONField()


class Lot(Owned):
    """What is in the house now; an emptied lot stays as `gone`, so that the ledger can point to it."""

    key = models.TextField()
    food = models.TextField(null=True)  # either a food or a dish
    dish = models.TextField(null=True)
    grams = models.FloatField()
    form = models.CharField(max_length=20)
    place = models.CharField(max_length=20)
    since = models.DateTimeField()
    age_days = models.FloatField()
    covered = models.BooleanField()
    cost = models.BigIntegerField(null=True)
    note = models.TextField()
    gone = models.BooleanField(default=False)

    class Meta(Owned.Meta):
        constraints = (models.UniqueConstraint(fields=("household", "key"), name="lot_key_once"),)
        indexes = (models.Index(fields=("household", "gone"), name="lot_here"),)


class AppendOnlyError(TypeError):
    """Something tried to change or delete what has happened."""


class AppendOnlyRows(OwnedRows):
    """Rows that are only ever added; whole households go by cascade."""

    def update(self, **_: Any) -> NoReturn:
        """Refused."""
        raise AppendOnlyError("the ledger only grows: add a row that sets it right instead of changing one")

    def delete(self) -> NoReturn:
        """Refused."""
        raise AppendOnlyError("the ledger only grows: add a row that sets it right instead of deleting one")


class Appended(Owned):
    """A row that is never changed once written."""

    objects: ClassVar[Any] = AppendOnlyRows.as_manager()

    class Meta:
        abstract = True
        ordering = ("pk",)

    def save(self, *args: Any, **kwargs: Any) -> None:
        """Write it the first time; refuse ever after."""
        if not self._state.adding:
            raise AppendOnlyError("the ledger only grows: add a row that sets it right instead of changing one")
        super().save(*args, **kwargs)

    def delete(self, *_: Any, **__: Any) -> NoReturn:
        """Refused."""
        raise AppendOnlyError("the ledger only grows: add a row that sets it right instead of deleting one")


class Action(Appended):
    """One action of a person: one transaction. `task` names what was done.

    `number` counts the household's actions; it survives a dump and a restore, which the key does not.
    """

    number = models.PositiveBigIntegerField()
    at = models.DateTimeField()
    task = models.TextField()
    note = models.TextField()

    class Meta(Appended.Meta):
        constraints = (models.UniqueConstraint(fields=("household", "number"), name="action_number_once"),)
        indexes = (models.Index(fields=("household", "at"), name="action_by_time"),)


class LedgerRow(Appended):
    """One thing that really happened, as part of an action."""

    action = models.ForeignKey(Action, on_delete=models.CASCADE, related_name="+")
    at = models.DateTimeField()
    deed = models.CharField(max_length=20)
    grams = models.FloatField()
    lot = models.TextField(null=True)
    food = models.TextField(null=True)
    dish = models.TextField(null=True)
    cost = models.BigIntegerField(null=True)
    minutes = models.FloatField(null=True)
    why = models.TextField()

    class Meta(Appended.Meta):
        indexes = (
            models.Index(fields=("household", "at"), name="ledger_by_time"),
            models.Index(fields=("household", "lot"), name="ledger_by_lot"),
        )


class Change(Appended):
    """What an action did to one noun: the document before and after; None is "was not there"."""

    action = models.ForeignKey(Action, on_delete=models.CASCADE, related_name="+")
    kind = models.CharField(max_length=20)
    key = models.TextField()
    before = models.JSONField(null=True)
    after = models.JSONField(null=True)

    class Meta(Appended.Meta):
        indexes = (models.Index(fields=("household", "kind", "key"), name="change_by_thing"),)


class PriceSeen(Appended):
    """A price really paid."""

    food = models.TextField()
    on = models.DateField()
    grams = models.FloatField()
    price = models.BigIntegerField()

    class Meta(Appended.Meta):
        indexes = (models.Index(fields=("household", "food", "on"), name="price_by_food"),)


class Plan(Owned):
    """A proposal for the coming days: one document. The one accepted last is what the house follows."""

    number = models.PositiveBigIntegerField()
    made = models.DateTimeField()
    start = models.DateField()
    days = models.PositiveIntegerField()
    accepted = models.DateTimeField(null=True)
    document = models.JSONField()

    class Meta(Owned.Meta):
        constraints = (models.UniqueConstraint(fields=("household", "number"), name="plan_number_once"),)


class Photo(Appended):
    """A picture by the SHA-256 sum of its bytes (a JPEG that chauka wrote); what shows it is a change of an action."""

    digest = models.CharField(max_length=64)
    width = models.PositiveIntegerField()
    height = models.PositiveIntegerField()
    data = models.BinaryField()

    class Meta(Appended.Meta):
        constraints = (models.UniqueConstraint(fields=("household", "digest"), name="photo_once"),)
