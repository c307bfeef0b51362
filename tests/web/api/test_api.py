"""The HTTP API as a small program of one's own uses it."""

from __future__ import annotations

import json
from typing import Any

import pytest
from django.test import Client
from tests.web.conftest import NOW, blank_book, book, book_file, free_to_open, household, plan

from chauka.services import sharing, workers
from chauka.store import books, models
from chauka.store.models import Household

__all__ = ["blank_book", "book", "book_file", "free_to_open", "household", "plan"]


class Api:
    """Asks in JSON, and takes the answers apart."""

    def __init__(self, client: Client) -> None:
        self.client = client

    def get(self, path: str, **headers: str) -> Any:
        answer = self.client.get(f"/api{path}", headers=headers)
        return answer.status_code, json.loads(answer.content)

    def send(self, method: str, path: str, said: object = None, **headers: str) -> Any:
        body = b"" if said is None else json.dumps(said).encode()
        answer = self.client.generic(method, f"/api{path}", body, content_type="application/json", headers=headers)
        return answer.status_code, json.loads(answer.content) if answer.content else None


@pytest.fixture
def api(household: Household, settings: Any) -> Api:
    """The API of the demo house with its plan, on its first day."""
    settings.CHAUKA_TODAY = "2027-03-14"
    return Api(Client(SERVER_NAME="localhost"))


def test_the_house_and_its_dishes(api: Api) -> None:
    """Who lives there, what is in the dish book, one dish, what it gives, and its page data."""
    status, house = api.get("/house")
    assert (status, house["burners"], len(house["people"])) == (200, 2, 5)
    dishes = api.get("/dishes")[1]
    assert len(dishes) == house["dishes"]
    key = dishes[0]["id"]
    assert api.get(f"/dishes/{key}")[1]["lines"]
    assert {"FE", "VITC"} <= {line["tag"] for line in api.get(f"/dishes/{key}/nutrients")[1]["nutrients"]}
    assert api.get(f"/dishes/{key}/page-data")[1]["@type"] == "Recipe"


def test_the_plan_in_force(api: Api) -> None:
    """Sittings, market lists, bench list and a run sheet tell of one plan."""
    table, market, bench = (api.get(path)[1] for path in ("/table", "/market", "/bench"))
    assert table["plan"] == market["plan"] == bench["plan"]
    sitting = next(s for s in table["sittings"] if any(d["cooked"] for d in s["dishes"]))
    status, sheet = api.get(f"/stove/{sitting['day']}/{sitting['meal']}")
    assert status == 200
    assert sheet["entries"]


def test_a_tick_sent_twice_buys_once(api: Api) -> None:
    """What was paid is kept; taking the tick back takes everything back."""
    market = api.get("/market")[1]
    day = market["days"][0]
    item = day["items"][0]
    address = f"/market/{market['plan']}/{day['day']}/{item['food']}"
    lots = api.get("/house")[1]["lots"]
    assert api.send("PUT", address, {"paid": 1234}) == (200, {"new": True})
    assert api.send("PUT", address, {"paid": 99}) == (200, {"new": False})
    assert api.get("/house")[1]["lots"] == lots + 1
    assert api.get("/market")[1]["days"][0]["items"][0]["bought"]["paid"] == 1234
    assert api.send("DELETE", address) == (200, {"new": True})
    assert api.send("DELETE", address) == (200, {"new": False})
    assert api.get("/house")[1]["lots"] == lots


def test_a_plan_is_asked_for_and_stopped(api: Api, monkeypatch: pytest.MonkeyPatch) -> None:
    """A worker is called once for the same wish; stopped, nothing runs; a plan that is not there cannot be followed."""
    called: list[object] = []
    monkeypatch.setattr(workers, "start", called.append)
    assert [api.send("POST", "/table/plan", {"seconds": 5})[0] for _ in range(2)] == [202, 202]
    assert api.get("/table/plan")[1]["running"]
    assert len(called) == 1
    assert not api.send("DELETE", "/table/plan")[1]["running"]
    assert api.send("POST", "/table/accept", {"plan": 77})[0] == 404
    assert api.send("POST", "/table/accept", {"plan": 1})[1]["accepted"]


def test_work_of_the_bench_is_ticked(api: Api) -> None:
    """Done, done again, not done."""
    bench = api.get("/bench")[1]
    address = f"/bench/{bench['plan']}/{bench['work'][0]['key']}"
    assert [api.send(method, address)[0] for method in ("PUT", "PUT")] == [204, 204]
    assert api.get("/bench")[1]["work"][0]["done"]
    assert api.send("DELETE", address)[0] == 204
    assert not api.get("/bench")[1]["work"][0]["done"]


def test_what_is_said_of_the_shelf_is_kept_and_can_be_undone(api: Api) -> None:
    """Added by speech, used by words, taken back, done again."""
    status, added = api.send("POST", "/shelf", {"text": "2 bunches spinach, 1 kg potatoes from Sunday"})
    assert (status, len(added["lots"])) == (201, 2)
    potatoes = added["lots"][1]
    status, logged = api.send("POST", f"/shelf/{potatoes}/log", {"deed": "used", "amount": "200 g"})
    assert (status, logged["left_g"]) == (200, pytest.approx(800))
    assert api.send("POST", "/ledger/undo", {})[1]["task"] == "log used"
    assert next(lot for lot in api.get("/shelf")[1]["lots"] if lot["id"] == potatoes)["grams"] == pytest.approx(1000)
    assert api.send("POST", "/ledger/redo", {})[0] == 200
    assert api.get("/ledger")[1]["actions"][0]["number"]


def test_a_dish_is_read_from_a_text_mended_and_kept(api: Api) -> None:
    """What is unclear is told; put right, the dish is in the book."""
    text = "Plain greens\nServes 2\n\nIngredients\n1 bunch spinach\n1 tsp ghee\n\nMethod\n"
    text += "1. Fry the spinach for 5 minutes."
    status, read = api.send("POST", "/dishes/read", {"text": text})
    assert (status, read["name"], len(read["lines"])) == (200, "Plain greens", 2)
    steps = [{k: v for k, v in step.items() if k != "unclear"} | {"minutes": "5"} for step in read["steps"]]
    said = {
        "name": read["name"],
        "course": "",
        "portions": 2.0,
        "lines": ["1 bunch spinach", "1 tsp ghee"],
        "steps": steps,
    }
    status, problem = api.send("POST", "/dishes", said)
    assert status == 422
    assert problem["complaints"]
    status, dish = api.send("POST", "/dishes", said | {"course": "vegetable"})
    assert (status, dish["id"]) == (201, "plain-greens")
    assert api.get("/dishes/plain-greens")[0] == 200


@pytest.mark.parametrize(
    ("asked", "status", "words"),
    [
        (("GET", "/dishes/pizza", None), 404, "no dish 'pizza'"),
        (("GET", "/nowhere", None), 404, "/api/openapi.json"),
        (("GET", "/stove/2027-03-14/tea", None), 422, "shape"),
        (("GET", "/stove/2031-01-01/dinner", None), 404, "no sitting"),
        (("POST", "/shelf", {"text": "some dragon scales"}), 422, "how much"),
        (("POST", "/shelf", {"text": 5}), 422, "shape"),
        (("POST", "/shelf", {"text": "1 kg rice\0"}), 422, "NUL"),
        (("POST", "/shelf", {"text": "1 kg rice", "colour": "red"}), 422, "shape"),
        (("POST", "/shelf/leek-1/log", {"deed": "used"}), 404, "no lot 'leek-1'"),
        (("PUT", "/market/99/2027-03-14/C033", {}), 404, "plan"),
        (("PUT", f"/market/{10**30}/2027-03-14/C033", {}), 422, "shape"),
        (("PATCH", "/house", {}), 405, "GET"),
    ],
)
def test_what_cannot_be_is_refused_in_words(
    api: Api, household: Household, asked: tuple[str, str, object], status: int, words: str
) -> None:
    """A problem (RFC 9457) with its status, and nothing changed."""
    method, path, said = asked
    before = models.Action.objects.of(household).count()
    answer = api.client.generic(method, f"/api{path}", json.dumps(said), content_type="application/json")
    problem = json.loads(answer.content)
    assert (answer.status_code, problem["status"], answer["Content-Type"]) == (
        status,
        status,
        "application/problem+json",
    )
    assert words in problem["detail"] + json.dumps(problem["complaints"])
    assert models.Action.objects.of(household).count() == before


@pytest.mark.parametrize(
    "headers",
    [{"origin": "https://elsewhere.example"}, {"origin": "null"}, {"sec-fetch-site": "cross-site"}],
)
def test_a_page_of_another_site_changes_nothing(api: Api, household: Household, headers: dict[str, str]) -> None:
    """What its script or form could send is refused; the same request of our own page is taken."""
    assert api.send("POST", "/shelf", {"text": "1 kg rice"}, **headers)[0] == 403
    assert api.client.post("/api/shelf", {"text": "1 kg rice"}).status_code == 415
    assert len(books.load_book(household).lots) == api.get("/house")[1]["lots"]
    assert api.send("POST", "/shelf", {"text": "1 kg rice"}, origin="http://localhost")[0] == 201


def test_shared_the_api_needs_the_phrase_once(api: Api, settings: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    """401 before; a token for the phrase; a wrong phrase a few times closes the door for a while."""
    settings.CHAUKA_SHARED = True
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
    monkeypatch.setattr(sharing, "limit", sharing.Limit(each=2, clock=lambda: 0.0))
    sharing.set_phrase("four words of ours")
    assert api.get("/house")[0] == 401
    assert api.get("/openapi.json")[0] == 401
    assert api.get("/health")[0] == 200
    status, answer = api.send("POST", "/sign-in", {"phrase": "four words of ours", "device": "script"})
    assert status == 200
    assert api.get("/house", authorization=f"Bearer {answer['token']}")[0] == 200
    assert [api.send("POST", "/sign-in", {"phrase": "wrong"})[0] for _ in range(3)] == [403, 403, 429]


def test_an_empty_book_says_so(book_file: object, settings: Any) -> None:
    """No house yet: 409 and what to do."""
    status, problem = Api(Client(SERVER_NAME="localhost")).get("/house")
    assert status == 409
    assert "chauka demo" in problem["detail"]


def test_the_description_names_no_other_host(api: Api) -> None:
    """OpenAPI from our own types, and no page that loads scripts from elsewhere."""
    text = api.client.get("/api/openapi.json").content.decode()
    assert json.loads(text)["info"]["title"] == "chauka"
    assert "http://" not in text
    assert "https://" not in text
    assert api.get("/docs")[0] == 404
    assert NOW.year == 2027
