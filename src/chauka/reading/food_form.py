"""The form of the kitchen's list that a line's words of form mean."""

from __future__ import annotations

from collections.abc import Iterable

from chauka import tables
from chauka.errors import DataError
from chauka.kitchen.forms import Form
from chauka.reading.words import words

_BY_WORD = (
    (Form.FROZEN, ("frozen",)),
    (Form.BOILED, ("boiled", "parboiled", "par-boiled", "hard-boiled", "hardboiled", "soft-boiled", "steamed")),
    (Form.BLANCHED, ("blanched",)),
    (Form.COOKED, ("cooked", "roasted", "fried", "baked", "grilled", "sauteed", "sautéed", "toasted", "caramelized")),
    (Form.SPROUTED, ("sprouted",)),
    (Form.SOAKED, ("soaked",)),
    (Form.GROUND, ("ground", "crushed", "pureed", "puréed", "mashed", "paste", "powdered", "pounded", "puree")),
    (Form.GRATED, ("grated", "shredded", "scraped", "desiccated")),
    (Form.CHOPPED, ("chopped", "diced", "sliced", "minced", "julienned", "julienne", "crumbled", "slivered", "torn")),
    (Form.CUT, ("cut", "cubed", "halved", "quartered", "cubes", "chunks", "pieces", "wedges", "rings",
    "florets", "slit")),
    (Form.PEELED, ("peeled", "shelled", "hulled", "skinless")),
    (Form.WASHED, ("washed", "rinsed", "cleaned")),
    (Form.PICKED, ("picked", "plucked", "trimmed", "stemmed")),
    (Form.DRY, ("dried", "dry")),
)  # fmt: skip
"""The form that says most comes first: "soaked and ground" is ground, "boiled, peeled" is boiled."""

_DRY_GROUPS = frozenset({
    "Cereals and Millets", "Grain Legumes", "Nuts and Oil Seeds", "Sugars", "Condiments and Spices",
    "Miscellaneous Foods", "Breads and Biscuits", "Drinks",
})  # fmt: skip
_STAYS_DRY = frozenset({Form.CHOPPED, Form.CUT, Form.PEELED, Form.WASHED, Form.PICKED, Form.DRY, Form.WHOLE})
_FRESH_SPICES = frozenset(f"G{n:03d}" for n in range(1, 19)) | {"G546", "G547", "G549", "G551"}
_SET = frozenset({"L003", "L004", "L520", "B506"})


def form_of(said: Iterable[str], code: str) -> Form:
    """The form that words of form and the kind of food mean together.

    Without a word of form grains, pulses, nuts, sugars and dry spices are dry, oil, milk and water
    liquid, curd and paneer set, everything else whole. Policy.
    """
    told = {w for phrase in said for w in phrase.lower().replace(",", " ").split()}
    for form, meaning in _BY_WORD:
        if told & set(meaning):
            usual = _usual(code)
            return usual if usual in (Form.DRY, Form.LIQUID) and form in _STAYS_DRY else form
    return _usual(code)


def _usual(code: str) -> Form:
    try:
        group = tables.food(code).group
    except DataError:
        return Form.WHOLE
    if code in _SET:
        return Form.SET
    if group == "Edible Oils and Fats" or code in words().set_of("liquids"):
        return Form.LIQUID
    if group in _DRY_GROUPS and code not in _FRESH_SPICES:
        return Form.DRY
    return Form.WHOLE
