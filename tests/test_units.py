"""Estimates and spans obey the arithmetic of independent spreads."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from chauka.units import GRAMS_PER_UNIT, Estimate, Span

means = st.floats(-1e6, 1e6)
sds = st.floats(0, 1e5)
estimates = st.builds(Estimate, means, sds)
factors = st.floats(-1e3, 1e3)


@given(estimates, estimates)
def test_adding_adds_means_and_variances(a: Estimate, b: Estimate) -> None:
    """A sum of independent estimates: means add, variances add, order does not matter."""
    both = a + b
    assert both == b + a
    assert both.mean == a.mean + b.mean
    assert both.sd == pytest.approx(math.hypot(a.sd, b.sd))
    assert both.sd >= max(a.sd, b.sd)


@given(st.lists(estimates, max_size=6))
def test_total_is_the_sum_of_all(parts: list[Estimate]) -> None:
    """`total` agrees with adding one after the other, and nothing sums to nothing."""
    total = Estimate.total(parts)
    added = sum(parts, Estimate(0))
    assert total.mean == pytest.approx(added.mean, abs=1e-6)
    assert total.sd == pytest.approx(added.sd, abs=1e-6)


@given(estimates, factors)
def test_a_known_factor_scales_mean_and_spread(a: Estimate, factor: float) -> None:
    """Scaling keeps the relative spread and never makes it negative."""
    scaled = a * factor
    assert scaled == factor * a
    assert scaled.mean == a.mean * factor
    assert scaled.sd == pytest.approx(abs(factor) * a.sd)


@given(st.floats(0.1, 1e4), st.floats(0, 1), st.floats(0.1, 1e4), st.floats(0, 1))
def test_relative_spreads_of_a_product_add_in_squares(m: float, u: float, n: float, v: float) -> None:
    """For a product of independent estimates: cv² = u² + v² + u²v²."""
    product = Estimate(m, m * u) * Estimate(n, n * v)
    assert product.mean == pytest.approx(m * n)
    assert product.cv**2 == pytest.approx(u**2 + v**2 + (u * v) ** 2, abs=1e-9)


@given(estimates, st.floats(0.01, 1e3))
def test_dividing_undoes_multiplying(a: Estimate, factor: float) -> None:
    """(a × f) ÷ f is a."""
    back = a * factor / factor
    assert back.mean == pytest.approx(a.mean)
    assert back.sd == pytest.approx(a.sd)


@pytest.mark.parametrize("bad", [(math.nan, 0), (math.inf, 0), (1, -1), (1, math.nan)])
def test_an_estimate_refuses_what_is_no_number(bad: tuple[float, float]) -> None:
    """No infinite mean, no negative spread."""
    with pytest.raises(ValueError, match="finite mean"):
        Estimate(*bad)


def test_cv_of_nothing() -> None:
    """A certain zero has no relative spread; an uncertain one has an infinite one."""
    assert Estimate(0).cv == 0
    assert Estimate(0, 1).cv == math.inf
    assert Estimate(-10, 1).cv == pytest.approx(0.1)


@given(st.floats(-1e6, 1e6), st.floats(0, 1e6), st.floats(0, 1e3))
def test_a_span_scales_from_both_ends(low: float, width: float, factor: float) -> None:
    """A scaled span keeps its middle in the middle."""
    span = Span(low, low + width)
    assert span.low <= span.mid <= span.high
    assert (span * factor).mid == pytest.approx(span.mid * factor, abs=1e-3)


@pytest.mark.parametrize("bad", [(2, 1), (math.nan, 1), (0, math.inf)])
def test_a_span_refuses_to_run_backwards(bad: tuple[float, float]) -> None:
    """High below low, or an end that is no number, is refused."""
    with pytest.raises(ValueError, match="from low to high"):
        Span(*bad)


def test_ounces_and_pounds_agree() -> None:
    """Sixteen ounces are a pound."""
    assert 16 * GRAMS_PER_UNIT["oz"] == pytest.approx(GRAMS_PER_UNIT["lb"], rel=1e-12)
