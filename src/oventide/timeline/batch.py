"""What goes through the timeline: the dough, the pieces made from it, and the steps."""

from dataclasses import dataclass
from typing import Literal

from oventide.dough.proof import shaped_target
from oventide.dough.state import body_of
from oventide.dough.weep import Filling, filling_of
from oventide.errors import refuse
from oventide.evidence.parameters import load
from oventide.formula.composition import Composition, compose, ingredient_of
from oventide.formula.model import Line
from oventide.formula.parts import dough_lines, mass_g
from oventide.makeup.geometry import geometry
from oventide.makeup.model import Geometry
from oventide.matter.properties import Physics
from oventide.pantry.own import Pantry
from oventide.timeline.procedure import Procedure, Product
from oventide.timeline.ripening import Preferment, preferments_of

Wash = Literal["none", "milk", "egg"]


@dataclass(frozen=True)
class Batch:
    """One mix and its pieces. `dough` holds dough and preferments; `made_up` adds spread and filling."""

    procedure: Procedure
    dough: Composition
    made_up: Composition
    geometry: Geometry
    lines: tuple[Line, ...]
    """Every line that goes into the bowl, preferments included."""
    wash: Wash = "none"
    glaze: Composition | None = None
    pantry: Pantry | None = None
    assumed: tuple[str, ...] = ()
    filling: Filling | None = None
    """What is spread, as sugar, fat and binder; None where nothing is."""
    preferments: tuple[Preferment, ...] = ()
    """What is made before and ripens on its own; its lines are among the dough's."""

    @property
    def physics(self) -> Physics:
        """Dense dough without filling."""
        return body_of(self.dough)

    @property
    def spread_share(self) -> float:
        """Spread and filling over the made-up mass."""
        return max(0.0, 1.0 - self.dough.mass_g / self.made_up.mass_g)

    @property
    def made_up_piece_g(self) -> float:
        """One piece as it stands in the tin [g]."""
        return self.geometry.piece_g


def batch_of(product: Product, pantry: Pantry | None = None, by_hand: bool = False) -> Batch:
    """A product ready for the timeline. Refuses a dough whose weights are not known well enough to simulate."""
    lines = dough_lines(product.formula)
    unweighed = [line.text for line in lines if line.grams is None]
    dough = compose(lines, pantry)
    if dough.flour_g <= 0.0:
        raise refuse(
            "component.dough",
            "no flour",
            "A dough needs flour with a known weight.",
            "Give the flour in grams or cups.",
        )
    inside = tuple(line for part in product.formula.of_kind("spread", "filling") for line in part.lines)
    made_up = compose((*lines, *inside), pantry)
    known = load("timeline")
    shaped = shaped_target().likely
    air = load("dough").value("gas.air_mixed_in")
    found = geometry(
        dough.mass_g,
        body_of(dough).density * (1.0 - air) / 1000.0,
        mass_g(inside),
        known.value("makeup.spread_density"),
        product.makeup,
        shaped,
        shaped * known.value("makeup.spring"),
        by_hand,
    )
    assumed = [f"Left out of the dough's physics, its weight is not known: {text}" for text in unweighed]
    preferments = preferments_of(product.formula, product.procedure, pantry)
    return Batch(
        procedure=product.procedure,
        dough=dough,
        made_up=made_up,
        geometry=found,
        lines=lines,
        wash=_wash(product, pantry),
        glaze=_glaze(product, pantry),
        pantry=pantry,
        assumed=tuple(assumed),
        filling=_filling(product, pantry),
        preferments=preferments,
    )


def _filling(product: Product, pantry: Pantry | None) -> Filling | None:
    """Spread and filling as one, and whether the sugar lies on the butter or is creamed with it."""
    parts = [compose(part.lines, pantry) for part in product.formula.of_kind("spread", "filling") if part.lines]
    if not parts:
        return None
    sweetest = max(parts, key=lambda part: part.sugars_g - part.lactose_g)
    fat = sum(part.fat_g for part in parts)
    strewn = load("weep").value("spread.strewn_below")
    lines = tuple(line for part in product.formula.of_kind("spread", "filling") for line in part.lines)
    return filling_of(compose(lines, pantry), layered=sweetest.fat_g < strewn * fat or fat <= 0.0)


def _glaze(product: Product, pantry: Pantry | None) -> Composition | None:
    """The glaze as one composition; None where there is none or a weight of it is not known."""
    lines = tuple(line for component in product.formula.of_kind("glaze") for line in component.lines)
    if not lines or any(line.grams is None or line.ingredient is None for line in lines):
        return None
    return compose(lines, pantry)


def _wash(product: Product, pantry: Pantry | None) -> Wash:
    """Egg or milk brushed on before the bake, by the wash component's ingredients."""
    found: Wash = "none"
    for component in product.formula.of_kind("wash"):
        for line in component.lines:
            item = ingredient_of(line, pantry)
            if item is None:
                continue
            if item.category == "egg":
                return "egg"
            if item.category == "dairy":
                found = "milk"
    return found
