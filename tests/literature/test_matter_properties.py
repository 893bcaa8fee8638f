"""Milk fat's melting against published figures."""

import pytest

from oventide.matter.milk_fat import solid_fat, temperature_at_solid


def test_butter_melts_where_it_is_said_to() -> None:
    """Guelph: all melted at 37 °C (read). J. Dairy Res. 39: 325 (abstract read): soft point 95 % melted, 28-36 °C."""
    assert solid_fat(37.5, 0.0) < 0.005
    assert 28.0 < temperature_at_solid(0.05) < 36.0


def test_butter_spreads_between_20_and_40_percent_solid() -> None:
    """A passage quoting Rønholt, Mortensen & Knudsen 2013 (second hand): spreadable at 20-40 % solid, some 13-20 °C."""
    assert temperature_at_solid(0.40) == pytest.approx(13.0, abs=0.5)
    assert temperature_at_solid(0.20) == pytest.approx(20.0, abs=0.5)
