"""Boiling point of water by altitude: the standard atmosphere and the steam curve together."""

from oventide.matter.water import air_pressure_pa, boiling_point_c
from validation.model import Check


def _boils(*altitudes_m: float) -> tuple[float, ...]:
    return tuple(boiling_point_c(air_pressure_pa(metres)) for metres in altitudes_m)


CHECKS = (
    Check(
        id="boiling.300-2000-m",
        room="matter",
        what="boiling point of water by altitude",
        source="altitude-table",
        where="table",
        published=(99.1, 98.1, 96.8, 93.3),
        ours=lambda: _boils(300, 600, 1000, 2000),
        unit="°C",
        tolerance=0.2,
        blind=True,
        kind="curve",
        x=(300, 600, 1000, 2000),
        x_name="altitude [m]",
    ),
    Check(
        id="boiling.1524-3048-m",
        room="matter",
        what="boiling point of water by altitude",
        source="altitude-wiki",
        where="table",
        published=(95.0, 94.0, 91.9, 89.8),
        ours=lambda: _boils(1524, 1829, 2438, 3048),
        unit="°C",
        tolerance=0.2,
        blind=True,
        kind="curve",
        x=(1524, 1829, 2438, 3048),
        x_name="altitude [m]",
    ),
)
