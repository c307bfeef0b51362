"""Many rows at once: a book of years is written in seconds, not minutes.

The rows are those of a dump that was read and checked in full; what Django would do row by row
besides (defaults, signals, objects) does not apply to them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import Any

from django.apps import apps
from django.db import connection, models

from chauka.store import models as ours
from chauka.store.models import Household

Rows = Iterable[Sequence[Any]]


def insert(model: type[models.Model], names: Sequence[str], rows: Rows) -> None:
    """Insert rows of plain values, one for each field named; the caller holds the transaction."""
    fields = [_meta(model).get_field(name) for name in names]
    adapters = [(i, adapt) for i, field in enumerate(fields) if (adapt := _adapter(field)) is not None]
    quote = connection.ops.quote_name
    columns = ", ".join(quote(str(field.column)) for field in fields)
    places = ", ".join(["%s"] * len(fields))
    sql = f"INSERT INTO {quote(_meta(model).db_table)} ({columns}) VALUES ({places})"  # noqa: S608 - our own names
    with connection.cursor() as cursor:
        cursor.executemany(sql, [_adapted(row, adapters) for row in rows])


def _meta(model: type[models.Model]) -> Any:
    """What Django knows of a table; the underscore is Django's, the use is documented."""
    return model._meta  # noqa: SLF001


def _adapted(row: Sequence[Any], adapters: Sequence[tuple[int, Callable[[Any], Any]]]) -> list[Any]:
    values = list(row)
    for i, adapt in adapters:
        if values[i] is not None:
            values[i] = adapt(values[i])
    return values


def _adapter(field: object) -> Callable[[Any], Any] | None:
    """How a value of this field is handed to the database, where it is not handed over as it is."""
    if isinstance(field, models.DateTimeField):
        return connection.ops.adapt_datetimefield_value
    if isinstance(field, models.DateField):
        return connection.ops.adapt_datefield_value
    if isinstance(field, models.JSONField):
        return lambda value: connection.ops.adapt_json_value(value, field.encoder)
    return None


def fresh_ids(model: type[models.Model], count: int) -> Sequence[int]:
    """So many numbers that no row of this table has or ever had."""
    table = _meta(model).db_table
    with connection.cursor() as cursor:
        if connection.vendor == "sqlite":
            cursor.execute("SELECT seq FROM sqlite_sequence WHERE name = %s", [table])
            found = cursor.fetchone()
            first = (found[0] if found else 0) + 1
            return range(first, first + count)
        cursor.execute("SELECT nextval(pg_get_serial_sequence(%s, 'id')) FROM generate_series(1, %s)", [table, count])
        return [number for (number,) in cursor.fetchall()]


def delete_household(owner: Household) -> None:
    """Delete a household with everything it has, the ledger too; the caller holds the transaction."""
    tables = [m for m in apps.get_app_config("store").get_models() if issubclass(m, ours.Owned)]
    with connection.cursor() as cursor:
        for model in _children_first(tables):
            name = connection.ops.quote_name(_meta(model).db_table)
            cursor.execute(f"DELETE FROM {name} WHERE household_id = %s", [owner.pk])  # noqa: S608 - our own name
        name = connection.ops.quote_name(_meta(Household).db_table)
        cursor.execute(f"DELETE FROM {name} WHERE id = %s", [owner.pk])  # noqa: S608


def _children_first(tables: Sequence[type[models.Model]]) -> list[type[models.Model]]:
    """Tables in such an order that none is emptied before those that point to it."""
    ordered: list[type[models.Model]] = []

    def place(model: type[models.Model]) -> None:
        for other in tables:
            points = any(f.related_model is model for f in _meta(other).fields)
            if points and other is not model and other not in ordered:
                place(other)
        if model not in ordered:
            ordered.append(model)

    for model in tables:
        place(model)
    return ordered
