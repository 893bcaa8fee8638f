"""What a component is made of, by balance over its lines."""

from oventide.formula.model import Frozen


class Composition(Frozen):
    """Masses in a component [g], likely values. Unknown contributions are named in `unknown`, never silently zero.

    `water_g` is all water, the flour's own moisture included (physics wants that); `added_water_g` is the water
    that a baker counts (everything but the flour's own), split by where it comes from.
    """

    mass_g: float
    flour_g: float
    water_g: float
    added_water_g: float
    water_from_liquid_g: float
    """water, juice, plant drinks …"""
    water_from_egg_g: float
    water_from_butter_g: float
    water_from_dairy_g: float
    water_from_other_g: float
    fat_g: float
    milk_fat_g: float
    sugars_g: float
    sucrose_g: float
    """Sucrose, known or taken (granulated, icing, brown sugar); each counts as two osmoles in yeasted dough."""
    lactose_g: float
    starch_g: float
    """Carbohydrate that is neither sugar nor fibre."""
    fibre_g: float
    protein_g: float
    milk_protein_g: float
    egg_g: float
    salt_g: float
    ash_g: float
    alcohol_g: float
    yeast_dry_matter_g: float
    yeast_kind: str
    """"instant", "active_dry", "fresh", "mixed" or "none"."""
    spice_g: float
    """Cinnamon and other spices that slow yeast."""
    unknown: tuple[str, ...] = ()
    """Sentences: which line lacks which figure."""
