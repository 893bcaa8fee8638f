"""Weighing: a product scaled and rounded to the scale, with baker's percentages and the balance of the formula."""

import math

from oventide.errors import refuse
from oventide.formula import percent
from oventide.formula.balance import findings_of
from oventide.formula.composition import ingredient_of
from oventide.formula.limits import check
from oventide.formula.model import Component, Formula, Line
from oventide.formula.parts import names_part
from oventide.formula.scaling import Scaling, egg_counts, scale, to_scale
from oventide.kitchen.model import Kitchen
from oventide.makeup.model import MakeUp
from oventide.services.answers import BalanceFinding, Totals, WaterSplit, WeighAnswer, WeighComponent, WeighLine
from oventide.services.reading import grams_range
from oventide.timeline.procedure import Product

_LAYERS = ("spread", "filling")


def scaling_asked(
    pieces: int | None = None,
    piece_g: float | None = None,
    dough_g: float | None = None,
    flour_g: float | None = None,
    factor: float | None = None,
) -> Scaling | None:
    """A wish for another size, or None where none was made; two at once are refused."""
    ways = {"dough_g": dough_g, "flour_g": flour_g, "factor": factor, "pieces or piece_g": pieces or piece_g}
    given = [name for name, value in ways.items() if value is not None]
    if not given:
        return None
    if len(given) > 1:
        raise refuse(
            "scaling",
            ", ".join(given),
            "Two ways of scaling at once contradict each other.",
            "Give one of them; only pieces and piece weight go together.",
        )
    return Scaling(pieces=pieces, piece_g=piece_g, dough_g=dough_g, flour_g=flour_g, factor=factor)


def _made_up_at(makeup: MakeUp, wanted: Scaling, factor: float) -> MakeUp:
    """The make-up at another size of batch, so that thickness and piece height stay as they were.

    A whole multiple of the pieces is made in as many sheets; another number widens the sheet. A heavier piece gets
    a longer sheet, rolled up to more turns.
    """
    before = makeup.pieces
    if before is None:
        changed: dict[str, object] = {"pieces": wanted.pieces} if wanted.pieces else {}
        if makeup.sheet_width_mm:
            changed["sheet_width_mm"] = makeup.sheet_width_mm * factor
        return makeup.model_copy(update=changed)
    keeps_count = wanted.piece_g is not None and wanted.pieces is None
    after = wanted.pieces or (before if keeps_count else max(1, round(before * factor)))
    times, heavier = after / before, factor * before / after
    changed = {"pieces": after}
    if after % before == 0 and after > before:
        changed["sheets"] = (makeup.sheets or 1) * (after // before)
    elif makeup.sheet_width_mm:
        changed["sheet_width_mm"] = makeup.sheet_width_mm * times
        changed["sheets"] = None
    if makeup.sheet_length_mm:
        changed["sheet_length_mm"] = makeup.sheet_length_mm * heavier
    if makeup.piece_g:
        changed["piece_g"] = makeup.piece_g * heavier
    if makeup.tin is not None:
        changed["tins"] = max(1, math.ceil(makeup.tins * times - 1e-9))
    return makeup.model_copy(update=changed)


def scaled(product: Product, scaling: Scaling | None) -> tuple[Product, float, str]:
    """The product at another size, the factor, and a sentence that says what was asked."""
    check(product.formula)
    if scaling is None:
        return product, 1.0, ""
    found = scale(product.formula, scaling, product.makeup.pieces)
    makeup = _made_up_at(product.makeup, scaling, found.factor)
    sized = product.model_copy(update={"formula": found.formula, "makeup": makeup})
    return sized, found.factor, f"Scaled to {found.sentence}: × {found.factor:.3g}."


def _counted(component: Component, formula: Formula) -> tuple[Component, dict[int, str]]:
    """The component without the weights of lines that stand for a preferment, and what to say beside those."""
    notes: dict[int, str] = {}
    lines: list[Line] = []
    for position, line in enumerate(component.lines):
        if component.kind == "dough" and names_part(line, formula):
            notes[position] = "stands for the preferment, counted there"
            lines.append(line.model_copy(update={"grams": None}))
        else:
            lines.append(line)
    return component.model_copy(update={"lines": tuple(lines)}), notes


def _components(sized: Formula, written: Formula, factor: float, kitchen: Kitchen | None) -> tuple[WeighComponent, ...]:
    eggs = {count.text: count.sentence for count in egg_counts(written, factor)}
    coarse, fine, below = (
        (kitchen.scale_step_g, kitchen.fine_step_g, kitchen.fine_below_g) if kitchen else (1.0, 0.1, 20.0)
    )
    found = []
    for component, shares in zip(sized.components, percent.components(sized), strict=True):
        counted, notes = _counted(component, sized)
        weighed = to_scale(counted, coarse, fine, below)
        lines = []
        for position, (shown, share) in enumerate(zip(weighed.lines, shares.on_all_flour, strict=True)):
            line = shown.line
            lines.append(
                WeighLine(
                    text=line.text,
                    name=line.name,
                    ingredient=line.ingredient,
                    preparation=line.preparation,
                    note=notes.get(position) or eggs.get(line.text, ""),
                    baker_percent=None if share.percent is None else round(share.percent, 3),
                    grams=shown.grams,
                    grams_exact=None if line.grams is None else round(line.grams.likely, 4),
                    grams_range=grams_range(line.grams),
                    assumed=line.assumed,
                    offered=line.offered,
                )
            )
        exact = sum(line.grams.likely for line in counted.lines if line.grams is not None)
        found.append(
            WeighComponent(
                name=component.name,
                kind=component.kind,
                lines=tuple(lines),
                grams=weighed.total_g,
                grams_exact=round(exact, 4),
                baker_percent=None if shares.mass_percent is None else round(shares.mass_percent, 3),
            )
        )
    return tuple(found)


def _totals(dough: percent.DoughPercent, components: tuple[WeighComponent, ...]) -> Totals:
    layers = sum(component.grams_exact for component in components if component.kind in _LAYERS)
    water = dough.water
    return Totals(
        flour_g=round(dough.flour_g, 2),
        dough_g=round(dough.dough_g, 2),
        batch_g=round(sum(component.grams for component in components), 2),
        prefermented_flour_percent=round(dough.prefermented_flour, 2),
        true_water_percent=round(water.total, 2),
        water_split=WaterSplit(
            liquid=round(water.liquid, 2),
            egg=round(water.egg, 2),
            butter=round(water.butter, 2),
            dairy=round(water.dairy, 2),
            other=round(water.other, 2),
        ),
        fat_percent=round(dough.fat, 2),
        fat_weighed_percent=round(dough.fat_weighed, 2),
        sugar_percent=round(dough.sugars, 2),
        sugar_weighed_percent=round(dough.sugar_weighed, 2),
        sugar_on_water_percent=None if dough.sugar_on_water is None else round(dough.sugar_on_water, 2),
        egg_percent=round(dough.egg_weighed, 2),
        salt_percent=round(dough.salt, 3),
        yeast_percent=round(dough.yeast_weighed, 3),
        yeast_as_instant_percent=round(dough.yeast_as_instant, 3),
        total_percent=round(dough.total, 2),
        spread_on_dough_percent=round(100.0 * layers / dough.dough_g, 1) if layers else None,
    )


def allergens_of(product: Product) -> tuple[str, ...]:
    """What the ingredients bring by their nature; "?" where the packet must be read, and what was not recognised."""
    found: set[str] = set()
    unread: list[str] = []
    for component in product.formula.components:
        for line in component.lines:
            item = ingredient_of(line)
            if item is not None:
                found |= set(item.allergens)
            elif not names_part(line, product.formula):
                unread.append(line.name or line.text)
    certain = {name for name in found if not name.endswith("?")}
    doubtful = {name for name in found if name.endswith("?") and name[:-1].strip() not in certain}
    said = [*sorted(certain), *sorted(doubtful)]
    if unread:
        said.append(f"not known for {', '.join(dict.fromkeys(unread))}")
    return tuple(said)


def weigh(product: Product, scaling: Scaling | None = None, kitchen: Kitchen | None = None) -> WeighAnswer:
    """Weights to put on the scale. The kitchen gives the scale's steps; without one, 1 g, and 0.1 g below 20 g."""
    sized, factor, said = scaled(product, scaling)
    dough = percent.whole_dough(sized.formula)
    components = _components(sized.formula, product.formula, factor, kitchen)
    assumed = []
    if kitchen is None:
        assumed.append("Scales: steps of 1 g, and 0.1 g below 20 g, are assumed.")
    unweighed = [
        f"“{line.text.strip()}” ({component.name}) has no weight and is not counted."
        for component in components
        if component.kind not in ("dough", "preferment")
        for line in component.lines
        if line.grams is None and not line.note
    ]
    filled = any(component.kind in _LAYERS for component in components)
    return WeighAnswer(
        name=product.name,
        scaled_by=said,
        factor=round(factor, 6),
        components=components,
        totals=_totals(dough, components),
        balance=tuple(
            BalanceFinding(**finding.model_dump(exclude={"value"}), value=round(finding.value, 3))
            for finding in findings_of(dough, filled=filled)
        ),
        allergens=allergens_of(sized),
        assumed=tuple(assumed),
        unknown=(*dough.unknown, *unweighed),
    )
