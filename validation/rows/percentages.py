"""Baker's percentages: printed worked examples.

Each table is a recipe with its percentages of flour, as printed or by arithmetic on the printed weights.
"""

from oventide.formula.model import Component, ComponentKind, Formula, Line
from oventide.formula.percent import components, whole_dough
from oventide.formula.scaling import flour_for
from oventide.units.estimate import Estimate
from oventide.units.measure import grams_per
from validation.model import Check

OUNCE = grams_per("oz") or 0.0
POUND = grams_per("lb") or 0.0
IDS = {
    "flour": "flour_bread_unenriched", "water": "water_tap", "salt": "salt_table", "yeast": "yeast_fresh",
    "instant yeast": "yeast_instant_dry", "dry yeast": "yeast_active_dry", "oil": "oil_soybean",
    "sugar": "sugar_granulated", "shortening": "shortening_veg", "egg": "egg_whole", "milk": "milk_whole_unfort",
    "milk powder": "milk_dry_skim", "butter": "butter_unsalted", "lard": "lard", "malt": "malt_powder",
}  # fmt: skip
Weights = dict[str, float]


def _part(kind: ComponentKind, name: str, grams: Weights) -> Component:
    lines = tuple(
        Line(text=key, name=key, ingredient=IDS[key], grams=Estimate.certain(value)) for key, value in grams.items()
    )
    return Component(kind=kind, name=name, lines=lines)


def _dough(weights: Weights, each: float = 1.0) -> Formula:
    grams = {key: weight * each for key, weight in weights.items()}
    return Formula(name="x", components=(_part("dough", "Dough", grams),))


def _shares(formula: Formula) -> Weights:
    """Percent of all flour by name, summed over the dough's components."""
    found: Weights = {}
    for component in components(formula):
        for line in component.on_all_flour:
            if line.percent is not None:
                found[line.text] = found.get(line.text, 0.0) + line.percent
    return found


def _table(
    name: str, what: str, source: str, where: str, weights: Weights, expected: Weights, tolerance: float, note: str = ""
) -> Check:
    """A recipe in ounces and its percentages."""
    several = len(expected) > 1
    return Check(
        id=f"percent.{name}",
        room="formula",
        what=f"percentages of {what}",
        source=source,
        where=where,
        published=tuple(expected.values()),
        ours=lambda: [_shares(_dough(weights, OUNCE))[key] for key in expected],
        unit="% of flour",
        tolerance=tolerance,
        blind=True,
        kind="curve" if several else "value",
        x=tuple(float(at + 1) for at in range(len(expected))) if several else (),
        x_name="ingredient",
        labels=tuple(expected) if several else (),
        note=note,
    )


def _poolish() -> Formula:
    poolish = _part("preferment", "Poolish", {"flour": 468, "water": 468, "instant yeast": 0.3})
    final = _part("dough", "Final dough", {"flour": 900, "water": 468, "instant yeast": 9, "salt": 27})
    named = Line(text="936 g poolish", name="poolish", grams=Estimate.certain(936))
    return Formula(name="x", components=(poolish, final.model_copy(update={"lines": (*final.lines, named)})))


def _poolish_figures() -> list[float]:
    formula = _poolish()
    whole, found = whole_dough(formula), _shares(formula)
    own = {line.text: line.percent or 0.0 for line in components(formula)[1].on_own_flour}
    return [whole.prefermented_flour, found["water"], found["salt"], found["instant yeast"], own["water"], own["salt"]]


def _sponge_figures() -> list[float]:
    sponge = _part("preferment", "Sponge", {"flour": 14.1, "instant yeast": 1.4, "milk": 25})
    dough = _part("dough", "Dough", {"egg": 51.6, "flour": 85.9, "sugar": 6.3, "salt": 1.9, "butter": 50})
    formula = Formula(name="x", components=(sponge, dough))
    whole = whole_dough(formula)
    own = {line.text: line.percent or 0.0 for line in components(formula)[0].on_own_flour}
    return [whole.total, whole.prefermented_flour, own["milk"]]


def _institutional() -> list[float]:
    pounds = {
        "flour": 14, "sugar": 3, "lard": 1.5, "butter": 2, "milk powder": 0.9375, "dry yeast": 0.5625, "salt": 0.125,
        "water": 3 * 2.086, "egg": 12 * 1.76 / 16,
    }  # fmt: skip
    whole = whole_dough(_dough(pounds, POUND))
    return [whole.sugar_weighed, whole.fat_weighed, whole.yeast_weighed, whole.salt]


CHECKS = (
    _table(
        "dough-clinic", "a lean dough", "lean-worksheets", "dough-clinic column of a trade magazine",
        {"flour": 640, "salt": 11.2, "instant yeast": 2.4, "oil": 6.4, "water": 371.2},
        {"salt": 1.75, "instant yeast": 0.375, "oil": 1.0, "water": 58.0}, 0.005,
    ),
    _table(
        "teaching-slides", "a lean dough in pounds and ounces", "lean-worksheets", "teaching slides",
        {"flour": 84, "water": 56, "salt": 1.75, "yeast": 1.25},
        {"water": 66.67, "salt": 2.083, "yeast": 1.488}, 0.05,
    ),
    _table(
        "military-sweet-dough", "a sweet dough for 200 rolls", "armed-forces-d036", "card D-036",
        {"flour": 160, "dry yeast": 8, "water": 60, "sugar": 28, "salt": 3, "shortening": 26, "egg": 28,
         "milk powder": 5},
        {"dry yeast": 5.0, "water": 37.5, "sugar": 17.5, "salt": 1.875, "shortening": 16.25, "egg": 17.5,
         "milk powder": 3.125}, 0.01,
    ),
    _table(
        "vocational", "a course's soft dough", "vocational-sweet-dough", "two-formula table of a vocational course",
        {"flour": 350, "water": 180, "yeast": 10, "salt": 10, "sugar": 25, "shortening": 30},
        {"water": 51.43, "yeast": 2.86, "salt": 2.86, "sugar": 7.14, "shortening": 8.57}, 0.02,
    ),
    _table(
        "tutorial", "a chef instructor's lean dough", "lean-worksheets", "tutorial slides",
        {"flour": 184, "water": 96, "yeast": 4.75, "salt": 3, "malt": 3},
        {"water": 52.17, "yeast": 2.58, "salt": 1.63}, 0.02,
        note="A quart of water is taken as 32 oz of weight, as printed; its true weight is 33.4 oz.",
    ),
    _table(
        "brioche", "a rich brioche", "gisslen-professional-baking", "ch. 9, large metric batch",
        {"milk": 250, "yeast": 60, "flour": 1200, "egg": 600, "sugar": 60, "salt": 24, "butter": 850},
        {"butter": 70.83, "milk": 20.83, "egg": 50.0, "sugar": 5.0, "salt": 2.0, "yeast": 5.0}, 0.02,
    ),
    _table(
        "school-rolls", "a school roll dough", "usda-school-rolls", "quantity recipe",
        {"flour": 58, "milk powder": 3.25, "sugar": 5.75, "oil": 0.875 * 218 / OUNCE, "water": 4 * 236.6 / OUNCE},
        {"milk powder": 5.6, "sugar": 9.91, "water": 57.6, "oil": 11.6}, 0.2,
    ),
    _table(
        "croissant", "a laminated dough's base", "laminated-essay", "formula",
        {"flour": 2040, "sugar": 198, "instant yeast": 21, "salt": 50, "milk": 1440, "butter": 198},
        {"milk": 70.6, "butter": 9.7, "sugar": 9.7, "instant yeast": 1.03, "salt": 2.45}, 0.05,
    ),
    _table(
        "soft-rolls", "soft rolls: water", "uk-soft-rolls-page", "formula",
        {"flour": 575, "salt": 8, "milk powder": 28, "shortening": 22, "yeast": 28, "sugar": 8, "water": 326},
        {"water": 56.7}, 0.05,
    ),
    _table(
        "rumford-water", "rye meal: water", "rumford-1796", "general results; printed as 61.148",
        {"flour": 1736 * 16, "water": 1061.156 * 16}, {"water": 61.13}, 0.05,
    ),
    Check(
        "percent.poolish", "formula", "a dough with a poolish, overall and on the final dough's own flour",
        "wild-yeast-tutorial", "tables", (34.2, 68.4, 1.97, 0.68, 52.0, 3.0), _poolish_figures, "%", 0.05, True,
        kind="curve", x=(1, 2, 3, 4, 5, 6), x_name="figure",
        labels=("flour fermented before", "water", "salt", "instant yeast", "water on own flour", "salt on own flour"),
    ),
    Check(
        "percent.sponge", "formula", "a middle brioche with a sponge", "reinhart-middle-brioche", "formula",
        (236.2, 14.1, 177.3), _sponge_figures, "%", 0.15, True,
        kind="curve", x=(1, 2, 3), x_name="figure",
        labels=("all percentages", "flour fermented before", "milk on the sponge's own flour"),
    ),
    Check(
        "percent.institutional", "formula", "an institutional roll dough as weighed", "institutional-sweet-rolls",
        "arithmetic on printed weights", (21.4, 25.0, 4.0, 0.9), _institutional, "% of flour", 0.05, True,
        kind="curve", x=(1, 2, 3, 4), x_name="figure", labels=("sugar", "fat", "dry yeast", "salt"),
    ),
    Check(
        "percent.sums", "formula", "sum of all percentages", "lean-worksheets",
        "worksheet and slides; mixer-manual-60l, p. 22; armed-forces-d036",
        (170.0, 162.125, 210.5, 198.75),
        lambda: [
            whole_dough(_dough(weights)).total or 0.0
            for weights in (
                {"flour": 100.0, "water": 67.0, "salt": 2.0, "yeast": 1.0},
                {"flour": 100.0, "salt": 1.75, "sugar": 2.0, "instant yeast": 0.375, "water": 58.0},
                {"flour": 100.0, "water": 65.0, "yeast": 5.0, "salt": 2.5, "sugar": 15.0, "shortening": 15.0,
                 "milk powder": 8.0},
                {"flour": 160.0, "dry yeast": 8.0, "water": 60.0, "sugar": 28.0, "salt": 3.0, "shortening": 26.0,
                 "egg": 28.0, "milk powder": 5.0},
            )
        ],
        "%", 1e-6, True, kind="curve", x=(1, 2, 3, 4), x_name="formula",
        labels=("worksheet", "slides", "raised sweet", "military sweet"),
    ),
    Check(
        "percent.flour-from-pieces", "formula", "flour for 73 pieces of 390 g at 170 %", "lean-worksheets", "worksheet",
        (16747.06,), lambda: flour_for(73 * 390, 170), "g", 0.5, True,
    ),
    Check(
        "percent.water-from-pieces", "formula", "water at 67 % for the same pieces", "lean-worksheets", "worksheet",
        (11220.53,), lambda: 0.67 * flour_for(73 * 390, 170), "g", 0.5, True,
    ),
    Check(
        "percent.flour-from-yield", "formula", "flour for 3000 g at 377.5 %", "gisslen-professional-cooking",
        "converting to a new yield; the book rounds up to 800 to cover losses",
        (794.7,), lambda: flour_for(3000, 377.5), "g", 0.01, True,
    ),
    Check(
        "percent.institutional-dough", "formula", "weight of an institutional roll dough", "institutional-sweet-rolls",
        "sum of the lines; printed as approximately 28 lb", (28.0,),
        lambda: whole_dough(_dough({
            "flour": 14, "sugar": 3, "lard": 1.5, "butter": 2, "milk powder": 0.9375, "dry yeast": 0.5625,
            "salt": 0.125, "water": 3 * 2.086, "egg": 12 * 1.76 / 16,
        }, POUND)).dough_g / POUND, "lb", 0.3, True,
        miss="The recipe's own lines add up to 29.7 lb: it prints what is left after handling, or rounds.",
    ),
)  # fmt: skip
