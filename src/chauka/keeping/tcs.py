"""Whether a food needs time and temperature control for safety (TCS), by its pH and water activity."""

from __future__ import annotations

from bisect import bisect_left
from enum import StrEnum

SOURCE = "FDA Food Code 2022, definition of time/temperature control for safety food, Tables A and B"


class Control(StrEnum):
    """What the Food Code's tables say."""

    NONE = "non-TCS"
    ASSESS = "PA"
    """Product assessment required: a home kitchen treats it as needing control."""

    @property
    def needs_cold(self) -> bool:
        """Whether it has to stay cold (or hot) to be safe."""
        return self is Control.ASSESS


_N, _P = Control.NONE, Control.ASSESS
_A_AW, _A_PH = (0.92, 0.95), (4.6, 5.6)
_A = ((_N, _N, _N), (_N, _N, _P), (_N, _P, _P))
_B_PH = (4.6, 5.0)
_B = ((_N, _N, _N, _N), (_N, _N, _N, _P), (_N, _N, _P, _P), (_N, _P, _P, _P))


def packed_after_heat(ph: float | None, aw: float | None) -> Control:
    """Table A: food heated and then packaged, so that only spores matter; unknown pH or aw counts as the worst."""
    return _A[_step(aw, _A_AW)][_step(ph, _A_PH)]


def open_food(ph: float | None, aw: float | None) -> Control:
    """Table B: everything else, which is a home kitchen's case; unknown pH or aw counts as the worst.

    Its edges are printed as "below 4.2" and "below 0.88", the others as "or less".
    """
    row = 3 if aw is None else 0 if aw < 0.88 else 1 if aw <= 0.90 else 2 if aw <= 0.92 else 3
    column = 3 if ph is None else 0 if ph < 4.2 else 1 + bisect_left(_B_PH, ph)
    return _B[row][column]


def _step(value: float | None, edges: tuple[float, ...]) -> int:
    return len(edges) if value is None else bisect_left(edges, value)
