"""Finding and changing the lines of a formula that a swap is about."""

from collections.abc import Callable, Iterator

from oventide.errors import refuse
from oventide.formula.composition import ingredient_of
from oventide.formula.model import Component, Formula, Line
from oventide.pantry.ingredients import Ingredient
from oventide.timeline.procedure import Product
from oventide.units.estimate import Estimate


def known_lines(formula: Formula) -> Iterator[tuple[Component, Line, Ingredient]]:
    """Every line whose ingredient is known."""
    for component in formula.components:
        for line in component.lines:
            item = ingredient_of(line)
            if item is not None:
                yield component, line, item


def changed(formula: Formula, change: Callable[[Component, Line], tuple[Line, ...]]) -> Formula:
    """The formula with every line replaced by what `change` makes of it."""
    return formula.model_copy(
        update={
            "components": tuple(
                component.model_copy(
                    update={"lines": tuple(new for line in component.lines for new in change(component, line))}
                )
                for component in formula.components
            )
        }
    )


def with_formula(product: Product, formula: Formula) -> Product:
    """The product with another formula."""
    return product.model_copy(update={"formula": formula})


def weighed(line: Line, field: str) -> Estimate:
    """A line's grams; refused where they are not known."""
    if line.grams is None:
        raise refuse(
            field,
            line.text,
            "The weight of this line is not known.",
            "Give it in grams, then the swap can be reckoned.",
        )
    return line.grams


def water_line(grams: float, why: str) -> Line:
    """A line of water that a swap adds."""
    return Line(
        text=f"{grams:.0f} g water",
        name="water",
        amount=grams,
        unit="g",
        ingredient="water_tap",
        grams=Estimate.certain(grams),
        assumed=(why,),
    )
