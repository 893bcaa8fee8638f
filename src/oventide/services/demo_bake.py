"""The demo files, to write out and to try commands with; and the kernels made ready by foreseeing the demo."""

from collections.abc import Callable
from importlib.resources import files

from oventide.kitchen.model import Kitchen
from oventide.services.foreseeing import foresee, read_kitchen
from oventide.services.reading import read_file
from oventide.timeline.procedure import Product

FORMULA = "lantern-quay-poppy-coils.toml"
KITCHEN = "lantern-quay-kitchen.toml"
PASTED = "lantern-quay-poppy-coils.txt"


def _content(name: str) -> bytes:
    return files("oventide.services").joinpath("demo", name).read_bytes()


def demo_files() -> dict[str, bytes]:
    """The demo files by name."""
    return {name: _content(name) for name in (FORMULA, KITCHEN, PASTED)}


def demo_product() -> Product:
    """The demo formula with its make-up and steps."""
    return read_file(_content(FORMULA).decode("utf-8"), FORMULA)


def demo_kitchen() -> Kitchen:
    """The demo kitchen."""
    return read_kitchen(_content(KITCHEN).decode("utf-8"), KITCHEN)


def warm(progress: Callable[[float], None] | None = None) -> None:
    """Compile every kernel that a forecast calls, by foreseeing the demo with few members."""
    foresee(demo_product(), demo_kitchen(), "09:30", members=8, progress=progress)
