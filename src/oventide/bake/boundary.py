"""From the oven to the dough: films, radiation, tin and cover, built from the priors of bake.toml."""

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from oventide.compiled import compiled
from oventide.errors import refuse
from oventide.matter.air import mass_film_kg_m2spa

Array = NDArray[np.float64]
OvenKind = Literal["convection", "static", "deck", "rack"]
"""Where the piece stands; `rack` is the room, for cooling."""
OVEN_PLACES: tuple[str, ...] = ("convection", "static", "deck", "rack")
TIN_MATERIALS: tuple[str, ...] = ("light_metal", "dark_metal", "glass", "ceramic", "silicone", "paper")
_SIGMA = 5.670374419e-8


@compiled
def radiation_film_w_m2k(wall_c: float, surface_c: float, emissivity: float) -> float:
    """Radiation as a film [W/(m2·K)]: ε σ (Tw² + Ts²)(Tw + Ts).

    >>> round(radiation_film_w_m2k(170.0, 100.0, 0.9), 1)
    14.0
    """
    wall, surface = wall_c + 273.15, surface_c + 273.15
    return emissivity * _SIGMA * (wall * wall + surface * surface) * (wall + surface)


@dataclass(frozen=True)
class Surroundings:
    """Conductances around a piece, (M,) each.

    `film` is convection on the open top [W/m2K], `emissivity` of that exchange, `wall_step_c` how much hotter
    than the air the walls are that the top sees, `tin` the conductance from the air under the tin to its wall
    [W/m2K] at a first guess of 100 °C, `contact` the resistance from the wall to the dough [m2K/W], `tin_heat` the
    wall's heat capacity [J/m2K], `floor_step_c` how much hotter than the air it is below, `cover` from the air through
    a cover to the top [W/m2K], `leak` a cover's leak [kg/(m2·s·Pa)], `base_open` the share of the base that loses
    vapour (0 in a tin, 1 on a rack), `dome` surface of the domed tops over their plan.
    """

    film: Array
    emissivity: Array
    wall_step_c: Array
    tin: Array
    contact: Array
    tin_heat: Array
    floor_step_c: Array
    cover: Array
    leak: Array
    base_open: Array
    dome: Array

    @property
    def steady_base(self) -> Array:
        """From the air below to the dough once the wall has warmed through [W/m2K]."""
        return np.asarray(1.0 / (1.0 / self.tin + self.contact))


def surroundings(oven_kind: str, tin: str, draws: dict[str, Array], in_tin: bool = True) -> Surroundings:
    """Build the conductances for an oven kind (or the rack in the room) and a tin material.

    Under the tin: film and radiation to the tin's outside, then its wall with a heat capacity, then the contact with
    the dough. A deck's hearth touches the tin; in a still oven the lower element and the floor make it hotter there.
    On the rack and out of the tin the base is a surface like the top. What leaks in under a cover brings its heat.
    """
    if oven_kind not in OVEN_PLACES:
        raise refuse("oven_kind", oven_kind, "The oven is one of " + ", ".join(OVEN_PLACES) + ".", "Choose one.")
    if tin not in TIN_MATERIALS:
        raise refuse("tin", tin, "The tin's material is one of " + ", ".join(TIN_MATERIALS) + ".", "Choose one.")
    film = draws[f"film.{oven_kind}"]
    members = film.shape[0]
    mean_c = 135.0 if oven_kind != "rack" else 50.0
    radiation = 4.0 * _SIGMA * (mean_c + 273.15) ** 3 * draws[f"tin.emissivity_{tin}"]
    under = film * draws["tin.film_share_below"] + radiation
    if oven_kind == "deck":
        under = under + draws["tin.hearth_contact"]
    contact = draws[f"tin.wall_resistance_{tin}"] + draws["tin.contact_resistance"]
    tin_heat = draws[f"tin.heat_{tin}"] * draws["tin.heat_factor"]
    base_open = np.zeros(members)
    if not in_tin:
        contact, tin_heat = np.zeros(members), np.zeros(members)
        under = film + 4.0 * _SIGMA * (mean_c + 273.15) ** 3 * draws["surface.emissivity"]
        base_open = np.ones(members)
    return Surroundings(
        film=film,
        emissivity=np.minimum(0.99, draws["surface.emissivity"]),
        wall_step_c=draws[f"oven.wall_step_{oven_kind}"],
        tin=np.asarray(under, dtype=np.float64),
        contact=np.asarray(contact, dtype=np.float64),
        tin_heat=np.asarray(tin_heat, dtype=np.float64),
        floor_step_c=draws[f"oven.floor_step_{oven_kind}"],
        cover=draws["cover.conductance"] + draws["cover.leak"] / mass_film_kg_m2spa(1.0, 101325.0),
        leak=draws["cover.leak"],
        base_open=base_open,
        dome=np.maximum(1.0, draws["surface.dome"]),
    )
