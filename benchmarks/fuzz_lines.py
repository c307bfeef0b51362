"""Read random and mutated ingredient lines: none may crash, none may take more than its length allows.

    python -m benchmarks.fuzz_lines [--lines 100000] [--seed 1] [--json]

Half are real-looking lines with characters struck out, doubled, swapped or replaced; a quarter are random
Unicode; a quarter are one short piece repeated. A line may take 0.05 s plus 0.5 ms for each of its characters
(the reader looks at the first 1,000): beyond that it is listed as slow. Run nightly; the tests read 5,000.
"""

from __future__ import annotations

import json
import random
import time
from collections.abc import Iterator

import click

from chauka.reading import as_json, match_food, read_line

WHOLE = (
    "1 cup besan, sifted", "2 1/2 cups all-purpose flour, plus more for dusting", "salt to taste", "hing a pinch",
    "3-4 pods garlic (lehsun), crushed", "1 (14 ounce) can tomatoes or 3 fresh ones", "2 x 400 g tins chickpeas",
    "½ tsp haldi", "aloo 4 medium, uble hue", "1 dozen bananas", "juice of half a lemon", "१ cup दही",
    "Oil - for frying",
    "1 bunch (about 100 g) coriander, optional", "two and a half cups of water", "400g/14oz plain flour", "onion x 2",
)  # fmt: skip
PIECES = (
    "1 ",
    "1/2 - ",
    "(",
    ")",
    "a, ",
    "or ",
    "½",
    "x 2 ",
    "1 cup ",
    "((((",
    "to 2 ",
    "cut in ",
    "/",
    '"',
    "and a half ",
    "-",
    "1/",
    "0/0 ",
    "नमक ",
)
ALPHABET = "abcXYZ 0123456789½¾⅓/()-–,.;:'\"+&%*×\t\u00a0\u200b\u0301\u202eनमكあ🍋\x00"


def lines(count: int, seed: int) -> Iterator[str]:
    """So many lines, the same for the same seed."""
    chance = random.Random(seed)
    for number in range(count):
        if number % 4 == 0:
            yield "".join(
                chr(
                    chance.choice(
                        (chance.randrange(32, 0x300), chance.randrange(0x900, 0x97F), chance.randrange(0x2000, 0x2200))
                    )
                )
                for _ in range(chance.randrange(0, 200))
            )
        elif number % 4 == 1:
            yield chance.choice(PIECES) * chance.randrange(1, 300) + chance.choice(WHOLE)
        else:
            yield _mutated(chance.choice(WHOLE), chance)


def _mutated(line: str, chance: random.Random) -> str:
    for _ in range(chance.randrange(1, 8)):
        at = chance.randrange(0, len(line) + 1)
        line = chance.choice((
            line[:at] + line[at + 1 :],
            line[:at] + chance.choice(ALPHABET) + line[at:],
            line[:at] + line[at : at + 9] * chance.randrange(1, 6) + line[at:],
            line[:at] + chance.choice(PIECES) + line[at:],
        ))  # fmt: skip
    return line


def main(count: int, seed: int) -> dict[str, object]:
    """Read them all; faults and slow lines, at most ten of each."""
    faults: list[str] = []
    slow: list[tuple[float, str]] = []
    worst = 0.0
    match_food(read_line("1 cup water").food)
    for line in lines(count, seed):
        start = time.perf_counter()
        try:
            json.dumps(as_json(found := read_line(line)), allow_nan=False)
            match_food(found.food)
        except Exception as error:  # noqa: BLE001 - any fault is a finding
            faults.append(f"{type(error).__name__}: {error}: {line[:80]!r}")
        took = time.perf_counter() - start
        worst = max(worst, took)
        if took > 0.05 + 0.0005 * len(line):
            slow.append((round(took, 4), line[:80]))
    return {
        "lines": count,
        "faults": len(faults),
        "slow": len(slow),
        "worst_seconds": round(worst, 4),
        "examples": faults[:10] + [str(s) for s in slow[:10]],
    }


@click.command()
@click.option("--lines", "count", default=100_000)
@click.option("--seed", default=1)
@click.option("--json", "as_json_", is_flag=True)
def command(*, count: int, seed: int, as_json_: bool) -> None:
    """Read so many random and mutated lines."""
    found = main(count, seed)
    print(json.dumps(found) if as_json_ else "\n".join(f"{key}: {value}" for key, value in found.items()))


if __name__ == "__main__":
    command()
