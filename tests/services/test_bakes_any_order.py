"""Whatever a bench sends, in whatever order: every face can still be shown, and the clock runs forward."""

from datetime import UTC, datetime, timedelta

from hypothesis import given, settings
from hypothesis import strategies as st

from oventide.bench.fold import fold
from oventide.bench.model import Bake, BenchView, Entry, Instants, Taken
from oventide.bench.outlook import Outlook, StepOutlook
from oventide.kitchen.complete import complete
from oventide.services import reading
from oventide.services.bench_edge import entries_from, sorted_out
from oventide.services.bench_view import bench_view
from oventide.services.record import record_of
from oventide.services.shelf import DEMO
from oventide.words.speaker import Speaker

START = datetime(2026, 3, 5, 4, 0, tzinfo=UTC)
SPEAKER = Speaker()
PATH = DEMO / "lantern-quay-poppy-coils.toml"
BAKE = Bake(
    key="coils-1", name="Coils", sign=0, product_key="coils", product_revision=1,
    product=reading.read_file(PATH.read_text("utf-8"), PATH.name), kitchen_key="quay",
    kitchen=complete({"name": "Quay"}), started_at=START,
)  # fmt: skip

MOMENTS = st.one_of(
    st.integers(-90, 1500).map(lambda minutes: (START + timedelta(minutes=minutes)).isoformat()),
    st.sampled_from(
        ["0001-01-01T00:00:00Z", "9999-12-31T23:59:59+14:00", "1970-01-01T00:00:00-12:00", "soon", 5, None]
    ),
)
UIDS = st.integers(0, 15).map(lambda number: f"entry-{number:03d}")
DEEDS = ["done", "mark", "reading", "weighed", "undo", "heard", "rescue", "ready_by", "note", "finish", "dance"]
SENT = st.fixed_dictionaries(
    {"uid": UIDS, "deed": st.sampled_from(DEEDS), "at": MOMENTS},
    optional={
        "step": st.integers(-1, 16),
        "mark": st.sampled_from(["at the mark", "too soft", "not yet", "blue"]),
        "quantity": st.sampled_from(
            ["core", "surface", "dough temperature", "rise since mixing", "jar height", "mood"]
        ),
        "value": st.one_of(st.floats(-60, 1500), st.sampled_from([float("inf"), float("nan"), "warm", 1e9])),
        "line": st.sampled_from(["0.0", "1.0", "1.1", "1.2", "1.5", "3.1", "9.9", "salt"]),
        "of": st.one_of(UIDS, st.sampled_from(["coils-1.0.likely", "coils-1.2.look", "coils-1.x.look", "a.b.c", ""])),
        "text": st.text(max_size=12),
        "score": st.integers(-1, 7),
        "extra": st.just(1),
    },
)


LENGTHS = st.lists(
    st.tuples(st.integers(0, 40), st.integers(0, 600), st.integers(0, 90)), min_size=len(BAKE.product.procedure.steps),
    max_size=len(BAKE.product.procedure.steps),
)  # fmt: skip


def outlook_of(lengths: list[tuple[int, int, int]], number: int) -> Outlook:
    """Steps one after the other: how much earlier and later than likely each may end, and how long it likely is."""
    steps, likely, early, late = [], START, timedelta(), timedelta()
    for index, (sooner, length, later) in enumerate(lengths):
        begins = Instants(earliest=likely - early, likely=likely, latest=likely + late)
        likely += timedelta(minutes=length)
        early += timedelta(minutes=min(sooner, length))
        late += timedelta(minutes=later)
        ends = Instants(earliest=likely - early, likely=likely, latest=likely + late)
        steps.append(StepOutlook(index=index, begins=begins, ends=ends))
    return Outlook(number=number, made_at=START, steps=tuple(steps), foreseen="fresh")


def in_order(window: Instants) -> bool:
    return window.earliest <= window.likely <= window.latest


def check(view: BenchView) -> None:
    assert [step.index for step in view.steps] == list(range(len(view.steps)))
    assert all(in_order(step.begins) and in_order(step.ends) for step in view.steps)
    for step in view.steps:
        assert step.begins.likely <= step.ends.likely
    for one, following in zip(view.steps, view.steps[1:], strict=False):
        assert one.ends.likely <= following.begins.likely
    states = "".join({"done": "d", "now": "n", "ahead": "a"}[step.state] for step in view.steps)
    if view.now_step is None:
        assert "n" not in states
    else:
        assert not view.finished
        assert states == "d" * view.now_step + "n" + "a" * (len(states) - view.now_step - 1)
    assert len({alarm.id for alarm in view.alarms}) == len(view.alarms)
    assert sum(each.undoable for each in view.noted) <= 1
    assert not any(each.undoable and each.undone for each in view.noted)
    assert BenchView.model_validate_json(view.model_dump_json()) == view


@settings(max_examples=150, deadline=None)
@given(st.lists(SENT, max_size=14), st.integers(-30, 1600), st.none() | LENGTHS, st.integers(0, 3))
def test_whatever_is_sent_can_be_shown(
    sent: list[dict[str, object]], later: int, lengths: list[tuple[int, int, int]] | None, number: int
) -> None:
    now = START + timedelta(minutes=max(later, 0))
    read = entries_from({"entries": sent})
    kept = sorted_out(BAKE, read.entries, frozenset())
    assert {uid for uid, _ in (*read.refused, *kept.refused)} | {entry.uid for entry in kept.entries} == {
        str(each["uid"]) for each in sent
    }
    taken = tuple(
        Taken(number=number, taken_at=now, entry=Entry.model_validate_json(entry.model_dump_json()))
        for number, entry in enumerate(kept.entries, start=1)
    )
    progress = fold(BAKE, taken)
    outlook = None if lengths is None else outlook_of(lengths, number)
    check(bench_view(BAKE, taken, progress, outlook, now, SPEAKER))
    record = record_of(BAKE, taken, progress, outlook, SPEAKER)
    assert all(step.minutes is None or step.minutes >= 0 for step in record.steps)
