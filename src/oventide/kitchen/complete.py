"""From what the baker knows of the kitchen to a whole kitchen, with every assumption said."""

import difflib
import itertools
import math
from collections.abc import Iterable, Mapping
from typing import Any, get_args

from pydantic import ValidationError

from oventide.errors import Complaint, Refusal
from oventide.evidence.parameters import Parameter, load
from oventide.kitchen.limits import estimate_outside, outside
from oventide.kitchen.model import BENCH_KINDS, MIXER_KINDS, OVEN_KINDS, TIN_MATERIALS, Kitchen, RoomHour
from oventide.units.estimate import Estimate

_KINDS: dict[str, tuple[str, ...]] = {
    "oven_kind": OVEN_KINDS,
    "mixer": MIXER_KINDS,
    "bench": BENCH_KINDS,
    "tin": TIN_MATERIALS,
    "fridge_kind": get_args(Kitchen.model_fields["fridge_kind"].annotation),
}
_KIND_SENTENCES = {
    "oven_kind": "Oven: {} is assumed.",
    "mixer": "Mixer: {} is assumed.",
    "bench": "Bench: {} is assumed.",
    "tin": "Tin: {} is assumed.",
    "fridge_kind": "Fridge: {} air is assumed.",
}
_ESTIMATES = ("room", "fridge", "proof", "tap_water", "flour", "oven_offset", "friction")
_STEPS = ("scale_step_g", "fine_step_g", "fine_below_g")
_NUMBERS = ("altitude_m", *_STEPS)


def complete(given: Mapping[str, object]) -> Kitchen:
    """A kitchen from the figures that the baker gave, and priors (evidence/data/kitchen.toml) for the rest.

    Keys are the fields of `Kitchen`; a value of None counts as not given. A plain number is taken as exact: who
    wants a range gives an `Estimate`. What was not given is named in `assumed`. All complaints are raised at once.

    >>> kitchen = complete({"room": 17.5, "fridge": 4})
    >>> kitchen.flour.likely, kitchen.fridge.likely, kitchen.fridge.is_certain
    (17.5, 4.0, True)
    """
    return _Completion({key: value for key, value in given.items() if value is not None}).kitchen()


class _Completion:
    """The work of one call: gathers values, assumptions and complaints side by side."""

    def __init__(self, given: Mapping[str, object]) -> None:
        self.given = given
        self.values: dict[str, Any] = {}
        self.assumed: list[str] = []
        self.complaints: list[Complaint] = []

    def kitchen(self) -> Kitchen:
        self._unknown_keys()
        self._kinds()
        self._hours()
        for name in _ESTIMATES:
            if name in self.given:
                self._estimate(name)
        for name in _NUMBERS:
            self._number(name)
        self._fill()
        self._fridge_against_room()
        if "name" in self.given:
            self.values["name"] = str(self.given["name"])
        if self.complaints:
            raise Refusal(self.complaints)
        earlier = self.given.get("assumed", ())
        kept = tuple(str(sentence) for sentence in earlier) if isinstance(earlier, Iterable) else ()
        return Kitchen(**self.values, assumed=tuple(dict.fromkeys(kept + tuple(self.assumed))))

    def _complain(self, name: str, given: object, problem: str, remedy: str) -> None:
        self.complaints.append(Complaint(f"kitchen.{name}", str(given), problem, remedy))

    def _unknown_keys(self) -> None:
        for key in self.given:
            if key not in Kitchen.model_fields:
                near = difflib.get_close_matches(key, Kitchen.model_fields, n=1)
                hint = f"Did you mean {near[0]}?" if near else f"Known: {', '.join(Kitchen.model_fields)}."
                self._complain(key, self.given[key], "A kitchen has no such entry.", hint)

    def _kinds(self) -> None:
        for name, allowed in _KINDS.items():
            default = str(Kitchen.model_fields[name].default)
            if name not in self.given:
                self.values[name] = default
                self.assumed.append(_KIND_SENTENCES[name].format(default.replace("_", " ")))
            elif self.given[name] in allowed:
                self.values[name] = self.given[name]
            else:
                self.values[name] = default
                self._complain(
                    name, self.given[name], "This kind is not known.", f"Choose one of: {', '.join(allowed)}."
                )

    def _hours(self) -> None:
        if "room_by_hour" not in self.given:
            return
        raw = self.given["room_by_hour"]
        hours: list[RoomHour] = []
        try:
            for item in raw if isinstance(raw, Iterable) else [raw]:
                if isinstance(item, tuple | list) and len(item) == 2:
                    hours.append(RoomHour(hour=item[0], celsius=item[1]))
                else:
                    hours.append(RoomHour.model_validate(item))
        except ValidationError:
            self._complain(
                "room_by_hour", raw, "Each entry is an hour from 0 to below 24 and a temperature.",
                "Write the hours of the day in order, each with its °C.",
            )  # fmt: skip
            return
        if not hours:
            return
        clocks = [entry.hour for entry in hours]
        if any(later <= earlier for earlier, later in itertools.pairwise(clocks)):
            shown = ", ".join(f"{clock:g}" for clock in clocks)
            self._complain(
                "room_by_hour", shown, "The hours must rise from one entry to the next, each once.",
                "Put them in the order of the day, from 0 to below 24.",
            )  # fmt: skip
            return
        for entry in hours:
            complaint = outside("kitchen.room_by_hour", "room", entry.celsius)
            if complaint:
                self.complaints.append(complaint)
                return
        self.values["room_by_hour"] = tuple(hours)

    def _estimate(self, name: str) -> None:
        value = self.given[name]
        try:
            if isinstance(value, Estimate):
                estimate = value
            elif isinstance(value, Mapping):
                estimate = Estimate.model_validate(dict(value))
            elif isinstance(value, int | float) and not isinstance(value, bool):
                estimate = Estimate.certain(float(value))
            else:
                raise TypeError
        except (TypeError, ValidationError):
            self._complain(
                name, value, "This is not a figure, nor a low, likely and high figure in that order.",
                "Give a number, or a range with its likely value.",
            )  # fmt: skip
            return
        complaint = estimate_outside(f"kitchen.{name}", name, estimate)
        if complaint:
            self.complaints.append(complaint)
            return
        self.values[name] = estimate

    def _number(self, name: str) -> None:
        default = float(Kitchen.model_fields[name].default)
        value = self.given.get(name, default)
        number = float(value) if isinstance(value, int | float) and not isinstance(value, bool) else math.nan
        if name not in self.given:
            self.values[name] = default
            return
        if name == "altitude_m":
            complaint = outside("kitchen.altitude_m", "altitude", number)
            if complaint:
                self.complaints.append(
                    Complaint(complaint.field, str(value), complaint.problem, "Give metres above the sea.")
                )
                return
        elif not (math.isfinite(number) and number > 0):
            self._complain(name, value, "A scale's step must be above 0 g.", "Give the step that the scale shows.")
            return
        self.values[name] = number

    def _fill(self) -> None:
        """Priors for the figures that were not given. The room comes first: flour leans on it."""
        priors = load("kitchen")
        hours: tuple[RoomHour, ...] = self.values.get("room_by_hour", ())
        if "room" not in self.given:
            if hours:
                self.values["room"] = Estimate.certain(sum(entry.celsius for entry in hours) / len(hours))
                self.assumed.append(f"Room: {self.values['room'].likely:.1f} °C, the mean of the hours given.")
            else:
                self._take("room", priors["room"], "Room: {} °C, the same all day, is assumed.")
        if "fridge" not in self.given:
            self._take("fridge", priors["fridge"], "Fridge: {} °C is assumed.")
            self._fridge_prior_below_room()
        if "tap_water" not in self.given:
            self._take("tap_water", priors["tap_water"], "Tap water: {} °C is assumed.")
        if "proof" not in self.given:
            self.assumed.append("Proof: at room temperature, as no prover was given.")
        if "flour" not in self.given and "room" in self.values:
            room: Estimate = self.values["room"]
            self.values["flour"] = room.model_copy(update={"grade": "assumed"})
            self.assumed.append(f"Flour: {_range(room.low, room.likely, room.high)} °C, as the room, is assumed.")
        if "oven_offset" not in self.given:
            kind = self.values["oven_kind"]
            self._take("oven_offset", priors[f"oven_offset.{kind}"], "Oven: true air less setting {} K is assumed.")
        if "friction" not in self.given:
            mixer = self.values["mixer"]
            self._take("friction", priors[f"friction.{mixer}"], "Mixing warms the dough by {} K a minute (assumed).")
        if "altitude_m" not in self.given:
            self.assumed.append("Altitude: sea level is assumed.")
        if any(step not in self.given for step in _STEPS):
            step, fine, below = (self.values.get(name, 0.0) for name in _STEPS)
            self.assumed.append(f"Scales: steps of {step:g} g, and {fine:g} g below {below:g} g, are assumed.")

    def _take(self, name: str, prior: Parameter, sentence: str) -> None:
        self.values[name] = Estimate(
            low=prior.low, likely=prior.value, high=prior.high, grade="assumed", source=prior.source
        )
        self.assumed.append(sentence.format(_range(prior.low, prior.value, prior.high)))

    def _fridge_prior_below_room(self) -> None:
        """A fridge that was not read cannot be taken as warmer than a cold room that was."""
        room, fridge = self.values.get("room"), self.values["fridge"]
        if room is None or fridge.likely <= room.likely:
            return
        likely = room.likely
        self.values["fridge"] = Estimate(
            low=min(fridge.low, likely), likely=likely, high=likely, grade="assumed", source=fridge.source
        )
        self.assumed[-1] = f"Fridge: {likely:g} °C, no warmer than the room, is assumed."

    def _fridge_against_room(self) -> None:
        room, fridge = self.values.get("room"), self.values.get("fridge")
        if room is None or fridge is None or fridge.likely <= room.likely:
            return
        taken = "" if "room" in self.given else " (the room was not given)"
        self._complain(
            "fridge", f"{fridge.likely:g} °C", f"The fridge is warmer than the room, {room.likely:g} °C{taken}.",
            "Check both figures and their units; perhaps they are exchanged, or one is in °F.",
        )  # fmt: skip


def _range(low: float, likely: float, high: float) -> str:
    return f"{likely:g}" if low == high else f"{likely:g} ({low:g} to {high:g})"
