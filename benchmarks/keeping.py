"""Measure the keeping engine against a folder of check files.

    python -m benchmarks.keeping FOLDER [--json]

The folder may hold any of: tcs_checks.csv, time_temperature_checks.csv, water_activity_checks.csv,
physics_checks.csv, growth_observations.csv, cooling_growth_model_trace.csv, produce_storage.csv,
life_by_temperature.csv. A file that is not there is named and skipped. A storage row that our own
table has from the same source is predicted from the other sources only.
"""

from __future__ import annotations

import argparse
import csv
import json
import math
import re
import time
from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import datetime
from functools import cache
from pathlib import Path

from chauka import tables
from chauka.keeping import Stay, boiling, conduction, fraction_consumed, growth, lot_use_by
from chauka.keeping.conduction import Shape
from chauka.keeping.produce import DRY_AIR_FACTOR, Reference, borrow, is_dry, item_reference, life_at, pool, published
from chauka.keeping.rate import days_at_0c, days_left
from chauka.keeping.tcs import open_food, packed_after_heat
from chauka.keeping.water_activity import aw_norrish, aw_salt, aw_saturated
from chauka.kitchen import Form, House, Lot, Person, Place, Sex

Row = Mapping[str, str]

FAR_FROM_C = 15.0
"""Warmer than this a life is an extrapolation of more than 10 °C for nearly every item of the tables."""
Figures = dict[str, float]


def tcs(rows: Sequence[Row]) -> Figures:
    """Share of the Food Code's cases answered right."""
    right = [
        (packed_after_heat if row["table"] == "A" else open_food)(float(row["pH"]), float(row["aw"])) == row["result"]
        for row in rows
    ]
    return {"tcs_share_right": sum(right) / len(right)}


def time_temperature(rows: Sequence[Row]) -> Figures:
    """Largest relative error of ages, shares and what is left."""
    worst = 0.0
    for row in rows:
        stays = [Stay(float(h), float(t)) for h, t in re.findall(r"([\d.]+) h at (-?[\d.]+) C", row["profile"])]
        life = float(row["life_at_0C_d"])
        for found, column in (
            (days_at_0c(stays), "d0_days_consumed_equiv_0C"),
            (fraction_consumed(life, stays), "fraction_consumed"),
            (days_left(life, stays, 4), "remaining_days_at_4C"),
        ):
            worst = max(worst, abs(found / float(row[column]) - 1))
    return {"time_temperature_max_error": worst}


def water_activity(rows: Sequence[Row]) -> Figures:
    """Largest errors of sucrose, salt and saturated salts."""
    worst = {"aw_sucrose_max_error": 0.0, "aw_nacl_max_error": 0.0, "aw_saturated_max_error": 0.0}
    for row in rows:
        name, concentration = row["material"], row["concentration"]
        if name == "sucrose solution":
            kind, found = "aw_sucrose", aw_norrish("sucrose", float(concentration), 100 - float(concentration))
        elif name.startswith("NaCl"):
            kind, found = "aw_nacl", aw_salt(float(concentration), 100 - float(concentration))
        elif name.startswith("saturated"):
            kind, found = "aw_saturated", aw_saturated(name.split()[1], float(row["temp_C"]))
        else:
            continue
        worst[f"{kind}_max_error"] = max(worst[f"{kind}_max_error"], abs(found - float(row["aw"])))
    return worst


def physics(rows: Sequence[Row]) -> Figures:
    """Largest errors of temperatures [°C], θ, and times (relative)."""
    worst: Figures = {}
    for row in rows:
        given = {k: float(v) for k, v in re.findall(r"([\w/]+)\s*=\s*(-?[\d.]+)", row["input"])}
        name, error = _physics_error(row["quantity"], row["input"], given, float(row["value"]))
        worst[name] = max(worst.get(name, 0.0), error)
    return worst


def _physics_error(what: str, text: str, given: Mapping[str, float], value: float) -> tuple[str, float]:
    if what == "boiling_point":
        return "boiling_max_error", abs(boiling.boiling_point_c(given["altitude_m"]) - value)
    if what == "pressure_cooker":
        return "cooker_max_error", abs(boiling.cooker_c(given["gauge_kPa"], given["altitude_m"]) - value)
    if what == "lumped_cooling_time":
        theta = (given["Ttarget"] - given["Tair"]) / (given["T0"] - given["Tair"])
        hours = conduction.newton_hours(
            kg=given["m"], j_per_kg_k=given["c"], h_w_m2k=given["h"], area_m2=given["A"], theta_end=theta
        )
        return "lumped_max_relative_error", abs(hours / value - 1)
    if what == "equivalent_minutes":
        found = boiling.equivalent_minutes(given["minutes"], given["T"], given["Tref"], given["z"])
        return "equivalent_minutes_max_relative_error", abs(found / value - 1)
    if what == "short_cylinder_centre_theta":
        parts = [float(number) for number in re.findall(r"(?:Bi|Fo)=([\d.]+)", text)]
        return "conduction_max_error", abs(conduction.theta_short_cylinder(*parts) - value)
    shape = Shape[what.split("_", maxsplit=1)[0].upper()]
    at = given.get("x/L", given.get("r/R", 0.0))
    return "conduction_max_error", abs(conduction.theta(shape, given["Bi"], given["Fo"], at) - value)


def listeria(rows: Sequence[Row]) -> Figures:
    """Share of doubling times at 2 to 21 °C within × 1.5 of the observed range."""
    hits = []
    for row in rows:
        temp_c = float(row["temp_C"])
        if row["organism"].startswith("Listeria") and row["quantity"] == "doubling time" and 2 <= temp_c <= 21:
            ph, aw = float(row["pH"] or growth.USUAL_PH), float(row["aw"] or growth.USUAL_AW)
            found = growth.doubling_hours(growth.listeria_mejlholm(temp_c, ph, aw))
            hits.append(float(row["value_low"]) / 1.5 <= found <= float(row["value_high"]) * 1.5)
    return {"listeria_within_1_5": sum(hits) / len(hits)} if hits else {}


def cereus(rows: Sequence[Row]) -> Figures:
    """Error of the last point of the cooling trace [log10], and the largest relative error of its rates from 0.2 up."""
    found = growth.cereus_while_cooling(
        [float(r["time_h"]) for r in rows], [float(r["temp_C"]) for r in rows], float(rows[0]["log10_CFU_g"])
    )
    rates = [
        abs(growth.cereus_cooling(float(r["temp_C"])) / growth.LN10 / float(r["rate_log10_h"]) - 1)
        for r in rows
        if float(r["rate_log10_h"]) >= 0.2
    ]
    return {
        "cereus_end_error_log10": abs(found[-1] - float(rows[-1]["log10_CFU_g"])),
        "cereus_rate_max_relative_error": max(rates, default=0.0),
    }


def _meant(name: str, items: Mapping[str, Sequence[Row]]) -> str | None:
    """The item of our tables that a name means: itself, the longest whose leading word the name has, or a food's."""
    if name in items:
        return name
    words = set(re.findall(r"[a-z]+", name.lower()))
    stems = words | {word.removesuffix("s") for word in words}
    fitting = [i for i in items if set(re.findall(r"[a-z]+", i.split("(")[0].split(",")[0].lower())) <= stems]
    if fitting:
        return max(fitting, key=len)
    return next((item for said, item in _kitchen_names().items() if said in (name, name.removesuffix("s"))), None)


@cache
def _kitchen_names() -> Mapping[str, str]:
    """The item behind each kitchen name of a food, as in french beans: snap beans."""
    kept = {row["food_code"]: row["item"] for row in tables.rows("keeping_foods") if row["item"]}
    said = {row["name"].lower(): row["food_code"] for row in tables.rows("food_names")}
    return {name: kept[code] for name, code in said.items() if code in kept}


def _each_item(rows: Sequence[Row], items: Mapping[str, Sequence[Row]]) -> Iterator[tuple[Row, str]]:
    """Every row with the item that it speaks of; a row that lists foods none of which is in the tables by the
    whole name ("french beans, green chillies") once for each of them."""
    for row in rows:
        whole = _meant(row["item"], items)
        for name in [row["item"]] if whole else row["item"].split(", "):
            if item := _meant(name, items):
                yield row, item


def _lives(rows: Sequence[Row], temperature: Callable[[Row], float | None]) -> Figures:
    """Predicted against given lives: own source, borrowed from the group, and planned dates of both."""
    items = published()
    own: list[float] = []
    borrowed: list[float] = []
    not_later: list[bool] = []
    for row, item in _each_item(rows, items):
        temp_c, given = temperature(row), (float(row["life_min_d"]) + float(row["life_max_d"])) / 2
        if temp_c is None:
            continue
        others = [r for r in items[item] if r["source"] != row["source"]]
        reference = pool(others) if others else _from_group(items, item)
        if reference is None:
            continue
        found = life_at(reference, temp_c, factor=DRY_AIR_FACTOR if _open_to_dry_air(row) else 1.0)
        (own if others else borrowed).append(abs(math.log(found.mid / given)))
        not_later.append(found.plan <= given)
    return {
        "rows_own": len(own),
        "rows_borrowed": len(borrowed),
        **({"within_1_5": _share(own, 1.5), "within_2": _share(own, 2.0)} if own else {}),
        **({"group_within_2": _share(borrowed, 2.0)} if borrowed else {}),
        **({"planned_not_later": sum(not_later) / len(not_later)} if not_later else {}),
    }


def _open_to_dry_air(row: Row) -> bool:
    """Whether a life was seen unpacked in dry air: as its humidity says or, without one, its form."""
    form = row.get("form", "")
    if not form.startswith("unpacked") and form != "whole, no liner":
        return False
    return is_dry(row["rh_pct"]) if row["rh_pct"] else True


def _from_group(items: Mapping[str, Sequence[Row]], item: str) -> Reference | None:
    group = items[item][0]["group"]
    members = [ref for i, r in items.items() if i != item and r[0]["group"] == group and (ref := item_reference(i))]
    return borrow(group, members) if members else None


def _share(logs: Sequence[float], factor: float) -> float:
    return sum(log <= math.log(factor) for log in logs) / len(logs)


def storage(rows: Sequence[Row]) -> Figures:
    """Storage rows at their own temperature."""
    return _lives(rows, lambda row: (float(row["temp_min_C"]) + float(row["temp_max_C"])) / 2)


def by_temperature(rows: Sequence[Row]) -> Figures:
    """Lives at other temperatures; a range counts as its middle, "ambient" and the like are left out.

    Those above 15 °C, an extrapolation of more than 10 °C for nearly all, are reported once more as `far`.
    """

    def figure(row: Row) -> float | None:
        found = re.fullmatch(r">?(-?[\d.]+)(?:-([\d.]+))?", row["temp_C"])
        return None if found is None else (float(found[1]) + float(found[2] or found[1])) / 2

    far = [row for row in rows if (temp_c := figure(row)) is not None and temp_c > FAR_FROM_C]
    return {
        **{f"by_temperature_{name}": value for name, value in _lives(rows, figure).items()},
        **{f"far_{name}": value for name, value in _lives(far, figure).items()},
    }


def speed(count: int = 100_000) -> Figures:
    """Seconds of processor time to date so many lots."""
    person = Person("a", "A", Sex.FEMALE, datetime(1990, 1, 1).date(), 55)  # noqa: DTZ001  (wall time)
    house = House("h", (person,), 2, (), (), (), room_c=25)
    codes = sorted({row["food_code"] for row in tables.rows("keeping_foods")})
    since = datetime(2027, 3, 14)  # noqa: DTZ001  (wall time)
    lots = [
        Lot(str(i), 100, Form.WHOLE, Place.FRIDGE, since, food=codes[i % len(codes)], age_days=i % 9 / 4)
        for i in range(count)
    ]
    begin = time.process_time()
    for lot in lots:
        lot_use_by(lot, house)
    return {"seconds_for_100000_lots": time.process_time() - begin}


MEASURES: Mapping[str, Callable[[Sequence[Row]], Figures]] = {
    "tcs_checks.csv": tcs,
    "time_temperature_checks.csv": time_temperature,
    "water_activity_checks.csv": water_activity,
    "physics_checks.csv": physics,
    "growth_observations.csv": listeria,
    "cooling_growth_model_trace.csv": cereus,
    "produce_storage.csv": storage,
    "life_by_temperature.csv": by_temperature,
}


def measure(folder: Path) -> dict[str, object]:
    """Every figure that the folder's files allow, and the files that were not there."""
    out: dict[str, object] = {}
    skipped = []
    for name, figures in MEASURES.items():
        if not (folder / name).is_file():
            skipped.append(name)
            continue
        with (folder / name).open(encoding="utf-8", newline="") as file:
            out.update(figures(list(csv.DictReader(file))))
    return {**out, **speed(), "skipped": skipped}


def main() -> None:
    """Read the command line, print the figures."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("folder", type=Path, help="a folder with check files of these names")
    parser.add_argument("--json", action="store_true", help="print one JSON object")
    options = parser.parse_args()
    figures = measure(options.folder)
    if options.json:
        print(json.dumps(figures, indent=2))
        return
    for name, value in figures.items():
        print(f"{name:40} {value:.4g}" if isinstance(value, int | float) else f"{name:40} {value}")


if __name__ == "__main__":
    main()
