"""The sweep over small houses, in small; the whole of it is `python -m benchmarks.made_houses`."""

from benchmarks.made_houses import run


def test_small_houses_are_answered_rightly():
    """Every answer is valid and proven, the brute force agrees, and some houses have no plan that fits."""
    count = run(40, first=7)
    assert count.houses >= 40
    assert count.whole
    assert count.no_plan_fits > 0
