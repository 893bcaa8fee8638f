"""Scaling, losses and yields: printed worked examples."""

from oventide.formula.model import Component, Formula, Line
from oventide.formula.parts import dough_lines, mass_g
from oventide.formula.scaling import Scaling, gross_up, scale, tin_ratio
from oventide.units.estimate import Estimate
from oventide.units.measure import grams_per
from validation.model import Check

OUNCE = grams_per("oz") or 0.0


def _flour(grams: float) -> Formula:
    line = Line(text="flour", name="flour", ingredient="flour_bread_unenriched", grams=Estimate.certain(grams))
    return Formula(name="x", components=(Component(kind="dough", name="Dough", lines=(line,)),))


def _factor(now: int, wanted: int) -> float:
    return scale(_flour(1.25), Scaling(pieces=wanted), pieces_now=now).factor


CHECKS = (
    Check(
        "scaling.portions-8-18", "formula", "factor from 8 portions to 18", "gisslen-professional-baking",
        "ch. 2, conversion factor, as reproduced", (2.25,), lambda: _factor(8, 18), "1", 1e-9, True,
    ),
    Check(
        "scaling.portions-100-348", "formula", "factor from 100 portions to 348", "armed-forces-d036",
        "recipe conversion card of the same service", (3.48,), lambda: _factor(100, 348), "1", 1e-9, True,
    ),
    Check(
        "scaling.portions-48-72", "formula", "factor from 48 portions to 72", "bc-ingredients",
        "Bakery and Business Math, ch. 21, of the same publisher", (1.5,), lambda: _factor(48, 72), "1", 1e-9, True,
    ),
    Check(
        "scaling.total-yields", "formula", "factor from 5 portions of 8 oz to 10 of 4 oz", "scaling-guide",
        "warning box", (1.0,), lambda: scale(_flour(40 * OUNCE), Scaling(pieces=10, piece_g=4 * OUNCE)).factor, "1", 1e-9, True,
        note="The trap is to compare counts, which gives 2.",
    ),
    Check(
        "scaling.bread-tin", "formula", "dough for a tin of 9 × 4 × 4 in where 8 × 3.5 × 3 in takes 450 g",
        "bread-tin-page", "worked example; the page rounds to 770", (771.4,),
        lambda: mass_g(dough_lines(scale(_flour(450), Scaling(tin_ratio=tin_ratio(8 * 3.5 * 3, 9 * 4 * 4))).formula)),
        "g", 0.1, True,
    ),
    Check(
        "scaling.baked-500-10", "formula", "dough for 500 g baked at 10 % loss", "gisslen-professional-baking",
        "7th ed., ch. 6: adds 50 g to the baked weight", (550.0,), lambda: gross_up(500, [0.10]), "g", 1.0, True,
        miss="The book takes the loss on the baked weight; a tenth of the dough's weight asks for 555.6 g.",
    ),
    Check(
        "scaling.baked-500-13", "formula", "dough for 500 g baked at 13 % loss", "gisslen-professional-baking",
        "7th ed., ch. 6: adds 65 g to the baked weight", (565.0,), lambda: gross_up(500, [0.13]), "g", 1.0, True,
        miss="The book takes the loss on the baked weight; 13 % of the dough's weight asks for 574.7 g.",
    ),
    Check(
        "scaling.rumford-dough", "formula", "dough for 2393.406 lb of bread at 13.125 % loss", "rumford-1796",
        "rye bread at Munich", (2755.0,), lambda: gross_up(2393.406, [0.13125]), "lb", 0.2, True,
    ),
    Check(
        "scaling.rumford-ingredients", "formula", "ingredients for 2755 lb of dough at 2.03 % loss", "rumford-1796",
        "rye bread at Munich", (2812.156,), lambda: gross_up(2755, [0.0203]), "lb", 0.2, True,
    ),
    Check(
        "scaling.soft-rolls", "formula", "rolls of 56 g from 995 g of dough", "uk-soft-rolls-page", "printed yield",
        (14.0,), lambda: 14 / scale(_flour(995), Scaling(pieces=14, piece_g=56)).factor, "rolls", 0.5, True,
        miss="The page's own weights are enough for 17.8; it prints 14 without saying where a fifth went.",
    ),
)  # fmt: skip
