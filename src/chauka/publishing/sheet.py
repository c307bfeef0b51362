"""A write-up as one HTML sheet: a whole page for screen and print, with its page data inside."""

from __future__ import annotations

from functools import cache, partial

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from chauka import tables
from chauka.publishing import text
from chauka.publishing.page_data import Credits, page_data_json
from chauka.publishing.wheel import months_text
from chauka.publishing.words import Language, words
from chauka.publishing.write_up import WriteUp


def sheet_html(
    write_up: WriteUp,
    *,
    author: str | None = None,
    bare: bool = False,
    language: Language = Language.ENGLISH,
    credit: Credits | None = None,
) -> str:
    """The sheet as HTML. `bare` gives only the article, to stand inside a page of the web app."""
    credit = credit or Credits(author=author)
    template = environment(language).get_template("article.html" if bare else "sheet.html")
    return template.render(
        w=write_up,
        dish=write_up.dish,
        author=credit.author,
        page_data=Markup(page_data_json(write_up, credit)),  # noqa: S704 -- escaped for script elements there
        allergens=[(a, [tables.food(c).name for c in codes]) for a, codes in write_up.allergens.items()],
    )


def article(write_up: WriteUp, language: Language = Language.ENGLISH) -> str:
    """The sheet's article alone, well-formed as XML too."""
    return sheet_html(write_up, language=language, bare=True)


def page_snippet(write_up: WriteUp, credit: Credits | None = None) -> str:
    """What a page's author pastes into the page: the page data in its script element."""
    return f'<script type="application/ld+json">\n{page_data_json(write_up, credit)}\n</script>\n'


def sheet_css() -> str:
    """The style of the bare article, for a page that holds it."""
    return environment(Language.ENGLISH).get_template("sheet.css").render()


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
