"""Read so many wrong inputs with every reader: none may raise but an error of chauka's own, hang, or change a book.

    python -m benchmarks.fuzz [--inputs 1000000] [--reader NAME …] [--seed 1] [--jobs 1] [--json]

Inputs are samples with small damage, random signs of Unicode, and one short piece repeated; of files also their
values changed from inside with sums set right again. The same seed makes the same inputs. A million is for the night;
the tests read 20,000. Times are of this process's own work.
"""

from __future__ import annotations

import json
import logging
import sys
import tempfile
from concurrent.futures import ProcessPoolExecutor
from functools import partial
from multiprocessing import get_context
from pathlib import Path

import click

from chauka.store import opening

WARM_UP = 30


def work(job: int, *, jobs: int, inputs: int, seed: int, only: tuple[str, ...]) -> list[object]:
    """One process's part, before a small book of its own."""
    with tempfile.TemporaryDirectory() as folder:
        opening.open_book(Path(folder) / "book.sqlite3")
        # Django must be set up before these.
        from tests.services.small_house import BOOK  # noqa: PLC0415

        from benchmarks.fuzz import of_house, readers, run  # noqa: PLC0415
        from chauka.store import books  # noqa: PLC0415

        logging.disable(logging.CRITICAL)
        every = readers.PURE + of_house.readers(books.create(BOOK))
        chosen = [reader for reader in every if not only or reader.name in only]
        if not chosen:
            raise click.UsageError(f"the readers are {', '.join(reader.name for reader in every)}")
        found: list[object] = []
        for reader in chosen:
            run.run(reader, WARM_UP, seed=0)  # tables and patterns are read once
            count = run.shared_out(inputs, chosen)[reader.name]
            found.append(run.run(reader, count, seed, job=job, jobs=jobs))
            if job == 0:
                print(found[-1].line, file=sys.stderr, flush=True)  # type: ignore[attr-defined]
        return found


@click.command(help=__doc__)
@click.option("--inputs", default=1_000_000, show_default=True)
@click.option("--reader", "only", multiple=True, help="Only this reader (several times for several).")
@click.option("--seed", default=1, show_default=True)
@click.option("--jobs", default=1, show_default=True, help="Processes.")
@click.option("--json", "as_json", is_flag=True)
def command(*, inputs: int, only: tuple[str, ...], seed: int, jobs: int, as_json: bool) -> None:
    """Read, and tell; ends with 1 where a fault or a hang was found."""
    part = partial(work, jobs=jobs, inputs=inputs, seed=seed, only=only)
    if jobs == 1:
        parts = [part(0)]
    else:
        with ProcessPoolExecutor(jobs, mp_context=get_context("spawn")) as pool:
            parts = list(pool.map(part, range(jobs)))
    from benchmarks.fuzz.run import Found, added_up  # noqa: PLC0415 - Django was set up meanwhile

    every: list[Found] = added_up(parts)  # type: ignore[arg-type]
    print(json.dumps([one.plain for one in every], ensure_ascii=False) if as_json else "\n".join(o.told for o in every))
    sys.exit(any(one.faults or one.hangs for one in every))


if __name__ == "__main__":
    command()
