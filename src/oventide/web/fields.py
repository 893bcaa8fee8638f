"""Texts of a form turned into figures, with every complaint kept instead of only the first."""

from collections.abc import Callable, Mapping
from typing import TypeVar

from oventide.errors import Complaint, Refusal
from oventide.services import asking
from oventide.timeline.procedure import Span
from oventide.units.measure import GRAMS
from oventide.units.temperature import celsius_from_fahrenheit, celsius_step_from_fahrenheit_step
from oventide.web.figures import Units, plain

T = TypeVar("T")
LONGEST_STEP_MIN = 7 * 24 * 60


class Fields:
    """Reads fields by name; afterwards `complaints` holds what is amiss, by field."""

    def __init__(self, form: Mapping[str, str], units: Units) -> None:
        self.form = form
        self.units = units
        self.complaints: list[Complaint] = []

    def text(self, name: str) -> str:
        """The text, without blanks at its ends; empty where the field is absent."""
        return self.form.get(name, "").strip()

    def ticked(self, name: str) -> bool:
        return self.form.get(name) == "yes"

    def keep(self, name: str, read: Callable[[], T | None]) -> T | None:
        """What `read` gives; a refusal becomes complaints about this field."""
        try:
            return read()
        except Refusal as refusal:
            self.complaints += [Complaint(name, each.given, each.problem, each.remedy) for each in refusal.complaints]
            return None

    def number(self, name: str, low: float, high: float, unit: str = "") -> float | None:
        text = self.text(name)
        return self.keep(name, lambda: asking.number(text, name, low, high, unit)) if text else None

    def whole(self, name: str, low: int, high: int) -> int | None:
        text = self.text(name)
        return self.keep(name, lambda: asking.whole_number(text, name, low, high)) if text else None

    def celsius(self, name: str, low: float, high: float) -> float | None:
        """A temperature typed in the units switched to [°C]; the limits are in °C."""
        if self.units.temperature == "c":
            return self.number(name, low, high, "°C")
        typed = self.number(name, low * 1.8 + 32, high * 1.8 + 32, "°F")
        return None if typed is None else celsius_from_fahrenheit(typed)

    def celsius_step(self, name: str, low: float, high: float) -> float | None:
        """A difference of temperatures typed in the units switched to [°C step]."""
        if self.units.temperature == "c":
            return self.number(name, low, high, "°C")
        typed = self.number(name, low * 1.8, high * 1.8, "°F")
        return None if typed is None else celsius_step_from_fahrenheit_step(typed)

    def grams(self, name: str, low: float, high: float) -> float | None:
        """A weight typed in the units switched to [g]; the limits are in g."""
        if self.units.mass == "g":
            return self.number(name, low, high, "g")
        typed = self.number(name, low / GRAMS["oz"], high / GRAMS["oz"], "oz")
        return None if typed is None else typed * GRAMS["oz"]

    def span(self, name: str) -> Span | None:
        """Minutes, or a range of minutes: 20, or 45-60."""
        text = self.text(name)
        if not text:
            return None
        parts = [part for part in text.replace("–", "-").replace(" to ", "-").split("-") if part.strip()]
        if len(parts) > 2 or text.lstrip().startswith(("-", "−")):
            self.complaints.append(
                Complaint(name, text, "Minutes are one number, or two with a dash between.", "Write 20, or 45-60.")
            )
            return None
        ends = [
            self.keep(name, lambda part=part: asking.number(part, name, 0, LONGEST_STEP_MIN, "min"))  # type: ignore[misc]
            for part in parts
        ]
        if not ends or any(end is None for end in ends):
            return None
        low, high = min(e for e in ends if e is not None), max(e for e in ends if e is not None)
        return Span(low=low, likely=(low + high) / 2, high=high)


def span_words(span: Span | None) -> str:
    """Minutes as they are typed.

    >>> span_words(Span(low=45, likely=50, high=60))
    '45-60'
    """
    if span is None:
        return ""
    if span.low == span.high:
        return plain(span.likely, 1)
    return f"{plain(span.low, 1)}-{plain(span.high, 1)}"
