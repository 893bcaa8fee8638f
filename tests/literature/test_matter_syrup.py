"""Sugar and water against handbook figures (all from memory, named beside each row)."""

import pytest

from oventide.matter.syrup import saturated_sucrose, syrup_density_kg_m3, syrup_viscosity_pa_s, syrup_water_activity


@pytest.mark.parametrize(("celsius", "share"), [(0, 0.644), (20, 0.666), (40, 0.703), (60, 0.742), (80, 0.784)])
def test_solubility(celsius: float, share: float) -> None:
    """ICUMSA / Charles 1960 table (from memory), to 0.5 points."""
    assert saturated_sucrose(celsius) == pytest.approx(share, abs=0.005)


@pytest.mark.parametrize(("solids", "kg_m3"), [(0.20, 1081.0), (0.40, 1176.0), (0.60, 1287.0), (0.66, 1323.0)])
def test_density(solids: float, kg_m3: float) -> None:
    """Plato / ICUMSA density of sucrose at 20 °C (from memory), to 1.2 %: volumes add only nearly."""
    assert syrup_density_kg_m3(solids) == pytest.approx(kg_m3, rel=0.012)


@pytest.mark.parametrize(("solids", "celsius", "mpas"), [(0.60, 30.0, 34.0), (0.50, 30.0, 10.2), (0.40, 50.0, 2.5)])
def test_viscosity_between_the_points(solids: float, celsius: float, mpas: float) -> None:
    """International Critical Tables (from memory): temperatures that are not in our table, to 12 %."""
    assert 1000 * syrup_viscosity_pa_s(solids, celsius) == pytest.approx(mpas, rel=0.12)


@pytest.mark.parametrize(("solids", "activity"), [(0.20, 0.985), (0.50, 0.935), (0.667, 0.86)])
def test_water_activity(solids: float, activity: float) -> None:
    """Norrish's sucrose line and the saturated solution at 25 °C, 0.86 (from memory), to 0.015."""
    assert syrup_water_activity(solids) == pytest.approx(activity, abs=0.015)
