"""What stands in the demo house on the first morning, each thing with its age."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta

from chauka.demo.fields import Fields, package_text, read_toml, within
from chauka.demo.house import PAISE_PER_RUPEE
from chauka.kitchen import Form, Lot, Place

START = date(2027, 3, 14)
"""The first day of the demo: a Sunday, market day."""

MORNING = time(7, 0)
"""When the shelf was looked through."""


def lots(on: date = START) -> tuple[Lot, ...]:
    """The opening stock as it stands at seven in the morning of `on`; all ages count back from there."""
    return read_lots(package_text("shelf.toml"), "shelf.toml", datetime.combine(on, MORNING))


def read_lots(text: str, file: str, now: datetime) -> tuple[Lot, ...]:
    """The lots that a TOML text lists; `InputError` names the file, the lot and the key at fault."""
    top = read_toml(text, file)
    out = tuple(_lot(fields, now) for fields in top.tables("lot"))
    top.close()
    return out


def _lot(fields: Fields, now: datetime) -> Lot:
    id_, grams, form = fields.text("id"), fields.number("grams"), fields.word("form", Form)
    place, covered, note = fields.word("place", Place), fields.flag("covered", True), fields.text("note", "")
    food, dish = fields.text("food", "") or None, fields.text("dish", "") or None
    here_days, age_days = fields.number("here_days"), fields.number("age_days", 0.0)
    rupees = fields.whole_or_none("rupees")
    fields.close()
    with within(fields.where):
        lot = Lot(
            id=id_, grams=grams, form=form, place=place, since=now - timedelta(days=here_days), food=food, dish=dish,
            age_days=age_days, covered=covered, note=note,
            cost=None if rupees is None else rupees * PAISE_PER_RUPEE,
        )  # fmt: skip
        lot.check_not_from_the_future(now)
        return lot
