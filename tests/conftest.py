"""Settings of all tests."""

from __future__ import annotations

from hypothesis import HealthCheck, settings

# A busy machine must not fail a test that holds: no example is timed.
settings.register_profile("chauka", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("chauka")
