"""The consistency check: silent on an honest pack, loud on any number that is not the dish's."""

from __future__ import annotations

import hashlib
import json
from dataclasses import replace
from functools import cache

import pytest
from tests.publishing.narrated import told
from tests.publishing.samples import all_write_ups, demo_write_up, written

from chauka.publishing import style
from chauka.publishing.check import check_pack, check_remade
from chauka.publishing.pack import MANIFEST, pack
from chauka.units import Estimate


@cache
def honest() -> dict[str, bytes]:
    """A pack as it was written."""
    w = demo_write_up()
    return {f.path: f.data for f in pack(w, style(), narration=told(w.dish), frames=())}


def tampered(path: str, was: str, now: str) -> dict[str, bytes]:
    """A pack in which somebody changed one text, and the manifest with it."""
    files = dict(honest())
    assert was in files[path].decode()
    files[path] = files[path].decode().replace(was, now).encode()
    manifest = json.loads(files[MANIFEST])
    for entry in manifest["files"]:
        entry["sha256"] = hashlib.sha256(files[entry["path"]]).hexdigest()
    return files | {MANIFEST: json.dumps(manifest).encode()}


def test_an_honest_pack_has_no_findings() -> None:
    """Nothing to complain of, by reading and by making again."""
    assert check_pack(demo_write_up(), honest()) == ()
    assert check_remade(honest(), honest()) == ()


@pytest.mark.parametrize(
    ("path", "was", "now"),
    [
        ("page/data.json", "225 g split moong dal", "250 g split moong dal"),
        ("page/data.json", '"cookTime": "PT20M"', '"cookTime": "PT2M"'),
        ("page/data.json", '"proteinContent": "12.4 g"', '"proteinContent": "99.4 g"'),
        ("sheet/en.html", "<td class=\"weight\">350 g</td>", "<td class=\"weight\">35 g</td>"),
        ("sheet/hi.html", "12.4 ± 0.3 g", "21.4 ± 0.3 g"),
        ("cards/alt.csv", "350 g", "305 g"),
        ("cards/wide/line-spinach.svg", "<title>spinach leaves. 350 g.", "<title>spinach leaves. 35 g."),
        ("film/cards.csv", "350 g", "53 g"),
        ("film/description.txt", "350 g spinach", "300 g spinach"),
    ],
)  # fmt: skip
def test_any_changed_number_is_found(path: str, was: str, now: str) -> None:
    """In page data, sheets, cards, tables and the film's text."""
    found = check_pack(demo_write_up(), tampered(path, was, now))
    assert any(f.path == path for f in found), found


def test_a_changed_dish_makes_its_old_pack_wrong() -> None:
    """When the cook changes a weight, sheets, data, cards and film are all found to be old."""
    dish = demo_write_up().dish
    lines = tuple(replace(x, grams=Estimate(275, 5), amount="275 g") if x.id == "dal" else x for x in dish.lines)
    now = written(replace(dish, lines=lines))
    old = {f.path for f in check_pack(now, honest())}
    assert {"page/data.json", "sheet/en.html", "sheet/hi.html", "cards/alt.csv", "film/description.txt"} <= old
    again = {f.path: f.data for f in pack(now, style(), frames=())}
    assert {"sheet/a4-en.pdf", "cards/wide/list-1-1.svg"} <= {f.path for f in check_remade(honest(), again)}


def test_missing_and_touched_files_are_named() -> None:
    """A pack must be whole and as it was written."""
    files = dict(honest())
    del files["film/captions.vtt"]
    files["film/captions.srt"] = b"1"
    found = {(f.path, f.complaint) for f in check_pack(demo_write_up(), files)}
    assert ("film/captions.vtt", "is missing") in found
    assert ("film/captions.srt", "was changed after the pack was written") in found
    assert check_pack(demo_write_up(), {})[0].path == MANIFEST


@pytest.mark.slow
def test_demo_dishes_are_consistent() -> None:
    """Every sixth demo dish's pack: every number in every output is the dish's."""
    for w in all_write_ups()[::6]:
        files = {f.path: f.data for f in pack(w, style(), narration=told(w.dish), frames=())}
        assert check_pack(w, files) == (), w.dish.id
