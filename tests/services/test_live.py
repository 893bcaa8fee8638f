"""The forecast that follows a bake under way: real moments stand, readings narrow, the same entries say the same."""

from collections.abc import Callable
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
from oventide.services.live_plan import plan_of, real_ends_s

START = datetime(2026, 3, 5, 17, 0, tzinfo=UTC)
MEMBERS = 40
Entries = Callable[..., list[Taken]]
USUAL = (11, 71, 671, 679, 685, 688, 703, 707, 710)
"""Minutes at which the first nine steps are over when all goes as it is written."""


def minutes(after: float) -> datetime:
    return START + timedelta(minutes=after)


@pytest.fixture(scope="module")
def bake() -> Bake:
    return Bake(
        key="coils", name="Poppy coils", sign=0, product_key="coils", product_revision=1, product=demo_product(),
        kitchen_key="quay", kitchen=demo_kitchen(), started_at=START, ready_at=minutes(14.5 * 60), members=MEMBERS,
    )  # fmt: skip


def entry(number: int, deed: str, at_min: float, **fields: object) -> Taken:
    at = minutes(at_min)
    made = Entry.model_validate({"uid": f"entry-{number:04d}", "deed": deed, "at": at, **fields})
    return Taken(number=number, taken_at=at, entry=made)


def done_until(ends: tuple[float, ...]) -> list[Taken]:
    return [entry(step + 1, "done", at, step=step) for step, at in enumerate(ends)]


@pytest.fixture(scope="module")
def live(bake: Bake) -> Live:
    made = Live(clock=lambda: START)
    assert made.outlook(bake, [], START) is None
    assert made.settle(120)
    return made


def settled(live: Live, bake: Bake, taken: list[Taken], at_min: float) -> Outlook:
    live.outlook(bake, taken, minutes(at_min))
    assert live.settle(120)
    found = live.outlook(bake, taken, minutes(at_min))
    assert found is not None
    assert found.foreseen == "fresh"
    return found


def in_order(found: Outlook) -> bool:
    moments = [each for step in found.steps for each in (step.begins, step.ends)]
    return all(
        one.earliest <= other.earliest and one.likely <= other.likely for one, other in pairwise(moments)
    ) and all(each.earliest <= each.likely <= each.latest for each in moments)


def test_before_anything_was_done_every_step_has_a_window_in_order(live: Live, bake: Bake) -> None:
    found = settled(live, bake, [], 0)
    assert len(found.steps) == len(bake.product.procedure.steps)
    assert found.steps[0].begins.likely == START
    assert in_order(found)
    assert found.ready is not None
    assert found.ready.earliest < found.ready.likely < found.ready.latest
    assert all(len(level.at) <= 60 for level in found.levels)
    assert {level.name for level in found.levels} == {"temperature", "surface", "rise", "softness"}


@settings(max_examples=30, deadline=None)
@given(lengths=st.lists(st.floats(0.0, 700.0), max_size=15), late=st.floats(0.0, 300.0))
def test_past_steps_have_their_real_moments_and_the_order_is_kept(
    live: Live, bake: Bake, lengths: list[float], late: float
) -> None:
    ends, at = [], 0.0
    for length in lengths:
        at += length
        ends.append(at)
    taken = done_until(tuple(ends[: len(bake.product.procedure.steps)]))
    kept = live._runs[bake.key]
    progress = fold(bake, taken)
    plan = plan_with(bake, progress, kept.plan)
    found = outlook_of(look_at(bake, progress, plan, kept.run, minutes(at + late)))
    assert in_order(found)
    for index, end in enumerate(ends[: len(found.steps)]):
        window = found.steps[index].ends
        assert window.earliest == window.likely == window.latest
        # to the second, and a second further on for every step that took none
        assert abs((window.likely - minutes(end)).total_seconds()) <= 1.0 + index


def test_the_step_now_began_when_the_entry_says_and_the_rest_moves_with_it(live: Live, bake: Bake) -> None:
    usual = settled(live, bake, done_until(USUAL), USUAL[-1])
    later = (*USUAL[:3], *(end + 40 for end in USUAL[3:]))
    shifted = live.outlook(bake, done_until(later), minutes(later[-1]))
    assert shifted is not None
    assert shifted.foreseen == "under way"
    assert shifted.steps[9].begins.likely == minutes(later[-1])
    assert usual.ready is not None
    assert shifted.ready is not None
    assert shifted.ready.likely - usual.ready.likely == timedelta(minutes=40)
    fresh = settled(live, bake, done_until(later), later[-1])
    assert fresh.ready is not None
    # a sheet that lay 40 minutes longer is another dough: the run for it says so, the shift alone can't
    assert fresh.ready != shifted.ready
    assert fresh.steps[3].figures != shifted.steps[3].figures


def test_a_reading_narrows_without_a_run(live: Live, bake: Bake) -> None:
    taken = done_until(USUAL)
    before = settled(live, bake, taken, 760)
    risen = [*taken, entry(40, "reading", 755, step=9, quantity="rise since shaping", value=1.3)]
    after = live.outlook(bake, risen, minutes(760))
    assert after is not None
    assert after.foreseen == "fresh"
    width = [each.steps[9].ends.latest - each.steps[9].ends.earliest for each in (before, after)]
    assert width[1] < 0.9 * width[0]
    assert any("kitchens agree" in said for said in after.said)
    undone = [*risen, entry(41, "undo", 756, of="entry-0040")]
    back = live.outlook(bake, undone, minutes(760))
    assert back is not None
    assert back.model_copy(update={"number": before.number}) == before


def test_not_yet_moves_the_window_back_and_at_the_mark_brings_it_here(live: Live, bake: Bake) -> None:
    taken = done_until(USUAL)
    plain = settled(live, bake, taken, 790)
    waiting = live.outlook(bake, [*taken, entry(40, "mark", 790, step=9, mark="not yet")], minutes(790))
    there = live.outlook(bake, [*taken, entry(40, "mark", 790, step=9, mark="at the mark")], minutes(790))
    assert waiting is not None
    assert there is not None
    assert waiting.steps[9].ends.likely > plain.steps[9].ends.likely
    assert abs(there.steps[9].ends.likely - minutes(790)) < abs(plain.steps[9].ends.likely - minutes(790))


def test_a_jar_is_read_by_its_ratio(live: Live, bake: Bake) -> None:
    taken = done_until(USUAL)
    settled(live, bake, taken, 760)
    heights = [entry(40, "reading", 711, step=9, quantity="jar height", value=40)]
    first = live.outlook(bake, taken + heights, minutes(760))
    second = live.outlook(
        bake, [*taken, *heights, entry(41, "reading", 755, step=9, quantity="jar height", value=60)], minutes(760)
    )
    plain = live.outlook(bake, taken, minutes(760))
    assert first is not None
    assert second is not None
    assert plain is not None
    assert first.steps == plain.steps
    assert second.steps[9].ends.latest < plain.steps[9].ends.latest


def test_a_reading_far_off_is_said(live: Live, bake: Bake) -> None:
    taken = [*done_until(USUAL[:1]), entry(40, "reading", 10, step=0, quantity="dough temperature", value=44)]
    live.outlook(bake, taken, minutes(12))
    assert live.settle(120)
    found = live.outlook(bake, taken, minutes(12))
    assert found is not None
    assert any("outside what was foreseen" in said for said in found.said)


def test_a_restart_says_the_same_and_the_way_there_does_not_matter(live: Live, bake: Bake) -> None:
    taken = done_until(USUAL)
    taken.append(entry(40, "reading", 740, step=9, quantity="rise since shaping", value=1.3))
    for count in range(6, len(taken) + 1):
        settled(live, bake, taken[:count], 745)
    one = settled(live, bake, taken, 745)
    told: list[Outlook] = []
    again = Live(clock=lambda: minutes(745))
    assert again.outlook(bake, taken, minutes(745), lambda _, found: told.append(found)) is None
    assert again.settle(120)
    assert again.outlook(bake, taken, minutes(745)) == one
    assert told == [one]
    assert Outlook.model_validate_json(one.model_dump_json()) == one


def test_a_step_passed_over_without_a_word_takes_its_share(bake: Bake) -> None:
    progress = fold(bake, [entry(1, "done", 11, step=0), entry(2, "done", 671, step=2)])
    ends = real_ends_s(bake, progress)
    assert ends == (660.0, 660.0 + 60 * 60, 671 * 60.0)
    plan = plan_of(bake, progress)
    assert plan.past_s == ends
    assert [step.minutes.likely for step in plan.steps[:3] if step.minutes] == [11, 60, 600]
