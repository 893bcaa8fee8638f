"""Whatever is noted, in whatever order: there is a plan, its order is kept, and an outlook can be read and stored."""

from datetime import UTC, datetime, timedelta
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from oventide.bench.fold import fold
from oventide.bench.model import Bake, Entry, Taken
from oventide.bench.outlook import Outlook
from oventide.services.demo_bake import demo_kitchen, demo_product
from oventide.services.live import Live
from oventide.services.live_outlook import look_at, outlook_of, plan_with
from oventide.services.live_plan import plan_of

START = datetime(2026, 3, 5, 17, 0, tzinfo=UTC)
WAYS = ("bake", "cold/20", "cold/0", "cold/99999", "reshape/40", "cover/9", "sooner", "wait/60", "thin", "nonsense/5")
ANY = st.lists(
    st.fixed_dictionaries(
        {
            "deed": st.sampled_from(("done", "mark", "reading", "undo", "rescue", "ready_by", "note", "finish")),
            "minute": st.floats(-60.0, 4000.0),
            "step": st.integers(0, 14),
            "mark": st.sampled_from(("at the mark", "too soft", "not yet")),
            "quantity": st.sampled_from(
                ("dough temperature", "core", "surface", "rise since mixing", "rise since shaping", "jar height")
            ),
            "value": st.floats(-100.0, 1440.0),
            "of": st.sampled_from((*WAYS, "entry-0000", "entry-0001")),
        }
    ),
    max_size=14,
)


@pytest.fixture(scope="module")
def bake() -> Bake:
    return Bake(
        key="coils", name="Poppy coils", sign=0, product_key="coils", product_revision=1, product=demo_product(),
        kitchen_key="quay", kitchen=demo_kitchen(), started_at=START, ready_at=START + timedelta(hours=14), members=16,
    )  # fmt: skip


@pytest.fixture(scope="module")
def live(bake: Bake) -> Live:
    made = Live(clock=lambda: START)
    made.outlook(bake, [], START)
    assert made.settle(120)
    return made


def entries(noted: list[dict[str, object]]) -> list[Taken]:
    found = []
    for number, one in enumerate(noted):
        at = START + timedelta(minutes=float(str(one["minute"])))
        deed = one["deed"]
        fields: dict[str, object] = {"uid": f"entry-{number:04d}", "deed": deed, "at": at}
        wanted = {
            "done": ("step",), "mark": ("step", "mark"), "reading": ("step", "quantity", "value"), "undo": ("of",),
            "rescue": ("step", "of"), "ready_by": ("value",),
        }.get(str(deed), ())  # fmt: skip
        fields |= {name: one[name] for name in wanted}
        found.append(Taken(number=number + 1, taken_at=at, entry=Entry.model_validate(fields)))
    return found


@settings(max_examples=60, deadline=None)
@given(noted=ANY, now=st.floats(0.0, 5000.0))
def test_any_entries_have_a_plan_and_an_outlook(
    live: Live, bake: Bake, noted: list[dict[str, object]], now: float
) -> None:
    taken = entries(noted)
    progress = fold(bake, taken)
    plan = plan_of(bake, progress)
    assert plan == plan_of(bake, fold(bake, list(reversed(taken))))
    assert [step for step, _ in pairwise(plan.origin)] == sorted(plan.origin[:-1])
    assert set(plan.origin) == set(range(len(bake.product.procedure.steps)))
    assert all(one < other for one, other in pairwise((0.0, *plan.past_s)))
    assert all(step.minutes is not None and step.minutes.likely < 7201 for step in plan.steps)
    kept = live._runs[bake.key]
    moment = START + timedelta(minutes=now)
    found = outlook_of(look_at(bake, progress, plan_with(bake, progress, kept.plan), kept.run, moment))
    assert Outlook.model_validate_json(found.model_dump_json()) == found
    for step in found.steps:
        for window in (step.begins, step.ends):
            assert window.earliest <= window.likely <= window.latest


@pytest.mark.slow
@settings(max_examples=12, deadline=None)
@given(noted=ANY)
def test_any_entries_can_be_run(live: Live, bake: Bake, noted: list[dict[str, object]]) -> None:
    taken = entries(noted)
    moment = START + timedelta(minutes=1200)
    live.outlook(bake, taken, moment)
    assert live.settle(120)
    found = live.outlook(bake, taken, moment)
    assert found is not None
    assert found.foreseen == "fresh"
