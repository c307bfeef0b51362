"""A stay on the command line: hours at a temperature, as in 1h@31."""

from __future__ import annotations

import re
from typing import Any

import click

from chauka.keeping import Stay

_WRITTEN = re.compile(r"(\d+(?:\.\d+)?)\s*(h|d)\s*@\s*(-?\d+(?:\.\d+)?)\s*(?:°?C)?\Z", re.IGNORECASE)


class StayType(click.ParamType[Stay]):
    """Hours (h) or days (d) at a temperature in °C."""

    name = "stay"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Stay:
        """Read it, or say how it is written."""
        if isinstance(value, Stay):
            return value
        found = _WRITTEN.match(str(value).strip())
        if found is None:
            self.fail(f"{value!r} is no stay; write hours or days at a temperature, as in 1h@31 or 2d@7", param, ctx)
        return Stay(float(found[1]) * (24 if found[2].lower() == "d" else 1), float(found[3]))


STAY = StayType()
