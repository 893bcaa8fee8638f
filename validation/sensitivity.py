"""Sobol's own scheme on the real timeline, beside the shares that a forecast states from its 200 kitchens.

For the leading inputs of a product: first-order and total indices by Saltelli et al. (2010), from scipy.stats. Every
uncertain input varies (A and B hold all of them); for each leading input one more set of kitchens takes that input
from B.
"""

import warnings
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.stats import qmc, sobol_indices

from oventide.forecast.foresee import ensemble_for
from oventide.forecast.main_effects import MainEffects
from oventide.kitchen.complete import complete
from oventide.timeline.batch import Batch
from oventide.timeline.ensemble import Ensemble
from oventide.timeline.run import run_timeline
from oventide.timeline.surroundings import Clock
from validation.figures import Key, figures

Array = NDArray[np.float64]

SAMPLES = 512
LEADING = (
    "kitchen:room", "kitchen:friction", "kitchen:fridge", "kitchen:oven_offset", "dough:yeast.gas_rate",
    "dough:yeast.temperature_law", "dough:yeast.half_osmolality", "bake:film.convection", "bake:browning.factor",
)  # fmt: skip


@dataclass(frozen=True)
class Share:
    """One input's share of one figure: by Sobol's scheme (with half a 90 % interval), in total, and as forecast."""

    step: str
    figure: str
    input: str
    first: float
    error: float
    total: float
    forecast: float


def ensemble_at(places: Array, like: Ensemble) -> Ensemble:
    """The kitchens at `places` (axes, n) of the priors, each in (0, 1)."""
    count = places.shape[1]
    values: dict[str, dict[str, Array]] = {room: {} for room in like.values}
    rows = dict(zip(like.axes(), places, strict=True))
    for key, parameter in like.parameters.items():
        room, _, name = key.partition(":")
        values[room][name] = parameter.at(rows[key]) if key in rows else np.full(count, parameter.value)
    return Ensemble(members=count, seed=0, values=values, parameters=like.parameters)


def _figures(batch: Batch, ensemble: Ensemble, wanted: Sequence[Key]) -> Array:
    """Figures (s, n) as far as was looked."""
    kitchen = complete({})
    found = figures(run_timeline(batch, kitchen, ensemble, Clock()), batch, kitchen)
    return np.stack([np.minimum(found[key].values, found[key].horizon) for key in wanted])


def shares(batch: Batch, wanted: Sequence[Key], samples: int = SAMPLES) -> list[Share]:
    """Every leading input's share of every wanted figure, one row each."""
    like = ensemble_for(complete({}), 200, 1)
    keys = list(like.axes())
    leading = [key for key in LEADING if key in keys]
    drawn = qmc.Sobol(2 * len(keys), rng=17).random(samples).T.clip(1e-6, 1.0 - 1e-6)
    a, b = drawn[: len(keys)], drawn[len(keys) :]
    mixed = []
    for key in leading:
        one = a.copy()
        one[keys.index(key)] = b[keys.index(key)]
        mixed.append(_figures(batch, ensemble_at(one, like), wanted))
    sets = {
        "f_A": _figures(batch, ensemble_at(a, like), wanted),
        "f_B": _figures(batch, ensemble_at(b, like), wanted),
        "f_AB": np.stack(mixed),
    }
    found = sobol_indices(func=sets, n=samples)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        spread = found.bootstrap(confidence_level=0.9, n_resamples=200).first_order.confidence_interval
    # an input that does nothing at all has no spread to resample
    half = np.nan_to_num(0.5 * (np.asarray(spread.high) - np.asarray(spread.low)))
    stated = _stated(batch, like, wanted, keys)
    rows = []
    for figure, (index, kind, name) in enumerate(wanted):
        for place, key in enumerate(leading):
            rows.append(
                Share(
                    f"{index + 1} {kind}", name, key, float(found.first_order[figure, place]),
                    float(half[figure, place]), float(found.total_order[figure, place]),
                    stated[figure, keys.index(key)],
                )
            )  # fmt: skip
    return rows


def _stated(batch: Batch, ensemble: Ensemble, wanted: Sequence[Key], keys: Sequence[str]) -> Array:
    """What a forecast of 200 kitchens states: shares (s, axes), 0 where it cannot tell from chance."""
    axes = ensemble.axes()
    effects = MainEffects(np.stack([axes[key] for key in keys]))
    stated = np.zeros((len(wanted), len(keys)))
    for row, values in enumerate(_figures(batch, ensemble, wanted)):
        for effect in effects.of(values):
            stated[row, effect.place] = effect.share
    return stated
