"""Template filters: money, weights, days and freshness as chauka says them everywhere."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from datetime import date, datetime, time

from django import template
from django.utils.html import format_html
from django.utils.safestring import SafeString
from django.utils.translation import get_language, gettext

from chauka.kitchen import Form, Lot
from chauka.services import foods, words
from chauka.services.shelf import ShelfLot

register = template.Library()


@register.filter
def money(coins: float, currency: str = "INR") -> str:
    """Smallest coins as money."""
    return words.money(coins, currency)


@register.filter
def round_money(coins: float, currency: str = "INR") -> str:
    """A sum that is an estimate, to the whole unit."""
    return words.money(coins, currency, whole_units=True)


@register.filter
def weight(grams: float) -> str:
    """Grams as a scale shows them."""
    return words.weight(grams)


@register.filter
def day(on: date) -> str:
    """As in Sun 14 Mar."""
    return words.day(on)


@register.filter
def moment(at: datetime) -> str:
    """As in Sun 14 Mar 18:30."""
    return words.moment(at)


@register.filter
def percent(share: float) -> str:
    """A share as a whole per cent."""
    return f"{100 * share:.0f} %"


@register.filter
def stands(one: ShelfLot, today: date) -> str:
    """How a lot stands, as one says it in a kitchen: `use today`, `by Tuesday`, `by 2 April`, `3 months`."""
    days = (one.last_day - today).days
    if not one.use_by.known or days <= 0:
        return gettext(str(one.freshness))
    if days == 1:
        return gettext("by tomorrow")
    if days < len(_WEEKDAYS):
        return gettext("by %(day)s") % {"day": weekday_of(one.last_day)}
    if days > _DATED_DAYS:
        return words.days_left(days)
    return gettext("by %(day)s") % {"day": day_month(one.last_day)}


_AS_IT_COMES = {Form.WHOLE, Form.DRY, Form.LIQUID, Form.SET, Form.COOKED}


@register.filter
def worked(lot: Lot) -> str:
    """What has been done to a lot, after a comma: `, picked`; empty where it is as it comes."""
    return "" if lot.form in _AS_IT_COMES else f", {gettext(str(lot.form))}"


@register.simple_tag
def leaf(left: float | None) -> SafeString:
    """A leaf that drains: full when the food has just come in, empty on its last day; only an outline if unknown."""
    shape = "M8 1C3 6 1 10 2.500 14c1 3 3 4 5.500 4s4.500-1 5.500-4C15 10 13 6 8 1z"
    if left is None:
        return format_html(
            '<svg viewBox="0 0 16 22" aria-hidden="true"><path class="outline" stroke-dasharray="2 2" d="{0}"/></svg>',
            shape,
        )
    top = 18 - 17 * max(0.0, min(1.0, left))
    return format_html(
        '<svg viewBox="0 0 16 22" aria-hidden="true"><svg x="0" y="{1}" width="16" height="{2}" viewBox="0 {1} 16 {2}">'
        '<path class="sap" d="{0}"/></svg><path class="outline" d="{0}"/><path class="outline" d="M8 8v13"/></svg>',
        shape,
        f"{top:.1f}",
        f"{max(0.1, 22 - top):.1f}",
    )


_DATED_DAYS = 45
_WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
_MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November",
    "December",
)  # fmt: skip


@register.filter
def weekday(number: int | None) -> str:
    """A weekday's name (0 = Monday); empty where there is none."""
    return "" if number is None else gettext(_WEEKDAYS[number])


@register.filter
def weekday_of(on: date) -> str:
    """As in Sunday."""
    return gettext(_WEEKDAYS[on.weekday()])


@register.filter
def day_month(on: date) -> str:
    """As in 14 March."""
    return f"{on.day} {gettext(_MONTHS[on.month - 1])}"


@register.filter
def long_day(on: date) -> str:
    """As in Sunday 14 March."""
    return f"{weekday_of(on)} {day_month(on)}"


@register.filter
def iso(on: date) -> str:
    """As in 2027-03-14, for addresses."""
    return f"{on:%Y-%m-%d}"


@register.filter
def clock(at: time | datetime) -> str:
    """As in 18:05. Django's own filter asks for a time zone, which a kitchen clock has not."""
    return f"{at:%H:%M}"


@register.filter
def stamp(at: datetime) -> str:
    """As in 2027-03-14T18:05:30, for scripts."""
    return at.isoformat(timespec="seconds")


@register.filter
def minus(number: float) -> float:
    """The number with its sign turned."""
    return -number


@register.filter
def date_value(on: date | None) -> str:
    """As in 2027-03-14, for date fields; empty where there is none."""
    return on.isoformat() if on else ""


@register.filter
def left(days: float) -> str:
    """A number of days in the unit a cook thinks in: `2 days`, `3 weeks`."""
    return words.days_left(days) if days >= 1 else gettext("less than a day")


@register.filter
def named(key: str, names: Mapping[str, str]) -> str:
    """What a thing of that id is called; the id itself where nobody knows."""
    return names.get(key, key)


@register.filter
def tr(word: str) -> str:
    """A word of a closed list (`web.terms`) in the language of the page; any other word as it is."""
    return gettext(str(word))


@register.filter
def printed(figure: str) -> str:
    """A figure of a label as it is printed: `12`, `at least 12`, `less than 5`, `not known`."""
    words_there = figure.rstrip("0123456789.").strip()
    return f"{gettext(words_there)} {figure[len(words_there) :].strip()}".strip() if words_there else figure


_PART = re.compile(r"(.*?)( \d+)?")


@register.filter
def where(said: str) -> str:
    """A place at the stove, word by word: `hands · burner 2, wok`."""

    def part(words: str) -> str:
        found = _PART.fullmatch(words)
        return f"{gettext(found[1])}{found[2] or ''}" if found else words

    return " · ".join(", ".join(map(part, place.split(", "))) for place in said.split(" · "))


@register.filter
def food(name: str, code: str | None) -> str:
    """What a food is called in the language of the page; in English as the house calls it."""
    return foods.in_language(code or "", get_language() or "en", name)


@register.filter
def tongue(text: str) -> str:
    """The language of a sentence that is said as it was written: `hi` in Devanagari, else `en`."""
    return "hi" if any("\u0900" <= letter <= "\u097f" for letter in str(text)) else "en"


@register.filter
def all_tr(words_of_list: Iterable[str]) -> str:
    """Several words of a closed list, after each other: `milk, nuts`."""
    return ", ".join(gettext(str(word)) for word in words_of_list)


@register.filter
def short_weekday(number: int) -> str:
    """A weekday's short name (0 = Monday): `Sun`."""
    return gettext(words.DAYS[number])


@register.filter
def packs_of(packs: str, code: str) -> str:
    """Packs as the stall says them; where the page is not in English, the food and its measures: `पालक: 2 × गड्डी`."""
    language = get_language() or "en"
    if language == "en":
        return packs
    measures, _, thing = packs.partition(" of ")
    said = " ".join(gettext(word) for word in measures.split()) if thing else packs
    return f"{foods.in_language(code, language)}: {said}"
