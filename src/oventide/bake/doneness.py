"""When a bun is done: hot enough, set at its coldest point, and coloured. All three, each shown on its own."""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from oventide.bake.colour import COLOUR_WORDS
from oventide.evidence.parameters import load

Array = NDArray[np.float64]
_BAKE = load("bake")
BELOW_BOILING_C = _BAKE.value("done.below_boiling")
"""The core counts as hot enough this far below the boiling point of the place, so that it also works at altitude."""
SET_SHARE = _BAKE.value("done.set_share")

_UPPER = {word: upper for upper, word in COLOUR_WORDS}
GOLDEN = (_UPPER["light golden"], _UPPER["golden brown"])
"""ΔE of a bun that is baked out: golden to golden brown. Above it the top is too dark."""


class Doneness(NamedTuple):
    """Times [s] at which each sign is first met, (M,), nan where it is not met within the samples.

    `done` is the latest of the three; `too_dark` is when the colour leaves the band.
    """

    hot: Array
    set: Array
    coloured: Array
    done: Array
    too_dark: Array


def first_crossing(sample_s: Array, values: Array, threshold: Array | float, rising: bool = True) -> Array:
    """First time [s] at which `values` (M, K) reach a threshold, by straight lines between samples; nan if never."""
    goal = np.broadcast_to(np.asarray(threshold, dtype=np.float64), (values.shape[0],))[:, None]
    gap = values - goal if rising else goal - values
    met = gap >= 0.0
    first = met.argmax(axis=1)
    members = np.arange(values.shape[0])
    before = np.maximum(first - 1, 0)
    g0, g1 = gap[members, before], gap[members, first]
    with np.errstate(invalid="ignore", divide="ignore"):
        share = np.where(first > 0, -g0 / np.where(g1 == g0, 1.0, g1 - g0), 0.0)
    times = sample_s[before] + share * (sample_s[first] - sample_s[before])
    return np.where(met.any(axis=1), times, np.nan)


def doneness(
    sample_s: Array,
    core_c: Array,
    set_coldest: Array,
    colour: Array,
    boiling_c: Array | float,
    colour_low: float,
    colour_high: float,
) -> Doneness:
    """Read the three signs off an oven run: core at the boiling point less 6 °C, 98 % set, ΔE in its band."""
    hot = first_crossing(sample_s, core_c, np.asarray(boiling_c) - BELOW_BOILING_C)
    firm = first_crossing(sample_s, set_coldest, SET_SHARE)
    coloured = first_crossing(sample_s, colour, colour_low)
    dark = first_crossing(sample_s, colour, colour_high)
    return Doneness(hot, firm, coloured, np.maximum(np.maximum(hot, firm), coloured), dark)
