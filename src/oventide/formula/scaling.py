"""The same formula at another size, eggs that become fractions, and weights rounded to the scale."""

from collections.abc import Sequence

from oventide.errors import refuse
from oventide.formula.composition import ingredient_of
from oventide.formula.model import Component, ComponentKind, Formula, Frozen, Line
from oventide.formula.parts import dough_lines, mass_g
from oventide.formula.percent import flour_g
from oventide.pantry.own import Pantry
from oventide.units.rounding import lines_to_scale, to_step

_LARGEST_FACTOR = 10000.0
_WAYS = "pieces, piece weight, dough, flour, factor or tin"


class Scaling(Frozen):
    """How large the batch is to be. One way only; `pieces` and `piece_g` may go together."""

    pieces: int | None = None
    piece_g: float | None = None
    """Dough for one piece [g]."""
    dough_g: float | None = None
    """Mass of the whole dough, preferments included [g]."""
    flour_g: float | None = None
    """All flour of the dough, preferments included [g]."""
    factor: float | None = None
    tin_ratio: float | None = None
    """New tin over old tin: by area where the depth is kept, by volume where it is not."""


class Scaled(Frozen):
    """The formula with its weights scaled, the factor, and a sentence that says what was asked.

    `text` and `amount` of a line stay as written: only `grams` changes.
    """

    formula: Formula
    factor: float
    sentence: str


def tin_ratio(old: float, new: float) -> float:
    """New over old, both areas [cm²] or both volumes [cm³].

    >>> round(tin_ratio(8 * 3.5 * 3, 9 * 4 * 4), 3)
    1.714
    """
    if not (old > 0 and new > 0):
        raise refuse(
            "scale.tin", f"{old:g} and {new:g}", "Both tins need an area or a volume above zero.", "Give both tins."
        )
    return new / old


def _check(name: str, value: float | None) -> None:
    if value is not None and not 0 < value < float("inf"):
        raise refuse(f"scale.{name}", f"{value:g}", "A size must be above zero.", f"Give {_WAYS} above zero.")


def factor_of(
    formula: Formula, wanted: Scaling, pieces_now: int | None = None, pantry: Pantry | None = None
) -> tuple[float, str]:
    """The factor that a wish comes to, and the sentence. `pieces_now` is the formula's own number of pieces.

    Pieces with a piece weight, or dough: wish over the dough's mass. Pieces alone: over the pieces now. Piece
    weight alone: times the pieces now.
    """
    for name, value in wanted.model_dump().items():
        _check(name, value)
    ways = [wanted.dough_g, wanted.flour_g, wanted.factor, wanted.tin_ratio]
    named = sum(value is not None for value in ways) + (wanted.pieces is not None or wanted.piece_g is not None)
    if named > 1:
        raise refuse("scale", "", "Two ways of scaling at once contradict each other.", f"Give only one of {_WAYS}.")
    if named == 0:
        return 1.0, "as written"
    lines = dough_lines(formula)
    if wanted.factor is not None:
        factor, said = wanted.factor, f"times {wanted.factor:g}"
    elif wanted.tin_ratio is not None:
        factor, said = wanted.tin_ratio, f"for a tin {wanted.tin_ratio:.3g} times as large"
    elif wanted.flour_g is not None:
        flour = flour_g(lines, pantry)
        if not flour > 0:
            raise refuse("scale.flour_g", "", "The dough has no flour with a known weight.", "Give the flour's weight.")
        factor, said = wanted.flour_g / flour, f"{wanted.flour_g:g} g flour in all"
    else:
        factor, said = _by_dough(mass_g(lines), wanted, pieces_now)
    if factor > _LARGEST_FACTOR:
        raise refuse("scale", f"{factor:g}", "That is more than ten thousand times the formula.", "Look at the unit.")
    return factor, said


def _by_dough(dough_now: float, wanted: Scaling, pieces_now: int | None) -> tuple[float, str]:
    if not dough_now > 0:
        raise refuse("scale", "", "The dough has no line with a known weight.", "Give the dough's weights.")
    if wanted.dough_g is not None:
        return wanted.dough_g / dough_now, f"{wanted.dough_g:g} g dough"
    if wanted.pieces is not None and wanted.piece_g is not None:
        grams = wanted.pieces * wanted.piece_g
        return grams / dough_now, f"{wanted.pieces} pieces of {wanted.piece_g:g} g: {grams:g} g dough"
    if pieces_now is None or pieces_now < 1:
        raise refuse(
            "scale.pieces", wanted.pieces or wanted.piece_g, "How many pieces the formula makes is not known.",
            "Give the pieces and the piece weight together.",
        )  # fmt: skip
    if wanted.pieces is not None:
        return wanted.pieces / pieces_now, f"{wanted.pieces} pieces in place of {pieces_now}"
    piece = wanted.piece_g or 0.0
    return pieces_now * piece / dough_now, f"{pieces_now} pieces of {piece:g} g"


def scale(formula: Formula, wanted: Scaling, pieces_now: int | None = None, pantry: Pantry | None = None) -> Scaled:
    """Every component by the same factor."""
    factor, said = factor_of(formula, wanted, pieces_now, pantry)
    components = tuple(
        component.model_copy(
            update={
                "lines": tuple(
                    line.model_copy(update={"grams": line.grams.scaled(factor)}) if line.grams is not None else line
                    for line in component.lines
                )
            }
        )
        for component in formula.components
    )
    return Scaled(formula=formula.model_copy(update={"components": components}), factor=factor, sentence=said)


class EggCount(Frozen):
    """Eggs of a line after scaling: as a count and as grams."""

    text: str
    count: float
    grams: float | None
    sentence: str


def egg_counts(formula: Formula, factor: float, pantry: Pantry | None = None) -> tuple[EggCount, ...]:
    """Lines of counted eggs of the formula as written, at a factor. A fraction is beaten and weighed."""
    found = []
    for component in formula.components:
        for line in component.lines:
            item = ingredient_of(line, pantry)
            counted = line.unit in (None, "piece") and line.amount is not None
            if item is None or item.category != "egg" or not counted or line.amount is None:
                continue
            count = line.amount * factor
            grams = line.grams.likely * factor if line.grams is not None else None
            weight = f", {grams:.0f} g" if grams is not None else ""
            whole = round(count)
            if whole >= 1 and abs(count - whole) < 0.02:
                sentence = f"{whole} × {item.name}{weight}"
            else:
                up = int(count) + 1
                sentence = f"{count:.2f} × {item.name}{weight}: beat {up}, weigh off what is needed"
            found.append(EggCount(text=line.text, count=count, grams=grams, sentence=sentence))
    return tuple(found)


class WeighedLine(Frozen):
    """A line with what to put on the scale [g], None where its weight is not known."""

    line: Line
    grams: float | None


class WeighedComponent(Frozen):
    """A component whose shown lines add up to the shown total [g]."""

    name: str
    kind: ComponentKind
    lines: tuple[WeighedLine, ...]
    total_g: float


def to_scale(
    component: Component, coarse_step_g: float = 1.0, fine_step_g: float = 0.1, fine_below_g: float = 20.0
) -> WeighedComponent:
    """Weights rounded to the scale that each line is weighed on; their sum is the total shown.

    The total differs from the exact one by less than a coarse step and half a fine step for each fine line.
    """
    known = [line.grams.likely for line in component.lines if line.grams is not None]
    rounded = iter(lines_to_scale(known, coarse_step_g, fine_step_g, fine_below_g))
    lines = tuple(
        WeighedLine(line=line, grams=next(rounded) if line.grams is not None else None) for line in component.lines
    )
    total = round(sum(line.grams for line in lines if line.grams is not None), 6)
    return WeighedComponent(name=component.name, kind=component.kind, lines=lines, total_g=total)


def gross_up(wanted_g: float, losses: Sequence[float]) -> float:
    """Mass to start from so that `wanted_g` is left after the losses, each a share of what enters its stage.

    By division stage by stage: m / ((1 - l1) · (1 - l2) …). Adding the shares up gives too little.

    >>> round(gross_up(24 * 90, [0.10, 0.02, 0.01]), 2)
    2473.72
    """
    start = wanted_g
    for loss in losses:
        if not 0 <= loss < 1:
            raise refuse("scale.loss", f"{loss:g}", "A loss is a share from 0 to below 1.", "Write 0.10 for 10 %.")
        start /= 1.0 - loss
    return start


def flour_for(dough_g: float, total_percent: float) -> float:
    """Flour for a dough mass when the percentages sum to `total_percent` [g].

    >>> round(flour_for(3000, 377.5), 1)
    794.7
    """
    return dough_g * 100.0 / total_percent


def shown_up(grams: float, step_g: float) -> float:
    """The next step up on the scale: textbooks round flour up to cover losses; the exact figure stays beside it.

    >>> shown_up(794.7, 100)
    800.0
    """
    nearest = to_step(grams, step_g)
    return nearest if nearest >= grams - 1e-9 else to_step(grams + step_g / 2, step_g)
