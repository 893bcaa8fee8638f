"""What each step says at the bench: action, target, what to do outside it, and the caution that belongs to it."""

from dataclasses import dataclass

from oventide.timeline.procedure import Step, StepKind

NAMES: dict[StepKind, str] = {
    "mix": "Mix",
    "bulk": "First rise",
    "retard": "Retard in the fridge",
    "temper": "Take the chill off",
    "sheet": "Pin out the sheet",
    "spread": "Spread",
    "roll": "Roll up",
    "chill": "Chill the log",
    "cut": "Cut",
    "tin": "Set in the tin",
    "proof": "Proof",
    "bake": "Bake",
    "glaze": "Glaze",
    "cool": "Cool",
    "keep": "Keep",
}

OUTSIDE: dict[StepKind, str] = {
    "mix": (
        "Warmer than the target: chill the bowl, shorten the first rise, and use colder liquid next time. "
        "Colder: allow more time."
    ),
    "bulk": "Risen early: go on, or knock back and chill. Late: wait for the height, not for the clock.",
    "retard": (
        "Blown or domed: knock it back and go on soon. "
        "Not cold inside: spread it flatter, lid off for the first half hour."
    ),
    "temper": "Cracks when rolled: wait five minutes. Greasy or limp: back into the fridge.",
    "sheet": "Soft or shiny before it has its size: fold it on a tray and chill it, then go on.",
    "spread": "Butter tears the sheet: it is too cold, work it softer. Sheet turns limp: chill it before rolling up.",
    "roll": "Slack log: chill it until the outside is firm, before cutting.",
    "chill": "Knife squashes the spiral: chill longer. Hard as wood: give it a few minutes on the bench.",
    "cut": "Ends are thin: trim them and bake them beside the rest.",
    "tin": "Pieces touch already: use the larger tin, or fewer pieces.",
    "proof": (
        "Not there: wait, warmer if you can. Past it: into the oven at once, or press down, reshape and proof again."
    ),
    "bake": "Pale but done inside: a few minutes open. Brown but short inside: cover and bake on.",
    "glaze": "Runs off: let the buns cool a little or make it stiffer. Sits stiff: warm the glaze.",
    "cool": "Sweats in the tin: out onto the rack.",
    "keep": "Longer than a day: freeze on the day of baking.",
}

CAUTIONS: dict[StepKind, tuple[str, ...]] = {
    "mix": (
        "Raw flour and raw egg can carry germs: don't taste the dough, wash hands and bench.",
        "Stop the mixer before you reach into the bowl.",
    ),
    "retard": (
        "Keep the fridge at 5 °C or below; dough with egg, cheese or meat covered, apart from food that is eaten raw.",
    ),
    "cut": ("Sharp knife or thread: cut away from the hand.",),
    "proof": ("Fillings with egg, cheese or meat: keep the warm time short; your local food code has the word.",),
    "bake": ("Hot oven, tin and steam: dry gloves, face away when the cover comes off.",),
    "glaze": ("Hot sugar burns and sticks: keep it away from children and wet hands.",),
    "cool": ("Fillings with custard, cheese or meat must be cooled quickly; your local food code gives the times.",),
    "keep": (
        "Allergens stay in: wheat, milk, egg and whatever the filling brings. Label what you give away.",
        "How long it may be kept or sold is for your local food code, not for this sheet.",
    ),
}


@dataclass(frozen=True)
class StepWords:
    """Words for one step of one formula."""

    name: str
    action: str
    target: str
    outside: str
    cautions: tuple[str, ...]


def _place(step: Step) -> str:
    places = {"fridge": "in the fridge", "freezer": "in the freezer", "prover": "in the prover", "room": "in the room",
              "bench": "on the bench", "oven": ""}  # fmt: skip
    return places[step.where]


def _minutes(step: Step) -> str:
    if step.minutes is None:
        return ""
    low, likely, high = (minutes if minutes < 10 else round(minutes) for minutes in
                         (step.minutes.low, step.minutes.likely, step.minutes.high))  # fmt: skip
    if likely >= 180:
        return f"{likely / 60:g} h" if low == high else f"{low / 60:g}–{high / 60:g} h, planned {likely / 60:g} h"
    return f"{likely:g} min" if low == high else f"{low:g}–{high:g} min, planned {likely:g} min"


def _target(step: Step) -> str:
    if step.target is None:
        return ""
    aim = step.target
    shown = {
        "rise": f"risen × {aim.value:g}",
        "core_c": f"core {aim.value:.0f} °C",
        "dough_c": f"dough {aim.value:.0f} °C",
        "surface_c": f"surface {aim.value:.0f} °C",
        "colour": f"colour ΔE {aim.value:.0f}",
        "solid_fat": f"{100 * aim.value:.0f} % of the butter solid",
    }[aim.measure]
    if aim.low is not None and aim.high is not None:
        digits = 0 if aim.measure in ("core_c", "dough_c", "surface_c", "colour") else 2
        shown += f" ({round(aim.low, digits):g}–{round(aim.high, digits):g})"
    return shown


def step_words(step: Step, setting_c: float | None = None) -> StepWords:
    """The words of a step. `setting_c` is the oven's setting in this kitchen [°C]."""
    name = step.name or NAMES[step.kind]
    if step.kind == "bake" and not step.name:
        name = "Bake covered" if step.covered else "Bake open"
    parts = []
    if step.kind == "bake":
        setting = step.air_c if setting_c is None else setting_c
        parts.append(f"oven {setting:.0f} °C" if setting is not None else "oven")
        parts.append("covered" if step.covered else "open")
    else:
        place = _place(step)
        if place:
            parts.append(place)
        if step.air_c is not None:
            parts.append(f"{step.air_c:.0f} °C")
        if step.covered:
            parts.append("covered")
    if _minutes(step):
        parts.append(_minutes(step))
    return StepWords(
        name=name,
        action=", ".join(parts),
        target=_target(step),
        outside=OUTSIDE[step.kind],
        cautions=CAUTIONS.get(step.kind, ()),
    )
