"""The door: a stranger on the network sees the page to join and nothing else; who joins, joins once, and can be taken
out again. Requests come from made-up addresses; tests/web/test_network.py does it over real ones."""

import json
import os
import re
import stat
import warnings
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from argon2 import PasswordHasher
from argon2.profiles import RFC_9106_LOW_MEMORY
from fastapi import FastAPI
from itsdangerous import TimestampSigner

from oventide.errors import Refusal
from oventide.services import devices as kept
from oventide.services import passphrase
from oventide.services.admitting import Attempts, Tokens, place_of
from oventide.services.devices import Devices, folder_beside
from oventide.services.own_addresses import Reach
from oventide.web.app import create_app
from oventide.web.door import PLAIN_COOKIE, SECURE_COOKIE, TOKEN_COOKIE, Door
from oventide.web.routes import ROUTES

with warnings.catch_warnings():
    warnings.simplefilter("ignore")
    from fastapi.testclient import TestClient

LAPTOP = "http://192.168.1.4:8711"
SECURE = "https://192.168.1.4:8712"
PASSPHRASE = "poppy harbour lantern quay"
PAGE = {"accept": "text/html"}


class Clock:
    """A clock that a test turns on."""

    def __init__(self) -> None:
        self.now = datetime(2026, 3, 5, 21, 10, tzinfo=UTC)
        self.seconds = 0.0

    def __call__(self) -> datetime:
        return self.now + timedelta(seconds=self.seconds)

    def timer(self) -> float:
        return self.seconds


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture(autouse=True)
def quick_hash(monkeypatch: pytest.MonkeyPatch) -> None:
    """A hash that costs little."""
    monkeypatch.setattr(passphrase, "_HASHER", PasswordHasher(time_cost=1, memory_cost=8, parallelism=1))


@pytest.fixture
def door(clock: Clock, tmp_path: Path, quick_hash: None) -> Door:
    """A door to the network, with a passphrase."""
    devices = Devices(tmp_path, clock)
    devices.set_passphrase(PASSPHRASE)
    return Door(
        devices, Reach(("192.168.1.4", "fd00::4"), ("quay.local", "quay")), 8711,
        passphrase_tries=Attempts(clock.timer), token_tries=Attempts(clock.timer), tokens=Tokens(clock.timer),
    )  # fmt: skip


@pytest.fixture
def app(invented: None, demo, door: Door, clock: Clock) -> FastAPI:
    app = create_app("sqlite://", clock=clock, door=door)
    app.state.shelf.save_product(demo[0])
    app.state.shelf.save_kitchen(demo[1])
    return app


Visit = Callable[..., TestClient]


@pytest.fixture
def visit(app: FastAPI) -> Visit:
    """A browser somewhere: by its address, at ours."""

    def opened(address: str = "192.168.1.9", base: str = LAPTOP) -> TestClient:
        return TestClient(app, base_url=base, client=(address, 50_000), follow_redirects=False)

    return opened


def own(browser: TestClient) -> dict[str, str]:
    return {"origin": str(browser.base_url).rstrip("/"), "sec-fetch-site": "same-origin"}


def join(browser: TestClient, name: str = "Tablet", **fields: str):
    """Send the form to join."""
    given = fields or {"passphrase": PASSPHRASE}
    return browser.post("/join", data={"name": name, **given}, headers=own(browser))


@pytest.fixture
def tablet(visit: Visit, door: Door) -> TestClient:
    """A tablet that has joined."""
    browser = visit()
    assert join(browser, token=door.tokens.make()).status_code == 303
    return browser


# a stranger


PATHS = (
    *sorted({route.path for route in ROUTES} - {"/join"}),
    "/changes", "/oventide-worker.js", "/static/live.js", "/static/vendor/htmx-4.0.1.min.js", "/static/bench/worker.js",
    "/nothing", "/join/", "/JOIN", "//join", "/static/fonts/../live.js", "/static/../app.py",
)  # fmt: skip


@pytest.mark.parametrize("method", ["GET", "HEAD", "OPTIONS", "POST", "PUT", "DELETE", "PATCH", "PROPFIND"])
def test_a_stranger_gets_nothing(visit: Visit, method: str) -> None:
    browser = visit()
    for path in PATHS:
        answer = browser.request(method, re.sub(r"\{\w+\}", "lantern-quay-poppy-coils", path), headers=own(browser))
        assert answer.status_code == 401, path
        assert "Lantern" not in answer.text


def test_a_stranger_s_page_leads_to_the_page_to_join_and_back(visit: Visit) -> None:
    browser = visit()
    first = browser.get("/formulas/lantern-quay-poppy-coils", headers=PAGE)
    assert (first.status_code, first.headers["location"]) == (303, "/join?to=%2Fformulas%2Flantern-quay-poppy-coils")
    form = browser.get(first.headers["location"], headers=PAGE)
    assert form.status_code == 200
    assert 'name="to" value="/formulas/lantern-quay-poppy-coils"' in form.text
    answer = join(browser, to="/formulas/lantern-quay-poppy-coils", passphrase=PASSPHRASE)
    assert answer.headers["location"] == "/formulas/lantern-quay-poppy-coils"
    assert "Lantern Quay" in browser.get(answer.headers["location"]).text


@pytest.mark.parametrize("to", ["//elsewhere.example/", "https://elsewhere.example/", "/\\elsewhere.example", "x", ""])
def test_joining_leads_nowhere_else(visit: Visit, to: str) -> None:
    assert join(visit(), to=to, passphrase=PASSPHRASE).headers["location"] == "/join"


def test_all_that_the_page_to_join_needs_is_open_and_it_names_nothing_else(visit: Visit) -> None:
    browser = visit()
    page = browser.get("/join", headers=PAGE).text
    for address in re.findall(r'(?:src|href)="(/[^"#]*)"', page):
        assert browser.get(address).status_code == 200, address
    assert "<script" not in page
    assert "Lantern" not in page
    assert "<svg" not in page, "the square is for the laptop to show"


@pytest.mark.parametrize(
    ("address", "headers"),
    [
        ("192.168.1.9", {"x-forwarded-for": "127.0.0.1"}),
        ("192.168.1.9", {"x-real-ip": "127.0.0.1", "forwarded": "for=127.0.0.1"}),
        ("127.0.0.1", {"x-forwarded-for": "192.168.1.9"}),
        ("127.0.0.1", {"forwarded": "for=192.168.1.9"}),
        ("127.0.0.1", {"via": "1.1 between"}),
        ("::1", {"x-forwarded-for": "127.0.0.1"}),
        ("fd00::9", {}),
        ("fe80::9%eth0", {}),
        ("::ffff:192.168.1.9", {}),
        ("testclient", {}),
        ("", {}),
    ],
)
def test_nobody_is_taken_for_the_laptop_itself(visit: Visit, address: str, headers: dict[str, str]) -> None:
    base = "http://127.0.0.1:8711" if address in ("127.0.0.1", "::1") else LAPTOP
    assert visit(address, base).get("/", headers=headers).status_code == 401


@pytest.mark.parametrize("address", ["127.0.0.1", "127.0.0.2", "::1", "::ffff:127.0.0.1"])
def test_the_laptop_itself_needs_no_session(visit: Visit, address: str) -> None:
    assert visit(address, "http://localhost:8711").get("/").status_code == 200


@pytest.mark.parametrize("address", ["9.9.9.9", "2600:5::7", "151.101.1.1"])
def test_the_wide_world_does_not_even_see_the_page_to_join(visit: Visit, address: str) -> None:
    answer = visit(address).get("/join", headers=PAGE)
    assert answer.status_code == 403
    assert "local network" in answer.text


def test_a_foreign_name_gets_nothing_even_with_a_session(tablet: TestClient) -> None:
    for host in ("192.168.1.4:8711", "quay.local:8711", "quay:8711", "QUAY.LOCAL"):
        assert tablet.get("/", headers={"host": host}).status_code == 200, host
    for host in (
        "192.168.1.5:8711", "elsewhere.example", "quay.local.elsewhere.example", "", "localhost:8711", "127.0.0.1:8711",
        "[fd00::4]:8711", "192.168.1.4.elsewhere.example",
    ):  # fmt: skip
        for path in ("/", "/changes", "/join", "/static/oventide.css"):
            assert tablet.get(path, headers={"host": host}).status_code == 421, (host, path)


@pytest.mark.parametrize("host", ["elsewhere.example", "192.168.1.4:8711"])
def test_a_name_that_is_not_the_loopback_s_gets_nothing_there(visit: Visit, host: str) -> None:
    # the second one: a page of another site that was pointed at this machine cannot be told from it there
    assert visit("127.0.0.1", "http://127.0.0.1:8711").get("/", headers={"host": host}).status_code == 421


def test_the_page_to_join_is_kept_nowhere_and_no_header_is_sent_in_vain(visit: Visit) -> None:
    answer = visit().get("/join")
    assert answer.headers["cache-control"] == "no-store"
    assert "cross-origin-opener-policy" not in answer.headers
    assert "cross-origin-opener-policy" in visit(base=SECURE).get("/join").headers


# joining


def test_who_knows_the_passphrase_joins(visit: Visit, door: Door) -> None:
    browser = visit()
    answer = join(browser, "  Tablet by   the oven ", passphrase=" Poppy-harbour LANTERN  quay")
    assert (answer.status_code, answer.headers["location"]) == (303, "/join")
    assert [each.name for each in door.devices.all()] == ["Tablet by the oven"]
    page = browser.get("/join").text
    assert "Tablet by the oven has joined" in page
    assert browser.get("/").status_code == 200
    assert f'data-device="{"Tablet by the oven"}"' in browser.get("/").text


def test_the_cookies_are_kept_from_scripts_and_other_sites(visit: Visit) -> None:
    plain = join(visit()).headers.get_list("set-cookie")
    session = next(each for each in plain if each.startswith(PLAIN_COOKIE))
    assert "HttpOnly" in session
    assert "samesite=strict" in session.lower()
    assert "secure" not in session.lower().replace("secure_", "")
    token = next(each for each in plain if each.startswith(TOKEN_COOKIE))
    assert "HttpOnly" not in token
    assert "samesite=strict" in token.lower()


def test_under_tls_the_session_is_sent_over_tls_only_and_a_plain_one_is_taken_along(visit: Visit) -> None:
    browser = visit(base=SECURE)
    cookies = join(browser).headers.get_list("set-cookie")
    session = next(each for each in cookies if each.startswith(SECURE_COOKIE))
    assert "Secure" in session
    assert "HttpOnly" in session
    assert "Path=/" in session
    assert not any(each.startswith(PLAIN_COOKIE) for each in cookies)
    came_from_plain = visit(base=SECURE)
    joined = visit()
    join(joined, "Phone")
    came_from_plain.cookies.set(PLAIN_COOKIE, joined.cookies[PLAIN_COOKIE])
    answer = came_from_plain.get("/")
    assert answer.status_code == 200
    assert any(each.startswith(SECURE_COOKIE) for each in answer.headers.get_list("set-cookie"))
    back_on_plain = visit()
    back_on_plain.cookies.set(SECURE_COOKIE, browser.cookies[SECURE_COOKIE])
    assert back_on_plain.get("/").status_code == 401, "the session of TLS counts nothing without it"


def square_of(laptop: TestClient, door: Door) -> str:
    """Open the laptop's page and take the token that its square carries."""
    before = set(door.tokens._open)
    page = laptop.get("/join")
    assert page.status_code == 200
    assert "<svg" in page.text
    assert len(set(door.tokens._open) - before) == 1
    return page.text


def test_a_square_lets_one_device_in(visit: Visit, door: Door, monkeypatch: pytest.MonkeyPatch) -> None:
    shown: list[str] = []
    from oventide.web.pages import join as page

    drawn = page.square_of
    monkeypatch.setattr(page, "square_of", lambda address: shown.append(address) or drawn(address))
    square_of(visit("127.0.0.1", "http://127.0.0.1:8711"), door)
    address = shown[0]
    assert address.startswith("http://192.168.1.4:8711/join?token=")
    token = address.partition("token=")[2]
    first = visit("192.168.1.9")
    for _ in range(3):  # to look at the page uses nothing up
        assert token in first.get(f"/join?token={token}", headers=PAGE).text
    assert join(first, " ", token=token).status_code == 422, "a name that is none uses nothing up either"
    assert join(first, "Tablet", token=token).status_code == 303
    assert first.get("/").status_code == 200
    second = visit("192.168.1.10")
    answer = join(second, "Phone", token=token)
    assert answer.status_code == 403
    assert "used already" in answer.text
    assert second.get("/").status_code == 401


def test_a_square_ends_after_ten_minutes(visit: Visit, door: Door, clock: Clock) -> None:
    token = door.tokens.make()
    clock.seconds = 599
    assert door.tokens.take(token)
    token = door.tokens.make()
    clock.seconds += 600
    assert join(visit(), "Tablet", token=token).status_code == 403


@pytest.mark.parametrize("fields", [{"passphrase": "poppy harbour lantern"}, {"passphrase": ""}, {"token": "x" * 24},
                                    {"token": "\u2603"}, {"passphrase": "p" * 100_000}])  # fmt: skip
def test_who_knows_nothing_does_not_join(visit: Visit, door: Door, fields: dict[str, str]) -> None:
    browser = visit()
    answer = join(browser, "Tablet", **fields)
    assert answer.status_code in (403, 413)
    assert not door.devices.all()
    assert PLAIN_COOKIE not in browser.cookies
    assert fields.get("passphrase") not in ("x", answer.text)


def test_wrong_tries_have_to_wait_longer_each_time(visit: Visit, door: Door, clock: Clock) -> None:
    browser = visit()
    assert [join(browser, passphrase=f"wrong wrong {n}").status_code for n in range(4)] == [403, 403, 403, 429]
    answer = join(browser)
    assert answer.status_code == 429, "the right one has to wait as well"
    assert "Wait 3 seconds" in answer.text
    waits = []
    for _ in range(12):
        wait = door.passphrase_tries.begin("192.168.1.9")
        waits.append(wait)
        clock.seconds += wait
        assert door.passphrase_tries.begin("192.168.1.9") == 0
    assert waits == [2, 4, 8, 16, 32, 64, 128, 256, 512, 900, 900, 900]
    assert join(visit("192.168.1.10")).status_code == 303, "another place does not wait for this one"


def test_tries_from_many_places_wait_as_well_and_squares_do_not_wait_for_passphrases(
    visit: Visit, door: Door, clock: Clock
) -> None:
    waits = [door.passphrase_tries.begin(f"10.0.{n}.1") for n in range(40)]
    assert waits[:20] == [0] * 20
    assert all(wait > 0 for wait in waits[20:])
    clock.seconds += 2
    assert door.passphrase_tries.begin("10.1.0.1") == 0
    assert door.passphrase_tries.begin("10.1.0.2") > 2
    for _ in range(30):
        clock.seconds += 60
        door.passphrase_tries.begin("10.1.0.3")
    assert door.passphrase_tries.begin("10.1.0.4") <= 60
    assert join(visit(), "Tablet", token=door.tokens.make()).status_code == 303


def test_many_tries_at_once_gain_nothing() -> None:
    """A try counts from its beginning: the fourth waits while the first three are still being looked at."""
    tries = Attempts(lambda: 5.0)
    assert [tries.begin("a") > 0 for _ in range(6)] == [False, False, False, True, True, True]


def test_a_right_try_forgives_its_place_and_an_hour_forgives_all(clock: Clock) -> None:
    tries = Attempts(clock.timer)
    for _ in range(2):
        tries.begin("a")
    assert tries.begin("a") == 0
    tries.was_right("a")
    assert [tries.begin("a") for _ in range(3)] == [0, 0, 0]
    assert tries.begin("a") > 0
    clock.seconds += 3601
    assert [tries.begin("a") for _ in range(3)] == [0, 0, 0]


def test_many_addresses_of_one_network_are_one_place() -> None:
    assert place_of("2600:5::7") == place_of("2600:5::ffff:1")
    assert place_of("2600:5::7") != place_of("2600:6::7")


# sessions


@pytest.mark.parametrize("spoil", [
    lambda text: text[:-2] + ("aa" if text[-2:] != "aa" else "bb"),
    lambda text: "x" + text,
    lambda text: text.rpartition(".")[0],
    lambda text: "",
    lambda text: "A" * 5000,
    lambda text: TimestampSigner("0" * 64, salt="oventide.session").sign(text.partition(".")[0]).decode(),
    lambda text: '"\\303\\050"',
])  # fmt: skip
def test_a_forged_session_counts_nothing(tablet: TestClient, visit: Visit, spoil: Callable[[str], str]) -> None:
    session = tablet.cookies[PLAIN_COOKIE]
    honest = visit()
    honest.cookies.set(PLAIN_COOKIE, session)
    assert honest.get("/").status_code == 200
    forged = visit()
    assert forged.get("/", headers={"cookie": f"{PLAIN_COOKIE}={spoil(session)}"}).status_code == 401


def test_a_session_ends_when_its_device_was_away_for_long_and_is_renewed_while_it_is_not(
    tablet: TestClient, monkeypatch: pytest.MonkeyPatch
) -> None:
    from oventide.web import door as at

    now = at.time.time()
    ahead = 0.0
    monkeypatch.setattr(TimestampSigner, "get_timestamp", lambda _self: int(now + ahead))
    monkeypatch.setattr(at.time, "time", lambda: now + ahead)
    first = tablet.cookies[PLAIN_COOKIE]
    ahead = at.SESSION_S - 10
    answer = tablet.get("/")
    assert answer.status_code == 200
    assert tablet.cookies[PLAIN_COOKIE] != first, "renewed"
    ahead = 2 * at.SESSION_S - 30
    assert tablet.get("/").status_code == 200
    tablet.cookies.clear()
    tablet.cookies.set(PLAIN_COOKIE, first)
    assert tablet.get("/").status_code == 401, "the old one has ended"


def test_the_laptop_takes_a_device_out_and_lets_it_in_again(visit: Visit, tablet: TestClient, door: Door) -> None:
    laptop = visit("127.0.0.1", "http://127.0.0.1:8711")
    page = laptop.get("/devices").text
    assert "Tablet" in page
    device = door.devices.all()[0].id
    assert laptop.post("/devices", data={"out": device}, headers=own(laptop)).status_code == 303
    assert tablet.get("/").status_code == 401
    assert "taken out" in laptop.get("/devices").text
    assert laptop.post("/devices", data={"in": device}, headers=own(laptop)).status_code == 303
    assert tablet.get("/").status_code == 200


def test_a_device_may_leave_and_takes_nobody_else_out(visit: Visit, tablet: TestClient, door: Door) -> None:
    other = visit("192.168.1.10")
    join(other, "Phone")
    ids = {each.name: each.id for each in door.devices.all()}
    token = tablet.cookies[TOKEN_COOKIE]
    headers = {**own(tablet), "x-oventide": token}
    assert tablet.post("/devices", data={"out": ids["Phone"]}, headers=headers).status_code == 303
    assert other.get("/").status_code == 200
    assert tablet.get("/devices").text.count('name="out"') == 1, "its own"
    answer = tablet.post("/devices", data={"out": ids["Tablet"]}, headers=headers)
    assert (answer.status_code, answer.headers["location"]) == (303, "/join")
    assert PLAIN_COOKIE not in tablet.cookies
    assert tablet.get("/").status_code == 401
    headers = {**own(other), "x-oventide": other.cookies[TOKEN_COOKIE]}
    other.post("/devices", data={"in": ids["Tablet"]}, headers=headers)
    assert door.devices.get(ids["Tablet"]) is None, "only the laptop lets it in again"


# changes from a session


def test_a_change_needs_the_session_s_token(tablet: TestClient, visit: Visit) -> None:
    form = {"degree": "f", "back": "/"}
    assert tablet.post("/units", data=form, headers=own(tablet)).status_code == 403
    wrong = {**own(tablet), "x-oventide": "0" * 64}
    assert tablet.post("/units", data=form, headers=wrong).status_code == 403
    other = visit("192.168.1.10")
    join(other, "Phone")
    stolen = {**own(tablet), "x-oventide": other.cookies[TOKEN_COOKIE]}
    assert tablet.post("/units", data=form, headers=stolen).status_code == 403, "another session's token"
    right = {**own(tablet), "x-oventide": tablet.cookies[TOKEN_COOKIE]}
    assert tablet.post("/units", data=form, headers=right).status_code == 303
    answer = tablet.post("/units", content=json.dumps({}), headers={**own(tablet), "content-type": "application/json"})
    assert answer.status_code == 403, "JSON needs it as well"


def test_every_form_of_a_session_s_page_carries_the_token_without_scripts(tablet: TestClient, key: str) -> None:
    for path in ("/", f"/formulas/{key}", "/kitchens/new", "/devices"):
        page = tablet.get(path).text
        forms = re.findall(r'<form\b[^>]*method="post"[^>]*>(.{0,120})', page, re.DOTALL)
        assert forms
        assert all(form.startswith('<input type="hidden" name="oventide_token"') for form in forms), path
    token = re.search(r'name="oventide_token" value="(\w+)"', page)
    assert token
    answer = tablet.post("/units", data={"degree": "f", "back": "/", "oventide_token": token[1]}, headers=own(tablet))
    assert answer.status_code == 303


def test_the_laptop_s_own_pages_carry_no_token(visit: Visit) -> None:
    laptop = visit("127.0.0.1", "http://127.0.0.1:8711")
    assert "oventide_token" not in laptop.get("/").text
    assert laptop.post("/units", data={"degree": "f", "back": "/"}, headers=own(laptop)).status_code == 303


@pytest.mark.parametrize("headers", [
    {"origin": "http://elsewhere.example"}, {"origin": "null"}, {"sec-fetch-site": "cross-site"},
    {"origin": "https://192.168.1.4:8712"}, {"origin": "http://192.168.1.4:9999"},
])  # fmt: skip
def test_a_page_of_another_site_changes_nothing_even_with_the_token(
    tablet: TestClient, headers: dict[str, str]
) -> None:
    given = {**headers, "x-oventide": tablet.cookies[TOKEN_COOKIE]}
    assert tablet.post("/units", data={"degree": "f", "back": "/"}, headers=given).status_code == 403
    assert tablet.post("/join", data={"name": "x", "passphrase": PASSPHRASE}, headers=headers).status_code == 403


# the laptop that asks as well


def test_the_laptop_asks_as_well_where_that_was_wished(visit: Visit, door: Door) -> None:
    door.always_ask = True
    laptop = visit("127.0.0.1", "http://127.0.0.1:8711")
    assert laptop.get("/").status_code == 401
    page = laptop.get("/join", headers=PAGE)
    assert "<svg" not in page.text
    assert join(laptop, "Laptop").status_code == 303
    assert laptop.get("/").status_code == 200
    assert "<svg" in laptop.get("/join").text, "having joined, it shows squares again"


# what is kept


def test_the_file_holds_no_passphrase_and_is_for_its_owner_only(clock: Clock, tmp_path: Path) -> None:
    devices = Devices(tmp_path, clock)
    devices.set_passphrase(PASSPHRASE)
    devices.add("Tablet", "passphrase")
    path = tmp_path / kept.FILE_NAME
    text = path.read_text()
    assert "poppy" not in text
    assert "$argon2id$" in text
    if os.name == "posix":
        assert stat.S_IMODE(path.stat().st_mode) == 0o600
    again = Devices(tmp_path, clock)
    assert again.key == devices.key
    assert again.all() == devices.all()
    assert again.is_passphrase("Poppy Harbour lantern-quay")
    assert not again.is_passphrase("poppy harbour lantern")
    assert list(tmp_path.iterdir()) == [path], "nothing is left beside it"


def test_a_file_that_others_may_read_is_closed_and_a_spoilt_one_is_refused(clock: Clock, tmp_path: Path) -> None:
    Devices(tmp_path, clock).set_passphrase(PASSPHRASE)
    path = tmp_path / kept.FILE_NAME
    path.chmod(0o644)
    Devices(tmp_path, clock)
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    path.write_text("{}")
    with pytest.raises(Refusal, match="cannot be read"):
        Devices(tmp_path, clock)


def test_when_a_device_was_seen_is_kept_to_the_minute(tablet: TestClient, door: Door, clock: Clock) -> None:
    first = door.devices.all()[0].seen_at
    clock.seconds += 30
    tablet.get("/about")
    assert door.devices.all()[0].seen_at == first
    clock.seconds += 31
    tablet.get("/about")
    assert door.devices.all()[0].seen_at == first + timedelta(seconds=61)


def test_two_devices_of_one_name_are_told_apart_and_too_many_are_refused(
    door: Door, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert [door.devices.add("Tablet", "square").name for _ in range(3)] == ["Tablet", "Tablet 2", "Tablet 3"]
    monkeypatch.setattr(kept, "MOST", 3)
    with pytest.raises(Refusal, match="3 devices"):
        door.devices.add("Phone", "square")


@pytest.mark.parametrize("text", ["short words", "aaaaaaaaaaaaaaaaaaaa", "a b a b a b a b a b a", "x" * 300])
def test_a_passphrase_that_is_guessed_soon_is_refused(text: str) -> None:
    with pytest.raises(Refusal, match="letters"):
        passphrase.checked(text)


def test_a_guess_costs_what_the_standard_asks_for(quick_hash: None, monkeypatch: pytest.MonkeyPatch) -> None:
    """RFC 9106, section 4, second recommended option: 64 MiB, three passes, four lanes."""
    monkeypatch.undo()
    assert passphrase.hashed("any words").startswith("$argon2id$v=19$m=65536,t=3,p=4$")
    hasher = passphrase._HASHER
    assert (hasher.memory_cost, hasher.time_cost) == (RFC_9106_LOW_MEMORY.memory_cost, RFC_9106_LOW_MEMORY.time_cost)


def test_the_words_chosen_differ_and_are_plain() -> None:
    words = passphrase.word_list()
    assert all(re.fullmatch(r"[a-z]{3,9}", word) for word in words)
    assert list(words) == sorted(set(words))
    assert len({passphrase.chosen() for _ in range(50)}) == 50
    assert folder_beside("sqlite://") is None


def test_without_a_door_the_pages_say_how_to_open_one(client) -> None:
    assert "oventide serve --join" in client.get("/join").text
    assert client.get("/join/certificate").status_code == 404
    assert "Only this machine" in client.get("/devices").text


@pytest.mark.parametrize("address", ["192.168.1.9", "9.9.9.9", "fd00::9"])
def test_without_a_door_nobody_but_this_machine_is_answered(invented: None, address: str) -> None:
    browser = TestClient(create_app("sqlite://"), base_url="http://127.0.0.1:8711", client=(address, 5))
    assert browser.get("/").status_code == 403
    assert browser.get("/join").status_code == 403
