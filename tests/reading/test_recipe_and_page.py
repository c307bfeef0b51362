"""Written recipes and pages with Recipe data."""

from __future__ import annotations

import contextlib
import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from chauka.errors import InputError
from chauka.kitchen import Course, Form, Heat, Measures, Technique
from chauka.reading import Asks, as_dish, read_dish

SOUP = """Spinach soup
Serves 4

Ingredients
- 2 bunches spinach, washed and picked
- 1 onion, chopped
- 1 tbsp butter
- 1 cup milk
- Salt and pepper to taste

Method
1. Blanch the spinach in boiling water for 2 minutes and drain.
2. Heat the butter in a pan. Fry the onion on medium heat for 5 minutes until soft.
3. Blend the spinach with the onion.
4. Add the milk, 1 cup stock and salt and simmer for 8-10 minutes on low heat.
"""


def test_the_parts_of_a_recipe() -> None:
    """Title, servings, list and method are told apart; lines keep their numbers."""
    draft = read_dish(SOUP)
    assert (draft.title, draft.yield_low) == ("Spinach soup", 4)
    assert [line.food for line in draft.lines[:6]] == ["spinach", "onion", "butter", "milk", "salt", "pepper"]
    assert draft.lines[1].form == ["chopped"]
    assert 6 in draft.lines[1].cues


def test_the_method_is_timed_steps_that_use_the_lines() -> None:
    """Technique, flame, minutes and lines of each step."""
    steps = read_dish(SOUP).steps
    assert [s.technique for s in steps] == [Technique.BLANCH, Technique.SAUTE, Technique.GRIND, Technique.SIMMER]
    assert (steps[3].low_min, steps[3].high_min, steps[3].heat) == (8, 10, Heat.LOW)
    assert steps[1].lines == [2, 1]
    assert steps[1].until == "until soft"


def test_what_an_editor_would_ask_of_it() -> None:
    """Pepper is listed and not used, stock is used and not listed, keeping is not said."""
    asked = {(q.asks, q.about) for q in read_dish(SOUP).questions}
    assert {(Asks.UNUSED, "pepper"), (Asks.UNLISTED, "stock"), (Asks.KEEPING, "keeping")} <= asked
    assert (Asks.YIELD, "yield") not in asked


PAGE = {
    "@context": "https://schema.org",
    "@graph": [
        {"@type": "WebSite", "name": "A kitchen"},
        {
            "@type": ["Recipe"],
            "name": "Lemon rice",
            "recipeYield": ["4", "4 servings"],
            "totalTime": "PT1H5M",
            "recipeIngredient": ["2 cups cooked rice", "1 tbsp oil", "1&frac12; tbsp lemon juice"],
            "recipeInstructions": [
                {
                    "@type": "HowToSection",
                    "itemListElement": [{"@type": "HowToStep", "text": "Heat the oil in a wok."}],
                },
                {"@type": "HowToStep", "text": "Add the rice and the <b>lemon juice</b> and stir for 3 minutes."},
            ],
        },
    ],
}


def test_a_page_with_recipe_data() -> None:
    """JSON-LD in a page: graph, sections, markup and durations."""
    page = f'<!doctype html><title>x</title><script type="application/ld+json">{json.dumps(PAGE)}</script><p>hello'
    draft = read_dish(page)
    assert (draft.title, draft.yield_low, draft.total_min) == ("Lemon rice", 4, 65)
    assert [(line.food, line.low) for line in draft.lines] == [("rice", 2), ("oil", 1), ("lemon juice", 1.5)]
    assert draft.steps[-1].high_min == 3


@pytest.mark.parametrize("text", ["", "   \n", "<html><body>no recipe</body></html>", '{"@type": "Recipe", broken'])
def test_what_cannot_be_read_is_said(text: str) -> None:
    """An empty text or a page without Recipe data is refused with what to do."""
    with pytest.raises(InputError, match=r"give a recipe|copy its text"):
        read_dish(text)


def test_a_draft_without_gaps_is_a_dish() -> None:
    """Everything said: lines weighed by the house's cup, steps in order."""
    text = (
        SOUP.replace("1. Blanch", "1. Wash the spinach for 3 minutes.\n2. Blanch")
        .replace(", 1 cup stock", "")
        .replace(" in boiling water", "")
    )
    text = text.replace("3. Blend the spinach with the onion.", "3. Blend the spinach with the onion for 2 minutes.")
    dish = as_dish(read_dish(text), course=Course.SOUP, measures=Measures(cup_ml=200))
    assert dish.portions == 4
    assert dish.line("milk").grams.mean == pytest.approx(200 * 1.03, rel=0.03)
    assert dish.line("onion").form is Form.CHOPPED


def test_a_draft_with_gaps_says_all_of_them() -> None:
    """Nothing is filled in: each gap is a complaint."""
    with pytest.raises(InputError) as caught:
        as_dish(read_dish("Add one spoon of zzqv to the pot and boil it."), course=Course.SOUP, measures=Measures())
    assert {"portions", "name"} <= set(caught.value.fields)


WORDS = """
the a and then no not sorry actually make that it into pot cooker pan water salt oil onion two tomatoes half of cup
teaspoon spoon minutes whistles more three five till soft when they crackle leave out serve with rice for four people
add fry boil grind soaked overnight , . ? ! - 1/2 ½ 0 1/0 ² hundred thousand quarter quarters if you like don't
""".split()  # noqa: SIM905 - a text is easier to add a word to


@given(st.lists(st.sampled_from(WORDS), max_size=80))
def test_any_words_in_any_order_give_a_draft(said: list[str]) -> None:
    """Kitchen words thrown together never crash the reader."""
    text = " ".join(said)
    if text.strip():
        assert read_dish(text).questions is not None


@given(st.text(min_size=1, max_size=200).filter(lambda t: bool(t.strip())))
def test_any_text_is_read_or_refused_in_words(text: str) -> None:
    """Any Unicode text gives a draft or an InputError."""
    with contextlib.suppress(InputError):
        assert read_dish(text).questions is not None
