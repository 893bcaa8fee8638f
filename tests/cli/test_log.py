"""A bake driven from the terminal, on its own journal; and beside a server that runs on the same one."""

import json
import re
from datetime import datetime, timedelta

import pytest

from oventide.services import noting
from oventide.services.shelf import Shelf


@pytest.fixture
def started(call, formula, kitchen) -> str:
    answer = call("log", "start", formula, "--kitchen", kitchen, "--name", "Poppy coils", "--json")
    assert answer.exit_code == 0, answer.output
    return str(json.loads(answer.stdout)["key"])


def view_of(call, *arguments: str) -> dict:
    answer = call("log", *arguments, "--json")
    assert answer.exit_code == 0, answer.stderr
    found = json.loads(answer.stdout)
    return found.get("view", found)


def refused(call, *arguments: str) -> str:
    answer = call("log", *arguments)
    assert (answer.exit_code, answer.stdout) == (2, ""), answer.output
    return answer.stderr


class TestAWholeBake:
    def test_from_start_to_tasting(self, call, started):
        view = view_of(call, "show")
        assert (view["key"], view["now_step"], view["foreseen"]) == (started, 0, "planned")
        for line in view["weighing"]:
            view_of(call, "weigh", started, line["line"])
        view = view_of(call, "show", "poppy")
        assert all(line["weighed"] for line in view["weighing"])
        view_of(call, "reading", ".", "dough 75F")
        view = view_of(call, "done", ".")
        assert view["now_step"] == 1
        assert view["readings"][0][1:] == ["temperature", 23.9]
        view = view_of(call, "undo", ".")
        assert view["now_step"] == 0
        last = len(view["steps"])
        view = view_of(call, "done", ".", "--step", str(last))
        assert view["now_step"] is None
        view_of(call, "note", ".", "close crumb", "--score", "4")
        view = view_of(call, "finish", ".")
        assert view["finished"]
        assert [row["key"] for row in view_of(call, "list", "poppy")["bakes"]] == [started]
        record = view_of(call, "record", started)
        assert record["tasted"][0]["score"] == 4
        assert "No bake is under way" in refused(call, "show")

    def test_said_in_words(self, call, started):
        said = call("log", "show")
        assert said.exit_code == 0
        assert "Poppy coils" in said.stdout
        assert re.search(r"> 1 +Mix", said.stdout)
        assert "next to weigh: 90 g whole milk" in call("log", "weigh", ".", "strong white flour").stdout
        assert "1 of 1" in call("log", "list").stdout
        assert "written" in call("log", "record", ".").stdout
        assert "likely over now" in " ".join(call("log", "alarms").stdout.split())


class TestWeighing:
    def test_a_forgotten_line_shows_with_its_rescue(self, call, started):
        call("log", "weigh", ".", "1.0")
        call("log", "weigh", ".", "potato")
        said = " ".join(call("log", "weigh", ".", "1.2", "--bowl", "290").stdout.split())
        assert "The bowl is 90 g too light, as much as floury potato weighs." in said

    def test_the_line_of_the_step_now_is_meant(self, call, started):
        view = view_of(call, "weigh", ".", "sugar")
        assert [line["line"] for line in view["weighing"] if line["weighed"]] == ["1.3"]
        view = view_of(call, "weigh", ".", "icing sugar")
        assert [line["line"] for line in view["weigh_later"] if line["weighed"]] == ["6.0"]

    def test_what_is_not_there_is_refused(self, call, started):
        assert "nothing of that name" in refused(call, "weigh", ".", "snow")
        assert "Several lines" in refused(call, "weigh", ".", "dough")
        assert "bowl" in refused(call, "weigh", ".", "potato", "--bowl", "much")


class TestRefusals:
    @pytest.mark.parametrize(
        ("arguments", "words"),
        [
            (("reading", ".", "core 84 C"), "can be read"),
            (("reading", ".", "warmth 84"), "nothing that is read here"),
            (("reading", ".", "rather warm"), "cannot be understood|can be understood"),
            (("reading", ".", "dough 500 C"), "between"),
            (("reading", ".", "dough 24 C", "--step", "99"), "step"),
            (("mark", ".", "soft"), "not one of the marks"),
            (("mark", ".", "at the mark"), "says nothing"),
            (("done", "elsewhere"), "no bake of that name"),
            (("undo", "."), "nothing to take back"),
            (("note", "."), "nothing in this note"),
            (("note", ".", "--score", "9"), "score"),
            (("heard", "some.1.look"), "No such alarm"),
            (("rescue", ".", "fold"), "not offered"),
            (("ready-by", ".", "25:99"), "00:00 to 23:59"),
            (("done", ".", "--at", "soon"), "00:00 to 23:59"),
        ],
    )
    def test_in_words_and_nothing_is_noted(self, call, started, arguments, words):
        assert re.search(words, refused(call, *arguments)), words
        assert view_of(call, "show")["number"] == 0

    def test_two_bakes_of_one_name_are_told_apart(self, call, started, formula):
        other = view_of(call, "start", str(formula), "--name", "Poppy coils")["key"]
        assert started in refused(call, "done", ".")
        assert view_of(call, "done", "poppy coils 2")["key"] == other
        assert view_of(call, "show", started)["number"] == 0

    def test_before_any_bake(self, call):
        assert "No bake is under way" in refused(call, "show")
        assert "no bake of that name" in refused(call, "done", "buns")
        assert "no such file" in refused(call, "start", "nothing-here")


class TestAfterwards:
    def test_pencil_marks_are_noted_for_their_time(self, call, formula):
        begun = datetime.now().astimezone() - timedelta(hours=2)
        view = view_of(call, "start", str(formula), "--at", f"{begun:%H:%M}")
        key = view["key"]
        done = begun + timedelta(minutes=15)
        view = view_of(call, "done", key, "--at", f"{done:%H:%M}")
        ended = datetime.fromisoformat(view["steps"][0]["ends"]["likely"])
        assert ended == done.replace(second=0, microsecond=0)
        early = begun - timedelta(minutes=30)
        assert "later than that" in refused(call, "done", key, "--at", f"{early:%H:%M}")

    def test_alarms_that_are_due_are_heard(self, call, formula):
        begun = datetime.now().astimezone() - timedelta(hours=2)
        key = view_of(call, "start", str(formula), "--at", f"{begun:%H:%M}")["key"]
        due = [alarm for alarm in view_of(call, "alarms")["alarms"] if alarm["id"] == f"{key}.0.likely"]
        assert [alarm["heard"] for alarm in due] == [False]
        heard = view_of(call, "heard")["alarms"]
        assert [alarm["heard"] for alarm in heard if alarm["id"] == f"{key}.0.likely"] == [True]


def test_a_formula_from_the_shelf_is_named_in_the_bake(call, formula, kitchen):
    from oventide.services.foreseeing import read_kitchen
    from oventide.services.reading import read_file

    shelf = Shelf.at()
    shelf.save_product(read_file(formula.read_text("utf-8"), formula.name))
    shelf.save_kitchen(read_kitchen(kitchen.read_text("utf-8"), kitchen.name))
    view = view_of(call, "start", "Lantern Quay poppy coils", "--kitchen", "Lantern Quay bakehouse", "--factor", "2",
                   "--ready-by", "07:30")  # fmt: skip
    assert (view["product_key"], view["product_revision"]) == ("lantern-quay-poppy-coils", 1)
    assert next(line for line in view["weighing"] if line["line"] == "1.0")["grams"] == 540
    assert next(line for line in view["weighing"] if line["line"] == "1.4")["note"] == "2 ×"


@pytest.mark.parametrize(
    ("text", "asks", "read"),
    [
        ("core 183.2 °F", ("core",), ("core", 84.0)),
        ("Dough temperature 24,5", ("dough temperature",), ("dough temperature", 24.5)),
        ("rise x1.6", ("rise since shaping",), ("rise since shaping", 1.6)),
        ("rise since mixing 2", ("rise since shaping",), ("rise since mixing", 2.0)),
        ("jar 2.5in", ("jar height",), ("jar height", 63.5)),
        ("bowl 1.2 kg", ("bowl weight",), ("bowl weight", 1200.0)),
        ("surface -2 C", ("surface",), ("surface", -2.0)),
    ],
)
def test_readings_are_understood_in_the_bakers_units(text, asks, read):
    assert noting.reading_asked(text, asks) == read


def test_a_server_on_the_same_journal_sees_what_the_terminal_noted(call, started):
    import warnings

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        from fastapi.testclient import TestClient
    from oventide.services.outlooking import NoLive
    from oventide.web.app import create_app

    page = TestClient(create_app(live=NoLive()), base_url="http://127.0.0.1")
    assert page.get(f"/bench/{started}/view").json()["number"] == 0
    view_of(call, "done", started)
    assert page.get(f"/bench/{started}/view").json()["now_step"] == 1
    sent = {
        "entries": [{"uid": "from-the-page", "deed": "note", "at": "2026-03-05T04:00:00Z", "text": "from the page"}]
    }
    assert page.post(f"/bench/{started}/entries", json=sent).json()["taken"] == ["from-the-page"]
    assert view_of(call, "show")["noted"][0]["words"] == "from the page"
