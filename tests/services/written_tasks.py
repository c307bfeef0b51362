"""The names of all actions that services and the store write, read from their own text."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import chauka
from chauka.kitchen import Deed
from chauka.services import learned
from chauka.services.evening import DEEDS

ROOMS = ("services", "store")
WRITERS = {"action", "change_house", "_keep"}
SPELLED_OUT = {"log ": [str(d) for d in (Deed.USED, Deed.EATEN, Deed.BINNED)], "stove: ": list(DEEDS)}
"""Tasks that are put together, by how they begin, with all their endings."""
NAMED = {"FORGET": learned.FORGET}
NO_DEED = {"TASK", "task"}
"""Taking back itself, and what only passes on the name that it was given."""


def all_of_them() -> set[str]:
    """Every task's name. Fails where a task is put together in a way that is not known here."""
    root = Path(chauka.__file__).parent
    files = (file for room in ROOMS for file in sorted((root / room).glob("*.py")))
    return {task for file in files for told in _told(ast.parse(file.read_text("utf-8"))) for task in _tasks(told)}


def _told(tree: ast.Module) -> Iterator[ast.expr]:
    for call in ast.walk(tree):
        if not isinstance(call, ast.Call):
            continue
        name = call.func.attr if isinstance(call.func, ast.Attribute) else getattr(call.func, "id", "")
        if name in WRITERS:
            yield from (word.value for word in call.keywords if word.arg == "task")
            yield from call.args[2:3] if name != "_keep" else ()


def _tasks(told: ast.expr) -> Iterator[str]:
    match told:
        case ast.Constant(value=str(said)):
            yield said
        case ast.IfExp(body=one, orelse=other):
            yield from (*_tasks(one), *_tasks(other))
        case ast.JoinedStr(values=[ast.Constant(value=str(begins)), _]):
            yield from (f"{begins}{ends}" for ends in SPELLED_OUT[begins])
        case ast.Name(id=name) if name not in NO_DEED:
            yield NAMED[name]
        case ast.Name() | ast.BoolOp():  # the store's `record`, which no service calls
            return
        case _:
            raise AssertionError(f"a task in a form that nobody knows: {ast.unparse(told)}")
