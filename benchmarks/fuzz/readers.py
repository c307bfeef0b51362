"""Every reader of what people and files bring in, each with its own wrong inputs."""

from __future__ import annotations

import hashlib
import json
import random
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime
from functools import cache
from importlib import resources
from typing import Any

from benchmarks.fuzz import mutate
from chauka import demo, publishing, quantities, reading
from chauka.kitchen import Book, Form
from chauka.publishing.narration import read_narration
from chauka.publishing.read_back import read_page
from chauka.publishing.style import style_of
from chauka.store import dump, open_formats, plain_json
from chauka.store.dump import Dump

NOW = datetime(2027, 3, 14, 7, 0)  # noqa: DTZ001 - the house's own clock
LINES = (
    "1 cup besan, sifted", "2 1/2 cups all-purpose flour, plus more for dusting", "salt to taste", "hing a pinch",
    "3-4 pods garlic (lehsun), crushed", "1 (14 ounce) can tomatoes or 3 fresh ones", "2 x 400 g tins chickpeas",
    "½ tsp haldi", "aloo 4 medium, uble hue", "1 dozen bananas", "juice of half a lemon", "१ cup दही",
    "Oil - for frying", "400g/14oz plain flour", "onion x 2", "two and a half cups of water",
    "1 bunch (about 100 g) coriander, optional",
)  # fmt: skip
SPOKEN = (
    "2 bunches spinach, 1 kg potatoes from Sunday in the cupboard", "500 g paneer and 4 lemons",
    "half a kilo of curd since yesterday", "3 radishes bought 2 days ago; 1 litre milk in the fridge",
)  # fmt: skip
RECIPE = """Spinach soup
Serves 4, total 25 minutes

Ingredients
- 2 bunches spinach, washed and picked
- 1 onion, chopped
- Salt and pepper to taste

Method
1. Blanch the spinach in boiling water for 2 minutes and drain.
2. Fry the onion in 1 tbsp butter on medium heat for 5 to 6 minutes until soft. Keeps a day in the fridge.
"""
TOLD = (
    "Today we make a turnip mash for four people.",
    "Take two medium turnips, no, three, peel them and cut them small. Add half a teaspoon of haldi, I mean a pinch.",
    "Heat a tablespoon, tablespoon not teaspoon, of ghee in the wok. When it is hot add a quarter spoon of jeera.",
    "Cook it covered on a low flame for ten to twelve minutes, stirring now and then, until it is soft.",
    "If you want it hot you can add two green chillies. My mother always put five. Leave out the garlic.",
    "Soak one cup of rajma overnight. Four whistles. It keeps a day in the fridge. Serve with roti.",
)
RECIPE_DATA: Mapping[str, Any] = {
    "@context": "https://schema.org",
    "@type": "Recipe",
    "name": "Lemon &amp; rice",
    "recipeYield": ["4", "4 servings"],
    "totalTime": "PT1H5M",
    "recipeIngredient": ["1 cup rice", {"@type": "HowToSupply", "name": "2 lemons"}, "salt"],
    "recipeInstructions": [
        {"@type": "HowToSection", "itemListElement": [{"@type": "HowToStep", "text": "Boil the rice for 15 minutes."}]},
        "Squeeze the lemons over it. <b>Mix</b>.",
    ],
}
CAPTIONS = (
    """WEBVTT

1
00:00:01.000 --> 00:00:04.000 line:0
Take <i>two</i> turnips

NOTE said

00:00:05.000 --> 00:00:09.500
and peel &amp; cut them
""",
    "1\n00:00:01,000 --> 00:00:04,000\nTake two turnips\n\n2\n00:00:05,000 --> 00:00:09,500\nand peel them\n",
)
AMOUNTS = (
    "1½ cups", "3–4 medium", "1 cup + 2 tbsp", "250 g", "a pinch", "2 bunches", "1 inch", "half a cup",
    "1 1/2 kg (about)",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Reader:
    """One reader: an input made by chance, and what reads it. `share` is its part of all inputs."""

    name: str
    share: float
    make: Callable[[random.Random], Any]
    read: Callable[[Any], object]


def _written(plain: object) -> str:
    """What was read must be good JSON again: no number that is none."""
    return json.dumps(plain, allow_nan=False)


def _line(text: str) -> None:
    found = reading.read_line(text)
    _written(reading.as_json(found))
    match = reading.match_food(found.food)
    if match.best is not None:
        reading.weigh_line(found, match.best.code, _book().house.measures)


def _amount(asked: tuple[str, str]) -> None:
    quantities.purchased_grams(asked[0], asked[1], _book().house.measures)
    quantities.grams(asked[0], asked[1], Form.CHOPPED, _book().house.measures)


def _dish_text(text: str) -> None:
    _written(reading.draft_as_json(reading.read_dish(text)))


def _told(chance: random.Random) -> str:
    some = [chance.choice(TOLD) for _ in range(chance.randrange(1, 4))]
    if chance.random() < 0.3:
        some = [f"00:00:0{i}.000 --> 00:00:0{i + 1}.000\n{said}\n" for i, said in enumerate(some, 1)]
        some.insert(0, "WEBVTT\n")
    return mutate.text(chance, ["\n".join(some)])


def _page(chance: random.Random) -> str:
    if chance.random() < 0.1:
        return mutate.nested(chance) if chance.random() < 0.5 else mutate.closed(chance)
    said = json.dumps(mutate.plain(RECIPE_DATA, chance), ensure_ascii=chance.random() < 0.5)
    if chance.random() < 0.3:
        said = mutate.damaged(said, chance)
    if chance.random() < 0.5:
        html = f'<!doctype html><html><script type="application/ld+json">{said}</script>'
        return html + chance.choice(("", "<", "<!--", "<script ", "</script><p a='"))
    return said


@cache
def _book() -> Book:
    return demo.book(NOW.date())


@cache
def _own_page() -> dict[str, Any]:
    dish = next(d for d in _book().dishes if len(d.steps) > 5)
    return publishing.page_data(publishing.write_up(dish, _book().house))


def _own(chance: random.Random) -> str:
    """Our own page data: changed where it shows, or in the dish that it holds."""
    data = dict(_own_page())
    if chance.random() < 0.05:
        return f'<script type="application/ld+json">{mutate.closed(chance)}</script>'
    if chance.random() < 0.5:
        dish = mutate.plain(json.loads(data["encoding"]["text"]), chance)
        data["encoding"] = data["encoding"] | {"text": json.dumps(dish)}
    else:
        data = mutate.plain(data, chance)
    script = json.dumps(data)
    if chance.random() < 0.2:
        script = mutate.damaged(script, chance)
    return f'<script type="application/ld+json">{script}</script>'


@cache
def _taken() -> Dump:
    """A small whole book: two dishes, and something of everything else."""
    book = _book()
    return Dump(
        house=book.house, dishes=book.dishes[:2], offers=book.offers[:3],
        lots=tuple(lot for lot in book.lots[:4] if lot.food), gone_lots=(), actions=(), prices=(), plans=(),
    )  # fmt: skip


@cache
def _dumped() -> dict[str, Any]:
    found: dict[str, Any] = json.loads(dump.to_json(_taken(), NOW))
    return found


def _dump(chance: random.Random) -> bytes:
    """A dump with damaged bytes, or changed inside with its sums set right again."""
    if chance.random() < 0.2:
        return mutate.data(json.dumps(_dumped()).encode(), chance)
    if chance.random() < 0.1:
        deep = mutate.closed(chance)
        return json.dumps(_dumped()).replace("null", deep, chance.randrange(1, 4)).encode()
    document = mutate.plain(_dumped(), chance)
    if isinstance(document, dict) and isinstance(document.get("sections"), dict) and chance.random() < 0.8:
        document["sha256"] = {name: plain_json.sum_of(section) for name, section in document["sections"].items()}
    return json.dumps(document).encode()


def _export(chance: random.Random) -> dict[str, bytes]:
    files = dict(open_formats.to_files(_taken(), NOW))
    if chance.random() < 0.05:
        return files | {"offers.jsonl": mutate.closed(chance).encode()}
    name = chance.choice([n for n in files if not n.startswith("csv/")])
    if chance.random() < 0.1:
        del files[name]
        return files
    rows = files[name].split(b"\n")
    at = chance.randrange(len(rows))
    if chance.random() < 0.5 or not rows[at].startswith(b"{") or name == open_formats.MANIFEST:
        rows[at] = mutate.data(rows[at], chance)
    else:
        rows[at] = json.dumps(mutate.plain(json.loads(rows[at]), chance)).encode()
    files[name] = b"\n".join(rows)
    manifest = json.loads(files[open_formats.MANIFEST]) if name != open_formats.MANIFEST else None
    if manifest and chance.random() < 0.8:
        manifest["sha256"][name] = hashlib.sha256(files[name]).hexdigest()
        files[open_formats.MANIFEST] = json.dumps(manifest).encode()
    return files


@cache
def _styles() -> tuple[str, ...]:
    return ((resources.files("chauka.publishing") / "styles/almanac.toml").read_text("utf-8"),)


@cache
def _dish_files() -> tuple[str, ...]:
    files = sorted(p.name for p in (resources.files("chauka.demo") / "dishes").iterdir())
    return tuple((resources.files("chauka.demo") / "dishes" / name).read_text("utf-8") for name in files[:5])


PURE = (
    Reader("line", 30, lambda c: mutate.text(c, LINES), _line),
    Reader("amount", 20, lambda c: (mutate.text(c, AMOUNTS), c.choice(("C033", "A015", "Z999"))), _amount),
    Reader("captions", 20, lambda c: mutate.text(c, CAPTIONS), read_narration),
    Reader("style", 6, lambda c: mutate.damaged(_styles()[0], c), lambda text: style_of(text, "mine.toml")),
    Reader("dish-file", 4, lambda c: mutate.damaged(c.choice(_dish_files()), c), lambda t: demo.read_dish(t, "x.toml")),
    Reader("narration", 4, _told, _dish_text),
    Reader("recipe", 4, lambda c: mutate.text(c, [RECIPE]), _dish_text),
    Reader("page-data", 4, _page, _dish_text),
    Reader("own-page", 2, _own, read_page),
    Reader("dump", 2, _dump, dump.from_json),
    Reader("export", 2, _export, lambda files: open_formats.from_files(files, "export")),
)
"""Readers that touch no book."""
