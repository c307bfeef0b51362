"""Foods and what is in 100 g of their edible portion."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import Enum
from functools import cache
from types import MappingProxyType

from rapidfuzz import fuzz, process, utils

from chauka.errors import DataError
from chauka.tables.cards import card, raw_rows, rows

COMPOSITION_TABLES = ("ifct2017", "beyond_ifct", "own_foods")
"""Tables of composition in order of preference; no code stands in two of them."""


class ValueStatus(Enum):
    """What a table says about a nutrient in a food."""

    KNOWN = "known"
    TRACE = "trace"
    """Below the detectable limit: so little that it counts as nothing."""
    PRESENT = "present"
    """Present in a significant amount that nobody has measured."""
    MISSING = "missing"
    """Not analysed, not reported. Not the same as none."""


@dataclass(frozen=True, slots=True)
class Value:
    """An amount per 100 g edible portion, in the unit of its nutrient.

    `mean` is None for PRESENT and MISSING and 0 for TRACE; `se` is the spread that the source
    prints beside the mean, None where it prints none.
    """

    mean: float | None
    se: float | None
    status: ValueStatus


_MISSING = Value(None, None, ValueStatus.MISSING)
_MARKS = {
    "": _MISSING,
    "N": Value(None, None, ValueStatus.PRESENT),
    "Tr": Value(0.0, None, ValueStatus.TRACE),
}


class _Row(Mapping[str, Value]):
    """The nutrients of one food, read from the cells of its row when asked for."""

    __slots__ = ("_cells", "_places")

    def __init__(self, places: Mapping[str, tuple[int, int | None]], cells: list[str]) -> None:
        self._places, self._cells = places, cells

    def __getitem__(self, tag: str) -> Value:
        place, spread = self._places[tag]
        text = self._cells[place]
        if text in _MARKS:
            return _MARKS[text]
        se = self._cells[spread] if spread is not None else ""
        return Value(float(text), float(se) if se else None, ValueStatus.KNOWN)

    def __iter__(self) -> Iterator[str]:
        return iter(self._places)

    def __len__(self) -> int:
        return len(self._places)


@dataclass(frozen=True, slots=True)
class Food:
    """A food of a composition table.

    `source` names the table; `names` holds local names by language code (ISO 639). `nutrients` has
    a tag only where the table carries it: use `value` to ask for any nutrient.
    """

    code: str
    name: str
    scientific: str
    group: str
    source: str
    names: Mapping[str, tuple[str, ...]]
    nutrients: Mapping[str, Value]

    def value(self, tag: str) -> Value:
        """The amount of a nutrient per 100 g edible portion; MISSING where the table has no such column."""
        return self.nutrients.get(tag, _MISSING)


def _places(header: tuple[str, ...]) -> dict[str, tuple[int, int | None]]:
    """Where in a row each nutrient and its spread stand: `FE_mg` is FE, `FE_mg_se` its spread."""
    at = {name: index for index, name in enumerate(header)}
    start = next(index for index, name in enumerate(header) if name == "ENERC_kJ")
    return {
        name.rsplit("_", 1)[0]: (index, at.get(f"{name}_se"))
        for name, index in at.items()
        if index >= start and not name.endswith("_se")
    }


def _names(text: str) -> Mapping[str, tuple[str, ...]]:
    """`hi=Palak; ta=Keerai, Pasalai` by language."""
    pairs = (part.split("=", 1) for part in text.split("; ") if part)
    return MappingProxyType({language: tuple(names.split(", ")) for language, names in pairs})


@cache
def foods() -> Mapping[str, Food]:
    """Every food that a composition table here carries, by code."""
    found: dict[str, Food] = {}
    for table in COMPOSITION_TABLES:
        header, cells = raw_rows(table)
        at = {name: index for index, name in enumerate(header)}
        places = _places(header)
        for row in cells:
            code = row[at["code"]]
            if code in found:
                raise DataError(f"food {code} stands in the tables {found[code].source} and {table}")
            found[code] = Food(
                code=code,
                name=row[at["name"]],
                scientific=row[at["scientific"]],
                group=row[at["group"]],
                source=table,
                names=_names(row[at["names"]]),
                nutrients=_Row(places, row),
            )
    return MappingProxyType(found)


def food(code: str) -> Food:
    """The food with this code.

    Raises
    ------
    DataError
        No table has it; names the nearest foods and the tables looked in.
    """
    found = foods().get(code)
    if found is None:
        near = find_foods(code, limit=3)
        looked = ", ".join(card(table).title for table in COMPOSITION_TABLES)
        hint = f"; near it are {', '.join(f'{f.code} ({f.name})' for f in near)}" if near else ""
        raise DataError(f"no food has the code {code!r}{hint}; looked in {looked}")
    return found


@cache
def _spellings() -> tuple[tuple[str, ...], tuple[str, ...]]:
    """All names of all foods, folded, and the code that each belongs to; kitchen names first."""
    pairs = [(row["name"], row["food_code"]) for row in rows("food_names")]
    for code, item in foods().items():
        pairs.append((code, code))
        pairs.append((item.name, code))
        pairs.extend((name, code) for names in item.names.values() for name in names)
    return tuple(utils.default_process(name) for name, _ in pairs), tuple(code for _, code in pairs)


_LONGEST_NAME = 120  # characters that are looked at: no food's name is longer


def find_foods(words: str, limit: int = 5) -> tuple[Food, ...]:
    """Foods whose English, kitchen or local name resembles the words, the nearest first.

    Kitchen names ("besan", "atta") win over names of the tables that match as well.
    """
    names, codes = _spellings()
    wanted = utils.default_process(words[:_LONGEST_NAME])
    scored = process.extract(wanted, names, scorer=fuzz.WRatio, limit=60, score_cutoff=60)
    ranked = sorted(scored, key=lambda hit: (-fuzz.ratio(wanted, hit[0]) - hit[1], hit[2]))
    found = dict.fromkeys(codes[index] for _, _, index in ranked)
    return tuple(foods()[code] for code in found if code in foods())[:limit]
