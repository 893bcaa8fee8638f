"""Staling: how crumb firms with time and temperature, what freezing stops and reheating undoes.

First order (Avrami with n = 1; Cornford, Axford & Elton 1964): the share of staling s goes to 1 by ds/dt = k(T)(1 - s);
firmness is fresh firmness times 1 + (limit - 1) s. The rate is greatest just above freezing and falls as it gets
warmer; the limit is the same at every temperature. Fat lowers the limit and leaves the rate. Arrays are over members.
"""

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from oventide.evidence.parameters import load

Array = NDArray[np.float64]

_P = load("keeping")
_AT_C = np.array([-1.0, 10.0, 21.0, 32.0])
_LN_DAYS = np.log([_P.value(f"staling.days_at_{name}") for name in ("minus_1", "10", "21", "32")])
_MELTS_FROM, _MELTS_TO = _P.value("staling.melts_from"), _P.value("staling.melts_to")
_CLEARLY = _P.value("firmness.clearly")
_DAY_S = 86400.0


def rate_per_day(celsius: Array, freezing_c: Array | float = -5.0, width_k: Array | float = 2.6) -> Array:
    """Rate k of staling [1/d] of plain bread at temperatures of any shape.

    ln of the time constant by straight lines through the points at -1, 10, 21 and 32 °C, drawn on at both ends; fading
    to nothing where retrograded starch melts; below the freezing point falling by e for every `width_k` kelvin.

    >>> [round(float(rate_per_day(np.array(t))), 3) for t in (-18.0, 4.0, 21.0, 32.0, 65.0)]
    [0.005, 0.538, 0.27, 0.182, 0.0]
    """
    t = np.asarray(celsius, dtype=np.float64)
    thawed = np.maximum(t, freezing_c)
    ln_days = np.interp(thawed, _AT_C, _LN_DAYS)
    cold = (_LN_DAYS[1] - _LN_DAYS[0]) / (_AT_C[1] - _AT_C[0])
    warm = (_LN_DAYS[3] - _LN_DAYS[2]) / (_AT_C[3] - _AT_C[2])
    ln_days = ln_days + cold * np.minimum(thawed - _AT_C[0], 0.0) + warm * np.maximum(thawed - _AT_C[3], 0.0)
    fading = np.clip((_MELTS_TO - t) / (_MELTS_TO - _MELTS_FROM), 0.0, 1.0)
    return np.asarray(np.exp(-ln_days) * fading * np.exp(np.minimum(t - freezing_c, 0.0) / width_k))


def limit_over_fresh(fat_per_100_flour: float, draws: Mapping[str, Array]) -> Array:
    """How firm the crumb gets in the end, over fresh [1], lower with fat."""
    return np.asarray(
        1.0 + (draws["staling.lean_limit"] - 1.0) * np.exp(-fat_per_100_flour / draws["staling.fat_on_flour"])
    )


def slowness(sugar_per_100_flour: float, draws: Mapping[str, Array]) -> Array:
    """What the time constant is multiplied by: the bread's own, and sugar's part [1]."""
    return np.asarray(draws["staling.slowness"] * np.exp(sugar_per_100_flour / draws["staling.sugar_on_flour"]))


def stale_after(seconds: Array, celsius: Array, start: Array, slow: Array, freezing_c: Array, width_k: Array) -> Array:
    """Share of staling (M, K) along a path: `seconds` (K,), `celsius` (M, K), from `start` (M,).

    s = 1 - (1 - s0) exp(-∫ k dt), the rate by trapezes between samples.
    """
    rate = rate_per_day(celsius, freezing_c[:, None], width_k[:, None]) / slow[:, None] / _DAY_S
    pieces = 0.5 * (rate[:, 1:] + rate[:, :-1]) * np.diff(seconds)[None, :]
    gone = np.concatenate([np.zeros((rate.shape[0], 1)), np.cumsum(pieces, axis=1)], axis=1)
    return np.asarray(1.0 - (1.0 - start[:, None]) * np.exp(-gone))


def melted_back(stale: Array, hottest_c: Array, left: Array) -> Array:
    """Staling that is left (M,) after the crumb was as hot as `hottest_c`: `left` of it where all starch has melted."""
    melted = np.clip((hottest_c - _MELTS_FROM) / (_MELTS_TO - _MELTS_FROM), 0.0, 1.0)
    return np.asarray(stale * (1.0 - (1.0 - left) * melted))


def firmness(stale: Array, limit: Array, lost: Array, of_loss: Array) -> Array:
    """Firmness over fresh [1]: staling, and drying by exp(b · share of weight lost)."""
    if stale.ndim == 2:
        limit, of_loss = limit[:, None], of_loss[:, None]
    return np.asarray((1.0 + (limit - 1.0) * stale) * np.exp(of_loss * lost))


def clearly_firmer() -> float:
    """Firmness over fresh that counts as clearly firmer [1]."""
    return _CLEARLY
