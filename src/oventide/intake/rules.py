"""Stated defaults: data/defaults.toml, each with its sentence and its reason."""

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

from oventide.timeline.procedure import Span


@dataclass(frozen=True)
class Rule:
    """One default: a time, a temperature or a figure, the sentence that states it, and why."""

    name: str
    text: str
    why: str
    fields: dict[str, Any]

    @property
    def span(self) -> Span:
        """The time [min]."""
        low, likely, high = self.fields["minutes"]
        return Span(low=low, likely=likely, high=high)

    def figure(self, name: str) -> float:
        """A figure of the rule, in the unit that its name says."""
        return float(self.fields[name])

    def says(self, because: str = "") -> str:
        """The sentence for `assumed`, with what in the text led to it."""
        return f"{self.text} ({because})" if because else self.text


@cache
def _table() -> dict[str, Rule]:
    text = files("oventide.intake").joinpath("data", "defaults.toml").read_text("utf-8")
    rules: dict[str, Rule] = {}
    for name, fields in tomllib.loads(text).items():
        rest = {key: value for key, value in fields.items() if key not in ("text", "why")}
        rules[name] = Rule(name, fields["text"], fields["why"], rest)
    return rules


def rule(name: str) -> Rule:
    """A default by name."""
    return _table()[name]


def names() -> tuple[str, ...]:
    """Every default, in the order of the file."""
    return tuple(_table())


def gas_mark(mark: float) -> float | None:
    """Static oven setting of a gas mark [°C], or None outside 1/2 to 9.

    >>> gas_mark(4), gas_mark(11)
    (180.0, None)
    """
    marks: list[float] = rule("gas").fields["marks"]
    if mark == 0.5:
        return float(marks[0])
    if mark != int(mark) or not 1 <= mark < len(marks):
        return None
    return float(marks[int(mark)])
