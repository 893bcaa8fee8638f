"""Another tin, or a tin of another material: how many pieces, how heavy, and what the oven then does."""

from oventide.errors import refuse
from oventide.formula.model import Formula
from oventide.formula.scaling import Scaling, scale
from oventide.kitchen.model import TIN_MATERIALS, Kitchen, TinMaterial
from oventide.makeup.model import Geometry, MakeUp, Tin
from oventide.makeup.swap import Swap, swap
from oventide.makeup.tins import name_of
from oventide.timeline.procedure import Product
from oventide.travel.model import Told, figure


def ways(geometry: Geometry, tin: Tin) -> tuple[Swap, Swap]:
    """The same piece in another number, or the same number of another weight, in one new tin."""
    if geometry.tin is None:
        raise refuse("tin", name_of(tin), "The formula's own tin is not known.", "Give the formula its tin first.")
    return swap(geometry.pieces_per_tin, geometry.piece_g, geometry.tin, tin)


def _sized(product: Product, geometry: Geometry, tin: Tin, way: Swap) -> Product:
    """The product for one new tin by one of the two ways. A piece's height stays: the log's width follows the count."""
    factor = way.mass_g / (geometry.pieces * geometry.piece_g)
    formula: Formula = scale(product.formula, Scaling(factor=factor)).formula
    old = product.makeup
    width = geometry.sheet_width_mm * way.pieces / geometry.pieces_per_sheet
    length = geometry.sheet_length_mm * way.piece_g / geometry.piece_g
    makeup: MakeUp = old.model_copy(
        update={
            "pieces": way.pieces, "piece_g": None, "tin": tin, "tins": 1, "sheets": 1,
            "sheet_width_mm": width, "sheet_length_mm": length,
        }
    )  # fmt: skip
    return product.model_copy(update={"formula": formula, "makeup": makeup})


def other_tin(product: Product, geometry: Geometry, tin: Tin) -> tuple[tuple[Product, Product], Told]:
    """Both ways into another tin as products ready to be foreseen, and the figures that a scale and a ruler need."""
    same_piece, same_count = ways(geometry, tin)
    products = (_sized(product, geometry, tin, same_piece), _sized(product, geometry, tin, same_count))
    figures = []
    for way, word in ((same_piece, "the same piece"), (same_count, "the same number")):
        figures += [
            figure(f"{word}: pieces", "pieces", way.pieces),
            figure(f"{word}: weight of one", "g", way.piece_g),
            figure(f"{word}: dough and filling, times the formula for one tin", "×", way.factor),
            figure(f"{word}: floor for each piece, against the old tin", "×", way.crowding),
        ]
    tight = same_piece.crowding < 0.93
    return products, Told(
        asked=f"{name_of(tin)} in place of {name_of(geometry.tin) if geometry.tin else 'the old tin'}",
        figures=tuple(figures),
        because=(
            same_piece.because,
            same_count.because,
            "A piece that stays as it is, with as much room, bakes as it did; a heavier one has farther to its middle.",
        ),
        do=(
            f"Same piece: {same_piece.pieces} of {same_piece.piece_g:.0f} g, {same_piece.layout}"
            + ("; they stand closer than before, so one fewer is no mistake." if tight else "."),
            f"Same number: {same_count.pieces} of {same_count.piece_g:.0f} g, {same_count.layout}; go by the core, "
            "not by the "
            "old minutes.",
        ),
    )


_METAL_WORDS = {
    "light_metal": "light metal", "dark_metal": "dark metal", "glass": "glass", "ceramic": "ceramic",
    "silicone": "silicone", "paper": "paper",
}  # fmt: skip


def other_material(kitchen: Kitchen, material: str) -> tuple[Kitchen, Told]:
    """The kitchen with tins of another material; what it does is read off the two timelines."""
    if material not in TIN_MATERIALS:
        raise refuse(
            "tin_material", material, "This material is not known.", f"Choose one of: {', '.join(TIN_MATERIALS)}."
        )
    chosen: TinMaterial = next(each for each in TIN_MATERIALS if each == material)
    quick = {
        "dark_metal": True,
        "light_metal": False,
        "glass": False,
        "ceramic": False,
        "silicone": False,
        "paper": False,
    }
    before, after = _METAL_WORDS[kitchen.tin], _METAL_WORDS[chosen]
    do = (
        ("Look under one bun five minutes before the end; if the base is ahead, set a cold tray below for the rest.",
         "Or set the oven 10 to 15 °C lower and keep the time.")
        if quick[chosen]
        else ("Look under one bun at the end; if the base is pale, give it the last minutes on the hot floor or a "
        "hot tray.",)
    )  # fmt: skip
    return kitchen.model_copy(update={"tin": chosen}), Told(
        asked=f"A tin of {after} in place of {before}",
        figures=(),
        because=(
            "A dark tin takes up the oven's radiation, a bright one throws most of it back; thick and poorly "
            "conducting "
            "walls come late to their heat.",
        ),
        do=do,
        cautions=("Glass and ceramic can crack when they go cold into a hot oven, or hot onto a wet bench.",)
        if chosen in ("glass", "ceramic")
        else (),
    )
