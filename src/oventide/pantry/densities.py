"""Grams in a millilitre of an ingredient as it lies in a cup or a spoon, with its range."""

import re
from dataclasses import dataclass
from functools import cache

from oventide.evidence.parameters import ParameterSet, load
from oventide.pantry.ingredients import ingredient, table
from oventide.pantry.own import Pantry
from oventide.units.estimate import Estimate, Grade
from oventide.units.measure import millilitres_per

PARAMETERS = "formula-measures"

_KIND_OF_SCATTER = {
    "flour": "flour", "starch": "powder", "spice": "powder", "yeast": "powder", "leavening": "powder",
    "sugar": "crystal", "salt": "crystal", "fat": "liquid", "dairy": "liquid", "egg": "liquid", "liquid": "liquid",
}  # fmt: skip
_USUAL = {
    "sugar_brown": "packed", "cream_heavy": "fluid", "cream_cheese": "", "walnuts": "pieces",
    "yeast_active_dry": "packet",
}  # fmt: skip
"""What a recipe means where the table has several ways to fill the cup and none is named."""
_SAME = {"grated": "shredded", "cubed": "diced", "milled": "ground", "flaked": "slivered", "halved": "halves"}
"""Words of preparation that fill a cup alike."""
_RARE = ("whipped", "in shell", "hulls", "cubic inch", "brownulated", "melted", "pureed")
_IGNORED = frozenset(
    (
        "cup",
        "cups",
        "tbsp",
        "tablespoon",
        "tsp",
        "fl",
        "oz",
        "ml",
        "liter",
        "quart",
        "yields",
        "fluid",
        "whipped",
        "large",
        "eggs",
    )
)


def measures() -> ParameterSet:
    """The parameters of measuring (evidence/data/formula-measures.toml)."""
    return load(PARAMETERS)


@dataclass(frozen=True)
class Density:
    """Grams per millilitre, and how the cup is taken to be filled."""

    estimate: Estimate
    filled: str
    source: str


@dataclass(frozen=True)
class _Row:
    measure: str
    qualifiers: frozenset[str]
    millilitres: float
    g_per_ml: float
    grade: Grade
    source: str


@cache
def _volume_rows() -> dict[str, tuple[_Row, ...]]:
    found: dict[str, list[_Row]] = {}
    for row in table("household"):
        if row["kind"] != "volume" or not row["g_per_mL"]:
            continue
        words = re.findall(r"[a-z]+", row["measure"].lower())
        memory = row["read_or_memory"].startswith("FROM MEMORY")
        found.setdefault(row["id"], []).append(
            _Row(
                measure=row["measure"],
                qualifiers=frozenset(word for word in words if word not in _IGNORED),
                millilitres=float(row["mL"]),
                g_per_ml=float(row["grams"]) / float(row["mL"]) if float(row["mL"]) > 1 else float(row["g_per_mL"]),
                grade="remembered" if memory else "read",
                source=f"{row['usda_id']}: {row['measure']} {row['grams']} g" if not memory else "from memory",
            )
        )
    return {name: tuple(rows) for name, rows in found.items()}


@cache
def _remembered() -> dict[str, Estimate]:
    return {
        row["id"]: Estimate(
            low=float(row["low"]), likely=float(row["likely"]), high=float(row["high"]), grade="remembered",
            source="practice",
        )
        for row in table("counts")
        if row["unit"] == "ml"
    }  # fmt: skip


@cache
def _alike() -> dict[str, str]:
    return {row["id"]: row["like"] for row in table("like")}


def _scatter(ingredient_id: str) -> tuple[float, float]:
    item = ingredient(ingredient_id)
    kind = _KIND_OF_SCATTER.get(item.category, "pieces")
    if item.category == "dairy" and item.water is not None and item.water < 10:
        kind = "powder"  # milk powder
    if item.category == "egg" and item.water is not None and item.water < 10:
        kind = "powder"
    if item.category == "sugar" and item.water is not None and item.water > 10:
        kind = "liquid"  # honey and syrups
    if ingredient_id in ("sugar_icing", "cocoa_natural", "cocoa_dutched", "cocoa_highfat"):
        kind = "powder"
    values = measures()
    return values.value(f"scatter.{kind}.low"), values.value(f"scatter.{kind}.high")


def _from_rows(ingredient_id: str, rows: tuple[_Row, ...], preparation: str) -> Density:
    wanted = {_SAME.get(word, word) for word in re.findall(r"[a-z]+", preparation.lower())}
    usual = [row for row in rows if not any(rare in row.measure for rare in _RARE)] or list(rows)
    named = [row for row in rows if row.qualifiers & wanted and "un" not in wanted]
    hint = _USUAL.get(ingredient_id)
    if named:
        # The row that shares most words with the preparation, and says least besides.
        closest = max(
            named, key=lambda row: (len(row.qualifiers & wanted), -len(row.qualifiers - wanted), row.millilitres)
        )
        pool = [closest]
    elif hint:
        pool = [row for row in usual if hint in row.measure] or usual
    else:
        pool = [row for row in usual if not row.qualifiers] or usual
    big = [row for row in pool if row.millilitres > 50]
    pool = big or pool
    likely_row = max(pool, key=lambda row: row.millilitres) if not named else pool[0]
    low, high = _scatter(ingredient_id)
    lowest = min(row.g_per_ml for row in pool) if not named else likely_row.g_per_ml
    highest = max(row.g_per_ml for row in pool) if not named else likely_row.g_per_ml
    likely = likely_row.g_per_ml
    estimate = Estimate(
        low=min(lowest, likely * low), likely=likely, high=max(highest, likely * high), grade=likely_row.grade,
        source="usda-sr28" if likely_row.source.startswith("NDB") else "practice",
    )  # fmt: skip
    filled = re.sub(
        r"^[\d.]+\s*(?:cubic inch|cups?|tbsp|tablespoon|tsp|fl oz|mL|liter|quart)\W*", "", likely_row.measure
    )
    return Density(estimate, filled.strip(" ,()"), likely_row.source)


def density(ingredient_id: str, preparation: str = "", pantry: Pantry | None = None) -> Density | None:
    """Grams per millilitre as measured, or None where it is not known.

    The likely value is the tabulated household weight (USDA SR28 WEIGHT file, with its NDB number) or one from
    memory; low and high add how differently people fill a cup (evidence/data/formula-measures.toml).

    >>> found = density("flour_ap_unenriched")
    >>> round(found.estimate.likely, 3), found.source
    (0.528, 'NDB 20481: 1 cup 125.0 g')
    """
    own = pantry.own_of(ingredient_id) if pantry is not None else None
    if own is not None:
        if own.cup_g is not None:
            cup_ml = millilitres_per("cup", "us") or 0.0
            value = own.cup_g / cup_ml
            return Density(
                Estimate(low=value * 0.97, likely=value, high=value * 1.03), "", f"your own cup of {own.cup_g:g} g"
            )
        return density(own.like, preparation) if own.like else None
    rows = _volume_rows().get(ingredient_id)
    if rows:
        return _from_rows(ingredient_id, rows, preparation)
    remembered = _remembered().get(ingredient_id)
    if remembered is not None:
        return Density(remembered, "", "from memory")
    alike = _alike().get(ingredient_id)
    if alike is None:
        return None
    borrowed = density(alike, preparation)
    if borrowed is None:
        return None
    sentence = f"as {ingredient(alike).name} ({borrowed.source})"
    estimate = borrowed.estimate.model_copy(update={"grade": "assumed"})
    return Density(estimate, borrowed.filled, sentence)
