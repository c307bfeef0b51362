"""The API asked for whatever its own OpenAPI allows and forbids, by schemathesis; the same requests in every run."""

from __future__ import annotations

from typing import Any

import pytest
import schemathesis
from django.conf import settings as django_settings
from hypothesis import HealthCheck, Phase, settings
from schemathesis.config import SchemathesisConfig
from tests.web.conftest import blank_book, book, book_file, free_to_open, household, plan

from chauka.services import workers
from chauka.site.wsgi import application
from chauka.store.models import Household

__all__ = ["blank_book", "book", "book_file", "free_to_open", "household", "plan"]

RANDOM = 5
"""Random requests of each operation; those that go through every rule of its schema come on top."""

MAY_ANSWER = ["2xx", "401", "403", "404", "409", "422", "429"]
"""What has the right shape may still be no food, no amount, no sitting, no pass phrase of this house."""

CONFIG = SchemathesisConfig.from_dict({
    "seed": 1,
    "generation": {"deterministic": True, "max-examples": RANDOM, "database": "none"},
    "checks": {"positive_data_acceptance": {"expected-statuses": MAY_ANSWER}},
})  # fmt: skip
schema = schemathesis.openapi.from_wsgi("/api/openapi.json", application, config=CONFIG)


@pytest.fixture
def house_and_day(household: Household, monkeypatch: pytest.MonkeyPatch) -> None:
    """The demo house with its plan, on its first day."""
    monkeypatch.setattr(django_settings, "CHAUKA_TODAY", "2027-03-14")
    monkeypatch.setattr(workers, "start", lambda _: None)  # no search for plans beside the test


@schema.parametrize()
@settings(
    max_examples=RANDOM,
    derandomize=True,
    database=None,
    phases=[Phase.explicit, Phase.generate],
    suppress_health_check=list(HealthCheck),
)
def test_every_answer_is_one_that_the_description_names(case: Any, house_and_day: None) -> None:
    """No fault of the server; status, content type and shape as described; wrong requests refused, right ones taken."""
    case.call_and_validate(headers={"Accept-Encoding": "identity"})
