"""An oven of another kind: the setting to begin with, and when to turn the tin."""

from oventide.errors import refuse
from oventide.evidence.parameters import load
from oventide.kitchen.model import OVEN_KINDS, Kitchen, OvenKind
from oventide.timeline.procedure import Product
from oventide.travel.model import Figure, Told


def other_oven(product: Product, kitchen: Kitchen, kind: str) -> tuple[Kitchen, Told]:
    """The kitchen with another kind of oven, the settings, and the minute to turn at.

    Setting: fan oven = still oven less `oven.static_over_fan` (common practice; 10 to 25 °C between makers), applied
    to every bake step that says for which kind it was written.
    """
    if kind not in OVEN_KINDS:
        raise refuse("oven", kind, "This kind of oven is not known.", f"Choose one of: {', '.join(OVEN_KINDS)}.")
    chosen: OvenKind = next(each for each in OVEN_KINDS if each == kind)
    baked = [step for step in product.procedure.steps if step.kind == "bake" and step.air_c is not None]
    if not baked:
        raise refuse("oven", kind, "The formula has no bake with a setting.", "Give its bake steps a setting.")
    rule = load("timeline")["oven.static_over_fan"]
    figures: list[Figure] = []
    written = baked[0].oven_kind or kitchen.oven_kind
    step_c = (written == "convection") - (chosen == "convection")
    for number, step in enumerate(baked, start=1):
        assert step.air_c is not None
        ends = sorted((step.air_c + step_c * rule.low, step.air_c + step_c * rule.high))
        figures.append(
            Figure(
                name=f"setting, bake {number}" if len(baked) > 1 else "setting", unit="°C", low=ends[0],
                likely=step.air_c + step_c * rule.value, high=ends[1],
            )
        )  # fmt: skip
    minutes = sum(step.minutes.likely for step in baked if step.minutes is not None)
    turn = load("travel")["turn.share_of_bake"]
    figures.append(
        Figure(name="turn the tin after", unit="min", low=turn.low * minutes, likely=turn.value * minutes,
               high=turn.high * minutes)
    )  # fmt: skip
    words = {"convection": "a fan oven", "static": "a still oven", "deck": "a deck oven"}
    return kitchen.model_copy(update={"oven_kind": chosen}), Told(
        asked=f"{words[chosen].capitalize()}, from figures for {words[written]}",
        figures=tuple(figures),
        because=(
            "Moving air gives its heat faster, so it is set lower for the same bake. By how much differs between "
            "ovens.",
            "No oven is even: turning half way through evens back and front; too early the crumb is not set yet.",
        ),
        do=(
            "Bake one tin first, with a thermometer on the shelf: what the dial says is not what the shelf has.",
            "Middle shelf in a still oven, and one tin at a time until you know it."
            if chosen != "convection"
            else "Leave a hand's breadth around each tin, so that the air gets by.",
            "Turn with the cover on, quickly, and shut the door.",
        ),
        cautions=("Hot oven, tin and steam: dry gloves, face away when the door or the cover opens.",),
        sources=(rule.source, turn.source),
    )
