"""What the causes of a forecast's spread are called at the bench, and what would narrow each (data/causes.toml)."""

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from oventide.evidence.parameters import EvidenceError, Parameter


@dataclass(frozen=True)
class Cause:
    """A cause in plain words, and the one measurement that would narrow it ("" where none is known)."""

    words: str
    narrowed_by: str


@cache
def _known() -> dict[str, Cause]:
    text = files("oventide.evidence").joinpath("data", "causes.toml").read_text("utf-8")
    found = {}
    for key, fields in tomllib.loads(text).items():
        if set(fields) - {"words", "narrowed_by"}:
            raise EvidenceError(f"causes.toml: {key} has an unknown entry")
        found[key] = Cause(fields.get("words", ""), fields.get("narrowed_by", ""))
    return found


def cause_of(key: str, parameter: Parameter) -> Cause:
    """The cause that an uncertain figure "room:name" belongs to; its own `what` where no words are given.

    >>> from oventide.evidence.parameters import load
    >>> cause_of("dough:yeast.cardinal_least", load("yeast")["yeast.cardinal_least"]).words
    'which law of temperature the yeast keeps to'
    """
    fitting = max((known for known in _known() if key.startswith(known)), key=len, default="")
    cause = _known().get(fitting, Cause("", ""))
    return Cause(cause.words or parameter.what, cause.narrowed_by)


def keys() -> tuple[str, ...]:
    """Every beginning of a key that the data names."""
    return tuple(_known())
