"""A write-up as one HTML sheet: a whole page for screen and print, with its page data inside."""

from __future__ import annotations

from dataclasses import replace
from functools import cache, partial

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from chauka import tables
from chauka.publishing import text
from chauka.publishing.page_data import Credits, page_data_json
from chauka.publishing.wheel import months_text
from chauka.publishing.words import Language, words
from chauka.publishing.write_up import WriteUp

PHOTO = "photo.jpg"
"""The file of the photo, beside the sheet."""


def sheet_html(
    write_up: WriteUp,
    *,
    author: str | None = None,
    bare: bool = False,
    language: Language = Language.ENGLISH,
    credit: Credits | None = None,
    photo_src: str = PHOTO,
) -> str:
    """The sheet as HTML. `bare` gives only the article; `photo_src` is where the dish's photo is, if it has one."""
    credit = credit or Credits(author=author)
    template = environment(language).get_template("article.html" if bare else "sheet.html")
    return template.render(
        w=write_up,
        dish=write_up.dish,
        author=credit.author,
        photo_src=photo_src,
        page_data=Markup(page_data_json(write_up, credit)),  # noqa: S704 -- escaped for script elements there
        allergens=[(a, [tables.food(c).name for c in codes]) for a, codes in write_up.allergens.items()],
    )


def article(write_up: WriteUp, language: Language = Language.ENGLISH) -> str:
    """The sheet's article alone, well-formed as XML too, without its photo."""
    return sheet_html(replace(write_up, photo=None), language=language, bare=True)


def page_snippet(write_up: WriteUp, credit: Credits | None = None) -> str:
    """What a page's author pastes into the page: the page data in its script element."""
    return f'<script type="application/ld+json">\n{page_data_json(write_up, credit)}\n</script>\n'


@cache
def environment(language: Language = Language.ENGLISH) -> Environment:
    """Where the templates are, with the words of one language."""
    env = Environment(
        loader=PackageLoader("chauka.publishing"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    said = words(language)
    env.globals["said"] = said
    env.filters |= {
        "minutes": partial(text.minutes_text, w=said),
        "amount": partial(text.amount_text, w=said),
        "nutrition_note": partial(text.nutrition_note, w=said),
        "facts": partial(text.step_facts, w=said),
        "grams": text.grams_text,
        "months": months_text,
        "food": lambda code: tables.food(code).name,
    }
    return env
