"""What a bake is, folded from its entries."""

from datetime import UTC, datetime, timedelta

from hypothesis import given
from hypothesis import strategies as st

from oventide.bench.fold import fold, ready_moment, undone_of
from oventide.bench.model import Bake, Entry, Taken

START = datetime(2026, 3, 5, 4, 0, tzinfo=UTC)


def at(minutes: float) -> datetime:
    return START + timedelta(minutes=minutes)


def test_a_bake_begins_with_its_first_step(bake: Bake) -> None:
    now = fold(bake, ())
    assert (now.now_step, now.number, now.finished_at) == (0, 0, None)
    assert now.began(0) == START
    assert now.began(1) is None


def test_done_ends_a_step_and_begins_the_next(bake: Bake, took) -> None:
    now = fold(bake, [took("done", 12, step=0), took("done", 70, step=1)])
    assert now.now_step == 2
    assert [(step.began, step.ended) for step in now.steps[:3]] == [
        (START, at(12)),
        (at(12), at(70)),
        (at(70), None),
    ]


def test_a_second_done_changes_nothing(bake: Bake, took) -> None:
    now = fold(bake, [took("done", 12, step=0), took("done", 40, step=0)])
    assert (now.now_step, now.steps[0].ended) == (1, at(12))
    assert len(now.counted) == 2


def test_a_step_passed_over_in_silence_has_no_moments_of_its_own(bake: Bake, took) -> None:
    now = fold(bake, [took("done", 12, step=0), took("done", 90, step=2)])
    assert now.now_step == 3
    assert (now.steps[1].began, now.steps[1].ended) == (at(12), None)
    assert (now.steps[2].began, now.steps[2].ended) == (None, at(90))


def test_a_step_noted_late_is_not_over_after_the_next(bake: Bake, took) -> None:
    now = fold(bake, [took("done", 70, step=1), took("done", 75, step=0)])
    assert (now.steps[0].ended, now.steps[1].ended) == (at(70), at(70))


def test_undo_takes_back_and_undoing_that_brings_back(bake: Bake, took) -> None:
    done = took("done", 12, step=0)
    undo = took("undo", 13, of=done.entry.uid)
    assert fold(bake, [done, undo]).now_step == 0
    redo = took("undo", 14, of=undo.entry.uid)
    now = fold(bake, [done, undo, redo])
    assert (now.now_step, now.undone) == (1, {undo.entry.uid})
    again = took("undo", 15, of=redo.entry.uid)
    assert fold(bake, [done, undo, redo, again]).now_step == 0


def test_after_an_undo_the_second_done_of_a_step_counts(bake: Bake, took) -> None:
    first, second = took("done", 12, step=0), took("done", 16, step=0)
    now = fold(bake, [first, second, took("undo", 17, of=first.entry.uid)])
    assert (now.now_step, now.steps[0].ended) == (1, at(16))


def test_two_that_undo_each_other_have_no_effect() -> None:
    first = Entry(uid="aaaaaaaa", deed="undo", of="bbbbbbbb", at=START)
    second = Entry(uid="bbbbbbbb", deed="undo", of="aaaaaaaa", at=START)
    third = Entry(uid="cccccccc", deed="undo", of="dddddddd", at=START)
    done = Entry(uid="dddddddd", deed="done", step=0, at=START)
    assert undone_of([first, second, third, done]) == {"aaaaaaaa", "bbbbbbbb", "dddddddd"}


def test_the_last_weighing_of_a_line_counts(bake: Bake, took) -> None:
    now = fold(bake, [took("weighed", 1, line="1.0", value=260), took("weighed", 2, line="1.0", value=270)])
    assert now.weighed["1.0"].bowl_g == 270


def test_an_entry_from_the_future_counts_as_of_when_it_was_taken(bake: Bake, took) -> None:
    assert fold(bake, [took("done", 30, late=-18, step=0)]).steps[0].ended == at(12)


def test_a_clock_that_lost_the_day_counts_as_of_when_it_was_taken(bake: Bake, took) -> None:
    lost = took("done", -60 * 24 * 400, step=0)
    taken = lost.model_copy(update={"taken_at": at(15)})
    assert fold(bake, [taken]).steps[0].ended == at(15)


def test_a_clock_that_is_slow_does_not_end_a_step_before_the_bake(bake: Bake, took) -> None:
    assert fold(bake, [took("done", -5, late=9, step=0)]).steps[0].ended == START


def test_finish_ends_the_bake_and_undo_takes_it_back(bake: Bake, took) -> None:
    finish = took("finish", 500)
    assert fold(bake, [finish]).finished_at == at(500)
    assert fold(bake, [finish]).now_step is None
    assert fold(bake, [finish, took("undo", 501, of=finish.entry.uid)]).now_step == 0


def test_after_the_last_step_nothing_is_left(bake: Bake, took) -> None:
    last = len(bake.product.procedure.steps) - 1
    now = fold(bake, [took("done", 900, step=last)])
    assert (now.now_step, now.finished_at) == (None, None)


def test_an_alarm_is_heard_as_of_when_that_came_in(bake: Bake, took) -> None:
    slow = took("heard", 57, late=4, of="poppy-coils-0305.1.look")
    assert fold(bake, [slow]).heard == {"poppy-coils-0305.1.look": at(61)}


def test_ready_by_moves_and_is_told_in_the_bakes_own_zone(bake: Bake, took) -> None:
    assert fold(bake, [took("ready_by", 10, value=15 * 60 + 30)]).ready_at == START.replace(hour=15, minute=30)
    assert ready_moment(60, START) == START.replace(day=6, hour=1)


DEEDS = st.one_of(
    st.fixed_dictionaries({"deed": st.just("done"), "step": st.integers(0, 8)}),
    st.fixed_dictionaries({"deed": st.just("weighed"), "line": st.sampled_from(["1.0", "1.1", "1.2"])}),
    st.fixed_dictionaries({"deed": st.just("mark"), "step": st.integers(0, 8), "mark": st.just("not yet")}),
    st.fixed_dictionaries({"deed": st.just("undo"), "back": st.integers(1, 6)}),
    st.just({"deed": "finish"}),
)


def entries_of(deeds: list[dict[str, object]]) -> list[Entry]:
    made: list[Entry] = []
    for number, deed in enumerate(deeds):
        fields = {name: value for name, value in deed.items() if name != "back"}
        if deed["deed"] == "undo":
            if not made:
                continue
            fields["of"] = made[-min(int(str(deed["back"])), len(made))].uid
        made.append(Entry.model_validate({"uid": f"uid-{number:05d}", "at": at(number), **fields}))
    return made


@given(st.lists(DEEDS, max_size=14), st.randoms(use_true_random=False), st.integers(0, 3))
def test_the_order_of_arrival_and_sending_twice_change_nothing(bake: Bake, deeds, dice, repeats: int) -> None:
    entries = entries_of(deeds)
    late = at(60 * 10)
    straight = [Taken(number=n, taken_at=late, entry=entry) for n, entry in enumerate(entries, start=1)]
    sent = entries * (1 + repeats)
    dice.shuffle(sent)
    shuffled = [Taken(number=n, taken_at=late, entry=entry) for n, entry in enumerate(sent, start=1)]
    one, other = fold(bake, straight), fold(bake, shuffled)
    assert (one.steps, one.now_step, one.undone, one.weighed, one.marks, one.finished_at) == (
        other.steps, other.now_step, other.undone, other.weighed, other.marks, other.finished_at
    )  # fmt: skip
    assert [each.entry for each in one.counted] == [each.entry for each in other.counted]


@given(st.integers(1, 12))
def test_undoing_an_odd_number_of_times_takes_back(count: int) -> None:
    chain = [Entry(uid="uid-00000", deed="done", step=0, at=START)]
    for number in range(1, count + 1):
        chain.append(Entry(uid=f"uid-{number:05d}", deed="undo", of=chain[-1].uid, at=at(number)))
    assert ("uid-00000" in undone_of(chain)) == (count % 2 == 1)
