"""What follows a bake under way and what keeps up with a handle that is moved: one answer, quiet and beside a run."""

import threading
import time
from collections.abc import Callable
from datetime import UTC, datetime, timedelta

from benchmarks.demo import services_demo

from oventide.bench.model import Bake, Entry, Taken
from oventide.services.at_the_door import Doors
from oventide.services.comparing import Comparisons
from oventide.services.live import Live
from oventide.services.tin_section import tin_section
from oventide.services.uncovering import uncovered
from oventide.timeline.procedure import Product

START = datetime(2026, 3, 5, 17, 0, tzinfo=UTC)
DONE = (11, 71, 671, 679, 685, 688, 703, 707, 710)
TIMES = 9


def _bake() -> Bake:
    product, kitchen = services_demo()
    return Bake(
        key="coils", name="Poppy coils", sign=0, product_key="coils", product_revision=1, product=product,
        kitchen_key="quay", kitchen=kitchen, started_at=START, ready_at=START + timedelta(hours=14.5), members=200,
    )  # fmt: skip


def _entry(number: int, deed: str, at_min: float, **fields: object) -> Taken:
    at = START + timedelta(minutes=at_min)
    made = Entry.model_validate({"uid": f"entry-{number:04d}", "deed": deed, "at": at, **fields})
    return Taken(number=number, taken_at=at, entry=made)


def lines() -> list[tuple[str, float, str, float | None, bool, str]]:
    """A reading re-weighs 200 kitchens; a run beside it; the section, the cover and two bakes beside each other."""
    bake, live = _bake(), Live(clock=lambda: START)
    taken = [_entry(step + 1, "done", at, step=step) for step, at in enumerate(DONE)]
    live.outlook(bake, taken, START)
    live.settle()
    readings = [
        _entry(40 + i, "reading", 720 + 5 * i, step=9, quantity="rise since shaping", value=1.05 + 0.05 * i)
        for i in range(8)
    ]

    def seconds(count: int) -> float:
        begin = time.perf_counter()
        live.outlook(bake, [*taken, *readings[:count]], START + timedelta(minutes=760))
        return time.perf_counter() - begin

    seconds(1)
    quiet = min(seconds(1 + i % 8) for i in range(TIMES))
    whole = _run_again(live, bake)
    beside = _beside(live, bake, taken, seconds)
    product, kitchen = bake.product, bake.kitchen
    doors = Doors()
    doors.of(product, kitchen, "07:30")
    section = _least(lambda: tin_section(product, kitchen, "07:30", doors=doors))
    cover = _least(lambda: uncovered(product, kitchen, 17.0, "07:30", doors=doors))
    begin = time.perf_counter()
    Comparisons().of((product, kitchen), (_longer(product), kitchen))
    compared = time.perf_counter() - begin
    return [
        (
            "a reading at the bench, 200 members",
            1e3 * quiet,
            "ms",
            120.0,
            False,
            "windows, levels, figures, countdowns",
        ),
        ("the same, slowest of many while a run goes on beside it", 1e3 * beside, "ms", 300.0, False, ""),
        ("the whole timeline run again over a reading", whole / quiet, "×", 5.0, True, "what a reading saves"),
        ("a section through the tin, minute by minute", 1e3 * section, "ms", 300.0, False, "low, likely, high"),
        ("the cover off at another moment, 100 members", 1e3 * cover, "ms", 400.0, False, ""),
        ("two bakes beside each other, 200 members", compared, "s", 3.0, False, "both run"),
    ]


def _run_again(live: Live, bake: Bake) -> float:
    """Seconds of a run from the first step on, as the bake under way makes it."""
    begin = time.perf_counter()
    live.outlook(bake.model_copy(update={"key": "again", "seed": 2}), [], START)
    live.settle()
    return time.perf_counter() - begin


def _beside(live: Live, bake: Bake, taken: list[Taken], seconds: Callable[[int], float]) -> float:
    """The slowest of the answers to readings while another bake's first run is made."""
    other = bake.model_copy(update={"key": "other", "seed": 3})
    live.outlook(other, taken, START)
    slowest, ended = 0.0, threading.Event()
    threading.Thread(target=lambda: (live.settle(), ended.set())).start()
    count = 0
    while not ended.is_set():
        slowest = max(slowest, seconds(1 + count % 8))
        count += 1
        time.sleep(0.02)
    return slowest


def _least(work: Callable[[], object]) -> float:
    work()
    found = float("inf")
    for _ in range(TIMES):
        begin = time.perf_counter()
        work()
        found = min(found, time.perf_counter() - begin)
    return found


def _longer(product: Product) -> Product:
    steps = tuple(
        step.model_copy(update={"minutes": step.minutes.model_copy(update={"likely": 620.0})})
        if step.kind == "retard" and step.minutes is not None
        else step
        for step in product.procedure.steps
    )
    return product.model_copy(update={"procedure": product.procedure.model_copy(update={"steps": steps})})


if __name__ == "__main__":
    for line in lines():
        print(*line)
