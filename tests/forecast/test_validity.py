"""Outside the range that a law was tried in, a figure is marked and says which input, its value and the range."""

import importlib
import pkgutil
from collections.abc import Callable

import numpy as np
import pytest
from tests.forecast.conftest import DOUGH, STEPS, line, minutes

import oventide.forecast
from oventide.evidence.validity import law_ranges
from oventide.forecast.foresee import foresee, look_ahead
from oventide.forecast.model import Forecast
from oventide.forecast.reading import Reader
from oventide.forecast.validity import INPUTS, LAWS, Ranges, law_of
from oventide.formula.model import Component
from oventide.kitchen.complete import complete
from oventide.kitchen.model import Kitchen
from oventide.services.telling import main_reading, span_words
from oventide.timeline.batch import batch_of
from oventide.timeline.procedure import Product, Step

Make = Callable[..., Product]


def changed(kind: str, **update: object) -> tuple[Step, ...]:
    return tuple(step.model_copy(update=update) if step.kind == kind else step for step in STEPS)


def run(product: Product, kitchen: Kitchen, members: int = 24) -> Forecast:
    return foresee(batch_of(product), kitchen, product="test", members=members, seed=1)


def marked(forecast: Forecast) -> dict[str, set[str]]:
    """Names of the marked readings by kind of step."""
    found: dict[str, set[str]] = {}
    for step in forecast.steps:
        for reading in step.readings:
            if not reading.valid:
                found.setdefault(step.kind, set()).add(reading.name)
    return found


def test_an_ordinary_bake_is_marked_only_where_browning_is_drawn_on(make_product: Make, known_kitchen: Kitchen) -> None:
    """Colour below 140 °C and a glaze on a crust above 95 °C were never measured: those marks are meant."""
    found = marked(run(make_product(), known_kitchen))
    assert set(found) <= {"bake"}
    assert all(
        any(word in name for word in ("colour", "crust surface", "golden", "dark")) for name in found.get("bake", ())
    ), found


def test_a_dough_of_sixty_per_cent_sugar_is_marked_from_its_first_rise_on(
    make_product: Make, known_kitchen: Kitchen
) -> None:
    product = make_product()
    sweet = DOUGH.model_copy(update={"lines": (*DOUGH.lines, line(134, "sugar_granulated"))})
    spread = product.formula.components[1]
    formula = product.formula.model_copy(update={"components": (Component(**dict(sweet)), spread)})
    forecast = run(product.model_copy(update={"formula": formula}), known_kitchen)
    found = marked(forecast)
    assert "rise since mixing" in found["bulk"]
    assert "rise since shaping" in found["proof"]
    assert "core" not in found["proof"]
    assert any("Sugar on flour: 6" in sentence and "0 to 30 %" in sentence for sentence in forecast.assumed)


def test_ten_hours_of_warm_proof_are_marked(make_product: Make, known_kitchen: Kitchen) -> None:
    forecast = run(make_product(changed("proof", minutes=minutes(600), air_c=35, target=None)), known_kitchen)
    assert "rise since shaping" in marked(forecast)["proof"]
    proof = next(step for step in forecast.steps if step.kind == "proof")
    assert any("Hours above 20 °C" in sentence for sentence in proof.assumed)


def test_an_oven_at_three_hundred_is_marked(make_product: Make, known_kitchen: Kitchen) -> None:
    forecast = run(make_product(changed("bake", air_c=300)), known_kitchen)
    assert {"core", "loss so far"} <= marked(forecast)["bake"]
    because = next(r.because for s in forecast.steps if s.kind == "bake" for r in s.readings if r.name == "core")
    assert "Oven air: 300 °C, beyond the 100 to 280 °C where it was tried" in because


def test_a_night_below_freezing_is_marked_and_its_gas_stays_marked(make_product: Make, known_kitchen: Kitchen) -> None:
    forecast = run(make_product(changed("retard", air_c=-5)), known_kitchen)
    found = marked(forecast)
    assert {"core", "rise since mixing", "butter that is solid"} <= found["retard"]
    assert "rise since shaping" in found["proof"], "yeast that froze is not as before"
    assert "core" not in found["proof"], "heat forgets"
    proof = next(step for step in forecast.steps if step.kind == "proof")
    assert any(sentence.startswith("Since the step") for sentence in proof.assumed)


def test_a_marked_reading_is_shown_with_its_mark(make_product: Make, known_kitchen: Kitchen) -> None:
    forecast = run(make_product(changed("bake", air_c=300)), known_kitchen)
    bake = next(step for step in forecast.steps if step.kind == "bake")
    first = main_reading(bake)
    assert first is not None
    assert span_words(first).endswith("beyond the tested range")


def test_some_kitchens_outside_are_said_without_a_mark(make_product: Make) -> None:
    """A retard set to about 0 °C: in a part of the kitchens the dough comes below it."""
    forecast = run(make_product(changed("retard", air_c=1.0)), complete({}), members=64)
    retard = next(step for step in forecast.steps if step.kind == "retard")
    core = next(reading for reading in retard.readings if reading.name == "core")
    assert core.valid
    assert "of 100 kitchens" in core.because


def test_every_law_of_every_reading_has_its_range(make_product: Make, known_kitchen: Kitchen, monkeypatch) -> None:
    """Whatever a reading says of its law must be in the table of laws."""
    said: set[str] = set()
    plain = Reader.read

    def listening(self: Reader, name: str, unit: str, values: np.ndarray, law: str, *rest: object, **more: object):
        said.add(law)
        return plain(self, name, unit, values, law, *rest, **more)

    monkeypatch.setattr(Reader, "read", listening)
    for place in (known_kitchen, complete({"room": 33, "tap_water": 28})):
        run(make_product(), place)
    assert len(said) >= 8
    assert [law for law in said if not law_of(law)] == []


def test_every_law_that_the_forecast_states_is_in_the_table() -> None:
    stated = {
        f"{module.name}.{name}": sentence
        for module in pkgutil.iter_modules(oventide.forecast.__path__)
        for name, sentence in vars(importlib.import_module(f"oventide.forecast.{module.name}")).items()
        if name.endswith("_LAW")
    }
    assert len(stated) >= 10
    assert [name for name, sentence in stated.items() if sentence not in LAWS] == []


def test_every_law_and_every_input_of_the_data_is_known(make_product: Make, known_kitchen: Kitchen) -> None:
    laws = law_ranges()
    assert set(LAWS.values()) == set(laws)
    assert {entry.input for law in laws.values() for entry in law.ranges} == set(INPUTS)


def test_every_input_can_be_seen_in_some_step(make_product: Make, known_kitchen: Kitchen) -> None:
    """An input that no step offers would never mark anything."""
    from oventide.forecast.validity import Scene

    batch = batch_of(make_product())
    ahead = look_ahead(batch, known_kitchen, product="t", members=4)
    unseen = []
    for name, (_, look) in INPUTS.items():
        values = [look(Scene(step, batch, known_kitchen, ahead.trace.ensemble)) for step in ahead.trace.steps]
        if all(value is None for value in values):
            unseen.append(name)
    assert unseen == ["kept temperature", "sugar in glaze"], "the product is not kept, and has no glaze"
    assert Ranges(batch, known_kitchen, ahead.trace.ensemble).of_step(ahead.trace.steps[0])("unknown").valid


@pytest.mark.parametrize("key", sorted(law_ranges()))
def test_a_law_says_what_it_is(key: str) -> None:
    assert law_ranges()[key].what
