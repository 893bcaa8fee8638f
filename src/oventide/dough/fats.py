"""Fats of other kinds beside butter: which of a dough's fat sets, and along which curve.

Each fat keeps its own curve, and the dough's is their mean by mass: fats that dissolve each other are softer than that
(a first approximation). Oil never sets. Season moves milk fat only.
"""

from collections.abc import Iterable

import numpy as np
from numpy.typing import NDArray

from oventide.formula.composition import ingredient_of, is_butter, is_dairy
from oventide.formula.model import Line
from oventide.matter.milk_fat import milk_fat_curves
from oventide.matter.tables import table
from oventide.pantry.own import Pantry

Array = NDArray[np.float64]

_KIND_OF = {
    "margarine_80": "margarine",
    "margarine_spread": "soft_spread",
    "butter_plant": "margarine",
    "lard": "lard",
    "suet": "lard",
    "shortening_veg": "shortening",
    "oil_coconut": "coconut",
    "oil_palm": "palm",
}


def setting_fats(lines: Iterable[Line], pantry: Pantry | None = None) -> dict[str, float]:
    """Fat that can set, by kind [g]: "milk" and the columns of the table. Oil, eggs and flour bring none."""
    found: dict[str, float] = {}
    for line in lines:
        item = ingredient_of(line, pantry)
        if item is None or line.grams is None or not item.fat:
            continue
        kind = "milk" if is_butter(item) or is_dairy(item) else _KIND_OF.get(item.id)
        if kind is not None:
            found[kind] = found.get(kind, 0.0) + line.grams.likely * item.fat / 100.0
    return found


def curve_of(fats: dict[str, float], temperatures_c: Array, offsets: Array) -> Array:
    """Solid share (M, T) of a dough's setting fat in balance, at temperatures (T,), by the masses of its fats.

    >>> at = np.array([20.0, 40.0])
    >>> curve_of({"milk": 30.0, "coconut": 10.0}, at, np.zeros(1)).round(4).tolist()
    [[0.2275, 0.0]]
    """
    rows = table("other_fat_solids")
    total = sum(fats.values())
    mixed = np.zeros((offsets.shape[0], temperatures_c.shape[0]))
    for kind, grams in fats.items():
        if kind == "milk":
            own = milk_fat_curves(temperatures_c, offsets)
        else:
            own = np.interp(temperatures_c, rows.column("temperature"), rows.column(kind))[None, :]
        mixed = mixed + grams / total * own
    return mixed
