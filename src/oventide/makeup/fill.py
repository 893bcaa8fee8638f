"""How full the tin is: before proof, after proof, after baking, and what that means in words."""

from dataclasses import dataclass

from oventide.evidence.parameters import load
from oventide.makeup.model import Tin
from oventide.makeup.tins import volume_mm3


@dataclass(frozen=True)
class Fill:
    """Volume of all pieces in a tin over the tin's volume to the brim [1]."""

    before: float
    after_proof: float
    after_bake: float
    warnings: tuple[str, ...] = ()


def fill(
    pieces: int, dough_mm3: float, spread_mm3: float, tin: Tin, rise_after_proof: float, rise_after_bake: float
) -> Fill:
    """Fill of one tin with pieces of the volumes given, per piece; the dough rises, the spread does not.

    `rise_after_proof` and `rise_after_bake` are the dough's volume over its volume when it was cut.

    >>> tin = Tin(shape="square", length_mm=200, width_mm=200, depth_mm=50)
    >>> fill(9, 60000, 10000, tin, 1.6, 2.2).after_proof
    0.477
    """
    brim = volume_mm3(tin)

    def at(rise: float) -> float:
        return pieces * (dough_mm3 * rise + spread_mm3) / brim

    found = (at(1.0), at(rise_after_proof), at(rise_after_bake))
    return Fill(*found, warnings=_warnings(*found))


def _warnings(before: float, after_proof: float, after_bake: float) -> tuple[str, ...]:
    band = load("makeup")["fill.after_bake"]
    said = []
    if after_bake < band.low:
        said.append(
            f"After baking the pieces take about {after_bake:.0%} of the tin, less than {band.low:.0%}: they stand low "
            "and apart, and their sides brown and dry sooner. A smaller tin or heavier pieces would fill it."
        )
    if after_bake > band.high:
        said.append(
            f"After baking the pieces take about {after_bake:.0%} of the tin, more than {band.high:.0%}: they can rise "
            "over the brim and drip on the oven floor. A larger or deeper tin, or fewer pieces, gives room."
        )
    if after_proof > 1.0:
        said.append("The pieces reach the brim before they go into the oven: a cover would touch them.")
    if before > 1.0:
        said.append("The pieces are more than the tin holds even before they rise.")
    return tuple(said)
