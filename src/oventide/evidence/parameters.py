"""Parameters as data, and draws of them for an ensemble.

A parameter file is TOML: one table per parameter, e.g.

    [yeast.gas_rate]
    value = 17.0
    unit = "mmol/(g·h)"
    low = 11.8
    high = 24.5
    spread = "lognormal"          # fixed | normal | lognormal | uniform
    grade = "remembered"          # exact | given | read | fitted | remembered | assumed
    source = "pup-loaf"           # a key of sources.toml
    where = "page, table or equation"
    valid = "25-35 °C"            # where the value holds
    what = "CO2 made by active dry matter without osmotic brake at 30 °C"

low and high bound about 90 % of what is plausible. An unknown key, a missing unit or an unknown source refuses to load.
"""

import tomllib
from dataclasses import dataclass, field
from functools import cache
from importlib.resources import files
from typing import Any, Literal, get_args

import numpy as np
from numpy.typing import NDArray

from oventide.units.estimate import Grade

Spread = Literal["fixed", "normal", "lognormal", "uniform"]
Array = NDArray[np.float64]

_KEYS = {"value", "unit", "low", "high", "spread", "grade", "source", "where", "valid", "what"}
_REQUIRED = {"value", "unit", "grade", "what"}
_Z90 = 1.6448536269514722


@dataclass(frozen=True)
class Source:
    """Where a figure comes from, and how it was seen."""

    key: str
    title: str
    author: str = ""
    year: str = ""
    where: str = ""
    seen: str = ""


@dataclass(frozen=True)
class Parameter:
    """One figure of a model, with its range and its source."""

    name: str
    value: float
    unit: str
    what: str
    grade: Grade
    low: float
    high: float
    spread: Spread = "fixed"
    source: str = ""
    where: str = ""
    valid: str = ""

    def at(self, quantile: Array) -> Array:
        """Values of the prior at the quantiles given, in (0, 1); low and high are its 5 and 95 %."""
        if self.spread == "fixed" or self.low == self.high:
            return np.full_like(quantile, self.value)
        if self.spread == "uniform":
            return self.low + (self.high - self.low) * quantile

        from scipy.special import ndtri  # here, since most commands draw nothing

        z: Array = np.asarray(ndtri(quantile), dtype=np.float64)
        if self.spread == "normal":
            below, above = (self.value - self.low) / _Z90, (self.high - self.value) / _Z90
            return np.asarray(self.value + z * np.where(z < 0, below, above))
        below, above = np.log(self.value / self.low) / _Z90, np.log(self.high / self.value) / _Z90
        return np.asarray(self.value * np.exp(z * np.where(z < 0, below, above)))


@dataclass(frozen=True)
class ParameterSet:
    """The parameters of one room, by dotted name."""

    room: str
    parameters: dict[str, Parameter] = field(default_factory=dict)

    def __getitem__(self, name: str) -> Parameter:
        try:
            return self.parameters[name]
        except KeyError:
            raise KeyError(f"evidence/data/{self.room}.toml has no parameter {name!r}") from None

    def value(self, name: str) -> float:
        return self[name].value


class EvidenceError(Exception):
    """A parameter file that breaks its own rules: a fault of ours, not of the baker."""


@cache
def sources() -> dict[str, Source]:
    """Every source that a parameter or a rule may name, by key (evidence/data/sources*.toml)."""
    known: dict[str, Source] = {}
    for entry in sorted(files("oventide.evidence").joinpath("data").iterdir(), key=lambda item: item.name):
        if entry.name.startswith("sources") and entry.name.endswith(".toml"):
            for key, fields in tomllib.loads(entry.read_text("utf-8")).items():
                if key in known:
                    raise EvidenceError(f"source {key!r} stands twice, again in {entry.name}")
                known[key] = Source(key=key, **{name: str(text) for name, text in fields.items()})
    return known


def _flatten(table: dict[str, Any], prefix: str = "") -> dict[str, dict[str, Any]]:
    found: dict[str, dict[str, Any]] = {}
    for name, content in table.items():
        if not isinstance(content, dict):
            raise EvidenceError(f"{prefix}{name} is not a table")
        if "value" in content:
            found[prefix + name] = content
        else:
            found |= _flatten(content, f"{prefix}{name}.")
    return found


@cache
def load(room: str) -> ParameterSet:
    """The parameters of evidence/data/<room>.toml, checked."""
    text = files("oventide.evidence").joinpath("data", f"{room}.toml").read_text("utf-8")
    parameters: dict[str, Parameter] = {}
    for name, fields in _flatten(tomllib.loads(text)).items():
        unknown, missing = set(fields) - _KEYS, _REQUIRED - set(fields)
        if unknown or missing:
            raise EvidenceError(f"{room}.{name}: unknown {sorted(unknown)}, missing {sorted(missing)}")
        if fields["grade"] not in get_args(Grade):
            raise EvidenceError(f"{room}.{name}: grade {fields['grade']!r} is none of {get_args(Grade)}")
        source = fields.get("source", "")
        if source and source not in sources():
            raise EvidenceError(f"{room}.{name}: source {source!r} is not in sources*.toml")
        if fields["grade"] in ("read", "fitted") and not source:
            raise EvidenceError(f"{room}.{name}: grade {fields['grade']} needs a source")
        value = float(fields["value"])
        low, high = float(fields.get("low", value)), float(fields.get("high", value))
        if not low <= value <= high:
            raise EvidenceError(f"{room}.{name}: low {low} ≤ value {value} ≤ high {high} does not hold")
        spread = fields.get("spread", "fixed" if low == high else "normal")
        if spread not in get_args(Spread):
            raise EvidenceError(f"{room}.{name}: spread {spread!r} is none of {get_args(Spread)}")
        rest = {key: fields[key] for key in ("unit", "what", "grade", "source", "where", "valid") if key in fields}
        parameters[name] = Parameter(name=name, value=value, low=low, high=high, spread=spread, **rest)
    return ParameterSet(room, parameters)


def draw(parameters: list[Parameter], members: int, seed: int) -> dict[str, Array]:
    """Values of every parameter for `members` plausible kitchens, by name.

    A Latin hypercube covers every prior evenly. A few hundred points on a hundred axes leave accidental
    correlations (up to 0.24 in 256 kitchens; a scrambled Sobol sequence left 0.38), so the columns are reordered until
    their ranks are nearly free of each other (Iman & Conover 1982, from memory; 0.08 is left).
    Same seed, same members. `members == 1` gives the likely values: one certain kitchen.
    """
    if members == 1:
        return {parameter.name: np.array([parameter.value]) for parameter in parameters}
    axes = [parameter for parameter in parameters if parameter.spread != "fixed" and parameter.low < parameter.high]
    values = {parameter.name: np.full(members, parameter.value) for parameter in parameters}
    if axes:
        cube = _hypercube(members, len(axes), np.random.default_rng(seed))
        for axis, parameter in enumerate(axes):
            values[parameter.name] = parameter.at(cube[:, axis])
    return values


def _hypercube(members: int, axes: int, rng: np.random.Generator) -> Array:
    """Latin hypercube (members, axes) in (0, 1): each column has one point in each of `members` equal shares."""
    ranks = rng.permuted(np.tile(np.arange(members), (axes, 1)), axis=1).T
    if 1 < axes <= members / 1.5:
        from scipy.special import ndtri

        scores = ndtri((ranks + 0.5) / members)
        root = np.linalg.cholesky(np.corrcoef(scores, rowvar=False))
        ranks = np.argsort(np.argsort(scores @ np.linalg.inv(root).T, axis=0), axis=0)
    return np.asarray((ranks + rng.uniform(0.02, 0.98, ranks.shape)) / members)
