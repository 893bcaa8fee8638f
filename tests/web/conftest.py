"""The workbench over a journal in memory, with a made-up forecast where a test is not about forecasts."""

import threading
import time
import warnings
from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from typing import Any

import pytest
from fastapi import FastAPI
from tests.web.sections import invented as invented_section
from tests.web.sections import invented_uncovering

from oventide.forecast.model import Forecast, Reading, StepForecast, Tide, Window
from oventide.kitchen.model import Kitchen
from oventide.services import foreseeing, reading, tin_section, uncovering
from oventide.services.shelf import DEMO
from oventide.timeline.procedure import Product
from oventide.web.app import create_app
from oventide.web.serve import Server

with warnings.catch_warnings():
    warnings.simplefilter("ignore")  # Starlette announces a successor of httpx; the tests keep httpx until it is out
    from fastapi.testclient import TestClient

NOW = datetime(2026, 3, 5, 21, 10, tzinfo=UTC)
KEY = "lantern-quay-poppy-coils"
RECIPE = """Quayside seed knots

Dough
400 g bread flour
210 ml whole milk, lukewarm
2 tsp instant yeast
1 egg
50 g soft butter
35 g sugar
8 g salt

Filling
3 tbsp sesame seeds
60 g honey
a snowdrift of stardust

Method
Mix for 8 minutes. Cover and leave to rise for 1 hour at room temperature.
Roll out to 30 x 40 cm, spread with the filling, roll up and cut into 9.
Set in a 20 cm square tin, cover and prove for 50 minutes.
Bake at 180C fan for 25 minutes.
"""


def made_up(
    product: Product, kitchen: Kitchen, ready_by: str | None = None, seed: int = 1, members: int = 256, **_: object
) -> Forecast:
    """A forecast of the right shape with invented figures: for the pages' own tests, never shown to a baker."""
    steps, minute = [], 0.0
    begin = None if ready_by is None else (int(ready_by[:2]) * 60 + int(ready_by[3:]) - 600) % 1440
    for index, step in enumerate(product.procedure.steps):
        length = step.minutes.likely if step.minutes else 10.0
        end = minute + length
        clock = "" if begin is None else f"{int(begin + minute) // 60 % 24:02d}:{int(begin + minute) % 60:02d}"
        steps.append(
            StepForecast(
                index=index,
                kind=step.kind,
                name=step.name,
                start=Window(earliest_min=minute, likely_min=minute, latest_min=minute + 5),
                end=Window(earliest_min=max(end - 8, minute), likely_min=end, latest_min=end + 12),
                start_clock=clock,
                where=step.where,
                covered=step.covered,
                readings=(
                    Reading(name="core", unit="°C", p5=20, p50=22, p95=24, because="Invented.", sources=("choi-okos",)),
                    Reading(name="loss <b>", unit="%", p5=2, p50=3, p95=4, because="Invented.", valid=False),
                ),
                action="in the room",
                cautions=("Hot tin: dry gloves.",) if step.kind == "bake" else (),
            )
        )
        minute = end
    at = tuple(minute * k / 20 for k in range(21))
    heat = tuple(20.0 + 4 * k for k in range(21))
    rise = tuple(1 + k / 20 for k in range(21))
    soft = tuple(40.0 + k for k in range(21))
    tides = tuple(
        Tide(name=name, unit=unit, minutes=at, p5=tuple(v * 0.9 for v in row), p50=row, p95=tuple(v * 1.1 for v in row))
        for name, unit, row in (("temperature", "°C", heat), ("rise", "×", rise), ("softness", "%", soft))
    )
    return Forecast(
        product=product.name,
        kitchen=kitchen.name,
        members=members,
        seed=seed,
        steps=tuple(steps),
        tides=tides,
        assumed=("Invented for a test.",),
        sources=("choi-okos",),
    )


@pytest.fixture
def invented(monkeypatch: pytest.MonkeyPatch) -> None:
    """No kernel runs: the forecast is made up, and the section through the tin."""
    monkeypatch.setattr(foreseeing, "foresee", made_up)
    monkeypatch.setattr(tin_section, "tin_section", lambda *_, **__: invented_section())
    monkeypatch.setattr(uncovering, "uncovered", lambda _p, _k, minutes, *_, **__: invented_uncovering(minutes))


@pytest.fixture(scope="session")
def demo() -> tuple[Product, Kitchen]:
    """The demo formula and kitchen, read once."""
    recipe, kitchen = DEMO / "lantern-quay-poppy-coils.toml", DEMO / "lantern-quay-kitchen.toml"
    return (
        reading.read_file(recipe.read_text(encoding="utf-8"), recipe.name),
        foreseeing.read_kitchen(kitchen.read_text(encoding="utf-8"), kitchen.name),
    )


@pytest.fixture
def client(invented: None, demo: tuple[Product, Kitchen]) -> Iterator[TestClient]:
    """A browser's stand-in at the demo shelf."""
    app = create_app("sqlite://", clock=lambda: NOW)
    app.state.shelf.save_product(demo[0], note="demo")
    app.state.shelf.save_kitchen(demo[1], note="demo")
    with TestClient(app, base_url="http://127.0.0.1:8711", follow_redirects=False) as opened:
        yield opened


@pytest.fixture
def key() -> str:
    return KEY


@pytest.fixture
def recipe() -> str:
    return RECIPE


@pytest.fixture
def make_forecast() -> Callable[..., Forecast]:
    return made_up


class Served:
    """A real server beside the test. It stops quickly, open streams included, where uvicorn alone would wait."""

    def __init__(self, app: FastAPI, **sockets: Any) -> None:
        self._server = Server(app, 0, **sockets)
        self._thread = threading.Thread(target=self._server.run, daemon=True)

    def __enter__(self) -> "Served":
        self._thread.start()
        deadline = time.monotonic() + 20
        while not self._server.started:
            assert self._thread.is_alive(), "the server did not start"
            assert time.monotonic() < deadline, "the server did not start in time"
            time.sleep(0.01)
        self.port = self._server.servers[0].sockets[0].getsockname()[1]
        self.address = f"http://127.0.0.1:{self.port}"
        return self

    def stop(self, within_s: float = 10) -> bool:
        """Tell it to stop; whether it did in time."""
        self._server.should_exit = True
        self._thread.join(within_s)
        return not self._thread.is_alive()

    def __exit__(self, *_: object) -> None:
        assert self.stop(), "the server did not stop"


@pytest.fixture
def serve_app() -> type[Served]:
    """`with serve_app(app) as server:` serves on `server.address`."""
    return Served
