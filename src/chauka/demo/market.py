"""What the demo town's stalls sell, in which packs, on which days, at what price."""

from __future__ import annotations

from collections.abc import Iterator

from chauka.demo.fields import Fields, package_text, read_toml, within
from chauka.demo.house import PAISE_PER_RUPEE
from chauka.kitchen import Offer


def offers() -> tuple[Offer, ...]:
    """The demo market's offers, stall by stall; prices are invented, of the size of 2027."""
    return read_offers(package_text("market.toml"), "market.toml")


def read_offers(text: str, file: str) -> tuple[Offer, ...]:
    """The offers that a TOML text lists; `InputError` names the file, the offer and the key at fault."""
    top = read_toml(text, file)
    out = tuple(offer for stall in top.tables("stall", named="name") for offer in _stall(stall))
    top.close()
    return out


def _stall(fields: Fields) -> Iterator[Offer]:
    name, packs = fields.text("name"), fields.tables("offer", named="pack")
    fields.close()
    return (_offer(pack, name) for pack in packs)


def _offer(fields: Fields, stall: str) -> Offer:
    food, pack = fields.text("food"), fields.text("pack")
    grams, rupees, weekdays = fields.number("grams"), fields.whole("rupees"), fields.weekdays("weekdays")
    fields.close()
    with within(fields.where):
        return Offer(food, pack, grams, rupees * PAISE_PER_RUPEE, stall, weekdays)
