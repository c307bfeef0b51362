"""Water activity, boiling, conduction and growth against published and computed values.

Sources beside each test. Files of the folder beside the checkout are read where it is there.
"""

from __future__ import annotations

import csv
import math
import re
from collections.abc import Mapping
from pathlib import Path

import pytest

from chauka.keeping import boiling, conduction, growth
from chauka.keeping.conduction import Shape
from chauka.keeping.water_activity import aw_mixture, aw_money_born, aw_norrish, aw_salt, aw_saturated

SHARED = Path(__file__).parents[2] / ".." / "shared" / "reference" / "keeping"


def shared(name: str) -> list[Mapping[str, str]]:
    """A check file of the folder beside the checkout; the test is skipped where it is not there."""
    path = SHARED / name
    if not path.is_file():
        pytest.skip(f"{name} is not beside this checkout")
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@pytest.mark.parametrize(
    ("percent", "aw"),
    [(3.31, 0.9982), (14.61, 0.9907), (25.5, 0.9806), (40.64, 0.9581), (54.51, 0.9193), (65.31, 0.8634)],
)
def test_sucrose(percent: float, aw: float) -> None:
    """Robinson & Stokes osmotic coefficients (from memory), within 0.002."""
    assert aw_norrish("sucrose", percent, 100 - percent) == pytest.approx(aw, abs=0.002)


@pytest.mark.parametrize(
    ("percent", "aw", "within"),
    [(1, 0.9943, 3e-3), (5, 0.9702, 3e-3), (12, 0.9191, 3e-3), (20, 0.8394, 3e-3), (25.96, 0.76, 1.5e-3)],
)
def test_salt(percent: float, aw: float, within: float) -> None:
    """Pitzer's own values, and 6 mol/kg by Robinson & Stokes (1965) as an instrument manual prints it."""
    assert aw_salt(percent, 100 - percent) == pytest.approx(aw, abs=within)


@pytest.mark.parametrize(
    ("salt", "temp_c", "aw"),
    [
        ("MgCl2", 25, 0.3261), ("NaBr", 25, 0.5738), ("NaCl", 25, 0.7534), ("KCl", 25, 0.8434),
        ("K2SO4", 25, 0.9727), ("NaCl", 22.5, 0.754), ("K2SO4", 22.5, 0.9745),
    ],
)  # fmt: skip
def test_saturated_salts(salt: str, temp_c: float, aw: float) -> None:
    """Labuza's fits and Greenspan (1977), within 0.005."""
    assert aw_saturated(salt, temp_c) == pytest.approx(aw, abs=0.005)


def test_every_solution_of_the_shared_file() -> None:
    """Sucrose within 0.002, salt within 0.003, saturated salts within 0.005."""
    seen = 0
    for row in shared("water_activity_checks.csv"):
        name, aw = row["material"], row["aw"]
        if name == "sucrose solution":
            percent = float(row["concentration"])
            assert aw_norrish("sucrose", percent, 100 - percent) == pytest.approx(float(aw), abs=0.002), row
        elif name.startswith("NaCl"):
            percent = float(row["concentration"])
            assert aw_salt(percent, 100 - percent) == pytest.approx(float(aw), abs=0.003), row
        elif name.startswith("saturated"):
            assert aw_saturated(name.split()[1], float(row["temp_C"])) == pytest.approx(float(aw), abs=0.005), row
        else:
            continue
        seen += 1
    assert seen > 25


def test_solutes_multiply() -> None:
    """Ross: each in all the water; a sweet brine is drier than either, and Money-Born stays near Norrish."""
    both = aw_mixture({"sucrose": 50, "salt": 5}, 50)
    assert both == pytest.approx(aw_norrish("sucrose", 50, 50) * aw_salt(5, 50))
    assert aw_money_born(50 / 342.3, 50) == pytest.approx(aw_norrish("sucrose", 50, 50), abs=0.01)


@pytest.mark.parametrize(
    ("altitude_m", "boils_c"),
    [(0, 99.97), (500, 98.31), (1500, 94.98), (2000, 93.32), (3500, 88.3)],
)
def test_boiling_point(altitude_m: float, boils_c: float) -> None:
    """IAPWS-IF97 by the iapws library 1.5.5, within 0.02 °C."""
    assert boiling.boiling_point_c(altitude_m) == pytest.approx(boils_c, abs=0.02)


@pytest.mark.parametrize(
    ("gauge_kpa", "altitude_m", "temp_c"),
    [(40, 0, 109.57), (80, 0, 117.14), (80, 1000, 115.13), (103.421, 0, 120.95), (103.421, 1000, 119.14)],
)
def test_pressure_cooker(gauge_kpa: float, altitude_m: float, temp_c: float) -> None:
    """IAPWS-IF97 by the iapws library 1.5.5, within 0.02 °C."""
    assert boiling.cooker_c(gauge_kpa, altitude_m) == pytest.approx(temp_c, abs=0.02)


@pytest.mark.parametrize(("kelvin", "mpa"), [(372.755919, 0.1), (453.035632, 1.0), (584.149488, 10.0)])
def test_saturation_temperature_as_released(kelvin: float, mpa: float) -> None:
    """IAPWS-IF97 release, Table 36 (from memory): computer-program verification values."""
    assert boiling.boils_at_kpa(mpa * 1000) + 273.15 == pytest.approx(kelvin, abs=1e-6)


def numbers(text: str) -> dict[str, float]:
    """`Bi=0.1; Fo=0.2` as a mapping; units behind a number are dropped."""
    return {k: float(v) for k, v in re.findall(r"([\w/]+)\s*=\s*(-?[\d.]+)", text)}


def test_every_physics_value_of_the_shared_file() -> None:
    """Temperatures within 0.05 °C, series within 1e-5, times and equivalents to the printed digits."""
    shapes = {"slab": Shape.SLAB, "cylinder": Shape.CYLINDER, "sphere": Shape.SPHERE}
    for row in shared("physics_checks.csv"):
        what, given, value = row["quantity"], numbers(row["input"]), float(row["value"])
        if what == "boiling_point":
            assert boiling.boiling_point_c(given["altitude_m"]) == pytest.approx(value, abs=0.05)
        elif what == "pressure_cooker":
            assert boiling.cooker_c(given["gauge_kPa"], given["altitude_m"]) == pytest.approx(value, abs=0.05)
        elif what == "short_cylinder_centre_theta":
            assert conduction.theta_short_cylinder(5, 0.2, 10, 0.5) == pytest.approx(value, abs=1e-4)
        elif what == "lumped_cooling_time":
            theta = (given["Ttarget"] - given["Tair"]) / (given["T0"] - given["Tair"])
            hours = conduction.newton_hours(
                kg=given["m"], j_per_kg_k=given["c"], h_w_m2k=given["h"], area_m2=given["A"], theta_end=theta
            )
            assert hours == pytest.approx(value, rel=1e-3)
        elif what == "equivalent_minutes":
            found = boiling.equivalent_minutes(given["minutes"], given["T"], given["Tref"], given["z"])
            assert found == pytest.approx(value, rel=1e-4)
        else:
            at = given.get("x/L", given.get("r/R", 0.0))
            found = conduction.theta(shapes[what.split("_")[0]], given["Bi"], given["Fo"], at)
            assert found == pytest.approx(value, abs=1e-5), row


@pytest.mark.parametrize(
    ("shape", "bi", "fo", "theta"),
    [
        (Shape.SLAB, 0.1, 0.2, 0.993999),
        (Shape.SLAB, 5, 1.0, 0.220721),
        (Shape.CYLINDER, 1, 0.5, 0.548586),
        (Shape.CYLINDER, 100, 1.0, 0.005529),
        (Shape.SPHERE, 10, 0.5, 0.034478),
    ],
)
def test_conduction_series(shape: Shape, bi: float, fo: float, theta: float) -> None:
    """Sixty terms of the series, computed apart from this program."""
    assert conduction.theta(shape, bi, fo) == pytest.approx(theta, abs=1e-5)


TRACE = (
    (0, 54.59, 2.0, 0.0), (1, 45.99, 2.0, 0.6), (2, 38.94, 2.06, 0.93), (3, 32.92, 2.33, 0.78), (4, 27.86, 2.81, 0.56),
    (5, 23.43, 3.22, 0.36), (6, 19.89, 3.49, 0.22), (7, 16.71, 3.65, 0.11), (8, 14.14, 3.73, 0.05),
    (9, 11.94, 3.77, 0.02), (10, 10.13, 3.78, 0.0), (11, 8.48, 3.78, 0.0), (12, 7.21, 3.78, 0.0),
)  # fmt: skip
"""Hour, °C, log10 CFU/g and rate [log10/h] of USDA ARS predictive model page 2021166 (Baranyi, h0 4.1)."""


def test_cereus_in_cooling_rice() -> None:
    """The whole trace within 0.05 log; its rates within 10 % where they are printed to that precision."""
    hours, temps = [t[0] for t in TRACE], [t[1] for t in TRACE]
    found = growth.cereus_while_cooling(hours, temps)
    assert found == pytest.approx([t[2] for t in TRACE], abs=0.05)
    assert found[-1] == pytest.approx(3.78, abs=0.05)
    for _, temp_c, _, rate in TRACE:
        if rate >= 0.2:
            assert growth.cereus_cooling(temp_c) / growth.LN10 == pytest.approx(rate, rel=0.10)


@pytest.mark.parametrize(
    ("temp_c", "low_h", "high_h", "source"),
    [
        (4, 29.73, 45.55, "Rosenow & Marth (1987) JFP 50:452"),
        (13, 4.45, 6.92, "Rosenow & Marth (1987)"),
        (21, 1.717, 1.917, "Rosenow & Marth (1987)"),
        (5, 13, 24, "Walker, Archer & Banks (1990) J Appl Bact 68:157"),
    ],
)
def test_listeria_doubles_as_seen_in_milk(temp_c: float, low_h: float, high_h: float, source: str) -> None:
    """Doubling time within × 1.5 of the observed range, 2 to 21 °C (milk: pH 6.7, aw 0.995 assumed)."""
    found = growth.doubling_hours(growth.listeria_mejlholm(temp_c, 6.7, 0.995))
    assert low_h / 1.5 <= found <= high_h * 1.5, source


def test_nothing_grows_past_its_limits() -> None:
    """Acid, dryness and cold stop it: no growth is infinite time, not an error."""
    assert growth.listeria_mejlholm(7, ph=4.5) == 0
    assert growth.listeria_augustin(7, ph=4.6) == 0
    assert growth.cereus_cold(7, aw=0.94) == 0
    assert growth.aureus(5) == growth.perfringens(9) == growth.cereus_cooling(8) == 0
    assert growth.doubling_hours(0) == math.inf
    assert growth.listeria_augustin(37, 7.1, 0.997) == pytest.approx(0.742, rel=1e-3)


def test_a_colder_refrigerator_is_safer() -> None:
    """Reheated food: over three days at 5 °C, less than two at 7 °C; the agencies' three days belong to 5 °C."""
    days = [growth.reheated_limit(t)[0] for t in (3, 5, 7, 9)]
    assert days == sorted(days, reverse=True)
    assert 3.0 < days[1] < 3.5
    assert days[2] < 2.0
    assert all(growth.cold_eaten_limit(t) <= growth.reheated_limit(t) for t in (3, 5, 7, 9))
    assert growth.cold_eaten_limit(5)[1] == "Listeria"
