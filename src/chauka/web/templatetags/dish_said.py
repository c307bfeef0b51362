"""Template filters of the dish pages: minutes, the facts of a step, nutrients with their spread, portions."""

from __future__ import annotations

from collections.abc import Mapping

from django import template
from django.utils.html import format_html
from django.utils.safestring import SafeString
from django.utils.translation import get_language, gettext

from chauka import tables
from chauka.composition import Amount
from chauka.kitchen import Step
from chauka.publishing import Language, Words, text
from chauka.publishing import words as words_in
from chauka.services import words
from chauka.units import Estimate

register = template.Library()


def _words() -> Words:
    """The labels of sheets in the reader's language, as far as there are any."""
    said = (get_language() or "en").split("-")[0]
    return words_in(Language(said) if said in list(Language) else Language.ENGLISH)


@register.filter
def minutes(number: float) -> str:
    """As in `25 min`, `1 h 10 min`."""
    return text.minutes_text(number, _words())


@register.filter
def facts(step: Step) -> str:
    """Vessel, flame, whistles and minutes of a step."""
    return text.step_facts(step, _words())


@register.filter
def count(number: float) -> str:
    """Portions without needless decimals: 4, 2.5."""
    return words.portions(number)


@register.filter
def gives(amount: Amount, unit: str) -> str:
    """A nutrient as in `12.3 ± 1.1 mg`; `not known` where no table says anything."""
    if amount.at_least and not amount.mean:
        return gettext("not known")
    return words.amount(amount.mean, amount.sd, unit.replace("ug", "µg"), at_least=amount.at_least)


@register.filter
def needed(reference: float, unit: str) -> str:
    """What a day needs, without a false show of precision: `29 mg`, `1,700 kcal`."""
    digits = 3 - len(str(int(reference)))
    return f"{round(reference, min(1, digits)):,g} {unit}"


@register.filter
def sentence(text: str) -> str:
    """With the full stop that it lacks."""
    return text if text.endswith((".", "!", "?", ")")) else f"{text}."


@register.filter
def estimated(of: Estimate, unit: str) -> str:
    """A weight with its spread: `250 ± 12 g`."""
    return words.estimate(of, unit)


@register.filter
def figure(number: float) -> str:
    """A figure of a table as it is printed there."""
    return f"{number:.4g}"


@register.filter
def titled(table: str) -> str:
    """What a table of foods is called."""
    return tables.card(table).title.partition(":")[0]


@register.filter
def unit(name: str) -> str:
    """A unit as it is printed: µg."""
    return name.replace("ug", "µg")


@register.simple_tag
def reach(share: float | None) -> SafeString | str:
    """A hairline as long as the day's need, inked as far as a portion reaches; said in words beside it."""
    if share is None:
        return ""
    return format_html(
        '<svg class="reach" viewBox="0 0 100 6" preserveAspectRatio="none" aria-hidden="true">'
        '<path class="rule" d="M0 3H100"/><path class="ink" d="M0 3H{}"/></svg>',
        f"{100 * min(1.0, share):.1f}",
    )


@register.filter
def item(of: Mapping[str, object], key: str) -> object | None:
    """What a mapping has under a key; None where it has nothing."""
    return of.get(key)
