"""When the pieces in a tin meet: free growth of neighbours against the room between them.

A piece on its cut face grows sideways as r = r0 (V/V0)^n. Growing alike in all directions n is 1/3; a slack dough sags
and spreads (more), a base that sticks to the tin holds it in (less). Nothing measured was found for rolled pieces.
"""

import numpy as np
from numpy.typing import NDArray

from oventide.makeup.model import Geometry

Array = NDArray[np.float64]


def dough_share(geometry: Geometry) -> float:
    """Dough over dough and spread, by volume as cut [1]: the spread does not rise."""
    dough = geometry.thickness_mm * geometry.sheet_length_mm
    spread = geometry.spread_mm * (geometry.sheet_length_mm - geometry.seam_margin_mm)
    return dough / (dough + spread)


def meets_at_rise(geometry: Geometry, sideways: Array | float) -> Array:
    """Rise of the dough over its volume when cut at which neighbours meet (M,); 1 where they touch already.

    `sideways` is the power n (`makeup.sideways` of tin.toml). Infinite for a single piece.
    """
    n = np.atleast_1d(np.asarray(sideways, dtype=np.float64))
    if geometry.pieces_per_tin < 2:
        return np.full_like(n, np.inf)
    radii = max(1.0, geometry.pitch_mm / geometry.log_diameter_mm)
    share = dough_share(geometry)
    return np.asarray(1.0 + (np.power(radii, 1.0 / n) - 1.0) / share)
