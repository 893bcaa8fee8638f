"""The colour that a crust is drawn in, from how far it has browned.

The model tells browning as ΔE, the distance in CIELAB from the pale dough. A distance is no direction: here the way
from pale to burnt is laid through a few points of red and yellow (a*, b*), and the lightness is what is left of ΔE, so
that a drawn colour lies exactly as far from the pale one as the model says. The points are our choice, remembered of
baked crusts: yellow comes first, then red, and both go when it chars. No figure hangs on them, and beside each drawn
colour stand its ΔE and its word.

CIELAB to sRGB by CIE 15 and IEC 61966-2-1, white D65.
"""

import math
from bisect import bisect_right

PALE = (85.0, 1.0, 18.0)
"""L*, a*, b* of the dough; its lightness is `browning.first_lightness` of the bake's data."""
WAY = ((0.0, 1.0, 18.0), (6.0, 1.5, 21.0), (14.0, 4.0, 26.0), (20.0, 7.0, 29.0), (30.0, 11.0, 31.0),
       (38.0, 13.0, 29.0), (45.0, 12.0, 23.0), (52.0, 8.0, 15.0))  # fmt: skip
"""ΔE, a*, b*."""
_WHITE = (0.95047, 1.0, 1.08883)


def lab_of(delta_e: float) -> tuple[float, float, float]:
    """L*, a*, b* of a crust that is ΔE away from the pale dough; beyond the last point it only darkens.

    >>> lab_of(0.0)
    (85.0, 1.0, 18.0)
    >>> round(math.dist(lab_of(27.0), PALE), 6)
    27.0
    """
    at = min(max(delta_e, 0.0), 85.0)
    after = min(max(bisect_right([point[0] for point in WAY], at), 1), len(WAY) - 1)
    (low, low_a, low_b), (high, high_a, high_b) = WAY[after - 1], WAY[after]
    share = min((at - low) / (high - low), 1.0)
    a, b = low_a + share * (high_a - low_a), low_b + share * (high_b - low_b)
    across = (a - PALE[1]) ** 2 + (b - PALE[2]) ** 2
    return max(0.0, PALE[0] - math.sqrt(max(at * at - across, 0.0))), a, b


def srgb_of(lightness: float, a: float, b: float) -> str:
    """A CIELAB colour as #rrggbb, cut where the screen cannot show it.

    >>> srgb_of(100, 0, 0), srgb_of(53.2408, 80.0925, 67.2032)
    ('#ffffff', '#ff0000')
    """
    f_y = (lightness + 16.0) / 116.0
    x, y, z = (w * _unfolded(f) for w, f in zip(_WHITE, (f_y + a / 500.0, f_y, f_y - b / 200.0), strict=True))
    linear = (
        3.2404542 * x - 1.5371385 * y - 0.4985314 * z,
        -0.9692660 * x + 1.8760108 * y + 0.0415560 * z,
        0.0556434 * x - 0.2040259 * y + 1.0572252 * z,
    )
    return "#" + "".join(f"{round(255 * _shown(min(max(v, 0.0), 1.0))):02x}" for v in linear)


def _unfolded(f: float) -> float:
    return f**3 if f > 6.0 / 29.0 else 3.0 * (6.0 / 29.0) ** 2 * (f - 4.0 / 29.0)


def _shown(linear: float) -> float:
    return 12.92 * linear if linear <= 0.0031308 else 1.055 * linear ** (1.0 / 2.4) - 0.055


def crust_colour(delta_e: float) -> str:
    """The drawn colour of a crust, #rrggbb."""
    return srgb_of(*lab_of(delta_e))
