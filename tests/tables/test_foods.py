"""Foods: what is known, what is not, and how to find one."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from chauka import tables
from chauka.errors import DataError
from chauka.tables import NUTRIENTS, ValueStatus

EVERY_FOOD = st.sampled_from(sorted(tables.foods()))
EVERY_TAG = st.sampled_from(sorted(NUTRIENTS))

KITCHEN = [
    "A004", "A010", "A011", "A015", "A018", "A019", "A022", "A504", "B001", "B002", "B003", "B004", "B010", "B011",
    "B012", "B013", "B014", "B020", "B021", "B509", "C002", "C026", "C031", "C033", "D007", "D032", "D075", "D076",
    "E012", "E033", "E047", "E063", "F006", "F007", "F010", "F011", "F501", "G008", "G009", "G010", "G011", "G014",
    "G016", "G017", "G019", "G020", "G022", "G023", "G024", "G025", "G029", "G031", "G033", "G501", "G510", "G512",
    "G518", "G528", "G547", "H001", "H011", "H012", "H013", "H021", "I001", "I502", "I507", "K505", "L001", "L002",
    "L003", "L520", "L521", "T005", "T006", "T012", "T506", "X901",
]  # fmt: skip


def test_two_tables_and_our_own() -> None:
    """542 foods of the Indian tables, 198 beyond them, a few names of our own."""
    sources = [food.source for food in tables.foods().values()]
    assert sources.count("ifct2017") == 542
    assert sources.count("beyond_ifct") == 198
    assert sources.count("own_foods") == tables.card("own_foods").rows


@pytest.mark.parametrize("code", KITCHEN)
def test_an_indian_kitchen_finds_its_foods(code: str) -> None:
    """Each has a name, and an energy but for fennel seed, cinnamon and turnip greens, where the source knows none."""
    food = tables.food(code)
    assert food.name
    assert (food.value("ENERC_KCAL").status is ValueStatus.KNOWN) == (code not in {"G510", "G518", "X901"})


@given(code=EVERY_FOOD, tag=EVERY_TAG)
def test_missing_is_never_zero(code: str, tag: str) -> None:
    """A value has a mean exactly where it is known or a trace; a trace counts 0; nothing is negative."""
    value = tables.food(code).value(tag)
    if value.status in {ValueStatus.MISSING, ValueStatus.PRESENT}:
        assert value.mean is None
        assert value.se is None
    elif value.status is ValueStatus.TRACE:
        assert value.mean == 0
    else:
        assert value.mean is not None
        assert value.mean >= 0
        assert value.se is None or value.se > 0


def test_main_components_fit_into_100_g() -> None:
    """Water, protein, fat, carbohydrate, fibre and ash of plant foods and milk weigh 100 g at most.

    The sources themselves go over with fish (up to 103 g) and dried rosemary (106 g, carbohydrate and fibre overlap).
    """
    for code, food in tables.foods().items():
        total = sum(food.value(tag).mean or 0 for tag in ("WATER", "PROCNT", "FAT", "CHOAVLDF", "FIBTG", "ASH"))
        allowed = 106 if code == "G525" else 103.2 if code[0] in "NOPQRS" else 100.6
        assert total <= allowed, (code, food.name)


@given(code=EVERY_FOOD)
def test_kilojoules_and_kilocalories_say_the_same(code: str) -> None:
    """kJ ÷ kcal lies near 4.184 wherever both are known and large enough not to be rounding."""
    kj, kcal = tables.food(code).value("ENERC").mean, tables.food(code).value("ENERC_KCAL").mean
    if kj and kcal and kcal > 30:
        assert 4.0 < kj / kcal < 4.4


def test_marks_of_the_source_keep_their_meaning() -> None:
    """N is present but unknown, Tr a trace, blank missing: salt in CoFID 2021."""
    salt = tables.food("G528")
    assert salt.value("SE").status is ValueStatus.PRESENT
    assert salt.value("MN").status is ValueStatus.TRACE
    assert salt.value("VITK1").status is ValueStatus.MISSING
    assert salt.value("NA").mean == 39300


def test_sugar_is_sugar_by_weight() -> None:
    """CoFID prints 105 g of monosaccharide equivalents per 100 g of white sugar: 100 g by weight."""
    sugar = tables.food("I502")
    assert sugar.value("FSUGAR").mean == 100
    assert sugar.value("CHOAVLDF").mean == 100


def test_no_table_has_vitamin_b12() -> None:
    """It stands in the list so that a page can say that it is unknown."""
    assert "VITB12" in NUTRIENTS
    assert tables.food("L002").value("VITB12").status is ValueStatus.MISSING


def test_units_are_those_of_the_headers() -> None:
    """Every column of amounts has the unit that NUTRIENTS gives."""
    for table in tables.COMPOSITION_TABLES:
        headers = [name for name in tables.card(table).columns if name.rsplit("_", 1)[0] in NUTRIENTS]
        assert len(headers) >= 5
        for header in headers:
            tag, unit = header.rsplit("_", 1)
            assert NUTRIENTS[tag].unit == unit


def test_local_names_by_language() -> None:
    """Spinach is palak in Hindi; a name shared by two languages stands in both."""
    assert tables.food("C033").names["hi"] == ("Palak",)
    assert tables.food("A003").names["as"] == tables.food("A003").names["ks"] == ("Baajra",)


def test_unknown_food_names_the_nearest_and_where_we_looked() -> None:
    """A mistyped code is told with its neighbours and the tables looked in."""
    with pytest.raises(DataError, match=r"C033.*Spinach.*Indian Food Composition Tables 2017"):
        tables.food("C0333")


@pytest.mark.parametrize(
    ("words", "code"),
    [("besan", "A504"), ("palak", "C033"), ("Spinach", "C033"), ("moong dal", "B010"), ("curd", "L520"),
     ("green chillies", "G008"), ("atta", "A019"), ("haldi", "G033"), ("mandua", "A010"), ("lauki", "D007")],
)  # fmt: skip
def test_find_by_kitchen_or_local_name(words: str, code: str) -> None:
    """The first food found is the one a cook means."""
    assert tables.find_foods(words)[0].code == code


def test_find_returns_at_most_what_was_asked_for() -> None:
    """No more than `limit`, no food twice, nothing for nonsense."""
    found = tables.find_foods("rice", limit=3)
    assert len(found) == len({f.code for f in found}) == 3
    assert tables.find_foods("qqqqqqzzzz") == ()


def test_kitchen_names_lead_to_foods_and_say_it_once() -> None:
    """Each kitchen name means one food that exists."""
    names = [row["name"] for row in tables.rows("food_names")]
    assert len(names) == len(set(names))
    assert all(name == name.lower() for name in names)
