"""Nouns ↔ plain JSON values, as the kitchen writes them (`chauka.kitchen.plain`)."""

from chauka.kitchen.plain import NO_BOUND, from_plain, to_plain, to_text

__all__ = ["NO_BOUND", "from_plain", "to_plain", "to_text"]
