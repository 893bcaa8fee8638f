"""The demo's batch and kitchen, which every benchmark runs."""

from importlib.resources import files
from typing import Any

from oventide.services import foreseeing, reading
from oventide.timeline.batch import batch_of
from oventide.timeline.surroundings import Clock

CLOCK = Clock(None)


def demo() -> tuple[Any, Any]:
    """Batch and kitchen."""
    folder = files("oventide.services").joinpath("demo")
    product = reading.read_file(folder.joinpath("lantern-quay-poppy-coils.txt").read_text("utf-8"), "demo")
    kitchen = foreseeing.read_kitchen(folder.joinpath("lantern-quay-kitchen.toml").read_text("utf-8"), "demo")
    return batch_of(product), kitchen
