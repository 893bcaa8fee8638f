"""What the scripts of the bench ask and send, over HTTP."""

import warnings
from datetime import UTC, datetime, timedelta

import pytest

from oventide.services import foreseeing, reading
from oventide.services.outlooking import NoLive
from oventide.web.app import create_app

with warnings.catch_warnings():
    warnings.simplefilter("ignore")  # Starlette announces a successor of httpx; the tests keep httpx until it is out
    from fastapi.testclient import TestClient

NOW = datetime(2026, 3, 5, 4, 0, tzinfo=UTC)
FORM = {"formula": "lantern-quay-poppy-coils", "kitchen": "lantern-quay-bakehouse", "ready_by": "19:30"}


@pytest.fixture
def page():
    app = create_app("sqlite://", clock=lambda: NOW, live=NoLive())
    app.state.shelf.load_demo_if_empty(reading.read_file, foreseeing.read_kitchen)
    with TestClient(app, base_url="http://127.0.0.1", follow_redirects=False) as client:
        yield client


def begun(page: TestClient, **more: str) -> str:
    answer = page.post("/bench", data={**FORM, **more})
    assert answer.status_code == 303, answer.text
    return str(answer.headers["location"])


def test_a_bake_is_begun_from_the_form(page: TestClient) -> None:
    address = begun(page, name="Early coils", to_factor="2")
    assert address == "/bench/early-coils-2026-03-05"
    view = page.get(f"{address}/view").json()
    assert (view["product_key"], view["product_revision"], view["now_step"]) == (FORM["formula"], 1, 0)
    assert next(line for line in view["weighing"] if line["line"] == "1.0")["grams"] == 540


@pytest.mark.parametrize(
    ("field", "given", "status"),
    [("formula", "", 422), ("formula", "nothing", 404), ("kitchen", "nowhere", 404), ("ready_by", "25:99", 422),
     ("revision", "7", 404), ("revision", "x", 422), ("to_factor", "0", 422), ("to_pieces", "many", 422)],
)  # fmt: skip
def test_what_cannot_be_begun_is_refused(page: TestClient, field: str, given: str, status: int) -> None:
    assert page.post("/bench", data={**FORM, field: given}).status_code == status
    assert page.get("/bench/alarms").json() == {"alarms": []}


def test_without_a_kitchen_usual_figures_are_assumed(page: TestClient) -> None:
    assert page.get(f"{begun(page, kitchen='')}/view").status_code == 200


def entry(uid: str, deed: str, minutes: float = 0, **fields: object) -> dict[str, object]:
    return {"uid": uid, "deed": deed, "at": (NOW + timedelta(minutes=minutes)).isoformat(), **fields}


def test_entries_are_answered_one_by_one_and_once_each(page: TestClient) -> None:
    address = begun(page)
    sent = {"entries": [entry("mix-is-done", "done", step=0), entry("no-such-step", "done", step=60)]}
    for _ in range(2):
        answer = page.post(f"{address}/entries", json=sent)
        assert answer.status_code == 200
        told = answer.json()
        assert told["taken"] == ["mix-is-done"]
        assert [uid for uid, _ in told["refused"]] == ["no-such-step"]
        assert (told["view"]["number"], told["view"]["now_step"]) == (1, 1)


@pytest.mark.parametrize(
    "body",
    [b"", b"{", b"[]", b"null", b'"x"', b'{"entries": 3}', b'{"entries": [3]}', b'{"entries": [{"uid": "\\u0000"}]}',
     b'{"entries": [{"uid": "short"}]}', b"[" * 100_000],
)  # fmt: skip
def test_what_cannot_be_read_is_refused_as_json(page: TestClient, body: bytes) -> None:
    address = begun(page)
    answer = page.post(f"{address}/entries", content=body, headers={"content-type": "application/json"})
    assert answer.status_code == 422
    (complaint,) = answer.json()["complaints"]
    assert set(complaint) == {"field", "given", "problem", "remedy"}
    assert complaint["field"].startswith("entries")


@pytest.mark.parametrize("where", ["view", "forgotten?what=salt"])
def test_no_such_bake_is_a_404_as_json(page: TestClient, where: str) -> None:
    answer = page.get(f"/bench/nothing/{where}")
    assert (answer.status_code, answer.json()["complaints"][0]["field"]) == (404, "bake")
    assert page.post("/bench/nothing/entries", json={"entries": []}).status_code == 404


def test_alarms_of_all_bakes_in_the_order_of_the_clock(page: TestClient) -> None:
    first, second = begun(page, name="One"), begun(page, name="Two")
    alarms = page.get("/bench/alarms").json()["alarms"]
    assert {(alarm["name"], alarm["sign"]) for alarm in alarms} == {("One", 0), ("Two", 1)}
    assert [alarm["at"] for alarm in alarms] == sorted(alarm["at"] for alarm in alarms)
    assert len({alarm["id"] for alarm in alarms}) == len(alarms)
    page.post(f"{first}/entries", json={"entries": [entry("one-is-over", "finish")]})
    assert {alarm["name"] for alarm in page.get("/bench/alarms").json()["alarms"]} == {"Two"}
    heard = entry("heard-it-1", "heard", 11, of=f"{second.removeprefix('/bench/')}.0.likely")
    view = page.post(f"{second}/entries", json={"entries": [heard]}).json()["view"]
    assert view["noted"][0]["words"].startswith("alarm heard: Mix: likely over now")


def test_the_language_of_the_device_is_spoken(page: TestClient) -> None:
    address = begun(page)
    page.cookies.set("oventide_language", "de")
    assert page.get(f"{address}/view").status_code == 200
    assert page.get("/bench/alarms").status_code == 200


def test_a_change_is_taken_from_our_own_pages_only(page: TestClient) -> None:
    address = begun(page)
    sent = {"entries": [entry("mix-is-done", "done", step=0)]}
    answer = page.post(f"{address}/entries", json=sent, headers={"origin": "http://elsewhere.example"})
    assert answer.status_code == 403
    assert page.get(f"{address}/view").json()["number"] == 0
