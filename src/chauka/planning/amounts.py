"""Forms and weights: which lot may stand in for which line, and what soaking and boiling do to weight."""

from __future__ import annotations

from chauka.kitchen import Form, Line

FREE_FOODS = frozenset({"K505"})
"""Foods that come out of the tap."""

_AS_BOUGHT = (Form.WHOLE, Form.DRY, Form.LIQUID, Form.SET, Form.FROZEN)
_RAW = (*_AS_BOUGHT, Form.PICKED, Form.WASHED, Form.PEELED)

_BECOMES: dict[Form, tuple[Form, ...]] = {
    Form.CUT: (Form.CHOPPED, Form.GRATED, Form.GROUND, Form.BLANCHED, Form.BOILED, Form.COOKED),
    Form.CHOPPED: (Form.GROUND, Form.BLANCHED, Form.BOILED, Form.COOKED),
    Form.GRATED: (Form.GROUND, Form.COOKED),
    Form.GROUND: (Form.COOKED,),
    Form.SOAKED: (Form.SPROUTED, Form.BOILED, Form.GROUND, Form.COOKED),
    Form.SPROUTED: (Form.BOILED, Form.COOKED),
    Form.BLANCHED: (Form.CHOPPED, Form.GROUND, Form.BOILED, Form.COOKED),
    Form.BOILED: (Form.GROUND, Form.GRATED, Form.CHOPPED, Form.COOKED),
}

GAIN = {Form.SOAKED: 2.0, Form.SPROUTED: 2.1, Form.BOILED: 2.4, Form.COOKED: 2.4}
"""Weight of a dry seed after soaking, sprouting or boiling ÷ dry weight; common practice, no source."""

_SEEDS = frozenset({"pulse", "grain"})


def can_become(lot: Form, line: Form) -> bool:
    """Whether a food that stands in one form can be worked into another."""
    return lot is line or lot in _RAW or line in _BECOMES.get(lot, ())


def as_bought_g(grams: float, form: Form, traits: frozenset[str]) -> float:
    """Grams of the food as it is bought (edible portion) that give `grams` in `form`.

    Only dry seeds gain weight; a vegetable counts the same in every form.
    """
    return grams / GAIN.get(form, 1.0) if traits & _SEEDS else grams


def line_need_g(line: Line, traits: frozenset[str]) -> float:
    """Grams as bought that one line takes."""
    return as_bought_g(line.grams.mean, line.form, traits)


WHOLLY_EDIBLE = 0.99


def bought_form(forms: frozenset[Form], edible_fraction: float) -> Form:
    """The form in which a food is bought, told from the forms in which dishes use it.

    What has peel, pips or stalks to lose comes whole, though dishes use its juice.
    """
    if edible_fraction < WHOLLY_EDIBLE:
        return Form.WHOLE
    for form in (Form.LIQUID, Form.SET, Form.DRY):
        if form in forms:
            return form
    return Form.DRY if forms and forms <= {Form.SOAKED, Form.SPROUTED} else Form.WHOLE
