"""Whether a step lies where its laws were measured; what a reading says where it does not."""

from collections.abc import Callable
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from oventide.evidence.validity import LawRange, Range, law_ranges
from oventide.forecast import cold, filling, glazing, hot, in_tin, kept
from oventide.forecast.reading import UNMARKED, Mark
from oventide.kitchen.model import Kitchen
from oventide.timeline.batch import Batch
from oventide.timeline.ensemble import Ensemble
from oventide.timeline.trace import StepTrace

Array = NDArray[np.float64]

MARKED_FROM, SAID_FROM = 0.5, 0.1
"""Shares of the kitchens outside a range from which a figure is marked, and from which it is said."""

SINCE = "Since the step"
"""How a mark begins that was brought along from an earlier step."""

LAWS: dict[str, str] = {
    hot.MIX_LAW: "mixing",
    hot.WORK_LAW: "mixing",
    hot.LIQUID_LAW: "mixing",
    hot.ICE_LAW: "mixing",
    cold.HEAT_LAW: "heat-outside",
    cold.GAS_LAW: "gas",
    cold.FAT_LAW: "fat",
    hot.HEAT_LAW: "heat-oven",
    hot.COLOUR_LAW: "colour",
    hot.LOSS_LAW: "loss",
    in_tin.PLACE_LAW: "places",
    in_tin.MEET_LAW: "gas",
    hot.CARRY_LAW: "cooling",
    hot.SWEAT_LAW: "cooling",
    hot.DONE_LAW: "done",
    hot.COOL_LAW: "cooling",
    glazing.GLAZE_LAW: "glaze",
    glazing.STAYS_LAW: "glaze",
    glazing.SET_LAW: "glaze",
    filling.WEEP_LAW: "weep",
    filling.BURN_LAW: "burnt-syrup",
    kept.STALE_LAW: "staling",
    kept.DRY_LAW: "drying",
    kept.CRUST_LAW: "crust-softening",
    kept.FREEZE_LAW: "freezing",
    kept.THAW_LAW: "freezing",
    kept.REHEAT_LAW: "reheating",
}
"""The law's sentence in a reading, and its key in evidence/data/validity.toml."""


def law_of(said: str) -> str:
    """Key of the law that a reading's reason begins with; "" where none is known.

    >>> law_of(filling.WEEP_LAW + " It runs in 20 of 100 kitchens.")
    'weep'
    """
    return next((key for sentence, key in LAWS.items() if said.startswith(sentence)), "")


@dataclass(frozen=True)
class Scene:
    """What a step offers to look at."""

    step: StepTrace
    batch: Batch
    kitchen: Kitchen
    ensemble: Ensemble

    @property
    def outside_oven(self) -> bool:
        return self.step.kernel in ("mix", "hold")

    def extremes(self, *names: str) -> Array | None:
        """Least and greatest of some observables from the step's start to its end (2, M); None where it has none."""
        found = [self.step.curve(name) for name in names if name in self.step.names]
        if not found:
            return None
        values = np.stack(found)
        end = np.stack([self.step.at_end(name) for name in names if name in self.step.names])[:, :, None]
        inside = self.step.sample_s[None, None, :] <= self.step.duration_s[None, :, None]
        low = np.concatenate([np.where(inside, values, np.inf), end], axis=2).min(axis=(0, 2))
        high = np.concatenate([np.where(inside, values, -np.inf), end], axis=2).max(axis=(0, 2))
        return np.stack([low, high])

    def on_flour(self, grams: float) -> Array:
        return np.full((2, 1), 100.0 * grams / self.batch.dough.flour_g)


def _dough(scene: Scene) -> Array | None:
    return scene.extremes("mean_c", "core_c", "top_c", "bottom_c") if scene.outside_oven else None


def _warm_hours(scene: Scene) -> Array | None:
    if scene.step.kernel != "hold":
        return None
    warm = np.minimum(scene.step.sample_s[None, :], scene.step.duration_s[:, None])
    share = 0.5 * (scene.step.curve("mean_c")[:, 1:] + scene.step.curve("mean_c")[:, :-1]) > 20.0
    hours = (np.diff(warm, axis=1) * share).sum(axis=1) / 3600.0
    return np.stack([hours, hours])


def _air(scene: Scene) -> Array | None:
    air = scene.step.facts.get("air_c")
    if air is None and scene.step.step.kind in ("cool", "glaze"):
        air = scene.ensemble.of("kitchen")["room"]
    return None if air is None else np.stack([air, air])


def _oven(scene: Scene) -> Array | None:
    setting = scene.step.facts.get("setting_c")
    if setting is None:
        return None
    air = setting + scene.ensemble.of("kitchen")["oven_offset"]
    return np.stack([air, air])


def _kept(scene: Scene) -> Array | None:
    """Where a stay leaves the buns; not in the oven, where they are warmed on purpose."""
    if scene.step.kernel != "keep" or scene.step.step.where == "oven":
        return None
    end = scene.step.at_end("mean_c")
    return np.stack([end, end])


def _crust(scene: Scene, at_end: bool) -> Array | None:
    if "surface_c" not in scene.step.names:
        return None
    crust = scene.step.at_end("surface_c") if at_end else scene.step.at_start("surface_c")
    return np.stack([crust, crust])


def _of_kind(scene: Scene, kinds: tuple[str, ...]) -> Array | None:
    return np.stack([scene.step.duration_s, scene.step.duration_s]) / 60.0 if scene.step.step.kind in kinds else None


def _glaze_sugar(scene: Scene) -> Array | None:
    glaze = scene.batch.glaze
    if glaze is None or glaze.sugars_g + glaze.water_g <= 0.0:
        return None
    return np.full((2, 1), 100.0 * glaze.sugars_g / (glaze.sugars_g + glaze.water_g))


def _share(scene: Scene, grams: float) -> Array:
    return np.full((2, 1), 100.0 * grams / scene.batch.dough.mass_g)


Look = Callable[[Scene], Array | None]
INPUTS: dict[str, tuple[str, Look]] = {
    "dough temperature": ("°C", _dough),
    "air": ("°C", _air),
    "oven air": ("°C", _oven),
    "kept temperature": ("°C", _kept),
    "crust at the end": ("°C", lambda scene: _crust(scene, True)),
    "crust at the start": ("°C", lambda scene: _crust(scene, False)),
    "mixing time": ("min", lambda scene: _of_kind(scene, ("mix",))),
    "bake time": ("min", lambda scene: _of_kind(scene, ("bake",))),
    "hours above 20 °C": ("h", _warm_hours),
    "rise since mixing": ("×", lambda scene: scene.extremes("rise")),
    "sheet thickness": ("mm", lambda scene: _sheet(scene)),
    "water on flour": ("%", lambda scene: scene.on_flour(scene.batch.dough.added_water_g)),
    "sugar on flour": ("%", lambda scene: scene.on_flour(scene.batch.dough.sugars_g)),
    "salt on flour": ("%", lambda scene: scene.on_flour(scene.batch.dough.salt_g)),
    "fat on flour": ("%", lambda scene: scene.on_flour(scene.batch.dough.fat_g)),
    "yeast on flour": ("%", lambda scene: scene.on_flour(scene.batch.dough.yeast_dry_matter_g)),
    "water share": ("%", lambda scene: _share(scene, scene.batch.dough.water_g)),
    "fat share": ("%", lambda scene: _share(scene, scene.batch.dough.fat_g)),
    "sugar in glaze": ("%", _glaze_sugar),
    "altitude": ("m", lambda scene: np.full((2, 1), scene.kitchen.altitude_m)),
}
"""Every input that a range may name: its unit, and its least and greatest value in a step, (2, M) or (2, 1)."""


def _sheet(scene: Scene) -> Array | None:
    if scene.step.step.kind not in ("sheet", "spread"):
        return None
    return np.full((2, 1), scene.batch.geometry.thickness_mm)


def outside(scene: Scene, entry: Range) -> tuple[float, str]:
    """Share of the kitchens outside a range during a step, and the sentence that says so ("" where none is)."""
    unit, look = INPUTS[entry.input]
    seen = look(scene)
    if seen is None:
        return 0.0, ""
    low, high = seen
    under, over = low < entry.low, high > entry.high
    share = float((under | over).mean())
    if share < SAID_FROM:
        return share, ""
    value = float(np.median(low[under])) if under.sum() >= over.sum() else float(np.median(high[over]))
    where = "" if share > 0.995 else f" in {round(100 * share)} of 100 kitchens"
    name = entry.input[0].upper() + entry.input[1:]
    return share, (
        f"{name}: {value:.3g} {unit}{where}, beyond the {entry.low:g} to {entry.high:g} {unit} where it was tried "
        f"({entry.why})."
    )


@dataclass
class Ranges:
    """Marks of one forecast, step by step in order: some stay with the dough."""

    batch: Batch
    kitchen: Kitchen
    ensemble: Ensemble
    _kept: dict[str, Mark] = field(default_factory=dict)

    def of_step(self, step: StepTrace) -> Callable[[str], Mark]:
        """What a reading of this step is marked with, by its law's sentence."""
        scene = Scene(step, self.batch, self.kitchen, self.ensemble)
        own = {key: self._own(law, scene) for key, law in law_ranges().items()}
        marks = {key: self._with_others(law, own) for key, law in law_ranges().items()}
        for key, law in law_ranges().items():
            if law.lasting and not marks[key].valid and key not in self._kept and scene.outside_oven:
                name = step.step.name or step.step.kind
                said = tuple(f"{SINCE} {name}: {sentence}" for sentence in marks[key].sentences)
                self._kept[key] = Mark(False, said)
        return lambda said: marks.get(law_of(said), UNMARKED)

    def _own(self, law: LawRange, scene: Scene) -> Mark:
        found = [outside(scene, entry) for entry in law.ranges]
        return Mark(all(share < MARKED_FROM for share, _ in found), tuple(said for _, said in found if said))

    def _with_others(self, law: LawRange, own: dict[str, Mark]) -> Mark:
        joined = [own[law.key], *(own[key] for key in law.rests_on)]
        if law.key in self._kept:
            joined.append(self._kept[law.key])
        return Mark(
            all(mark.valid for mark in joined),
            tuple(dict.fromkeys(sentence for mark in joined for sentence in mark.sentences)),
        )
