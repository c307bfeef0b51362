"""Errors say what was wrong, where, and all at once."""

import pytest

from chauka.errors import ChaukaError, Complaints, DataError, InputError, SafetyError, SolverError


def test_complaints_are_raised_together_under_their_fields() -> None:
    """One error carries every complaint, by thing and field."""
    bad = Complaints("lot l1")
    bad.check(False, "grams", "is below zero")
    bad.check(True, "since", "never said")
    bad.add("grams", "is absurd")
    bad.add("", "is of nothing")
    with pytest.raises(InputError) as caught:
        bad.raise_if_any()
    assert caught.value.fields == {"lot l1.grams": ("is below zero", "is absurd"), "lot l1": ("is of nothing",)}
    assert str(caught.value) == "lot l1.grams: is below zero; lot l1.grams: is absurd; lot l1: is of nothing"


def test_no_complaint_raises_nothing() -> None:
    """Silence when all is well."""
    bad = Complaints("lot")
    bad.check(True, "grams", "never said")
    bad.raise_if_any()


def test_an_input_error_of_one_sentence_has_no_field() -> None:
    """A bare complaint stands under the empty field and prints as it is."""
    error = InputError("write a number")
    assert error.fields == {"": ("write a number",)}
    assert str(error) == "write a number"


def test_a_safety_error_names_its_rule_and_source() -> None:
    """Rule and source are in the message and at hand."""
    error = SafetyError("eat it today", rule="four hours", source="a food code")
    assert (error.rule, error.source) == ("four hours", "a food code")
    assert str(error) == "eat it today (rule: four hours; source: a food code)"


@pytest.mark.parametrize(
    ("error", "builtin"), [(InputError, ValueError), (DataError, LookupError), (SolverError, RuntimeError)]
)
def test_errors_are_also_the_built_in_they_resemble(error: type[Exception], builtin: type[Exception]) -> None:
    """One `except ChaukaError` catches all; the built-in kin works too."""
    assert issubclass(error, ChaukaError)
    assert issubclass(error, builtin)
