"""An amount as a cook writes it is read exactly, and what cannot be read is named."""

from contextlib import suppress
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from chauka.errors import InputError
from chauka.quantities import Amount, Size, Unit, read_amount, say

HALF, THREE_HALVES = Fraction(1, 2), Fraction(3, 2)


@pytest.mark.parametrize(
    ("text", "low", "high", "unit", "size"),
    [
        ("1 cup", 1, 1, Unit.CUP, None),
        ("½ tsp", HALF, HALF, Unit.TEASPOON, None),
        ("1½ cups", THREE_HALVES, THREE_HALVES, Unit.CUP, None),
        ("1 1/2 cup", THREE_HALVES, THREE_HALVES, Unit.CUP, None),
        ("0.5 l", HALF, HALF, Unit.LITRE, None),
        (".5 kg", HALF, HALF, Unit.KILOGRAM, None),
        ("3–4", 3, 4, Unit.PIECE, None),
        ("3 to 4 medium", 3, 4, Unit.PIECE, Size.MEDIUM),
        ("1½–2 tablespoons", THREE_HALVES, 2, Unit.TABLESPOON, None),
        ("3", 3, 3, Unit.PIECE, None),
        ("2 Large", 2, 2, Unit.PIECE, Size.LARGE),
        ("2 bunches", 2, 2, Unit.BUNCH, None),
        ("a pinch", 1, 1, Unit.PINCH, None),
        ("1-inch piece", 1, 1, Unit.INCH, None),
        ("6 cloves", 6, 6, Unit.CLOVE, None),
        ("about 250 gms", 250, 250, Unit.GRAM, None),
        ("250g", 250, 250, Unit.GRAM, None),
        ("2 handfuls", 2, 2, Unit.FISTFUL, None),
        ("1 katori", 1, 1, Unit.KATORI, None),
        ("10 leaves", 10, 10, Unit.LEAF, None),
        ("two sprigs", 2, 2, Unit.SPRIG, None),
        ("1 cup (120 g)", 1, 1, Unit.CUP, None),
        ("half a cup", HALF, HALF, Unit.CUP, None),
    ],
)
def test_reads(text: str, low: Fraction | int, high: Fraction | int, unit: Unit, size: Size | None) -> None:
    """Each everyday spelling gives the number, the unit and the size that it says."""
    assert read_amount(text) == (Amount(Fraction(low), Fraction(high), unit, size),)


def test_reads_a_sum() -> None:
    """ "1 cup + 2 tbsp" is two amounts."""
    assert read_amount("1 cup + 2 tbsp") == read_amount("1 cup plus 2 tablespoons")
    assert [a.unit for a in read_amount("1 cup + 2 tbsp")] == [Unit.CUP, Unit.TABLESPOON]


@pytest.mark.parametrize(
    ("text", "complaint"),
    [
        ("", "does not begin with a number"),
        ("some", "does not begin with a number"),
        ("-2 cups", "does not begin with a number"),
        ("1/0 cup", "divides by nought"),
        ("4–3 cups", "from the larger number to the smaller"),
        ("2 buckets", "'buckets' is not a unit"),
        ("2 cups tsp", "is not a unit"),
        ("200 g large", "a weight and a size"),
        ("1000000 g", "more than a household cooks"),
        ("1 cup +", "does not begin with a number"),
    ],
)
def test_refuses(text: str, complaint: str) -> None:
    """What cannot be read is an error that quotes it and says what is wrong."""
    with pytest.raises(InputError) as caught:
        read_amount(text)
    assert complaint in str(caught.value)
    assert "amount" in caught.value.fields


numbers = st.fractions(min_value=0, max_value=500, max_denominator=60)
spans = st.tuples(numbers, numbers).map(sorted)
amounts = st.builds(
    lambda span, unit, size: Amount(span[0], span[1], unit, size if unit is Unit.PIECE else None),
    spans,
    st.sampled_from(Unit),
    st.none() | st.sampled_from(Size),
)


@given(st.lists(amounts, min_size=1, max_size=3).map(tuple))
def test_reading_what_was_said_gives_the_same(amount: tuple[Amount, ...]) -> None:
    """Printing an amount and reading it again gives the same amount."""
    assert read_amount(say(amount)) == amount


@given(st.text(max_size=60))
def test_any_text_is_read_or_refused(text: str) -> None:
    """No text makes the reader fail other than by saying what is wrong."""
    with suppress(InputError):
        read_amount(text)
