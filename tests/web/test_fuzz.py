"""The HTTP interface under fire: whatever is sent, an answer in words comes back, never a fault of the program."""

import ast
import inspect
from html.parser import HTMLParser
from urllib.parse import urljoin

import pytest
import schemathesis
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from schemathesis.checks import not_a_server_error
from schemathesis.core.failures import FailureGroup
from schemathesis.specs.openapi.checks import (
    content_type_conformance,
    response_schema_conformance,
    status_code_conformance,
)

from oventide.web.description import QUERY, description
from oventide.web.routes import ROUTES

EXAMPLES = 25
CHECKS = [not_a_server_error, status_code_conformance, content_type_conformance, response_schema_conformance]
DEEDS = [(route.path, method) for route in ROUTES for method in route.methods]
UNENDING = {"/changes"}
"""A stream of changes has no end; its own tests read from it."""
AT_LENGTH = settings(
    max_examples=EXAMPLES,
    deadline=None,
    phases=[Phase.explicit, Phase.generate],
    suppress_health_check=list(HealthCheck),
)
BASE = "http://127.0.0.1:8711"


def fire_at(path: str, method: str, client, key: str) -> None:
    interface = schemathesis.openapi.from_dict(description())
    interface.app = client.app

    @AT_LENGTH
    @given(case=interface[path][method].as_strategy(), known=st.booleans())
    def fire(case: schemathesis.Case, known: bool) -> None:
        if known and "key" in case.path_parameters:  # half of them at a formula that is there
            case.path_parameters["key"] = key
        if known and "id" in case.path_parameters:
            case.path_parameters["id"] = "butter_unsalted"
        case.validate_response(case.call(base_url=BASE), checks=CHECKS)

    fire()


@pytest.mark.slow
@pytest.mark.parametrize(
    ("path", "method"),
    [deed for deed in DEEDS if deed[0] not in UNENDING],
    ids=lambda part: part,
)
def test_nothing_sent_is_a_fault(path: str, method: str, client, key: str) -> None:
    fire_at(path, method, client, key)


@pytest.mark.slow
def test_a_fault_would_be_found(client, key: str, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(ask: object) -> None:
        raise ValueError("a fault that was put here")

    monkeypatch.setattr("oventide.web.pages.about.handle", broken)
    with pytest.raises((FailureGroup, ValueError, ExceptionGroup)):
        fire_at("/about", "GET", client, key)


def test_the_description_names_what_the_pages_read() -> None:
    behind = []
    for route in ROUTES:
        for node in ast.walk(ast.parse(inspect.getsource(route.module()))):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.args:
                asked = ast.unparse(node.func) in ("ask.query.get", "ask.number")
                name = node.args[0].value if isinstance(node.args[0], ast.Constant) else None
                if asked and isinstance(name, str) and name not in QUERY.get(route.name, ()):
                    behind.append(f"{route.name}: {name}")
    assert behind == []


class Forms(HTMLParser):
    """The forms of a page: method, address, and the fields with the values that stand in them."""

    def __init__(self) -> None:
        super().__init__()
        self.forms: list[tuple[str, str, dict[str, str]]] = []
        self._area = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = {name: value or "" for name, value in attrs}
        if tag == "form":
            self.forms.append((given.get("method", "get").lower(), given.get("action", ""), {}))
        elif self.forms and given.get("name") and tag in ("input", "select", "textarea", "button"):
            self.forms[-1][2][given["name"]] = given.get("value", "")
            self._area = given["name"] if tag == "textarea" else ""

    def handle_data(self, data: str) -> None:
        if self._area:
            self.forms[-1][2][self._area] += data

    def handle_endtag(self, tag: str) -> None:
        if tag == "textarea":
            self._area = ""


NASTY = st.one_of(
    st.text(max_size=30),
    st.sampled_from(
        [
            "",
            " ",
            "-1",
            "0",
            "1e999",
            "nan",
            "١٢",
            "9" * 400,
            "1,5",
            "½",
            "<b>",
            "{{7*7}}",
            "\x00",
            "﷽" * 40,
            "25:99",
            "\r\n",
        ]
    ),
)
PAGES = [
    "/",
    "/paste",
    "/formulas/{key}",
    "/formulas/{key}/make-up",
    "/formulas/{key}/tide",
    "/formulas/{key}/sheet",
    "/formulas/{key}/ruler",
    "/formulas/{key}/revisions",
    "/kitchens/new",
    "/kitchens/lantern-quay-bakehouse",
    "/about",
    "/formulas/{key}/section",
    "/compare",
    "/kitchens",
    "/pantry",
    "/pantry/butter_unsalted",
    "/find",
    "/bench",
    "/join",
    "/devices",
]


@pytest.mark.slow
@pytest.mark.parametrize("page", PAGES)
def test_no_form_breaks(page: str, client, key: str) -> None:
    here = page.format(key=key)
    shown = client.get(here)
    assert shown.status_code == 200, "every page of the list is there"
    found = Forms()
    found.feed(shown.text)
    assert found.forms

    @AT_LENGTH
    @given(data=st.data())
    def fill_in(data: st.DataObject) -> None:
        method, action, fields = data.draw(st.sampled_from(found.forms))
        spoilt = data.draw(st.dictionaries(st.sampled_from(sorted(fields) or ["x"]), NASTY, max_size=4))
        left_out = data.draw(st.sets(st.sampled_from(sorted(fields) or ["x"]), max_size=2))
        sent = {name: value for name, value in (fields | spoilt).items() if name not in left_out}
        address = urljoin(here, action)
        answer = client.get(address, params=sent) if method == "get" else client.post(address, data=sent)
        assert answer.status_code < 500, f"{method} {address} {spoilt} without {left_out}"

    fill_in()
