"""The same timeline, whoever carries the members: at once, in parts, on a cluster's workers, or from a mark on."""

import dataclasses
from importlib.resources import files

import numpy as np
import pytest

from oventide.forecast.foresee import ensemble_for
from oventide.kitchen.complete import complete
from oventide.lanes.number import LANES
from oventide.services import reading
from oventide.timeline import spread_out
from oventide.timeline.batch import Batch, batch_of
from oventide.timeline.resume import resume
from oventide.timeline.run import Mark, run_timeline
from oventide.timeline.spread_out import ClusterHands, Hands, cut, joined
from oventide.timeline.surroundings import Clock
from oventide.timeline.trace import Trace

MEMBERS = 2 * LANES


@pytest.fixture(scope="module")
def batch() -> Batch:
    demo = files("oventide.services").joinpath("demo", "lantern-quay-poppy-coils.txt")
    return batch_of(reading.read_file(demo.read_text("utf-8"), "demo"))


def run(batch: Batch, hands: Hands | None = None, marks: dict[int, Mark] | None = None) -> Trace:
    kitchen = complete({})
    return run_timeline(batch, kitchen, ensemble_for(kitchen, MEMBERS, 3), Clock(6.0), hands=hands, marks=marks)


@pytest.fixture(scope="module")
def marks() -> dict[int, Mark]:
    return {}


@pytest.fixture(scope="module")
def at_once(batch: Batch, marks: dict[int, Mark]) -> Trace:
    return run(batch, marks=marks)


def assert_same(one: Trace, other: Trace) -> None:
    """To the last bit."""
    assert len(one.steps) == len(other.steps)
    for step, twin in zip(one.steps, other.steps, strict=True):
        assert np.array_equal(step.duration_s, twin.duration_s)
        for name in step.names:
            assert np.array_equal(step.curve(name), twin.curve(name)), (step.step.kind, name)


def test_in_parts(batch: Batch, at_once: Trace) -> None:
    assert_same(at_once, run(batch, Hands(LANES)))


def test_on_a_cluster_of_two_workers(batch: Batch, at_once: Trace) -> None:
    distributed = pytest.importorskip("distributed", reason="the extra `cluster` is not installed")
    with (
        distributed.LocalCluster(n_workers=2, threads_per_worker=1, dashboard_address=None) as cluster,
        distributed.Client(cluster) as client,
    ):
        assert len(client.scheduler_info()["workers"]) == 2
        assert_same(at_once, run(batch, ClusterHands(LANES, client)))


def test_the_rest_from_a_mark(batch: Batch, at_once: Trace, marks: dict[int, Mark]) -> None:
    """From the proof on, and from the oven's door on: what is run again is what was run."""
    for kind in ("proof", "bake"):
        index = next(i for i, step in enumerate(batch.procedure.steps) if step.kind == kind)
        rest = resume(marks[index], Clock(6.0))
        assert_same(dataclasses.replace(at_once, steps=at_once.steps[index:]), rest)


def test_some_members_from_a_mark(batch: Batch, at_once: Trace, marks: dict[int, Mark]) -> None:
    index = next(i for i, step in enumerate(batch.procedure.steps) if step.kind == "cool")
    picked = np.arange(LANES, 2 * LANES)
    rest = resume(marks[index], Clock(6.0), members=picked, begun_s=3600.0)
    assert rest.ensemble.members == LANES
    assert rest.steps[0].start_s == pytest.approx(3600.0)
    for name in rest.steps[0].names:
        whole = at_once.steps[index].curve(name)[picked]
        assert rest.steps[0].curve(name)[:, 0] == pytest.approx(whole[:, 0], abs=1e-9)


def test_many_members_lie_in_a_file_in_single_precision(
    batch: Batch, at_once: Trace, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(spread_out, "MEMBERS_AT_ONCE", LANES)
    for step, twin in zip(at_once.steps, run(batch, Hands(LANES)).steps, strict=True):
        assert twin.duration_s == pytest.approx(step.duration_s, rel=1e-6)
        if step.kernel in ("hold", "oven"):
            assert twin.samples.dtype == np.float32
            for name in step.names:
                assert twin.curve(name) == pytest.approx(step.curve(name), rel=1e-5, abs=1e-4), name


def test_parts_are_cut_and_joined() -> None:
    rows = {"a": np.arange(8.0), "b": None}
    halves = [cut(rows, part, 8) for part in (slice(0, 4), slice(4, 8))]
    assert np.array_equal(joined([half["a"] for half in halves]), rows["a"])
    with pytest.raises(ValueError, match="does not lead"):
        cut(np.zeros(3), slice(0, 2), 8)
    with pytest.raises(ValueError, match="multiple"):
        Hands(LANES + 1)
