"""A window that was missed: the ways out, what each costs, the plan once one was taken; and ready at another time."""

from datetime import datetime, timedelta

import pytest

from oventide.bench.fold import fold
from oventide.bench.model import Bake, Choice, Entry, Taken
from oventide.bench.outlook import Outlook
from oventide.services.demo_bake import demo_kitchen, demo_product
from oventide.services.live import Live
from oventide.services.live_plan import plan_of
from oventide.services.live_ways import way_of

START = datetime.fromisoformat("2026-03-05T17:00:00+01:00")
USUAL = (11, 71, 671, 679, 685, 688, 703, 707, 710, 790, 810)


def minutes(after: float) -> datetime:
    return START + timedelta(minutes=after)


@pytest.fixture(scope="module")
def bake() -> Bake:
    return Bake(
        key="coils", name="Poppy coils", sign=0, product_key="coils", product_revision=1, product=demo_product(),
        kitchen_key="quay", kitchen=demo_kitchen(), started_at=START, ready_at=minutes(14.5 * 60), members=24,
    )  # fmt: skip


@pytest.fixture(scope="module")
def live() -> Live:
    return Live(clock=lambda: START)


def entry(number: int, deed: str, at_min: float, **fields: object) -> Taken:
    at = minutes(at_min)
    made = Entry.model_validate({"uid": f"entry-{number:04d}", "deed": deed, "at": at, **fields})
    return Taken(number=number, taken_at=at, entry=made)


def done(count: int) -> list[Taken]:
    return [entry(step + 1, "done", USUAL[step], step=step) for step in range(count)]


def settled(live: Live, bake: Bake, taken: list[Taken], at_min: float) -> Outlook:
    told: list[Outlook] = []
    live.outlook(bake, taken, minutes(at_min), lambda _, found: told.append(found))
    assert live.settle(120)
    found = live.outlook(bake, taken, minutes(at_min))
    assert found is not None
    if told:
        assert told[-1].choices == found.choices
    return found


def by_way(choices: tuple[Choice, ...]) -> dict[str, Choice]:
    found = {}
    for choice in choices:
        way = way_of(choice.id)
        assert way is not None
        assert choice.costs
        assert choice.because
        found[way[0]] = choice
    return found


def test_in_time_there_is_nothing_to_choose(live: Live, bake: Bake) -> None:
    assert settled(live, bake, done(9), 730).choices == ()
    assert settled(live, bake, done(2), 600).choices == ()


def test_a_sheet_too_soft_goes_into_the_fridge_and_everything_is_so_much_later(live: Live, bake: Bake) -> None:
    taken = [*done(3), entry(40, "mark", 676, step=3, mark="too soft")]
    found = settled(live, bake, taken, 677)
    ways = by_way(found.choices)
    assert set(ways) == {"sooner", "cold"}
    stay = way_of(ways["cold"].id)
    assert stay is not None
    assert 5 <= stay[1] <= 60
    after = settled(live, bake, [*taken, entry(41, "rescue", 678, step=3, of=ways["cold"].id)], 679)
    assert after.choices == ()
    assert after.steps[3].ends.likely >= minutes(678 + stay[1])
    assert after.steps[3].begins.likely == found.steps[3].begins.likely
    assert after.ready is not None
    assert found.ready is not None
    assert after.ready.likely > found.ready.likely


def test_a_proof_past_its_height_has_three_ways(live: Live, bake: Bake) -> None:
    taken = [*done(9), entry(40, "reading", 800, step=9, quantity="rise since shaping", value=2.2)]
    found = settled(live, bake, taken, 801)
    ways = by_way(found.choices)
    assert set(ways) == {"bake", "reshape", "cold"}
    again = way_of(ways["reshape"].id)
    assert again is not None
    reshaped = settled(live, bake, [*taken, entry(41, "rescue", 802, step=9, of=ways["reshape"].id)], 803)
    assert reshaped.steps[9].ends.likely >= minutes(802 + 0.5 * again[1])
    at_once = settled(live, bake, [*taken, entry(41, "rescue", 802, step=9, of=ways["bake"].id)], 803)
    assert at_once.steps[10].begins.likely <= minutes(804)
    bought = settled(live, bake, [*taken, entry(41, "rescue", 802, step=9, of=ways["cold"].id)], 803)
    assert bought.steps[10].begins.likely >= minutes(802 + 30)
    # the step is over when it is over, whatever way was taken: its pieces fill what it took
    over = [*taken, entry(41, "rescue", 802, step=9, of=ways["cold"].id), entry(42, "done", 825, step=9)]
    plan = plan_of(bake, fold(bake, over))
    assert plan.past_s[plan.pieces_of(9)[-1]] == 825 * 60.0
    assert settled(live, bake, over, 826).steps[9].ends.likely == minutes(825)


def test_a_night_slept_through_goes_on_or_goes_on_longer(live: Live, bake: Bake) -> None:
    found = settled(live, bake, done(2), 745)
    assert list(by_way(found.choices)) == ["sooner", "wait"]
    assert "Likely ready" in found.choices[0].costs


def test_short_inside_is_baked_on_and_a_colder_probe_asks_for_more(live: Live, bake: Bake) -> None:
    def more(core_c: float) -> float:
        taken = [*done(11), entry(40, "reading", 832, step=11, quantity="core", value=core_c)]
        found = settled(live, bake, taken, 833)
        way = way_of(by_way(found.choices)["cover"].id)
        assert way is not None
        return way[1]

    assert more(70) > more(78) > more(86) >= 1


def test_a_cover_left_on_too_long_comes_off(live: Live, bake: Bake) -> None:
    found = settled(live, bake, done(10), 825)
    assert [(choice.id, choice.name) for choice in found.choices] == [("sooner", "Take the cover off now")]


def test_a_crust_grown_cold_asks_for_a_thinner_glaze(live: Live, bake: Bake) -> None:
    product = bake.product
    stiff = tuple(
        part.model_copy(update={"lines": part.lines[:1] + tuple(
            line.model_copy(update={"grams": line.grams.model_copy(update={"low": 9.0, "likely": 9.0, "high": 9.0})})
            if line.grams is not None else line for line in part.lines[1:]
        )}) if part.kind == "glaze" else part
        for part in product.formula.components
    )  # fmt: skip
    dry = bake.model_copy(
        update={
            "key": "dry",
            "product": product.model_copy(update={"formula": product.formula.model_copy(update={"components": stiff})}),
        }
    )
    taken = [*done(11), entry(40, "done", 820, step=11)]
    found = settled(live, dry, taken, 840)
    ways = by_way(found.choices)
    assert "thin" in ways
    assert " g of water" in ways["thin"].costs


def test_ready_later_stretches_the_night_and_what_it_cannot_give_is_said(live: Live, bake: Bake) -> None:
    plain = settled(live, bake, done(2), 100)
    half_an_hour = [*done(2), entry(40, "ready_by", 100, value=8 * 60.0)]
    later = settled(live, bake, half_an_hour, 101)
    assert plain.ready is not None
    assert later.ready is not None
    assert later.steps[2].ends.likely - plain.steps[2].ends.likely == timedelta(minutes=30)
    assert abs((later.ready.likely - plain.ready.likely) - timedelta(minutes=30)) < timedelta(minutes=6)
    assert not any("more than the waits" in said for said in later.said)
    much = settled(live, bake, [*done(2), entry(40, "ready_by", 100, value=11 * 60.0)], 101)
    assert any("later is more than the waits can give" in said for said in much.said)
    sooner = settled(live, bake, [*done(9), entry(40, "ready_by", 715, value=5.5 * 60.0)], 716)
    assert any("sooner is more than the waits can give" in said for said in sooner.said)


def test_two_countdowns_on_the_bench(live: Live, bake: Bake) -> None:
    night = settled(live, bake, done(2), 660)
    rolls, spreads = night.countdowns
    assert (rolls.name, spreads.name) == ("dough rolls", "butter spreads")
    assert spreads.opens is not None
    assert spreads.opens.earliest > night.steps[3].begins.likely
    assert any("put out of the fridge" in said for said in night.said)
    rolled = settled(live, bake, done(5), 686)
    assert [each.name for each in rolled.countdowns] == ["dough rolls"]
    assert settled(live, bake, done(9), 720).countdowns == ()
