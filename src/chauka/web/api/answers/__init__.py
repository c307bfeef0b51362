"""What the API answers, made from what services say. Money is in the smallest coin, weights in grams."""

from chauka.web.api.answers.dishes import (
    Dish,
    DishBrief,
    DishRead,
    Line,
    LineRead,
    NutrientLine,
    Nutrients,
    Step,
    StepRead,
)
from chauka.web.api.answers.house import Action, Health, House, Past, Person, Token, Undone
from chauka.web.api.answers.plan import Bench, Planning, RunSheet, Serving, SheetEntry, Sitting, Table, Work
from chauka.web.api.answers.stock import Added, DayList, Logged, Lot, MarketLists, Purchase, Shelf, Ticked, ToBuy

__all__ = [
    "Action",
    "Added",
    "Bench",
    "DayList",
    "Dish",
    "DishBrief",
    "DishRead",
    "Health",
    "House",
    "Line",
    "LineRead",
    "Logged",
    "Lot",
    "MarketLists",
    "NutrientLine",
    "Nutrients",
    "Past",
    "Person",
    "Planning",
    "Purchase",
    "RunSheet",
    "Serving",
    "SheetEntry",
    "Shelf",
    "Sitting",
    "Step",
    "StepRead",
    "Table",
    "Ticked",
    "ToBuy",
    "Token",
    "Undone",
    "Work",
]
