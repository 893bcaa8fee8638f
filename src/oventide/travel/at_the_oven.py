"""A probe's reading and a look at the colour during the bake, told as an answer: bake on, cover or stop."""

from oventide.forecast.bake_on import BakeOn, Going, Weighed, bake_on
from oventide.kitchen.model import Kitchen
from oventide.timeline.batch import Batch
from oventide.travel.model import Figure, Told, figure


def _figure(name: str, unit: str, span: Weighed) -> Figure:
    return Figure(name=name, unit=unit, low=span.p5, likely=span.p50, high=span.p95, reached=span.reached)


def _going(going: Going) -> tuple[Figure, ...]:
    word = "open" if going.way == "open" else "covered"
    return (
        _figure(f"{word}: more minutes until done inside", "min", going.more_min),
        _figure(f"{word}: colour on top then", "ΔE", going.colour),
    )


def probed(
    batch: Batch,
    kitchen: Kitchen,
    minutes_in_oven: float,
    core_c: float,
    tops: str | None = None,
    edge: str | None = None,
    members: int = 256,
    seed: int = 1,
) -> Told:
    """A tin after `minutes_in_oven` [min] whose middle reads `core_c` [°C]; colours as words of the bench."""
    seen = tops if tops is not None else edge
    found: BakeOn = bake_on(
        batch, kitchen, minutes_in_oven=minutes_in_oven, core_c=core_c, colour=seen,
        colour_at="top" if tops is not None or edge is None else "edge", members=members, seed=seed,
    )  # fmt: skip
    where = "tops are" if tops is not None else "edge is"
    asked = f"After {minutes_in_oven:.0f} min the middle has {core_c:.0f} °C" + (
        f", the {where} {seen}" if seen else ""
    )
    rest = found.covered if found.advice.startswith("bake on covered") else found.open
    do = [found.words]
    if found.advice != "stop":
        do.append(f"Probe again in {max(2, round(0.5 * rest.more_min.p50))} min, in the middle of the middle bun.")
    if tops is not None and edge is not None and tops != edge:
        do.append(f"Edge {edge}, tops {tops}: turn the tin, and shield the darker side with a strip of foil.")
    return Told(
        asked=asked,
        figures=(
            _figure("core foreseen for now", "°C", found.core_foreseen),
            *_going(found.open),
            *_going(found.covered),
            figure("kitchens that still agree", "", round(found.kitchens)).model_copy(update={"valid": found.fits}),
        ),
        because=(
            found.because,
            "Done is the core at the boiling point of the place less 6 °C, and the crumb set at its coldest.",
        ),
        do=tuple(do),
        cautions=(
            "Hot oven, tin and steam: dry gloves, face away when the cover comes off.",
            "Fillings with egg, cheese or meat: the core that your local food code asks for has the word.",
        ),
        assumed=kitchen.assumed,
        sources=("zanoni-1993", "zanoni-1995-browning"),
    )  # fmt: skip
