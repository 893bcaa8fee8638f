"""A formula beside published ranges of its class: figures, ranges and sources. A remark, never a verdict."""

from typing import Literal

from oventide.evidence.parameters import Parameter, load, sources
from oventide.formula.model import Formula, Frozen
from oventide.formula.percent import DoughPercent, whole_dough
from oventide.pantry.own import Pantry

DoughClass = Literal["lean", "enriched", "sweet_rich", "brioche"]
Standing = Literal["below", "within", "above"]

CLASS_WORDS: dict[DoughClass, str] = {
    "lean": "lean dough",
    "enriched": "enriched dough",
    "sweet_rich": "sweet rich dough",
    "brioche": "brioche dough",
}
_MEASURE_WORDS = {
    "sugar": "sugar as weighed",
    "fat": "fat as weighed",
    "egg": "egg",
    "water": "water of every ingredient",
    "salt": "salt as weighed",
    "yeast_as_instant": "yeast, as instant",
}


class Finding(Frozen):
    """One figure beside a range, or beside a gate (then one end is open)."""

    measure: str
    value: float
    unit: str
    low: float | None
    high: float | None
    standing: Standing
    sentence: str
    source: str
    source_title: str
    kind: Literal["range", "gate"] = "range"


def class_of(dough: DoughPercent) -> DoughClass:
    """The class by sugar and fat as weighed: lean below 3 % of both, enriched below 10 %, brioche from 35 % fat.

    The 10 % line is the Oxford Companion's; the other lines are ours, between the published rows
    (class.* in evidence/data/formula-balance.toml).
    """
    line = load("formula-balance").value
    sugar, fat = dough.sugar_weighed, dough.fat_weighed
    if max(sugar, fat) < line("class.lean_below"):
        return "lean"
    if fat >= line("class.brioche_fat_from") and sugar < line("class.brioche_sugar_below"):
        return "brioche"
    if max(sugar, fat) < line("class.enriched_below"):
        return "enriched"
    return "sweet_rich"


def figures(dough: DoughPercent) -> dict[str, float]:
    """The figures that ranges speak of, in % of flour, as formula tables weigh them."""
    return {
        "sugar": dough.sugar_weighed,
        "fat": dough.fat_weighed,
        "egg": dough.egg_weighed,
        "water": dough.water.total,
        "salt": dough.salt,
        "yeast_as_instant": dough.yeast_as_instant,
    }


def _title(parameter: Parameter) -> str:
    return sources()[parameter.source].title if parameter.source else ""


def _seen(parameter: Parameter) -> str:
    where = f", {parameter.where}" if parameter.where else ""
    memory = "; from memory" if parameter.grade == "remembered" else ""
    return f"{_title(parameter)}{where}{memory}"


def _standing(value: float, low: float | None, high: float | None) -> Standing:
    # Judged as shown, to a tenth of a per cent.
    shown = round(value, 1)
    if low is not None and shown < low:
        return "below"
    return "above" if high is not None and shown > high else "within"


def _beside(measure: str, value: float, parameter: Parameter, of_class: str) -> Finding:
    low, high = parameter.low, parameter.high
    standing = _standing(value, low, high)
    words = {"below": "below", "within": "within", "above": "above"}[standing]
    sentence = (
        f"{_MEASURE_WORDS[measure].capitalize()} {value:.1f} % of flour: {words} {low:g}–{high:g} % "
        f"for {of_class} ({_seen(parameter)})."
    )
    return Finding(
        measure=measure, value=value, unit=parameter.unit, low=low, high=high, standing=standing, sentence=sentence,
        source=parameter.source, source_title=_title(parameter),
    )  # fmt: skip


def _gate(
    measure: str, value: float, low: float | None, high: float | None, said: str, parameter: Parameter
) -> Finding:
    return Finding(
        measure=measure, value=value, unit=parameter.unit, low=low, high=high, standing=_standing(value, low, high),
        sentence=f"{said} ({_seen(parameter)}).", source=parameter.source, source_title=_title(parameter), kind="gate",
    )  # fmt: skip


def _gates(dough: DoughPercent) -> list[Finding]:
    ranges = load("formula-balance")
    sugar, fat = dough.sugar_weighed, dough.fat_weighed
    found: list[Finding] = []

    def above(name: str, measure: str, value: float, said: str) -> None:
        gate = ranges[f"gate.{name}"]
        if round(value, 1) > gate.value:
            found.append(_gate(measure, value, None, gate.value, said, gate))

    above("sugar_high", "sugar", sugar, f"Sugar {sugar:.1f} % is above 25 %, where the class of sweet rich doughs ends")
    above("fat_high", "fat", fat, f"Fat {fat:.1f} % is above 90 %, where the class of sweet rich doughs ends")
    above("sugar_late", "sugar", sugar, f"Sugar {sugar:.1f} %: above 12 % it goes in after the gluten has developed")
    half, late = ranges["gate.fat_half"], ranges["gate.fat_late"]
    if round(fat, 1) > late.value:
        said = f"Fat {fat:.1f} %: above {late.value:g} % it goes in at about 80 % development"
        found.append(_gate("fat", fat, None, late.value, said, late))
    elif round(fat, 1) >= half.value:
        said = f"Fat {fat:.1f} %: from {half.value:g} to {late.value:g} % it goes in at half development"
        found.append(_gate("fat", fat, None, half.value, said, half))
    strained = dough.composition.yeast_kind != "instant_osmotolerant" and dough.yeast_weighed > 0
    if strained:
        said = f"Sugar {sugar:.1f} %: above about 10 % a sugar-tolerant strain, or more yeast"
        above("sugar_yeast", "sugar", sugar, said)
    salt = dough.salt_of_all  # salted butter counts here: taste and yeast do not ask where salt comes from
    low, high = ranges["gate.salt_low"], ranges["gate.salt_high"]
    if round(salt, 1) < low.value:
        said = f"Salt of every ingredient {salt:.1f} %: below {low.value:g} % is unusual among published sweet doughs"
        found.append(_gate("salt", salt, low.value, None, said, low))
    above(
        "salt_high",
        "salt",
        salt,
        f"Salt of every ingredient {salt:.1f} %: above {high.value:g} % is unusual among published sweet doughs",
    )
    above(
        "spice", "spice", dough.spice,
        f"Cinnamon-like spice {dough.spice:.1f} % in the dough: above about 0.5 % it slows yeast",
    )  # fmt: skip
    return found


def findings_of(dough: DoughPercent, filled: bool = False) -> tuple[Finding, ...]:
    """Figures beside the ranges of the dough's class (and of dough for filled rolls), then the gates."""
    ranges = load("formula-balance")
    of_class = class_of(dough)
    values = figures(dough)
    found: list[Finding] = []
    for measure, value in values.items():
        parameter = ranges.parameters.get(f"range.{of_class}.{measure}")
        if parameter is not None:
            found.append(_beside(measure, value, parameter, f"a {CLASS_WORDS[of_class]}"))
    if filled and of_class in ("enriched", "sweet_rich"):
        for measure, value in values.items():
            parameter = ranges.parameters.get(f"range.rolls.{measure}")
            if parameter is not None:
                found.append(_beside(measure, value, parameter, "dough for filled rolls"))
    fresh = ranges["range.fresh_yeast"]
    if dough.composition.yeast_kind == "fresh":
        value = dough.yeast_weighed
        standing = _standing(value, fresh.low, fresh.high)
        sentence = (
            f"Fresh yeast {value:.1f} % of flour: {standing} {fresh.low:g}–{fresh.high:g} % "
            f"for most bread doughs ({_seen(fresh)})."
        )
        found.append(
            Finding(
                measure="yeast", value=value, unit=fresh.unit, low=fresh.low, high=fresh.high, standing=standing,
                sentence=sentence, source=fresh.source, source_title=_title(fresh),
            )
        )  # fmt: skip
    return (*found, *_gates(dough))


def findings(formula: Formula, pantry: Pantry | None = None) -> tuple[Finding, ...]:
    """The formula beside what is published for its class."""
    return findings_of(whole_dough(formula, pantry), filled=bool(formula.of_kind("spread", "filling")))


class Neighbour(Frozen):
    """A published formula and how its figures differ from ours [percentage points of flour]."""

    name: str
    source_title: str
    differences: dict[str, float]

    @property
    def distance(self) -> float:
        return float(sum(value**2 for value in self.differences.values()) ** 0.5)


def neighbours(dough: DoughPercent) -> tuple[Neighbour, ...]:
    """Published formulas, nearest first, by sugar, fat, egg and salt as weighed."""
    values = figures(dough)
    rows: dict[str, dict[str, Parameter]] = {}
    for name, parameter in load("formula-balance").parameters.items():
        if name.startswith("row."):
            _, row, measure = name.split(".")
            rows.setdefault(row, {})[measure] = parameter
    found = [
        Neighbour(
            name=row.replace("_", " "),
            source_title=_title(next(iter(measures.values()))),
            differences={measure: values[measure] - parameter.value for measure, parameter in measures.items()},
        )
        for row, measures in rows.items()
    ]
    return tuple(sorted(found, key=lambda neighbour: neighbour.distance))
