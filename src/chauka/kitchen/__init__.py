"""The nouns: frozen, checked, pure. Engines meet only through these."""

from chauka.kitchen.book import Book, sittings
from chauka.kitchen.dish import After, Dish, Kept, Line, Step, Substitute
from chauka.kitchen.forms import Attention, Course, Form, Heat, Meal, Place, Served, Technique, Vessel
from chauka.kitchen.house import (
    Condition,
    DayRule,
    House,
    MealTime,
    Measures,
    Person,
    RuleKind,
    Sex,
    Sitting,
    VesselStock,
    Weights,
)
from chauka.kitchen.plan import Batch, Clash, Draw, LeftOver, Proof, Purchase, Serving, Shortfall, TablePlan
from chauka.kitchen.stock import Deed, LedgerRow, Lot, Offer, PriceSeen

__all__ = [
    "After", "Attention", "Batch", "Book", "Clash", "Condition", "Course", "DayRule", "Deed", "Dish", "Draw", "Form",
    "Heat", "House", "Kept", "LedgerRow", "LeftOver", "Line", "Lot", "Meal", "MealTime", "Measures", "Offer", "Person",
    "Place", "PriceSeen", "Proof", "Purchase", "RuleKind", "Served", "Serving", "Sex", "Shortfall", "Sitting", "Step",
    "Substitute", "TablePlan", "Technique", "Vessel", "VesselStock", "Weights", "sittings",
]  # fmt: skip
