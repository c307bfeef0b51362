"""A write-up as one HTML sheet: a whole page for screen and print, with its page data inside."""

from __future__ import annotations

from functools import cache

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from chauka import tables
from chauka.composition import Amount
from chauka.kitchen import Step
from chauka.publishing.page_data import page_data_json
from chauka.publishing.write_up import WriteUp
from chauka.units import Estimate, Span


def sheet_html(write_up: WriteUp, *, author: str | None = None, bare: bool = False) -> str:
    """The sheet as HTML. `bare` gives only the article, to stand inside a page of the web app."""
    template = _environment().get_template("article.html" if bare else "sheet.html")
    return template.render(
        w=write_up,
        dish=write_up.dish,
        author=author,
        page_data=Markup(page_data_json(write_up, author=author)),  # noqa: S704 -- escaped for script elements there
        allergens=[(a, [tables.food(c).name for c in codes]) for a, codes in write_up.allergens.items()],
    )


def sheet_css() -> str:
    """The style of the bare article, for a page that holds it."""
    return _environment().get_template("sheet.css").render()


@cache
def _environment() -> Environment:
    env = Environment(
        loader=PackageLoader("chauka.publishing"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    env.filters |= {"minutes": minutes_text, "span": span_text, "grams": grams_text, "amount": amount_text}
    env.filters |= {"facts": step_facts, "food": lambda code: tables.food(code).name}
    return env


def minutes_text(minutes: float) -> str:
    """As in "25 min", "1 h 10 min", "2 days"."""
    if minutes >= 2 * 24 * 60:
        return f"{minutes / (24 * 60):.3g} days"
    hours, rest = divmod(round(minutes), 60)
    return " ".join(p for p in (f"{hours} h" if hours else "", f"{rest} min" if rest or not hours else "") if p)


def span_text(span: Span) -> str:
    """As in "5–8 min" or "8–12 h"."""
    if span.low == span.high:
        return minutes_text(span.low)
    if span.low >= 120 and span.low % 30 == 0 and span.high % 30 == 0:
        return f"{span.low / 60:g}–{span.high / 60:g} h"
    if span.high < 120:
        return f"{span.low:g}–{span.high:g} min"
    return f"{minutes_text(span.low)} to {minutes_text(span.high)}"


def grams_text(grams: Estimate) -> str:
    """As in "350 g" or "2.5 g"; "–" where a line weighs nothing that is known."""
    if not grams.mean:
        return "–"
    return f"{grams.mean:.0f} g" if grams.mean >= 10 else f"{grams.mean:.1f} g"


def amount_text(amount: Amount, unit: str) -> str:
    """As in "12.3 ± 1.1 mg", or "at least 12.3 mg" where an ingredient's content is unknown."""
    decimals = 0 if amount.mean >= 100 else 1 if amount.mean >= 1 else 2
    unit = unit.replace("ug", "µg")
    if amount.at_least:
        return f"at least {amount.mean:.{decimals}f} {unit}"
    return f"{amount.mean:.{decimals}f} ± {amount.sd:.{decimals}f} {unit}"


def step_facts(step: Step) -> str:
    """Vessel, flame, whistles and minutes of a step in one phrase."""
    facts = [
        str(step.vessel) if step.vessel else "",
        f"{step.heat} heat" if step.heat != "none" else "",
        f"{step.whistles} whistles" if step.whistles else "",
        span_text(step.minutes) if step.minutes.high else "",
        "can be done ahead" if step.ahead else "",
    ]
    return " · ".join(f for f in facts if f)
