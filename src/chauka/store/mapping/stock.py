"""Lots, offers, ledger rows and prices ↔ rows."""

from __future__ import annotations

from chauka.kitchen import Deed, Form, LedgerRow, Lot, Offer, Place, PriceSeen
from chauka.store import models


def lot_row(household: models.Household, lot: Lot, position: int) -> models.Lot:
    """A new row of one lot."""
    row = models.Lot(household=household, position=position, key=lot.id)
    copy_lot(lot, row)
    return row


def copy_lot(lot: Lot, row: models.Lot) -> None:
    """Set a row to what the lot says now."""
    row.food, row.dish = lot.food, lot.dish
    row.grams, row.form, row.place = lot.grams, lot.form.value, lot.place.value
    row.since, row.age_days, row.covered = lot.since, lot.age_days, lot.covered
    row.cost, row.note = lot.cost, lot.note


def lot_of(row: models.Lot) -> Lot:
    """The lot of one row."""
    return Lot(
        id=row.key,
        grams=row.grams,
        form=Form(row.form),
        place=Place(row.place),
        since=row.since,
        food=row.food,
        dish=row.dish,
        age_days=row.age_days,
        covered=row.covered,
        cost=row.cost,
        note=row.note,
    )


def offer_row(household: models.Household, offer: Offer, position: int) -> models.Offer:
    """The row of one offer."""
    return models.Offer(
        household=household,
        position=position,
        food=offer.food,
        pack=offer.pack,
        grams=offer.grams,
        price=offer.price,
        stall=offer.stall,
        weekdays=list(offer.weekdays),
    )


def offer_of(row: models.Offer) -> Offer:
    """The offer of one row."""
    return Offer(
        food=row.food,
        pack=row.pack,
        grams=row.grams,
        price=row.price,
        stall=row.stall,
        weekdays=tuple(row.weekdays),
    )


def ledger_row(household: models.Household, action: models.Action, row: LedgerRow, position: int) -> models.LedgerRow:
    """The stored row of one deed."""
    return models.LedgerRow(
        household=household,
        position=position,
        action=action,
        at=row.at,
        deed=row.deed.value,
        grams=row.grams,
        lot=row.lot,
        food=row.food,
        dish=row.dish,
        cost=row.cost,
        minutes=row.minutes,
        why=row.why,
    )


def deed_of(row: models.LedgerRow) -> LedgerRow:
    """The deed of one stored row."""
    return LedgerRow(
        at=row.at,
        deed=Deed(row.deed),
        grams=row.grams,
        lot=row.lot,
        food=row.food,
        dish=row.dish,
        cost=row.cost,
        minutes=row.minutes,
        why=row.why,
    )


def price_row(household: models.Household, seen: PriceSeen) -> models.PriceSeen:
    """The stored row of one price."""
    return models.PriceSeen(household=household, food=seen.food, on=seen.on, grams=seen.grams, price=seen.price)


def price_of(row: models.PriceSeen) -> PriceSeen:
    """The price of one stored row."""
    return PriceSeen(food=row.food, on=row.on, grams=row.grams, price=row.price)
