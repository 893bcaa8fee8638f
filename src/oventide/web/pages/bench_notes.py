"""What the scripts of the bench ask and send: a bake's view, entries that were noted, the alarms; and beginning one.

Everything but the beginning answers as JSON, refusals too: {"complaints": [{"field", "given", "problem", "remedy"}]}.
"""

import json
from collections.abc import Callable
from functools import wraps
from typing import Any

from pydantic import BaseModel

from oventide.bench.model import Bake
from oventide.errors import Complaint, Refusal, refuse
from oventide.services import asking
from oventide.services.bakes import NoSuchBake
from oventide.services.foreseeing import usual_kitchen
from oventide.services.weighing import scaled
from oventide.web.ask import Ask, Data
from oventide.web.sizes import on_boxes, size_of
from oventide.words.speaker import Speaker

USUAL = ""
"""The kitchen's key where none is chosen: usual figures, all of them assumed."""


class Complained(BaseModel):
    """One complaint, as JSON."""

    field: str
    given: str
    problem: str
    remedy: str


class Complaints(BaseModel):
    """A refusal, as JSON."""

    complaints: tuple[Complained, ...]


def as_json(complaints: tuple[Complaint, ...], status: int) -> Data:
    """A refusal for a script."""
    told = tuple(
        Complained(field=each.field, given=each.given, problem=each.problem, remedy=each.remedy) for each in complaints
    )
    return Data(Complaints(complaints=told), status)


def _for_scripts(handle: Callable[[Ask], Data]) -> Callable[[Ask], Data]:
    @wraps(handle)
    def handled(ask: Ask) -> Data:
        try:
            return handle(ask)
        except NoSuchBake as refusal:
            return as_json(refusal.complaints, 404)
        except Refusal as refusal:
            return as_json(refusal.complaints, 422)

    return handled


@_for_scripts
def handle_view(ask: Ask) -> Data:
    """The bake as the bench shows it."""
    return Data(ask.bakes.view(ask.path["key"], ask.now, Speaker(ask.language)))


@_for_scripts
def handle_alarms(ask: Ask) -> Data:
    """Alarms of every bake under way."""
    return Data(ask.bakes.alarms(ask.now, Speaker(ask.language)))


@_for_scripts
def handle_entries(ask: Ask) -> Data:
    """Take entries; on the disk before this answers."""
    return Data(ask.bakes.note(ask.path["key"], _signed(_read(ask.body), ask.device), ask.now, Speaker(ask.language)))


@_for_scripts
def handle_forgotten(ask: Ask) -> Data:
    """What to do about something that was left out and is found now: ?what=salt."""
    return Data(ask.bakes.forgotten(ask.path["key"], ask.query.get("what", "")))


def _read(body: bytes) -> Any:
    try:
        return json.loads(body)
    except (ValueError, RecursionError) as trouble:
        raise refuse("entries", "", "This is not readable as JSON.", 'Send {"entries": [...]}.') from trouble


def _signed(body: Any, device: str) -> Any:
    """Entries with the name of the device that joined, in place of what it calls itself."""
    if not device or not isinstance(body, dict) or not isinstance(body.get("entries"), list):
        return body
    return {
        **body,
        "entries": [{**each, "device": device[:60]} if isinstance(each, dict) else each for each in body["entries"]],
    }


def begin_from(ask: Ask) -> Bake:
    """Begin the bake that the form asks for: formula, revision, kitchen, ready_by, name, and a size.

    Raises Refusal with the names of the form's fields.
    """
    form = ask.form
    key = form.get("formula", "").strip()
    if not key:
        raise refuse("formula", "", "A bake is begun from a formula.", "Choose a formula.")
    ready_by = asking.clock(form.get("ready_by"), "ready_by")
    revision = asking.whole_number(form.get("revision") or None, "revision", 1, 999_999_999)
    saved = ask.shelf.product(key, revision)
    kitchen_key = form.get("kitchen", "").strip()
    kitchen = ask.shelf.kitchen(kitchen_key).content if kitchen_key != USUAL else usual_kitchen()
    size = size_of(form, ask.units)
    try:
        product, factor, _ = scaled(saved.content, size)
    except Refusal as refusal:
        raise Refusal(on_boxes(refusal, form)) from refusal
    return ask.bakes.begin(
        product,
        kitchen,
        product_key=saved.key,
        product_revision=saved.number,
        kitchen_key=kitchen_key,
        name=form.get("name", ""),
        ready_by=ready_by,
        factor=factor,
        started_at=ask.now,
    )
