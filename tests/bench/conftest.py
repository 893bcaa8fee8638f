"""A bake of the demo formula to note entries for."""

from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from oventide.bench.model import Bake, Entry, Taken
from oventide.intake import kitchen_toml, product_toml

START = datetime(2026, 3, 5, 4, 0, tzinfo=UTC)
DEMO = Path(__file__).parents[2] / "src" / "oventide" / "services" / "demo"


@pytest.fixture(scope="session")
def bake() -> Bake:
    return Bake(
        key="poppy-coils-0305",
        name="Poppy coils",
        sign=0,
        product_key="lantern-quay-poppy-coils",
        product_revision=1,
        product=product_toml.read((DEMO / "lantern-quay-poppy-coils.toml").read_text("utf-8")),
        kitchen_key="lantern-quay-bakehouse",
        kitchen=kitchen_toml.read((DEMO / "lantern-quay-kitchen.toml").read_text("utf-8")),
        started_at=START,
    )


Took = Callable[..., Taken]


@pytest.fixture
def took() -> Took:
    """An entry as taken: minutes after the start, and its fields; numbers count up, uids are made."""
    count = 0

    def make(deed: str, minutes: float, late: float = 0.0, **fields: object) -> Taken:
        nonlocal count
        count += 1
        at = START + timedelta(minutes=minutes)
        uid = str(fields.pop("uid", f"entry-{count:04d}"))
        entry = Entry.model_validate({"uid": uid, "deed": deed, "at": at, **fields})
        return Taken(number=count, taken_at=at + timedelta(minutes=late), entry=entry)

    return make
