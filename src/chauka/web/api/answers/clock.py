"""Times as the house tells them: without a time zone."""

from __future__ import annotations

from datetime import datetime, time
from typing import Annotated

from pydantic import WithJsonSchema

Moment = Annotated[datetime, WithJsonSchema({"type": "string", "format": "date-time-local"})]
"""A moment by the house's own clock: it has no time zone."""

Hour = Annotated[time, WithJsonSchema({"type": "string", "format": "time-local"})]
"""An hour of the day by the same clock."""
