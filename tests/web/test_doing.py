"""What the pages let a cook do, without a browser: forms in, the book as it is then."""

from __future__ import annotations

import re
from pathlib import Path

from django.test import Client
from tests.web.conftest import NOW

from chauka.services import first_run, ticks
from chauka.store import books
from chauka.store.models import Household

JSON = {"accept": "application/json"}


def test_a_tick_from_a_script_and_one_that_cannot_be(client: Client, household: Household) -> None:
    """The script hears `{}` for a tick, sent once or twice, and words for one that cannot be."""
    lists = ticks.lists(household, NOW)
    item = lists.days[0].items[0]
    said = {"plan": lists.plan, "tick": item.key}
    assert client.post("/market/tick", said, headers=JSON).json() == {}
    assert client.post("/market/tick", said, headers=JSON).json() == {}
    assert ticks.lists(household, NOW).days[0].items[0].bought is not None
    refused = client.post("/market/tick", {"plan": lists.plan, "tick": "2027-03-14/A001"}, headers=JSON)
    assert refused.status_code == 422
    assert "has no" in refused.json()["complaint"]


def test_the_shelf_keeps_what_was_not_understood(client: Client) -> None:
    """The text stays in its field, the complaint names the part."""
    answer = client.post("/shelf/add", {"text": "2 flubber"}, headers={"accept-encoding": "identity"})
    assert answer.status_code == 422
    text = answer.content.decode()
    assert 'value="2 flubber"' in text
    assert "which food is" in text


def test_house_numbers_are_set_and_taken_back(client: Client, household: Household) -> None:
    """A wrong number changes nothing; a right one is in the book and can be taken back from the ledger."""
    assert client.post("/house/numbers", {"fridge_c": "cold"}).status_code == 422
    assert client.post("/house/numbers", {"fridge_c": "60"}).status_code == 422
    client.post("/house/numbers", {"fridge_c": "8", "cup_ml": "200"})
    house = books.load_book(household).house
    assert (house.fridge_c, house.measures.cup_ml) == (8.0, 200.0)
    last = client.get("/ledger/", headers={"accept-encoding": "identity"}).content.decode()
    number = last.split('name="number" value="', 1)[1].split('"', 1)[0]
    client.post("/ledger/take-back", {"number": number})
    assert books.load_book(household).house.fridge_c == 6.0


def test_guests_and_people(client: Client, household: Household) -> None:
    """A rule and a person come and go by forms."""
    client.post("/house/rule", {"kind": "guests", "weekday": "5", "meal": "dinner", "guests": "3"})
    assert books.load_book(household).house.rules[-1].guests == 3
    client.post("/house/rule", {"remove": str(len(books.load_book(household).house.rules) - 1)})
    assert all(not rule.guests for rule in books.load_book(household).house.rules)
    said = {"name": "Meera", "born": "2000-01-01", "weight_kg": "55", "sex": "female", "chilli": "2"}
    client.post("/house/person", said)
    assert books.load_book(household).house.person("meera").chilli == 2
    assert client.post("/house/person", {**said, "born": "someday"}).status_code == 422
    client.post("/house/person", {"remove": "meera"})
    assert "meera" not in {p.id for p in books.load_book(household).house.people}


def test_an_evening_goes_on_over_two_phones(client: Client) -> None:
    """Begun on one phone, seen on the other; a deed that makes no sense is refused in words."""
    where = "/stove/2027-03-14/dinner/"
    plain = {"accept-encoding": "identity"}
    assert client.post(f"{where}deed", {"deed": "done 0"}).status_code == 422
    client.post(f"{where}deed", {"deed": "cook"})
    client.post(f"{where}deed", {"deed": "begin 0"})
    other = Client(SERVER_NAME="localhost", headers=plain)
    assert 'value="done 0"' in other.get(f"{where}live").content.decode()
    assert client.post(f"{where}deed", {"deed": "fly 0"}).status_code == 422
    assert client.post(f"{where}deed", {"deed": "done 99"}).status_code == 422
    client.post(f"{where}deed", {"deed": "leave"})
    assert "Begin to cook" in other.get(f"{where}live").content.decode()


def test_an_empty_book_asks_five_questions(book_file: Path, settings: object) -> None:
    """Every page leads to the questions; unclear answers are asked again; good ones make a house."""
    settings.CHAUKA_TODAY = "2027-03-14"  # type: ignore[attr-defined]
    client = Client(SERVER_NAME="localhost")
    assert client.get("/shelf/").headers["Location"] == "/begin/"
    bad = client.post("/begin/own", {"people": "Asha", "burners": "none"})
    assert bad.status_code == 422
    assert first_run.is_empty()
    said = {"name": "Ours", "people": "Asha, woman, 34\nRavi, boy, 6", "burners": "2", "market": "26", "budget": "2000"}
    house = books.load_book(first_run.begin(said, NOW)).house
    assert [(p.name, int(p.age_years(NOW.date()))) for p in house.people] == [("Asha", 34), ("Ravi", 6)]
    assert (house.market_weekdays, house.weekly_budget) == ((2, 6), 200_000)


def test_small_burners_and_room_at_the_bench(client: Client, household: Household) -> None:
    """None of a kind may be small; more small ones than burners are refused; no room said is no bound."""
    there = books.load_book(household).house
    assert client.post("/house/numbers", {"small_burners": str(there.burners + 1)}).status_code == 422
    assert client.post("/house/numbers", {"bench_places": "0"}).status_code == 422
    client.post("/house/numbers", {"small_burners": "1", "bench_places": "2"})
    house = books.load_book(household).house
    assert (house.small_burners, house.bench_places) == (1, 2)
    client.post("/house/numbers", {"small_burners": "0", "bench_places": ""})
    house = books.load_book(household).house
    assert (house.small_burners, house.bench_places) == (0, None)


def test_who_cooks(client: Client, household: Household) -> None:
    """Somebody is described, changed, put first and taken off; the list says what is left to others."""
    before = books.load_book(household).house.crew
    client.post("/house/cook", {"number": "", "name": "Meera", "pace": "1,5", "cannot": ["deep-fry", "temper"]})
    meera = books.load_book(household).house.crew[-1]
    assert (meera.name, meera.pace, sorted(meera.cannot)) == ("Meera", 1.5, ["deep-fry", "temper"])
    text = client.get("/house/", headers={"accept-encoding": "identity"}).content.decode()
    assert "leaves to others: deep-fry, temper" in " ".join(text.split())
    last = str(len(before))
    client.post("/house/cook", {"number": last, "name": "Meera", "pace": "", "cannot": ["temper"]})
    client.post("/house/cook", {"first": last})
    crew = books.load_book(household).house.crew
    assert (crew[0].name, crew[0].pace, crew[1:]) == ("Meera", 1.0, before)
    client.post("/house/cook", {"remove": "0"})
    assert books.load_book(household).house.crew == before
    for wrong in ({"name": ""}, {"name": "A", "pace": "quick"}, {"name": "A", "pace": "9"}, {"remove": last}):
        assert client.post("/house/cook", wrong).status_code == 422


def test_the_region_whose_seasons_hold(client: Client, household: Household) -> None:
    """One that has a calendar, or none; never one that nobody wrote."""
    for region in ("UK", ""):
        client.post("/house/region", {"region": region})
        assert books.load_book(household).house.region == region
    assert client.post("/house/region", {"region": "Atlantis"}).status_code == 422


def test_the_stove_leads_to_each_dish_for_as_many_as_it_is_cooked_for(client: Client) -> None:
    """Who follows the link sees the amounts that go into the pot today."""
    text = client.get("/stove/2027-03-14/dinner/", headers={"accept-encoding": "identity"}).content.decode()
    links = re.findall(r'href="(/dishes/[^"]+/\?portions=([0-9.]+))"', text)
    assert links
    for link, portions in links:
        assert client.get(link).status_code == 200
        assert float(portions) > 0


def test_a_text_that_no_store_keeps_is_refused_in_words(client: Client, household: Household) -> None:
    """PostgreSQL keeps no NUL in a text, so neither store is given one, whether in a form or in an address."""
    before = len(books.load_book(household).lots)
    plain = {"accept-encoding": "identity"}
    added = client.post("/shelf/add", {"text": "1 kg rice\0"}, headers=plain)
    sought = client.get("/dishes/", {"q": "\0"}, headers=plain)
    for answer in (added, sought):
        assert answer.status_code == 422
        assert "NUL" in answer.content.decode()
    assert len(books.load_book(household).lots) == before
