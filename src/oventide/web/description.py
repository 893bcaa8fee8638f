"""What the server takes and answers, as an OpenAPI description: for programs of the baker's own, and for the tests.

Pages answer with HTML and take forms; the bench takes and answers JSON. The table below names, for each address, what
may stand after its question mark; a test reads the pages' code and fails where the table is behind.
"""

import re
from collections.abc import Mapping
from typing import Any

from pydantic import BaseModel
from pydantic.json_schema import models_json_schema

from oventide import __version__
from oventide.bench.model import Alarms, BenchView, Entry, Noted
from oventide.services.travelling import ToldAnswer
from oventide.web.routes import ROUTES, Route

SIZE = ("to_pieces", "to_piece", "to_dough", "to_flour", "to_factor")
_SHEET = ("revision", "kitchen", "ready_by", "stopped", "kind", "language", "units", "paper", *SIZE)
QUERY: Mapping[str, tuple[str, ...]] = {
    "shelf": ("q", "by", "page"),
    "formula": ("revision", "joined"),
    "makeup": ("revision",),
    "tide": ("revision", "kitchen", "ready_by", "stopped", "step", "uncover", *SIZE),
    "section": ("revision", "kitchen", "ready_by", "uncover", "minute", "only", "view", "which", *SIZE),
    "sheet": _SHEET,
    "look": _SHEET,
    "paper": _SHEET,
    "ruler": ("revision", "paper", "language", "units"),
    "files": ("revision",),
    "compare": ("one", "other", "kitchen", "other_kitchen", "ready_by", "clock", "stopped"),
    "kitchens": ("page",),
    "kitchen": ("revision",),
    "bakes": ("q", "page", "formula"),
    "find": ("q", "of"),
    "pantry": ("q",),
    "bench": ("formula", "kitchen", "ready_by", "name", "revision", *SIZE),
    "bench_notes": ("what",),
    "join": ("token", "to"),
}
"""By page: the names that it reads from the address."""

ANSWERS: Mapping[str, type[BaseModel]] = {
    "/bench/alarms": Alarms,
    "/bench/{key}/view": BenchView,
    "/bench/{key}/entries": Noted,
    "/bench/{key}/forgotten": ToldAnswer,
}
"""By address: what is answered as JSON."""


class Sent(BaseModel):
    """Entries as a device sends them."""

    entries: tuple[Entry, ...]


TAKES_JSON: Mapping[str, type[BaseModel]] = {"/bench/{key}/entries": Sent}


def _parameters(route: Route) -> list[dict[str, Any]]:
    named = re.findall(r"{(\w+)", route.path)
    at = [
        {"name": name, "in": "path", "required": True, "schema": {"type": "string", "minLength": 1}} for name in named
    ]
    return at + [
        {"name": name, "in": "query", "required": False, "schema": {"type": "string"}}
        for name in QUERY.get(route.name, ())
    ]


def _answers(route: Route) -> dict[str, Any]:
    model = ANSWERS.get(route.path)
    said = {"description": "a page, in words for people", "content": {"text/html": {}}}
    if model is not None:
        body = {"application/json": {"schema": {"$ref": f"#/components/schemas/{model.__name__}"}}}
        return {"200": {"description": "as JSON", "content": body}, "4XX": {"description": "refused, with reasons"}}
    return {
        "2XX": {"description": "a page or a file"},
        "303": {"description": "go there"},
        "4XX": said if route.path not in TAKES_JSON else {"description": "refused, with reasons"},
    }


def _body(route: Route) -> dict[str, Any]:
    model = TAKES_JSON.get(route.path)
    if model is not None:
        schema: dict[str, Any] = {"$ref": f"#/components/schemas/{model.__name__}"}
        return {"required": True, "content": {"application/json": {"schema": schema}}}
    form = {"type": "object", "additionalProperties": {"type": "string"}}
    return {"content": {"application/x-www-form-urlencoded": {"schema": form}}}


def description() -> dict[str, Any]:
    """The OpenAPI 3.1 document of every route."""
    paths: dict[str, dict[str, Any]] = {}
    for route in ROUTES:
        for method in route.methods:
            deed: dict[str, Any] = {
                "operationId": f"{method.lower()} {route.path}",
                "summary": (route.module().__doc__ or "").strip().split("\n")[0],
                "parameters": _parameters(route),
                "responses": _answers(route),
            }
            if method == "POST":
                deed["requestBody"] = _body(route)
            paths.setdefault(route.path, {})[method.lower()] = deed
    models = {*ANSWERS.values(), *TAKES_JSON.values()}
    _, found = models_json_schema(
        [(model, "validation") for model in sorted(models, key=lambda model: model.__name__)],
        ref_template="#/components/schemas/{model}",
    )
    return {
        "openapi": "3.1.0",
        "info": {"title": "Oventide", "version": __version__},
        "paths": paths,
        "components": {"schemas": found["$defs"]},
    }
