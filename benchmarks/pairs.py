"""Foods measured raw and cooked: reading the files of pairs, and which group and way each pair belongs to.

Two formats, told apart by their header: codes `raw_ndb`, `cooked_ndb` (United States, SR28) and
`raw_item`, `cooked_item` (Japan, MEXT 2020). Vegetarian means no meat, fish, poultry or egg; rows whose cooked
side contains frying oil are left out, since the oil is an ingredient of its own.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

from chauka.composition.learned import CookedGroup, CookedWay

_ANIMAL = ("beef", "pork", "poultry", "lamb", "finfish", "sausage", "egg", "meat", "fish")
_SAME_TAG = {"FOLFD": "FOL", "VITB6A": "VITB6C", "TOCPHA": "VITE"}
"""Tags that are the same figure in unfortified food, or one chemist's name for it."""


@dataclass(frozen=True, slots=True)
class Value:
    """One nutrient of one food, raw and cooked, per 100 g; `water` is that of both sides where it was measured."""

    origin: str
    family: str
    raw_code: str
    cooked_code: str
    food: str
    group: CookedGroup
    way: CookedWay
    tag: str
    raw: float
    cooked: float
    water: tuple[float, float] | None

    @property
    def cluster(self) -> str:
        """What is held out together: all rows of a family of foods in one file."""
        return f"{self.origin} {self.family}"

    @property
    def frozen(self) -> bool:
        """Whether the raw food was frozen: it was blanched before, and is not what it was when fresh."""
        return "frozen" in self.food.lower()

    @property
    def pair(self) -> tuple[str, str, str]:
        """Which two foods are compared."""
        return self.origin, self.raw_code, self.cooked_code


def read(path: Path) -> list[Value]:
    """The vegetarian rows of a file of pairs, water among them."""
    with path.open(encoding="utf-8", newline="") as file:
        rows = [r for r in csv.DictReader(file) if not r["group"].lower().startswith(_ANIMAL)]
    rows = [r for r in rows if r.get("oil_added", "no") != "yes"]
    water = {
        _codes(r): (float(r["raw_per_100g"]), float(r["cooked_per_100g"])) for r in rows if r["tagname"] == "WATER"
    }
    return [_value(r, water) for r in rows]


def read_all(paths: Iterable[Path]) -> list[Value]:
    """The rows of several files."""
    return [value for path in paths for value in read(path)]


def _codes(row: Mapping[str, str]) -> tuple[str, str]:
    return (row["raw_ndb"], row["cooked_ndb"]) if "raw_ndb" in row else (row["raw_item"], row["cooked_item"])


def _value(row: Mapping[str, str], water: Mapping[tuple[str, str], tuple[float, float]]) -> Value:
    raw, cooked = _codes(row)
    return Value(
        origin="US" if "raw_ndb" in row else "JP",
        family=row["family"],
        raw_code=raw,
        cooked_code=cooked,
        food=row["raw_food"],
        group=group_of(row["raw_food"], row["group"], dry=row["start"] == "dry", roasted="roasted" in row["method"]),
        way=way_of(row["method"]),
        tag=_SAME_TAG.get(row["tagname"], row["tagname"]),
        raw=float(row["raw_per_100g"]),
        cooked=float(row["cooked_per_100g"]),
        water=water.get((raw, cooked)),
    )


def way_of(method: str) -> CookedWay:
    """The way of a method as the files write it; boiling, and cooking that nobody describes, counts as drained."""
    if "absorbed" in method or method in {"cooked in water", "stewed"}:
        return CookedWay.ABSORBED
    if re.search(r"steam|microwave|roast|bake|grill|broil|stir|saut|fried|toast", method):
        return CookedWay.NO_WATER
    return CookedWay.DRAINED


_MUSHROOM = re.compile(r"mushroom|shiitake|wood ear|fungus|enoki|maitake|champignon|nameko|shimeji|truffle")
_BY_NAME = (
    (re.compile(r"sprout"), CookedGroup.SEEDS),
    (re.compile(r"pods|edible-podded|snow peas|squash|pumpkin, |snap"), CookedGroup.VEGETABLE),
    (
        re.compile(
            r"greens\b|leaves|leafy|spinach|chard|kale|collard|cress|lambsq|purslane|jute|borage|mizuna|komatsuna"
            r"|santosai|nagasaki|chinese cabbage|pe-tsai|pak.?choi|bok|ashitaba|okahijiki|dropwort|yukina|chives"
            r"|wakegi|broccoli raab|broccoli, chinese|petals|endive|lettuce|fern|malabar|parsley|coriander|leek"
            r"|spring onion|scallion|welsh|chrysanthemum|tatsoi|sorrel|nira|mugwort|perilla|radish tops|takana|nozawana"
        ),
        CookedGroup.GREENS,
    ),
    (
        re.compile(r"potato|taro|yam|arrowhead|apios|cassava|arrowroot|plantain|breadfruit|chestnut|lotus|lily bulb"),
        CookedGroup.STARCHY,
    ),
    (
        re.compile(
            r"carrot|beet|radish|turnip|burdock|onion|garlic|rutabaga|parsnip|celeriac|kohlrabi|salsify|shallot|ginger"
        ),
        CookedGroup.ROOTS,
    ),
    (
        re.compile(
            r"peas, green|\bcorn|cowpeas \(|broad ?beans|lima|pigeon ?peas|succotash|soybeans, green|edamame"
            r"|peas, mature|peas and"
        ),
        CookedGroup.SEEDS,
    ),
)


def group_of(food: str, food_group: str, *, dry: bool, roasted: bool) -> CookedGroup:
    """The group of a food by its English name and the food group of its table; our judgement."""
    name, table = food.lower(), food_group.lower()
    if "mushroom" in table or _MUSHROOM.search(name):
        return CookedGroup.DRIED_MUSHROOM if dry else CookedGroup.MUSHROOM
    if "cereal" in table or "noodle" in name:
        return _cereal(name)
    if table.startswith("nut") and not re.search(r"chestnut|breadfruit", name):
        return CookedGroup.NUTS
    if table.startswith(("legume", "pulse")) and "tofu" not in name:
        return CookedGroup.NUTS if roasted else CookedGroup.PULSE
    return _produce(name, fruit="fruit" in table and "plantain" not in name, dry=dry)


def _cereal(name: str) -> CookedGroup:
    if "starch" in name:
        return CookedGroup.STARCH_NOODLES
    return CookedGroup.PASTA if re.search(r"noodle|pasta|macaroni|spaghetti|udon", name) else CookedGroup.GRAIN


def _produce(name: str, *, fruit: bool, dry: bool) -> CookedGroup:
    if fruit:
        return CookedGroup.DRIED_FRUIT if dry else CookedGroup.FRUIT
    if dry:
        return CookedGroup.DRIED_VEGETABLE
    return next((group for pattern, group in _BY_NAME if pattern.search(name)), CookedGroup.VEGETABLE)
