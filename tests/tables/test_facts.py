"""Edible share, kinds and allergens of foods, and the household weights of an Indian kitchen."""

import pytest

from chauka import tables

FRESH = [
    *(code for code in tables.foods() if code[0] in "CDEF"),
    "G008", "G009", "G010", "G011", "G012", "G014", "G016", "G017", "G018", "G547", "G501", "X901",
]  # fmt: skip


@pytest.mark.parametrize("code", FRESH)
def test_all_produce_has_an_edible_share(code: str) -> None:
    """Every vegetable, leaf, fruit, root and fresh herb says how much of it is eaten, and where that comes from."""
    share = tables.edible_fraction(code)
    assert share is not None
    assert 0 < share.mean <= 1
    assert share.sd > 0
    assert tables.edible_source(code)


def test_published_shares_are_as_published() -> None:
    """USDA SR28: refuse of spinach 28 %, of bananas 36 %, of garlic 13 %."""
    shares = {code: tables.edible_fraction(code) for code in ("C033", "E012", "G011")}
    assert {code: share.mean for code, share in shares.items() if share} == {"C033": 0.72, "E012": 0.64, "G011": 0.87}


def test_shares_without_a_source_say_so_and_spread_wider() -> None:
    """Radish leaves have no published refuse figure."""
    share = tables.edible_fraction("C031")
    assert share is not None
    assert share.sd >= 0.1
    assert "common practice, no source" in tables.edible_source("C031")


def test_unknown_food_has_no_share() -> None:
    """None, not 1."""
    assert tables.edible_fraction("Z999") is None
    assert tables.edible_source("Z999") == ""


def test_a_day_without_onion_and_garlic_leaves_out_all_of_them() -> None:
    """Fresh, green and dried onions and garlics carry the trait; asafoetida does not."""
    with_trait = {code for code in tables.foods() if "onion_garlic" in tables.traits(code)}
    named = {code for code, food in tables.foods().items() if any(w in food.name.lower() for w in ("onion", "garlic"))}
    assert with_trait == named | {"G546"}
    assert "onion_garlic" not in tables.traits("G019")


@pytest.mark.parametrize(
    ("code", "trait"),
    [("C033", "leafy_green"), ("C031", "leafy_green"), ("X901", "leafy_green"), ("A010", "grain"), ("B012", "pulse"),
     ("A504", "pulse"), ("L003", "dairy"), ("L520", "dairy"), ("T506", "fat"), ("T506", "dairy"), ("F010", "root"),
     ("F006", "tuber"), ("D007", "gourd"), ("E063", "fruit"), ("G009", "herb"), ("G025", "spice"), ("I001", "sugar"),
     ("H012", "nut"), ("G528", "salt"), ("M001", "egg"), ("P001", "fish"), ("O001", "meat")],
)  # fmt: skip
def test_kinds(code: str, trait: str) -> None:
    """A food belongs to the kind that a cook would put it in."""
    assert trait in tables.traits(code)


@pytest.mark.parametrize(
    ("code", "allergens"),
    [("A019", {"gluten"}), ("A004", {"gluten"}), ("G019", {"gluten"}), ("A010", set()), ("L520", {"milk"}),
     ("T506", {"milk"}), ("T006", {"mustard"}), ("H013", {"mustard"}), ("H011", {"sesame"}), ("H012", {"peanuts"}),
     ("H021", {"nuts"}), ("H007", set()), ("D037", {"celery"}), ("B506", {"soya"}), ("X501", {"soya", "gluten"}),
     ("C033", set())],
)  # fmt: skip
def test_allergens(code: str, allergens: set[str]) -> None:
    """The EU's fourteen, with wheat in asafoetida; coconut is none of them."""
    assert tables.allergens(code) == allergens


def test_dairy_and_wheat_are_complete() -> None:
    """No food of milk or wheat lacks its allergen."""
    for code in tables.foods():
        if "dairy" in tables.traits(code):
            assert "milk" in tables.allergens(code), code
        if "wheat" in tables.traits(code):
            assert "gluten" in tables.allergens(code), code


def test_possible_allergens_are_a_warning_apart() -> None:
    """Raisins may be sulphited; that is possible, not present."""
    assert tables.possible_allergens("E058") == {"sulphites"}
    assert not tables.allergens("E058")


def test_household_weights_are_sane() -> None:
    """Grams and spread are positive, the spread stays below the weight, bulk densities lie between 0.03 and 1.6."""
    for row in tables.rows("household_weights"):
        grams, sd = float(row["grams"]), float(row["sd_g"])
        assert 0 < sd < grams, row
        assert row["source"]
        if row["ml"]:
            assert 0.03 < grams / float(row["ml"]) < 1.6, row


def test_a_measure_of_a_food_stands_once() -> None:
    """Food, form and measure name one row."""
    keys = [(r["food_code"], r["form"], r["measure"]) for r in tables.rows("household_weights")]
    assert len(keys) == len(set(keys))


@pytest.mark.parametrize(
    ("code", "measure"),
    [("G017", "piece medium"), ("F006", "piece medium"), ("D075", "piece medium"), ("G011", "clove"), ("G014", "inch"),
     ("G008", "piece"), ("G010", "sprig"), ("G009", "bunch"), ("C033", "bunch"), ("E033", "piece"), ("G512", "leaf"),
     ("A019", "cup"), ("A010", "cup"), ("A504", "cup"), ("B010", "cup"), ("A015", "cup"), ("L520", "cup"),
     ("L002", "cup"), ("I502", "cup"), ("I001", "cup"), ("G528", "teaspoon"), ("G033", "teaspoon"),
     ("G025", "teaspoon"), ("H013", "teaspoon"), ("T006", "tablespoon"), ("T506", "tablespoon"), ("K505", "cup")],
)  # fmt: skip
def test_measures_that_an_indian_kitchen_uses(code: str, measure: str) -> None:
    """Pieces, cloves, inches, sprigs and bunches of produce; cups and spoons of dry goods."""
    assert any(r["food_code"] == code and r["measure"] == measure for r in tables.rows("household_weights"))


def test_demo_season_keeps_to_spring_produce() -> None:
    """The invented hill town says that it is invented, and sells no peas, fenugreek or Indian gooseberry."""
    hill = [r for r in tables.rows("season_calendar") if r["region"] == "Hill town, north India (demo)"]
    assert len(hill) > 40
    assert all("invented for the demo" in r["source"] for r in hill)
    assert not {"D061", "C020", "E021", "E507"} & {r["food_code"] for r in hill}
    assert all(1 <= int(month) <= 12 for r in hill for month in r["months"].split())
