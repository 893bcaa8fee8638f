"""A bake that travels: the same formula with other eggs, yeast, flour, dairy, tin or oven, and one that went wrong."""

from collections.abc import Callable, Sequence

from oventide.errors import refuse
from oventide.formula.composition import compose
from oventide.formula.limits import check
from oventide.formula.model import Component, EggClass, Frozen
from oventide.intake.lines import read_lines
from oventide.kitchen.model import Kitchen
from oventide.makeup.model import Tin
from oventide.timeline.batch import batch_of
from oventide.timeline.procedure import Container, Product
from oventide.travel import compared, eggs, flour, instead, oven, tin, yeast
from oventide.travel.at_the_oven import probed
from oventide.travel.forgotten import forgotten as reckon_forgotten
from oventide.travel.from_the_fridge import proof_from_the_fridge
from oventide.travel.in_the_fridge import DEEPEST_MM, chilled, weeping
from oventide.travel.model import Figure, Told
from oventide.travel.on_the_crust import glazed
from oventide.units.estimate import Estimate

MEMBERS = 200
SEED = 1


class Beside(Frozen):
    """One figure of the timeline before and after; `change` is taken kitchen by kitchen."""

    name: str
    before: Figure
    after: Figure
    change: Figure


class TravelAnswer(Frozen):
    """The answer of `oventide travel`: what each change asks for, and the two timelines side by side."""

    name: str
    told: tuple[Told, ...]
    beside: tuple[Beside, ...] = ()
    beside_words: str = ""
    """What stands beside what; empty where nothing that was asked changes the timeline."""
    members: int
    seed: int
    assumed: tuple[str, ...] = ()


class ToldAnswer(Frozen):
    """The answer of a command that is one question of the bench: `proof`, `rescue`."""

    name: str
    told: tuple[Told, ...]
    members: int
    seed: int


def travel(
    product: Product,
    kitchen: Kitchen,
    *,
    to_tin: Tin | None = None,
    to_material: str | None = None,
    to_oven: str | None = None,
    to_eggs: EggClass | None = None,
    to_yeast: str | None = None,
    protein: tuple[float, float] | None = None,
    swaps: tuple[tuple[str, str], ...] = (),
    members: int = MEMBERS,
    seed: int = SEED,
    progress: Callable[[float], None] | None = None,
) -> TravelAnswer:
    """Every change that was asked, one after the other, and both timelines in the same kitchens.

    Eggs and flour change what is weighed off, not the dough that is aimed at, so they leave the timeline as it is.
    """
    check(product.formula)
    told: list[Told] = []
    there, place = product, kitchen
    for old, new in swaps:
        there, said = instead.instead(there, old, new)
        told.append(said)
    if to_yeast is not None:
        there, said = yeast.other_yeast(there, to_yeast)
        told.append(said)
    if to_eggs is not None:
        told.append(eggs.other_eggs(product, to_eggs))
    if protein is not None:
        told.append(flour.other_flour(product, *protein))
    words = "as written, and with what was asked"
    if to_tin is not None:
        (_, there), said = tin.other_tin(there, batch_of(there).geometry, to_tin)
        told.append(said)
        words = "as written, and in the other tin with the same number of pieces (the same piece bakes as it did)"
    if to_material is not None:
        place, said = tin.other_material(place, to_material)
        told.append(said)
    if to_oven is not None:
        place, said = oven.other_oven(product, place, to_oven)
        told.append(said)
    if not told:
        raise refuse(
            "travel", "", "Nothing was said of what is different there.",
            "Give one or more of: --to-tin, --to-material, --to-oven, --to-eggs, --to-yeast, --protein, --instead.",
        )  # fmt: skip
    rows: tuple[Beside, ...] = ()
    if there is not product or place is not kitchen:
        found = compared.beside((batch_of(product), kitchen), (batch_of(there), place), members, seed, progress)
        rows = tuple(Beside(name=name, before=one, after=other, change=by) for name, one, other, by in found)
    return TravelAnswer(
        name=product.name,
        told=tuple(told),
        beside=rows,
        beside_words=words if rows else "",
        members=members,
        seed=seed,
        assumed=kitchen.assumed,
    )


def rescue_forgotten(
    product: Product,
    kitchen: Kitchen,
    what: str,
    found: str,
    dough_g: float | None = None,
    members: int = MEMBERS,
    seed: int = SEED,
) -> ToldAnswer:
    """An ingredient that was forgotten, found at a moment of the bake."""
    check(product.formula)
    said = reckon_forgotten(product, kitchen, what, found, dough_g, members, seed)
    return ToldAnswer(name=product.name, told=(said,), members=members, seed=seed)


def proof_from_cold(
    product: Product,
    kitchen: Kitchen,
    rooms_c: Sequence[float],
    *,
    fridge_c: float,
    night_h: float,
    covered: bool,
    members: int = MEMBERS,
    seed: int = SEED,
) -> ToldAnswer:
    """Shaped buns out of the fridge, in one room temperature or several."""
    check(product.formula)
    told = proof_from_the_fridge(
        product, kitchen, rooms_c, fridge_c=fridge_c, night_h=night_h, covered=covered, members=members, seed=seed
    )
    return ToldAnswer(name=product.name, told=told, members=members, seed=seed)


def probe(
    product: Product,
    kitchen: Kitchen,
    *,
    after_min: float,
    core_c: float,
    tops: str | None,
    edge: str | None,
    members: int = MEMBERS,
    seed: int = SEED,
) -> ToldAnswer:
    """A core reading and a look at the colour in the middle of the bake."""
    check(product.formula)
    told = probed(batch_of(product), kitchen, after_min, core_c, tops, edge, members, seed)
    return ToldAnswer(name=product.name, told=(told,), members=members, seed=seed)


def with_fridge(kitchen: Kitchen, celsius: float) -> Kitchen:
    """The kitchen with a fridge of this air [°C], known as well as its own was."""
    fridge = kitchen.fridge
    moved = Estimate(
        low=celsius - (fridge.likely - fridge.low), likely=celsius, high=celsius + (fridge.high - fridge.likely)
    )
    return kitchen.model_copy(update={"fridge": moved})


def container_asked(
    depth_mm: float | None, floor_mm: tuple[float, float] | None, pieces: int, wall: str, cover: str
) -> Container:
    """A container as it was asked for: by the depth of the dough, or by its floor."""
    if (depth_mm is None) == (floor_mm is None):
        raise refuse(
            "depth", "", "Either the depth of the dough or the floor of the box is needed.",
            "Give one of --depth 4cm and --floor 30x40cm.",
        )  # fmt: skip
    return Container.model_validate(
        {
            "depth_mm": depth_mm if depth_mm is not None else DEEPEST_MM,
            "width_mm": floor_mm[0] if floor_mm else None,
            "length_mm": floor_mm[1] if floor_mm else None,
            "pieces": pieces,
            "wall": wall,
            "cover": cover,
        }
    )


def chill(
    product: Product,
    kitchen: Kitchen,
    container: Container,
    *,
    hours: float,
    dough_c: float | None,
    dough_g: float | None,
    members: int = MEMBERS,
    seed: int = SEED,
) -> ToldAnswer:
    """Dough in a container in the fridge."""
    check(product.formula)
    told = chilled(
        batch_of(product), kitchen, container, hours=hours, dough_c=dough_c,
        dough_kg=None if dough_g is None else dough_g / 1000.0, members=members, seed=seed,
    )  # fmt: skip
    return ToldAnswer(name=product.name, told=(told,), members=members, seed=seed)


def weep(
    product: Product,
    kitchen: Kitchen,
    *,
    spread: Sequence[str],
    strewn: Sequence[str],
    hours: float,
    celsius: float | None,
    members: int = 1000,
    seed: int = SEED,
) -> ToldAnswer:
    """A filling on the product's sheet. `spread` is what goes on first and `strewn` what goes over it, as a recipe says
    them; without both, the product's own. `celsius` is the dough's temperature, the fridge's likely air where None."""
    there = product
    if spread or strewn:
        parts = [component for component in product.formula.components if component.kind not in ("spread", "filling")]
        for kind, name, texts in (("spread", "Spread", spread), ("filling", "Strewn", strewn)):
            if texts:
                lines = tuple(line for text in texts for line in read_lines(text, product.formula.measures))
                parts.append(Component(kind="spread" if kind == "spread" else "filling", name=name, lines=lines))
        there = product.model_copy(update={"formula": product.formula.model_copy(update={"components": tuple(parts)})})
    check(there.formula)
    told = weeping(batch_of(there), hours, kitchen.fridge.likely if celsius is None else celsius, members, seed)
    return ToldAnswer(name=product.name, told=(told,), members=members, seed=seed)


def glaze(product: Product, lines: Sequence[str], surface_c: float, members: int = 400, seed: int = SEED) -> ToldAnswer:
    """A glaze on a hot crust: `lines` as a recipe says them, or the product's own glaze where there are none."""
    if lines:
        read = tuple(line for text in lines for line in read_lines(text, product.formula.measures))
    else:
        read = tuple(line for part in product.formula.of_kind("glaze") for line in part.lines)
    unknown = [line.text for line in read if line.grams is None or line.ingredient is None]
    if not read or unknown:
        raise refuse(
            "glaze", ", ".join(unknown), "The glaze needs lines whose weights and ingredients are known.",
            "Give them, like --line '300 g icing sugar' --line '45 g milk'.",
        )  # fmt: skip
    alone = Component(kind="glaze", name="Glaze", lines=read)
    kept = tuple(part for part in product.formula.components if part.kind != "glaze")
    check(product.formula.model_copy(update={"components": (*kept, alone)}))
    told = glazed(compose(read), surface_c, members, seed)
    return ToldAnswer(name=product.name, told=(told,), members=members, seed=seed)
