"""`chauka dish nutrients`: a portion, its reasons, and the whole book."""

from __future__ import annotations

import json

import pytest
from tests.cli.running import Run

from chauka.composition import Regime

pytestmark = pytest.mark.usefixtures("small_house")


def test_a_portion_with_its_spread(run: Run) -> None:
    """Energy stands there with its standard deviation."""
    code, out, _ = run("dish", "nutrients", "boiled-rice")
    assert code == 0
    assert "ENERC_KCAL" in out
    assert "±" in out


def test_the_parts_of_a_nutrient_add_up(run: Run) -> None:
    """What the lines give adds up to the whole dish, and their shares of the doubt to one."""
    _, why, _ = run("dish", "nutrients", "wilted-spinach", "--why", "fe", "--json")
    _, whole, _ = run("dish", "nutrients", "wilted-spinach", "--json")
    rows = json.loads(why)["rows"]
    portion = next(n for n in json.loads(whole)["nutrients"] if n["tag"] == "FE")["amount"]["mean"]
    assert sum(r["given"]["mean"] for r in rows) == pytest.approx(2 * portion)
    assert sum(r["doubt_share"] for r in rows) == pytest.approx(1)


def test_a_weighed_pot_is_told(run: Run) -> None:
    """Spinach weighed at 150 g for two: 75 g a portion, and the reasons name the scale."""
    code, out, _ = run("dish", "weigh", "wilted-spinach", "150g")
    assert code == 0
    assert "150 g for 2 portions" in out
    _, whole, _ = run("dish", "nutrients", "wilted-spinach", "--json")
    assert json.loads(whole)["portion_g"] == pytest.approx(75)
    _, why, _ = run("dish", "nutrients", "wilted-spinach", "--why", "FE")
    assert "Weighed once before" in why
    code, _, err = run("dish", "weigh", "wilted-spinach", "150kg")
    assert code == 1
    assert "cannot be right" in err


@pytest.mark.parametrize("rule", ["FDA", "FSSAI"])
def test_a_label_by_either_rule(run: Run, rule: str) -> None:
    """Per 100 g and a portion, with the allergens that the country wants named."""
    code, out, _ = run("dish", "nutrients", "boiled-rice", "--label", rule)
    assert code == 0, out
    assert "100 g" in out
    assert "Contains: none" in out


@pytest.mark.parametrize("regime", list(Regime))
def test_every_list_of_allergens_can_be_asked(run: Run, regime: Regime) -> None:
    """What the cook says may be there is told as that; a word that is no allergen is refused."""
    code, out, _ = run("dish", "allergens", "boiled-rice", "--list", regime.value, "--may-contain", "nuts", "--json")
    assert code == 0
    assert json.loads(out)["allergens"] == {"may contain nuts": []}
    code, _, err = run("dish", "allergens", "boiled-rice", "--may-contain", "dust")
    assert code == 1
    assert "no allergen" in err


def test_the_book_agrees_with_the_dish(run: Run) -> None:
    """One product of matrices gives each dish what it gives alone."""
    _, book, _ = run("dish", "nutrients", "--all", "--json")
    _, one, _ = run("dish", "nutrients", "boiled-rice", "--json")
    alone = {n["tag"]: n["amount"]["mean"] for n in json.loads(one)["nutrients"]}
    found = json.loads(book)
    assert found["dishes"]["boiled-rice"]["PROCNT"] == pytest.approx(alone["PROCNT"])
    unknown = {n["tag"] for n in json.loads(one)["nutrients"] if n["amount"]["at_least"]}
    assert set(found["at_least"]["boiled-rice"]) == unknown


@pytest.mark.parametrize(("arguments", "said"), [(("boiled-rice", "--why", "XX"), "XX"), ((), "--all")])
def test_what_cannot_be_asked_is_told(run: Run, arguments: tuple[str, ...], said: str) -> None:
    """An unknown nutrient and a missing dish are named, with what to do."""
    code, _, err = run("dish", "nutrients", *arguments)
    assert code == 1
    assert said in err
