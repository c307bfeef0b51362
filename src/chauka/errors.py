"""Every error chauka raises on purpose.

    ChaukaError
    ├── InputError    what a person gave cannot be used; complaints by field, all at once
    ├── DataError     a table has no such row, or a table is damaged; names where we looked
    ├── SafetyError   a rule of food safety forbids it; names the rule and its source
    └── SolverError   a solver could not run at all

"No plan fits" is none of these: it is a result with reasons.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence


class ChaukaError(Exception):
    """A complaint in the user's words: what was wrong, where, and what to do."""


class InputError(ChaukaError, ValueError):
    """What a person gave cannot be used.

    `fields` maps the name of each thing at fault to its complaints, so that a form can show all
    of them beside their fields at once.
    """

    def __init__(self, fields: Mapping[str, Sequence[str]] | str) -> None:
        self.fields: dict[str, tuple[str, ...]] = (
            {"": (fields,)} if isinstance(fields, str) else {k: tuple(v) for k, v in fields.items()}
        )
        super().__init__(
            "; ".join(
                f"{field}: {complaint}" if field else complaint
                for field, complaints in self.fields.items()
                for complaint in complaints
            )
        )


class DataError(ChaukaError, LookupError):
    """A table has no such row, or is damaged; the message names the tables looked in."""


class SafetyError(ChaukaError):
    """A rule of food safety forbids it."""

    def __init__(self, message: str, *, rule: str, source: str) -> None:
        self.rule, self.source = rule, source
        super().__init__(f"{message} (rule: {rule}; source: {source})")


class SolverError(ChaukaError, RuntimeError):
    """A solver could not run; not the same as finding that nothing fits."""


class Complaints:
    """Collects complaints by field and raises them together.

    >>> complaints = Complaints("lot")
    >>> complaints.add("grams", "-5 g is below zero; give the weight that is there")
    """

    def __init__(self, thing: str) -> None:
        self.thing = thing
        self._fields: dict[str, list[str]] = {}

    def add(self, field: str, complaint: str) -> None:
        """Remember one complaint about one field."""
        self._fields.setdefault(f"{self.thing}.{field}" if field else self.thing, []).append(complaint)

    def check(self, ok: bool, field: str, complaint: str) -> None:
        """Remember the complaint unless `ok`."""
        if not ok:
            self.add(field, complaint)

    def raise_if_any(self) -> None:
        """Raise one `InputError` with everything that was wrong, if anything was."""
        if self._fields:
            raise InputError(self._fields)
