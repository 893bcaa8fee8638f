"""Changing a formula line by line: a line typed anew is read anew, and an offered ingredient is taken up."""

from oventide.formula.model import Line, Measures
from oventide.intake.lines import read_line, read_lines
from oventide.pantry.ingredients import ingredient, known
from oventide.units.estimate import Estimate

WEIGHED = "weight given by the baker, in place of what the line says"


def reread(text: str, measures: Measures) -> tuple[Line, ...]:
    """The line as it is read now; more than one where it holds several ingredients.

    >>> [line.ingredient is not None for line in reread("250 g strong white flour", Measures())]
    [True]
    """
    return read_lines(text, measures)


def take(line: Line, ingredient_id: str, measures: Measures) -> Line:
    """The line with the ingredient that the baker chose among those offered; its own words stay as written."""
    amount = "" if line.amount is None else f"{line.amount:g}"
    if line.amount_high is not None:
        amount += f"-{line.amount_high:g}"
    unit = "" if line.unit in (None, "piece") else str(line.unit).replace("_", " ")
    again = read_line(f"{amount} {unit} {label(ingredient_id)}".strip(), measures)
    grams = again.grams if again.ingredient == ingredient_id else None
    return line.model_copy(
        update={
            "ingredient": ingredient_id,
            "grams": grams or line.grams,
            "offered": (),
            "assumed": (*line.assumed, f"{label(ingredient_id)}, chosen by the baker", *again.assumed),
        }
    )


def weighed(line: Line, grams: float) -> Line:
    """The line with a weight from the baker's own scale [g].

    >>> weighed(Line(text="a handful of seeds", name="seeds"), 32.5).grams.likely
    32.5
    """
    kept = tuple(sentence for sentence in line.assumed if sentence != WEIGHED)
    return line.model_copy(update={"grams": Estimate.certain(grams), "assumed": (*kept, WEIGHED)})


def source(ingredient_id: str) -> str:
    """The key of the source that the ingredient's composition is from; empty where it is not known."""
    return ingredient(ingredient_id).source if known(ingredient_id) else ""


def label(ingredient_id: str) -> str:
    """The pantry's name for an ingredient."""
    return ingredient(ingredient_id).name if known(ingredient_id) else ingredient_id.replace("_", " ")
