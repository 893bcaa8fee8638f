"""Where each law was measured or tried (data/validity.toml)."""

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from oventide.evidence.parameters import EvidenceError, sources


@dataclass(frozen=True)
class Range:
    """An input of a law, between low and high in the input's own unit; why it ends there, for the baker."""

    input: str
    low: float
    high: float
    source: str
    why: str


@dataclass(frozen=True)
class LawRange:
    """The ranges of one law. `lasting`: dough that once left them stays marked. `rests_on`: other laws' keys."""

    key: str
    what: str
    ranges: tuple[Range, ...]
    lasting: bool = False
    rests_on: tuple[str, ...] = ()


@cache
def law_ranges() -> dict[str, LawRange]:
    """Every law by its key, checked.

    >>> [r.high for r in law_ranges()["colour"].ranges if r.input == "crust at the end"]
    [250.0]
    """
    text = files("oventide.evidence").joinpath("data", "validity.toml").read_text("utf-8")
    found: dict[str, LawRange] = {}
    for key, fields in tomllib.loads(text).items():
        unknown = set(fields) - {"what", "ranges", "lasting", "rests_on"}
        if unknown or "what" not in fields or "ranges" not in fields:
            raise EvidenceError(f"validity.{key}: unknown {sorted(unknown)}, or no what, or no ranges")
        ranges = tuple(Range(**entry) for entry in fields["ranges"])
        for entry in ranges:
            if not entry.low < entry.high or not entry.why or entry.source not in sources():
                raise EvidenceError(f"validity.{key}, {entry.input}: range, reason or source is not in order")
        found[key] = LawRange(
            key, fields["what"], ranges, fields.get("lasting", False), tuple(fields.get("rests_on", ()))
        )
    for law in found.values():
        if missing := [other for other in law.rests_on if other not in found]:
            raise EvidenceError(f"validity.{law.key} rests on {missing}, which is not there")
    return found
