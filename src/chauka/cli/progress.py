"""Words on stderr while something takes longer than a second; on a terminal one line that counts."""

from __future__ import annotations

import math
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager

import click

EVERY_S = 0.5
EVERY_S_IN_A_FILE = 5.0


class Progress:
    """Called by an engine with whatever it knows; shows the seconds and the gap where it is told one."""

    def __init__(self, what: str, most_s: float) -> None:
        self.what, self.most_s = what, most_s
        self.begun = self.shown = time.monotonic()
        self.live = sys.stderr.isatty()

    def __call__(self, _: float, value: float, bound: float) -> None:
        """Show how far it is, at most twice a second: the answer so far and the best that could still be."""
        now = time.monotonic()
        if now - self.shown < (EVERY_S if self.live else EVERY_S_IN_A_FILE):
            return
        self.shown = now
        text = f"{self.what}: {now - self.begun:.0f} of at most {self.most_s:.0f} s"
        if math.isfinite(value) and math.isfinite(bound) and value > 0:
            text += f", within {100 * max(0.0, value - bound) / value:.0f} % of the best"
        click.echo(f"\r\033[K{text}" if self.live else text, err=True, nl=not self.live)

    def end(self) -> None:
        """Wipe the counting line."""
        if self.live:
            click.echo("\r\033[K", err=True, nl=False)


@contextmanager
def progress(what: str, most_s: float) -> Iterator[Progress]:
    """Say what is being done, and until when at most."""
    shown = Progress(what, most_s)
    if shown.live or most_s > 1:
        click.echo(f"{what} (at most {most_s:.0f} s) …", err=True, nl=not shown.live)
    try:
        yield shown
    finally:
        shown.end()
