"""The command line: thin. Each command parses, asks one service, and prints."""

from __future__ import annotations

from collections.abc import Sequence

from chauka.cli.root import run


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the `chauka` command; returns its exit code.

    0: done; 1: what was given cannot be used, or no plan fits; 2: the command was called wrongly;
    3: a fault of chauka itself.
    """
    return run(arguments)


__all__ = ["main"]
