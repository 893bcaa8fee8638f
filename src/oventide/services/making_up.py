"""Make-up: sheet, roll, cut and tin in figures and drawings."""

from oventide.makeup.model import Geometry, MakeUp, Tin
from oventide.services.answers import MakeUpAnswer
from oventide.timeline.procedure import Product


def with_make_up(
    product: Product,
    sheet_mm: tuple[float, float] | None = None,
    pieces: int | None = None,
    tin: Tin | None = None,
    tins: int | None = None,
    kerf_mm: float | None = None,
    trim_mm: float | None = None,
    piece_g: float | None = None,
) -> Product:
    """The product with other make-up figures; what is not given stays. `sheet_mm` is (rolled length, width)."""
    raise NotImplementedError


def geometry_of(product: Product) -> Geometry:
    """The geometry that the product's make-up gives."""
    raise NotImplementedError


def make_up(product: Product, drawings: bool = True) -> MakeUpAnswer:
    """Thickness, turns, log, pieces, layout and fill; change figures first by `with_make_up`."""
    raise NotImplementedError


__all__ = ["MakeUp", "geometry_of", "make_up", "with_make_up"]
