"""The roll as layers: dough and spread wound up, so that heat goes easier along the layers than across them.

A piece stands on its cut face: upward, heat runs along the layers, and their conductances add (parallel). Across, their
resistances add (series), with whatever air lies between the turns. Seen from the side the roll is a disc of rings,
whose conductivity in its plane is √(along · across). Dough holds the gas, spread does not.
"""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from oventide.matter.properties import conductivity_bounds_w_mk, gas_conductivity_w_mk

Array = NDArray[np.float64]
_REFERENCE_C = 70.0
_DISSOLVING_J_G = 16.0
"""Heat that sucrose takes in as it dissolves, 5.4 kJ/mol over 342 g/mol."""


class Layers(NamedTuple):
    """Conductivity of the roll [W/(m·K)], (M,) each: along the layers (upward), across them, and sideways."""

    along: Array
    across: Array
    sideways: Array

    @property
    def ratio(self) -> Array:
        """Along over across [1]."""
        return np.asarray(self.along / self.across)


def wiener_bounds(shares: Array, conductivities: Array) -> tuple[Array, Array]:
    """Layers side by side (greatest) and one behind another (least); volume shares on the last axis.

    >>> high, low = wiener_bounds(np.array([0.5, 0.5]), np.array([1.0, 3.0]))
    >>> float(high), float(low)
    (2.0, 1.5)
    """
    return (
        np.asarray((shares * conductivities).sum(axis=-1)),
        np.asarray(1.0 / (shares / conductivities).sum(axis=-1)),
    )


def hashin_shtrikman_bounds(share: float, inner: float, outer: float) -> tuple[float, float]:
    """Bounds of an isotropic mixture of two phases, `share` of the first (greatest, least) [W/(m·K)].

    k = k_m + φ/(1/(k_i - k_m) + (1 - φ)/(3 k_m)), with either phase as the one that surrounds.

    >>> tuple(round(k, 3) for k in hashin_shtrikman_bounds(0.5, 1.0, 3.0))
    (1.875, 1.75)
    """
    if inner == outer:
        return inner, inner

    def around(matrix: float, grain: float, grains: float) -> float:
        return matrix + grains / (1.0 / (grain - matrix) + (1.0 - grains) / (3.0 * matrix))

    found = around(outer, inner, share), around(inner, outer, 1.0 - share)
    return max(found), min(found)


def porous_w_mk(dense: Array | float, porosity: Array, celsius: float) -> Array:
    """Maxwell-Eucken with gas as the dispersed phase, on arrays."""
    gas = gas_conductivity_w_mk(celsius)
    return np.asarray(
        dense * (2.0 * dense + gas - 2.0 * porosity * (dense - gas)) / (2.0 * dense + gas + porosity * (dense - gas))
    )


def layers_of_roll(
    dough_w_mk: Array | float,
    spread_w_mk: Array | float,
    spread_share: float,
    gas_share: Array,
    hollow_share: Array | float = 0.0,
    celsius: float = _REFERENCE_C,
) -> Layers:
    """The roll's conductivities. Dense conductivities; volume shares of the whole: `spread_share` of what is dense,
    `gas_share` in the dough, `hollow_share` of air between the turns.

    >>> found = layers_of_roll(0.37, 0.30, 0.2, np.array([0.55]), 0.02)
    >>> [round(float(k[0]), 3) for k in found], round(float(found.ratio[0]), 2)
    ([0.149, 0.133, 0.141], 1.11)
    """
    gas = np.asarray(gas_share, dtype=float)
    hollow = np.broadcast_to(np.asarray(hollow_share, dtype=float), gas.shape)
    dense = 1.0 - gas
    spread = spread_share * dense
    dough = 1.0 - spread
    shares = np.stack([dough, spread], axis=-1) * (1.0 - hollow[..., None])
    shares = np.concatenate([shares, hollow[..., None]], axis=-1)
    crumb = porous_w_mk(dough_w_mk, gas / np.maximum(1e-9, dough), celsius)
    air = np.full_like(gas, gas_conductivity_w_mk(celsius))
    each = np.stack([crumb, np.broadcast_to(np.asarray(spread_w_mk, dtype=float), gas.shape), air], axis=-1)
    along, across = wiener_bounds(shares, each)
    return Layers(along, across, np.sqrt(along * across))


def dense_w_mk(shares: Array, celsius: float = _REFERENCE_C) -> float:
    """Conductivity of a dense mixture as the oven's kernel takes it: the mean of both bounds of its components."""
    high, low = conductivity_bounds_w_mk(shares, celsius)
    return float(0.5 * (high + low))


def along_over_mixture(
    dough: Array, spread: Array, whole: Array, spread_share: float, gas_share: Array, draws: dict[str, Array]
) -> Array:
    """Factor on the oven's conductivity (M,): a roll on its cut face over the same masses mixed throughout.

    Component shares (properties.COMPONENTS) of dough, spread and both; `spread_share` of the dense volume;
    `gas_share` (M,) of the whole. The kernel spreads the gas over everything; in a roll it is in the dough alone.
    """
    if spread_share <= 0.0:
        return np.ones_like(gas_share)
    inner = dense_w_mk(spread) * draws["layers.spread_conductivity"]
    found = layers_of_roll(dense_w_mk(dough), inner, spread_share, gas_share, draws["layers.hollow"])
    return np.asarray(found.along / porous_w_mk(dense_w_mk(whole), gas_share, _REFERENCE_C))


def dissolving_kelvin(sugar_g: float, mass_g: float, heat_capacity_j_gk: float = 2.8) -> float:
    """By how much the dissolving of a filling's sugar holds the whole piece back [K].

    >>> round(dissolving_kelvin(90.0, 765.0), 1)
    0.7
    """
    return _DISSOLVING_J_G * sugar_g / (mass_g * heat_capacity_j_gk)
