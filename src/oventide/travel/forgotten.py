"""An ingredient that was forgotten, found later: how much, how to work it in, or how to use the dough as it is."""

from typing import Literal

import numpy as np

from oventide.errors import refuse
from oventide.evidence.parameters import load
from oventide.formula.composition import ingredient_of
from oventide.formula.model import Component, Formula, Line
from oventide.formula.parts import dough_lines, mass_g
from oventide.formula.percent import flour_g
from oventide.kitchen.model import Kitchen
from oventide.timeline.batch import batch_of
from oventide.timeline.procedure import Procedure, Product, Step
from oventide.travel.compared import run
from oventide.travel.lines import changed, known_lines
from oventide.travel.model import Figure, Told, figure, figure_of_members

Forgotten = Literal["salt", "yeast", "sugar"]
FORGOTTEN: tuple[Forgotten, ...] = ("salt", "yeast", "sugar")
Found = Literal["mix", "bulk", "shaping", "proof"]
FOUND: tuple[Found, ...] = ("mix", "bulk", "shaping", "proof")
_BEFORE: dict[Found, tuple[str, ...]] = {
    "mix": ("mix",),
    "bulk": ("mix", "bulk"),
    "shaping": ("mix", "bulk", "retard", "temper"),
    "proof": ("mix", "bulk", "retard", "temper", "sheet", "spread", "roll", "chill", "cut", "tin", "proof"),
}


def _lines_of(formula: Formula, what: Forgotten) -> list[Line]:
    return [
        line
        for component, line, item in known_lines(formula)
        if component.kind == "dough" and item.category == what and line.grams is not None
    ]


def _without(formula: Formula, what: Forgotten) -> Formula:
    def change(component: Component, line: Line) -> tuple[Line, ...]:
        item = ingredient_of(line)
        gone = component.kind == "dough" and item is not None and item.category == what
        return () if gone else (line,)

    return changed(formula, change)


def _until(steps: tuple[Step, ...], found: Found) -> tuple[Step, ...]:
    """The steps that the dough went through before it was found; handwork on the bench does not count."""
    kept: list[Step] = []
    for step in steps:
        if step.kind not in _BEFORE[found]:
            break
        kept.append(step)
    return tuple(kept)


def forgotten(
    product: Product,
    kitchen: Kitchen,
    what: str,
    found: str,
    dough_g: float | None = None,
    members: int = 200,
    seed: int = 1,
) -> Told:
    """`what` was left out of a mix of `dough_g` (None: the formula's own) and found at `found`.

    The dose is the formula's share of the flour in that dough. How much further the dough has come without salt or
    sugar is the same timeline run twice, kitchen by kitchen.
    """
    if what not in FORGOTTEN:
        raise refuse("forgotten", what, "Only these can be reckoned.", f"Choose one of: {', '.join(FORGOTTEN)}.")
    if found not in FOUND:
        raise refuse("found", found, "This is not a moment of the bake.", f"Choose one of: {', '.join(FOUND)}.")
    thing: Forgotten = next(each for each in FORGOTTEN if each == what)
    moment: Found = next(each for each in FOUND if each == found)
    lines = _lines_of(product.formula, thing)
    if not lines:
        raise refuse(
            "forgotten",
            what,
            f"The dough has no {what} with a known weight.",
            "Name the formula that has it in its dough.",
        )
    whole = dough_lines(product.formula)
    left_out = sum(line.grams.likely for line in lines if line.grams is not None)
    short_mass = mass_g(whole) - left_out
    factor = 1.0 if dough_g is None else dough_g / short_mass
    flour = flour_g(whole) * factor
    dose = left_out * factor
    figures = [
        figure(f"{what} to give", "g", dose),
        figure("for flour", "g", flour),
        figure(f"{what} on flour", "%", 100.0 * dose / flour),
    ]
    if thing != "yeast":
        figures += _ahead(product, kitchen, thing, moment, members, seed)
    because, do, cautions = _words(product, thing, moment, dose, factor, figures)
    return Told(
        asked=f"The {what} was forgotten in {short_mass * factor / 1000:.2f} kg dough, found at the {_MOMENT[moment]}",
        figures=tuple(figures),
        because=because,
        do=do,
        cautions=cautions,
        assumed=(
            "All of the dough lacks it alike, and nothing of it is in the preferment.",
            "How hands warm the dough while they work it in is not reckoned.",
        ),
        sources=("practice", "rosso-1993") if thing != "yeast" else ("practice",),
    )


_MOMENT = {"mix": "mixer", "bulk": "first rise", "shaping": "shaping", "proof": "proof"}


def _ahead(product: Product, kitchen: Kitchen, what: Forgotten, found: Found, members: int, seed: int) -> list[Figure]:
    """How far the dough has risen with and without, where it was found; nothing to say at the mixer."""
    steps = _until(product.procedure.steps, found)
    if len(steps) < 2:
        return []
    short = product.model_copy(update={"procedure": Procedure(steps=steps)})
    lacking = short.model_copy(update={"formula": _without(short.formula, what)})
    with_it, without = (
        run(batch_of(each), kitchen, members, seed).steps[-1].at_end("rise") for each in (short, lacking)
    )
    return [
        figure_of_members("rise by now, as the formula is", "×", with_it),
        figure_of_members(f"rise by now, without {what}", "×", without),
        figure_of_members("rise, ahead of the plan", "%", 100.0 * (np.asarray(without) / np.asarray(with_it) - 1.0)),
    ]


def _words(
    product: Product, what: Forgotten, found: Found, dose: float, factor: float, figures: list[Figure]
) -> tuple[tuple[str, ...], tuple[str, ...], tuple[str, ...]]:
    """Because, do, cautions."""
    late = found in ("shaping", "proof")
    if what == "salt":
        because = (
            "Salt holds the yeast back and tightens the dough: without it the rise runs ahead and the dough is slack.",
            "Worked in late it spreads well as a fine powder or a brine; kneading presses out most of the gas, so the "
            "proof begins anew.",
        )
        inside = sum(mass_g(part.lines) for part in product.formula.of_kind("spread", "filling") if part.lines) * factor
        share = load("travel")["salt.in_filling"]
        least = load("travel")["salt.least_percent"]
        carried = min(dose, inside * share.value / 100.0)
        worked = (
            f"Work it in: stir the {dose:.0f} g fine salt with about as much cold water to a slurry, press the dough "
            "out, "
            "spread it on in three goes and fold; then knead 3 to 5 minutes, rest it cold for 30 minutes, go on.",
        )
        used = (
            f"Or use it: up to {carried:.0f} g fine salt into the spread ({share.low:g} to {share.high:g} % of it), "
            "and no "
            f"more; the dough itself stays flat, below the {least.value:g} % of flour under which it tastes of little.",
        )
        if found == "proof":
            worked = ("In the tin it is too late to work it in: bake, and salt the glaze or what goes on top.",)
        ahead = next((each for each in figures if each.name == "rise, ahead of the plan"), None)
        watch = (
            (f"Go by the dough: it is about {ahead.likely:.0f} % further than planned; chill it while you work.",)
            if ahead is not None and ahead.likely >= 2
            else ("Go by the dough, not by the clock.",)
        )
        return because, (*worked, *(used if late else ()), *watch), ()
    if what == "sugar":
        return (
            (
                "Sugar in a rich dough slows the yeast and browns the crust: without it the rise is quicker and the "
                "bun paler.",
            ),
            (
                f"Work it in: {dose:.0f} g as a thick syrup with a quarter of its weight of water, in three goes, or "
                "leave it.",
                "Or use it: a sweeter filling and a glaze make up for much of it; bake a little longer open for "
                "colour.",
            )
            if found != "proof"
            else ("Bake it: a sweeter glaze makes up for some of it; expect it paler.",),
            (),
        )
    return (
        ("Without yeast nothing has risen: the clock starts when it goes in. Cold dough takes it up slowly.",),
        (
            f"Work it in: {dose:.1f} g stirred into three times its weight of water at 30 to 35 °C, folded in while "
            "the "
            "dough is at room temperature, 5 minutes; then the first rise from its beginning.",
            "Or keep it flat: pinned thin and baked as crackers or a base.",
        ),
        (
            "Egg and milk have stood in the dough since it was mixed: keep to the hours that your local food code "
            "allows.",
        ),
    )
