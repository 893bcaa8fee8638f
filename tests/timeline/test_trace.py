"""Reading a trace: interpolation and first passage, on a trace made by hand."""

import numpy as np

from oventide.timeline.procedure import Step
from oventide.timeline.trace import StepTrace


def made(curve: list[list[float]], seconds: list[float]) -> StepTrace:
    """A trace of one observable."""
    values = np.array(curve)[:, :, None]
    members = values.shape[0]
    return StepTrace(
        index=0,
        step=Step(kind="proof"),
        kernel="hold",
        names=("rise",),
        start_s=np.zeros(members),
        duration_s=np.full(members, seconds[-1]),
        sample_s=np.array(seconds),
        samples=values,
        facts={},
    )


def test_value_between_samples_is_on_the_line() -> None:
    trace = made([[0.0, 10.0, 40.0]], [0.0, 10.0, 20.0])
    assert trace.at("rise", np.array([5.0])) == 5.0
    assert trace.at("rise", np.array([15.0])) == 25.0
    assert trace.at("rise", np.array([99.0])) == 40.0


def test_first_passage_by_member() -> None:
    trace = made([[0, 1, 2], [5, 6, 7], [0, 0, 0], [0, 2, 0]], [0.0, 10.0, 20.0])
    found = trace.first_passage("rise", 1.5)
    assert found.tolist()[:2] == [15.0, 0.0]
    assert np.isinf(found[2])
    assert found[3] == 7.5


def test_first_passage_falling_with_a_threshold_for_each_member() -> None:
    trace = made([[10, 0], [10, 0]], [0.0, 10.0])
    assert trace.first_passage("rise", np.array([5.0, 2.0]), rising=False).tolist() == [5.0, 8.0]
