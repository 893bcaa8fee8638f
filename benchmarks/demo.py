"""The demo's batch and kitchen, which every benchmark runs."""

from importlib.resources import files
from typing import Any

from oventide.services import foreseeing, reading
from oventide.timeline.batch import batch_of
from oventide.timeline.surroundings import Clock

CLOCK = Clock(None)


def services_demo() -> tuple[Any, Any]:
    """Product and kitchen as they are stored."""
    from oventide.services.demo_bake import demo_kitchen, demo_product

    return demo_product(), demo_kitchen()


def demo() -> tuple[Any, Any]:
    """Batch and kitchen."""
    folder = files("oventide.services").joinpath("demo")
    product = reading.read_file(folder.joinpath("lantern-quay-poppy-coils.txt").read_text("utf-8"), "demo")
    kitchen = foreseeing.read_kitchen(folder.joinpath("lantern-quay-kitchen.toml").read_text("utf-8"), "demo")
    return batch_of(product), kitchen
