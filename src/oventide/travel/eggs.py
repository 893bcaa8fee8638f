"""Other eggs than the formula means: how much is missing or over, and how to weigh it off."""

import math

from oventide.errors import refuse
from oventide.formula.model import EggClass, Line, Measures
from oventide.formula.parts import dough_lines
from oventide.formula.percent import flour_g
from oventide.pantry.ingredients import ingredient
from oventide.pantry.weights import weigh
from oventide.timeline.procedure import Product
from oventide.travel.lines import known_lines
from oventide.travel.model import Told, figure
from oventide.units.estimate import Estimate, total

_WORDS = {
    "us_medium": "US medium", "us_large": "US large", "us_extra_large": "US extra large", "us_jumbo": "US jumbo",
    "eu_s": "EU S", "eu_m": "EU M", "eu_l": "EU L", "eu_xl": "EU XL",
}  # fmt: skip


def _of_class(line: Line, eggs: EggClass) -> Estimate:
    """What the counted eggs of a line weigh in another class [g]; a size word on the line is set aside."""
    assert line.amount is not None
    made = weigh(line.amount, line.unit, line.ingredient, Measures(eggs=eggs)).grams
    assert made is not None
    return made


def other_eggs(product: Product, eggs: EggClass) -> Told:
    """The dough's counted eggs in another class: grams needed, grams that the same number gives, what to do.

    Only whole eggs, yolks and whites that the formula counts; an egg that it weighs is weighed.
    """
    counted = [
        (line, item)
        for component, line, item in known_lines(product.formula)
        if component.kind in ("dough", "preferment")
        and item.category == "egg"
        and line.unit in (None, "piece")
        and line.amount is not None
        and line.grams is not None
    ]
    if not counted:
        raise refuse(
            "eggs", _WORDS[eggs], "The dough has no eggs that are counted: those that are weighed stay as they are.",
            "Weigh the eggs that the formula gives in grams.",
        )  # fmt: skip
    figures, do, because = [], [], []
    missing: list[Estimate] = []
    for line, item in counted:
        assert line.grams is not None
        assert line.amount is not None
        here = _of_class(line, eggs)
        one = here.scaled(1.0 / line.amount)
        word = item.name
        figures.append(figure(f"{word} that the formula means", "g", line.grams))
        figures.append(figure(f"{line.amount:g} of class {_WORDS[eggs]}", "g", here))
        short = line.grams.likely - here.likely
        missing.append(Estimate(low=line.grams.likely - here.high, likely=short, high=line.grams.likely - here.low))
        count = max(1, math.ceil(line.grams.likely / one.low))
        do.append(
            f"Beat {count} and weigh off {line.grams.likely:.0f} g for {line.amount:g} {word}; the rest is for the "
            "wash."
        )
        because.append(f"One {word} of class {_WORDS[eggs]} is {one.low:.0f} to {one.high:.0f} g out of its shell.")
    gap = total(missing) if len(missing) > 1 else missing[0]
    figures.append(figure("egg short (below 0: over)", "g", gap))
    flour = flour_g(dough_lines(product.formula))
    water_share = (ingredient("egg_whole").water or 0.0) / 100.0
    water = gap.likely * water_share
    figures.append(figure("water that goes with it, on flour", "%", 100.0 * water / flour))
    if abs(gap.likely) < 0.5:
        do.append("Or use them by number: the difference is lost in the spread of single eggs.")
    elif gap.likely > 0:
        do.append(
            f"Or keep the number and add {gap.likely:.0f} g milk or water: the dough is as soft, a little less rich."
        )
    else:
        do.append(
            f"Or keep the number and leave out {-gap.likely:.0f} g of the milk or water: as soft, a little richer."
        )
    because.append(f"Egg is about {100 * water_share:.0f} % water; the rest is fat and protein.")
    return Told(
        asked=f"The formula's eggs as class {_WORDS[eggs]}",
        figures=tuple(figures),
        because=tuple(because),
        do=tuple(do),
        cautions=(
            "Raw egg can carry germs: wash hands, bowl and bench; keep beaten egg cold and use it the same day.",
        ),
        sources=("ec-589-2008", "egg-composition-page"),
    )
