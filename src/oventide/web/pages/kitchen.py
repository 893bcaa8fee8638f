"""A kitchen: what the baker knows of it, and what is assumed for the rest."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated

from oventide.errors import Complaint, Refusal
from oventide.kitchen.complete import complete
from oventide.kitchen.model import Kitchen
from oventide.services import saving
from oventide.services.saving import Meanwhile
from oventide.services.shelf import NotOnShelf, Saved
from oventide.units.estimate import Estimate
from oventide.units.temperature import celsius_from_fahrenheit, celsius_step_from_fahrenheit_step
from oventide.web.ask import Answer, Ask, Page, Redirect
from oventide.web.choices import BENCHES, FRIDGES, MIXERS, OVENS, TINS, UNKNOWN
from oventide.web.context import Marks, PageContext, marks_of
from oventide.web.fields import Fields
from oventide.web.figures import Units, plain
from oventide.web.pages import together
from oventide.web.product_form import celsius_text
from oventide.web.range_marks import Known, is_given, known_of

NEW = "new"
POINTS = {
    "room": ("Room", "air where you work"),
    "fridge": ("Fridge", "air, by a thermometer that lay in it"),
    "proof": ("Proofing place", "if it is not the room"),
    "tap_water": ("Cold tap", ""),
    "flour": ("Flour", "if it is not at room temperature"),
}
STEPS_C = {"oven_offset": ("Oven is off by", "true less set"), "friction": ("Mixer warms dough", "° per minute")}
CHOICES = {
    "oven_kind": ("Oven", OVENS), "mixer": ("Mixing", MIXERS), "bench": ("Bench", BENCHES), "tin": ("Tins", TINS),
    "fridge_kind": ("Fridge air", FRIDGES),
}  # fmt: skip
NUMBERS = {
    "altitude_m": ("Altitude", "m", 0.0), "scale_step_g": ("Scale shows steps of", "g", 1.0),
    "fine_step_g": ("Small scale shows", "g", 0.1), "fine_below_g": ("Small scale below", "g", 20.0),
}  # fmt: skip


@dataclass(frozen=True)
class Field:
    """One box: its name, its label with unit, a remark."""

    name: str
    label: str
    note: str


@dataclass(frozen=True)
class Pick:
    """One choice: its name, its label, what to choose from."""

    name: str
    label: str
    options: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class Shown(PageContext):
    """What the page shows."""

    key: Annotated[str, "The kitchen's address on the shelf, or new"]
    name: Annotated[str, "The kitchen's name"]
    number: Annotated[int, "Which revision is open; 0 for a new kitchen"]
    points: Annotated[tuple[Field, ...], "Temperatures to give, with range"]
    steps: Annotated[tuple[Field, ...], "Differences of temperature to give"]
    picks: Annotated[tuple[Pick, ...], "Kinds to choose from"]
    numbers: Annotated[tuple[Field, ...], "Altitude and the scale's steps"]
    known: Annotated[tuple[Known, ...], "What is worked with, each figure on its scale, given or assumed"]
    assumed: Annotated[tuple[str, ...], "What was assumed, in sentences"]
    values: Annotated[Mapping[str, str], "What stands in the form, as typed"]
    marks: Annotated[Marks, "Complaints by field"]
    found: Annotated[tuple[Complaint, ...], "Every complaint"]


def _estimate_text(estimate: Estimate, units: Units, step: bool) -> str:
    def one(value: float) -> str:
        if step:
            return plain(value * (1.8 if units.temperature == "f" else 1.0), 1)
        return celsius_text(value, units)

    if estimate.is_certain:
        return one(estimate.likely)
    return f"{one(estimate.low)} to {one(estimate.high)}"


def values_of(kitchen: Kitchen, units: Units) -> dict[str, str]:
    """What the baker gave, as texts; what was assumed stays empty."""
    values = {"name": kitchen.name}
    for name in (*POINTS, *STEPS_C):
        estimate = getattr(kitchen, name)
        values[name] = _estimate_text(estimate, units, name in STEPS_C) if is_given(estimate) else ""
    said = " ".join(kitchen.assumed).lower()
    words = {"oven_kind": "oven: ", "mixer": "mixer: ", "bench": "bench: ", "tin": "tin: ", "fridge_kind": "fridge: "}
    for name, (_, options) in CHOICES.items():
        kind = str(getattr(kitchen, name))
        values[name] = "" if f"{words[name]}{kind.replace('_', ' ')}" in said.replace("_", " ") else kind
        del options
    for name, (_, _, usual) in NUMBERS.items():
        value = float(getattr(kitchen, name))
        values[name] = "" if value == usual else plain(value, 2)
    return values


def _estimate(fields: Fields, name: str, step: bool) -> Estimate | None:
    """A figure, or two with "to" or a dash between, in the units switched to."""
    text = fields.text(name)
    if not text:
        return None
    parts = [p.strip() for p in text.replace("–", " to ").replace("…", " to ").split(" to ")]
    if len(parts) == 1 and "-" in text[1:] and text[1:].replace("-", "", 1).replace(".", "").isdigit():
        head, _, tail = text[1:].partition("-")
        parts = [text[0] + head, tail]
    if len(parts) > 2:
        fields.complaints.append(Complaint(name, text, "Give one figure, or a range.", "Write 21, or 19 to 23."))
        return None
    ends: list[float] = []
    for part in parts:
        bare = part.replace("°", "").rstrip("CcFf").strip()
        value = Fields({name: bare}, fields.units)
        number = value.number(name, -500, 2000)
        fields.complaints += value.complaints
        if number is None:
            return None
        if fields.units.temperature == "f":
            number = celsius_step_from_fahrenheit_step(number) if step else celsius_from_fahrenheit(number)
        ends.append(number)
    low, high = min(ends), max(ends)
    return Estimate(low=low, likely=(low + high) / 2, high=high)


def kitchen_from(ask: Ask) -> Kitchen:
    """The kitchen that the form says, completed with priors. Raises Refusal with the form's field names."""
    fields = Fields(ask.form, ask.units)
    given: dict[str, object] = {"name": fields.text("name") or None}
    for name in (*POINTS, *STEPS_C):
        given[name] = _estimate(fields, name, name in STEPS_C)
    for name, (_, options) in CHOICES.items():
        chosen = fields.text(name)
        given[name] = chosen if chosen in dict(options) else None
    for name in NUMBERS:
        given[name] = fields.number(name, -500, 9000)
    if not fields.text("name"):
        fields.complaints.append(Complaint("name", "", "A kitchen needs a name to be found again.", "Type a name."))
    if fields.complaints:
        raise Refusal(fields.complaints)
    try:
        return complete(given)
    except Refusal as refusal:
        raise Refusal(
            Complaint(c.field.removeprefix("kitchen."), c.given, c.problem, c.remedy) for c in refusal.complaints
        ) from refusal


def _open(ask: Ask, key: str) -> Saved[Kitchen] | None:
    if key == NEW:
        return None
    return ask.shelf.kitchen(key, ask.number("revision"))


def _with_hours(typed: Kitchen, saved: Kitchen) -> Kitchen:
    """The kitchen that was typed, with the room's hours, which the form does not hold, while its room is the same."""
    same = abs(typed.room.low - saved.room.low) < 0.06 and abs(typed.room.high - saved.room.high) < 0.06
    return typed.model_copy(update={"room_by_hour": saved.room_by_hour}) if same else typed


def handle(ask: Ask) -> Answer:
    """Show a kitchen, or the empty form; save what was typed as a new revision."""
    key = ask.path["key"]
    saved = _open(ask, key)
    kitchen = saved.content if saved else complete({})
    values = values_of(kitchen, ask.units) if saved else {}
    complaints: tuple[Complaint, ...] = ()
    if ask.is_post:
        try:
            if saved is None:
                return Redirect(f"/kitchens/{ask.shelf.save_kitchen(kitchen_from(ask)).key}")
            seen = ask.form.get("seen", "")
            after = int(seen) if seen.isascii() and seen.isdigit() else saved.newest
            done = saving.save(ask.shelf, _with_hours(kitchen_from(ask), saved.content), "", key, after)
            return (
                together.page_for(ask, key, done, "") if isinstance(done, Meanwhile) else Redirect(f"/kitchens/{key}")
            )
        except NotOnShelf:
            raise
        except Refusal as refusal:
            complaints, values = refusal.complaints, dict(ask.form)
    degree = ask.units.degree
    return Page(
        Shown(
            key=key,
            name=kitchen.name if saved else "A new kitchen",
            number=saved.number if saved else 0,
            points=tuple(Field(name, f"{label}, {degree}", note) for name, (label, note) in POINTS.items()),
            steps=tuple(
                Field(name, f"{label}, {degree}", note.replace("°", degree)) for name, (label, note) in STEPS_C.items()
            ),
            picks=tuple(Pick(name, label, (UNKNOWN, *options)) for name, (label, options) in CHOICES.items()),
            numbers=tuple(
                Field(name, f"{label}, {unit}", f"{plain(usual, 1)} if left empty")
                for name, (label, unit, usual) in NUMBERS.items()
            ),
            known=known_of(kitchen, ask.units),
            assumed=kitchen.assumed,
            values=values,
            marks=marks_of(complaints),
            found=complaints,
        ),
        422 if complaints else 200,
    )
