"""What was learned is used where it fits, and says so."""

import pytest
from tests.composition.samples import (
    GHEE,
    MUSTARD_OIL,
    ONION,
    POTATO,
    RAJMA,
    RICE,
    SPINACH,
    WATER,
    boiled,
    dal,
    dish,
    line,
    step,
)

from chauka import tables
from chauka.composition import CookedGroup, CookedWay, Factors, Weighed, dish_nutrients, why
from chauka.composition.flow import passages
from chauka.composition.frying import UPTAKE, as_eaten
from chauka.composition.learned import learned_factors, learned_yield
from chauka.composition.retention import alcohol_left, retention
from chauka.kitchen import Dish, Form, Technique
from chauka.units import Estimate

T = Technique


def drained(food: str) -> Dish:
    """A food boiled in water that nobody lists."""
    return dish([line(food, 300, Form.CUT)], [step("boil", T.BOIL, 12, [food.lower()])])


@pytest.mark.parametrize(
    ("food", "group"),
    [
        (SPINACH, CookedGroup.GREENS),
        (POTATO, CookedGroup.STARCHY),
        (RAJMA, CookedGroup.PULSE),
        ("D042", CookedGroup.SEEDS),
    ],
)
def test_a_drained_food_uses_its_cell(food: str, group: CookedGroup) -> None:
    """The factor is the learned one, but never more than with the water used; published on request."""
    passage = passages(drained(food))[food.lower()]
    learned, published = retention(passage), retention(passage, Factors.PUBLISHED)
    assert learned.cell == (group, CookedWay.DRAINED)
    assert published.cell is None
    assert learned.codes == published.codes
    assert learned.factor("MG") <= learned_factors(*learned.cell)["MG"].factor
    assert learned.basis("MG").startswith("learned: ")
    assert published.basis("MG").startswith("USDA Release 6: ")
    assert published.basis("MN") == "counted as kept"
    assert learned.sd("MG") > 0


def test_water_that_is_eaten_keeps_the_published_factor() -> None:
    """Pulses and vegetables in their gravy were never measured so; rice was."""
    assert retention(passages(dal())["c033"]).cell is None
    rice = boiled(line(RICE, 200), line(WATER, 500, Form.LIQUID))
    assert retention(passages(rice)[RICE.lower()]).cell == (CookedGroup.GRAIN, CookedWay.ABSORBED)


def test_every_learned_cell_is_sane() -> None:
    """Factors lie between a third and a little over one; grain cooked in water weighs two to four times as much.

    Sodium aside, which tap water and salt bring in; a line never gains by it.
    """
    rows = tables.rows("learned_retention")
    assert len({(r["group"], r["way"], r["tag"]) for r in rows}) == len(rows)
    for row in rows:
        assert 0.3 < float(row["factor"]) < 1.3 or row["tag"] == "NA", row
        assert 0 < float(row["sd_log"]) <= 0.7
    rice = boiled(line(RICE, 200), line(WATER, 500, Form.LIQUID))
    assert retention(passages(rice)[RICE.lower()]).factor("NA") == 1
    grain = learned_yield(CookedGroup.GRAIN, CookedWay.ABSORBED)
    assert grain is not None
    assert 2 < grain[0].mean < 4


def test_why_says_which_factor_was_used() -> None:
    """A boiled, drained spinach is learned; the same dish by published factors is not."""
    assert why(drained(SPINACH), "FE")[0].basis.startswith("learned: greens")
    assert why(drained(SPINACH), "FE", Factors.PUBLISHED)[0].basis.startswith("USDA Release 6: VEG,GREENS")


def test_pasta_in_unlisted_water_takes_the_learned_yield() -> None:
    """Nothing published for it here: about three times its weight."""
    found = dish_nutrients(drained("A023"))
    assert "learned" in found.how or "published" in found.how
    assert 2 < found.cooked_g.mean / found.raw_g.mean < 3.6


def test_earlier_batches_beat_the_estimate_and_the_scale_beats_both() -> None:
    """Two batches for two and four portions that weighed 250 g a portion: 1,000 g for four."""
    before = [Weighed(2, 500), Weighed(4, 1000)]
    found = dish_nutrients(dal(), weighed_before=before)
    assert found.cooked_g.mean == pytest.approx(1000)
    assert found.how == "weighed 2 times before, 250 ± 12 g a portion"
    assert 0.04 * 1000 < found.cooked_g.sd < 0.06 * 1000
    scale = dish([line(SPINACH, 300)], [], yield_g=Estimate(250, 2))
    assert dish_nutrients(scale, weighed_before=before).cooked_g.mean == 250


def test_most_of_a_bath_of_oil_stays_in_the_pan() -> None:
    """A litre of oil for 400 g of onions: a tenth of the onions' weight is eaten, and the dish says so."""
    fritters = dish(
        [line(ONION, 400), line(MUSTARD_OIL, 900, Form.LIQUID)],
        [step("fry", T.DEEP_FRY, 10, [ONION.lower(), MUSTARD_OIL.lower()])],
    )
    oil = as_eaten(fritters).line(MUSTARD_OIL.lower())
    assert oil.grams.mean * oil.eaten_share == pytest.approx(UPTAKE.mean * 400)
    assert oil.grams.cv == pytest.approx(UPTAKE.cv)
    found = dish_nutrients(fritters)
    assert found.total["FAT"].mean == pytest.approx(40, rel=0.1)
    assert any("taken as eaten" in note for note in found.notes)


def test_an_author_s_share_and_a_spoon_of_ghee_stay() -> None:
    """What the author says of the oil is kept, and a little fat is eaten whole."""
    said = dish(
        [line(ONION, 400), line(MUSTARD_OIL, 900, Form.LIQUID, eaten=0.2)],
        [step("fry", T.DEEP_FRY, 10, [ONION.lower(), MUSTARD_OIL.lower()])],
    )
    spoon = dish(
        [line(ONION, 400), line(GHEE, 20, Form.LIQUID)], [step("fry", T.DEEP_FRY, 10, [ONION.lower(), GHEE.lower()])]
    )
    assert as_eaten(said) == said
    assert as_eaten(spoon) == spoon


def test_alcohol_boils_away() -> None:
    """USDA's rows: 85 % left when stirred into something hot, 40 % after a quarter of an hour, 5 % at last."""
    assert [alcohol_left(m) for m in (1, 15, 30, 60, 150)] == [0.85, 0.40, 0.35, 0.25, 0.05]
