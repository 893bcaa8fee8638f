"""Buns that spent the night shaped, in the tin, in the fridge: when are they ready for the oven, in a room so warm?"""

from collections.abc import Sequence

import numpy as np

from oventide.dough.proof import shaped_target
from oventide.errors import refuse
from oventide.forecast.cold import GAS_LAW, GAS_SOURCES
from oventide.forecast.drivers import Drivers
from oventide.forecast.reading import Reader
from oventide.kitchen.model import Kitchen
from oventide.timeline.batch import Batch, batch_of
from oventide.timeline.procedure import Procedure, Product, Span, Step, Target
from oventide.travel.compared import run
from oventide.travel.model import Told, figure_of_members

_LONGEST_PROOF_MIN = 300.0
_NIGHT = ("retard",)


def _steps(
    product: Product, fridge_c: float, night_h: float, room_c: float, covered: bool, target: Target
) -> list[Step]:
    """The product's steps up to the tin without its own night, a night in the tin, and the proof."""
    kept: list[Step] = []
    for step in product.procedure.steps:
        if step.kind in ("proof", "bake"):
            break
        if step.kind not in _NIGHT:
            kept.append(step)
    if not any(step.kind == "mix" for step in kept):
        raise refuse(
            "procedure", "no mixing", "The formula's steps do not say how the dough is made.", "Give the steps."
        )
    night, longest = 60.0 * night_h, _LONGEST_PROOF_MIN
    return [
        *kept,
        Step(
            kind="retard", where="fridge", air_c=fridge_c, covered=True,
            minutes=Span(low=night, likely=night, high=night),
        ),
        Step(
            kind="proof", where="room", air_c=room_c, covered=covered, target=target, ends_by="target",
            minutes=Span(low=0.0, likely=longest, high=longest),
        ),
    ]  # fmt: skip


def _target(product: Product) -> Target:
    """The formula's own rise at proof, or the usual one."""
    own = next((step.target for step in product.procedure.steps if step.kind == "proof" and step.target), None)
    if own is not None and own.measure == "rise":
        return own
    usual = shaped_target()
    return Target(measure="rise", value=usual.likely, low=usual.low, high=usual.high)


def proof_from_the_fridge(
    product: Product,
    kitchen: Kitchen,
    rooms_c: Sequence[float],
    *,
    fridge_c: float = 4.0,
    night_h: float = 10.0,
    covered: bool = True,
    members: int = 200,
    seed: int = 1,
) -> tuple[Told, ...]:
    """One answer for each room temperature [°C]: minutes out of the fridge until the target's rise, and the core then.

    The dough is made as the formula says, its own night left out; the buns then stand `night_h` hours in the tin at
    `fridge_c` [°C] air and come out into the room. The rise is counted from shaping. What the kitchen's fridge and room
    are known to within stays: their spread is laid around the figures asked.
    """
    for room_c in rooms_c:
        if not 5.0 <= room_c <= 40.0:
            raise refuse(
                "room", f"{room_c:g} °C", "Dough proofs between 5 and 40 °C.", "Give the air where the tin stands."
            )
    if not -1.0 <= fridge_c <= 12.0:
        raise refuse("fridge", f"{fridge_c:g} °C", "A fridge is between -1 and 12 °C.", "Give the fridge's air in °C.")
    if not 1.0 <= night_h <= 48.0:
        raise refuse("night", f"{night_h:g} h", "A night in the fridge is looked at up to 48 h.", "Give 1 to 48 hours.")
    target = _target(product)
    told = []
    for room_c in rooms_c:
        steps = _steps(product, fridge_c, night_h, room_c, covered, target)
        batch: Batch = batch_of(product.model_copy(update={"procedure": Procedure(steps=tuple(steps))}))
        told.append(_one(batch, kitchen, room_c, fridge_c, target, covered, members, seed))
    return tuple(told)


def _one(
    batch: Batch,
    kitchen: Kitchen,
    room_c: float,
    fridge_c: float,
    target: Target,
    covered: bool,
    members: int,
    seed: int,
) -> Told:
    trace = run(batch, kitchen, members, seed)
    night, proof = trace.steps[-2], trace.steps[-1]
    shaped = proof.facts["shaped_rise"]
    horizon = float(proof.sample_s[-1]) / 60.0
    minutes = proof.first_passage("rise", target.value * shaped) / 60.0
    low = target.low if target.low is not None else target.value - 0.1
    high = target.high if target.high is not None else target.value + 0.1
    early, late = (proof.first_passage("rise", each * shaped) / 60.0 for each in (low, high))
    already = float(np.mean(night.at_end("rise") / night.facts["shaped_rise"] >= target.value))
    figures = (
        figure_of_members(
            "rise since shaping, out of the fridge", "×", night.at_end("rise") / night.facts["shaped_rise"]
        ),
        figure_of_members("core, out of the fridge", "°C", night.at_end("core_c")),
        figure_of_members(f"bake when risen × {target.value:g}: after", "min", minutes, horizon),
        figure_of_members(f"look from × {low:g} on: after", "min", early, horizon),
        figure_of_members(f"too far, × {high:g}: after", "min", late, horizon),
        figure_of_members("core then", "°C", proof.at_end("core_c")),
    )
    likely = figures[2]
    reader = Reader(Drivers(trace.ensemble))
    why = reader.read("proof", "min", minutes, GAS_LAW, GAS_SOURCES, horizon=horizon)
    do = [
        f"Begin to look after {max(0.0, figures[3].low):.0f} min; bake when the buns stand × {target.value:g} as "
        "high, likely "
        f"after {likely.likely:.0f} min.",
        "Mark the height on a straight glass with a walnut of the same dough beside the tin: it tells better than "
        "the clock.",
    ]
    if figures[5].likely < 16.0:
        do.append("The middle is still cold then: a few minutes longer in the oven, and go by the core.")
    if already > 0.05:
        do.append(
            f"In {round(100 * already)} of 100 kitchens they have that rise already: look at them before the oven is "
            "lit."
        )
    if room_c > 27.0:
        do.append(
            "Warm for butter: stand the tin where it stays below 28 °C, or the butter runs before the dough is up."
        )
    return Told(
        asked=f"Buns out of the fridge at {fridge_c:g} °C, the tin {'covered' if covered else 'open'} in a room of "
        f"{room_c:g} °C",
        figures=figures,
        because=(
            why.because,
            "Cold dough has to warm first: the tin's middle takes one to two hours, and yeast doubles its pace about "
            "every "
            "8 to 10 °C on the way.",
            "A cover keeps the skin soft and slows the warming a little.",
        ),
        do=tuple(do),
        cautions=("Fillings with egg, cheese or meat: keep the warm time short; your local food code has the word.",),
        assumed=(
            "The dough is made as the formula says; its night in the fridge comes after shaping and not before.",
            *kitchen.assumed,
        ),
        sources=why.sources,
    )
