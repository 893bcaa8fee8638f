"""Steps on the clock: written minutes, an outlook, and an outlook that is older than the last entry."""

from datetime import UTC, datetime, timedelta

from oventide.bench.alarms import alarms_of
from oventide.bench.fold import fold
from oventide.bench.laid import Laid, lay, moment
from oventide.bench.model import Bake, Instants
from oventide.bench.outlook import Outlook, StepOutlook
from oventide.timeline.procedure import Procedure, Span, Step
from oventide.words.speaker import Speaker

START = datetime(2026, 3, 5, 4, 0, tzinfo=UTC)


def at(minutes: float) -> datetime:
    return START + timedelta(minutes=minutes)


def minutes(moment: datetime) -> float:
    return (moment - START).total_seconds() / 60


def likely(laid: Laid) -> list[tuple[float, float]]:
    return [(minutes(step.begins.likely), minutes(step.ends.likely)) for step in laid.steps]


def outlook(bake: Bake, length: float, number: int = 0) -> Outlook:
    """Every step takes `length` minutes, five more or less."""
    steps = []
    for index in range(len(bake.product.procedure.steps)):
        begins, ends = index * length, (index + 1) * length
        steps.append(
            StepOutlook(
                index=index,
                begins=moment(at(begins)),
                ends=Instants(earliest=at(ends - 5), likely=at(ends), latest=at(ends + 5)),
            )
        )
    return Outlook(number=number, made_at=START, steps=tuple(steps), foreseen="fresh")


def test_the_written_minutes_follow_each_other(bake: Bake) -> None:
    laid = lay(bake, fold(bake, ()), None, START)
    assert likely(laid)[:3] == [(0, 11), (11, 71), (71, 671)]
    fridge = laid.steps[2].ends
    assert (minutes(fridge.earliest), minutes(fridge.latest)) == (611, 731)
    assert laid.ready == laid.steps[-1].ends
    assert laid.steps[0].target == "dough 24 °C (22–26)"


def test_what_is_over_has_its_own_moments(bake: Bake, took) -> None:
    laid = lay(bake, fold(bake, [took("done", 14, step=0)]), None, at(20))
    assert laid.steps[0].ends == moment(at(14))
    assert likely(laid)[1] == (14, 74)


def test_a_step_that_nobody_noted_was_over_some_time_between(bake: Bake, took) -> None:
    laid = lay(bake, fold(bake, [took("done", 14, step=0), took("done", 674, step=2)]), None, at(675))
    ends = laid.steps[1].ends
    assert (minutes(ends.earliest), minutes(ends.likely), minutes(ends.latest)) == (14, 344, 674)


def test_the_next_step_does_not_begin_before_now(bake: Bake) -> None:
    laid = lay(bake, fold(bake, ()), None, at(30))
    assert likely(laid)[:3] == [(0, 11), (30, 90), (90, 690)]


def test_an_outlook_counts_before_the_written_minutes(bake: Bake) -> None:
    assert likely(lay(bake, fold(bake, ()), outlook(bake, 20), START))[:3] == [(0, 20), (20, 40), (40, 60)]


def test_an_older_outlook_is_moved_to_where_the_bake_is(bake: Bake, took) -> None:
    now = fold(bake, [took("done", 26, step=0)])
    laid = lay(bake, now, outlook(bake, 20), at(27))
    assert likely(laid)[:3] == [(0, 26), (26, 46), (46, 66)]
    assert minutes(laid.steps[1].ends.latest) == 51


def test_an_outlook_of_other_steps_is_not_used(bake: Bake) -> None:
    other = outlook(bake, 20).model_copy(update={"steps": outlook(bake, 20).steps[:4]})
    assert likely(lay(bake, fold(bake, ()), other, START))[0] == (0, 11)


def names(bake: Bake) -> list[str]:
    return [step.name or step.kind for step in bake.product.procedure.steps]


def called(bake: Bake, taken: list[object], now: datetime = START) -> dict[str, tuple[float, bool]]:
    progress = fold(bake, taken)  # type: ignore[arg-type]
    alarms = alarms_of(bake, progress, lay(bake, progress, None, now), names(bake), Speaker())
    assert [alarm.at for alarm in alarms] == sorted(alarm.at for alarm in alarms)
    return {alarm.id.removeprefix(f"{bake.key}."): (minutes(alarm.at), alarm.heard) for alarm in alarms}


def test_steps_that_are_waited_for_call_and_handwork_does_not(bake: Bake) -> None:
    alarms = called(bake, [])
    assert alarms["0.likely"] == (11, False)
    assert alarms["1.likely"] == (71, False)
    assert {name: alarms[name][0] for name in ("2.look", "2.likely", "2.latest")} == {
        "2.look": 611, "2.likely": 671, "2.latest": 731,
    }  # fmt: skip
    steps = bake.product.procedure.steps
    handwork = {index for index, step in enumerate(steps) if step.kind in ("sheet", "spread", "roll", "cut", "tin")}
    assert not handwork & {int(name.split(".")[0]) for name in alarms}


def test_the_cover_comes_off_between_two_bakes_and_the_oven_is_heated_before(bake: Bake) -> None:
    steps = bake.product.procedure.steps
    covered = next(index for index, step in enumerate(steps) if step.kind == "bake")
    alarms = called(bake, [])
    assert f"{covered}.uncover" in alarms
    assert f"{covered}.likely" not in alarms
    assert f"{covered + 1}.uncover" not in alarms
    begins = lay(bake, fold(bake, ()), None, START).steps[covered].begins.earliest
    assert alarms[f"{covered}.begin"][0] == minutes(begins) - 30


def test_alarms_end_with_their_step_and_with_the_bake(bake: Bake, took) -> None:
    first = took("done", 12, step=0)
    assert "0.likely" not in called(bake, [first])
    assert called(bake, [took("finish", 20)]) == {}


def test_an_alarm_that_was_heard_calls_again_when_it_moves_to_later(bake: Bake, took) -> None:
    heard = took("heard", 71, of=f"{bake.key}.1.likely")
    assert called(bake, [heard])["1.likely"] == (71, True)
    moved = [heard, took("done", 40, step=0)]
    assert called(bake, moved, at(72))["1.likely"] == (100, False)


def test_words_name_the_step_and_the_next(bake: Bake) -> None:
    progress = fold(bake, ())
    alarms = alarms_of(bake, progress, lay(bake, progress, None, START), names(bake), Speaker())
    assert alarms[0].words == "Mix: likely over now. Next: First rise"
    assert (alarms[0].bake, alarms[0].name, alarms[0].step) == (bake.key, "Poppy coils", 0)
    assert any(alarm.words == "Oven on at 170 °C, so that it is hot in time" for alarm in alarms)


def test_being_ready_leaves_keeping_out(bake: Bake) -> None:
    steps = (*bake.product.procedure.steps, Step(kind="keep", minutes=Span(low=0, likely=480, high=1440)))
    kept = bake.model_copy(update={"product": bake.product.model_copy(update={"procedure": Procedure(steps=steps)})})
    assert lay(kept, fold(kept, ()), None, START).ready == lay(bake, fold(bake, ()), None, START).ready
