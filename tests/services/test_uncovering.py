"""Taking the cover off at another moment: what changes, kitchen by kitchen, against a run of the whole timeline."""

import numpy as np
import pytest

from oventide.errors import Refusal
from oventide.services import foreseeing
from oventide.services.at_the_door import Doors
from oventide.services.demo_bake import demo_kitchen, demo_product
from oventide.services.uncovering import Uncovering, uncovered
from oventide.timeline.procedure import Procedure, Product, Span
from oventide.travel.compared import measures

MEMBERS = 40


@pytest.fixture(scope="module")
def doors() -> Doors:
    return Doors()


def at(doors: Doors, minutes: float, until: str = "as long") -> Uncovering:
    return uncovered(
        demo_product(), demo_kitchen(), minutes, "07:30", doors=doors, until=until, members=MEMBERS  # type: ignore[arg-type]
    )  # fmt: skip


def row(found: Uncovering, name: str) -> tuple[float, float, float]:
    change = next(row for row in found.rows if row.name == name).change
    return change.low, change.likely, change.high


def test_where_it_is_written_nothing_changes(doors: Doors) -> None:
    found = at(doors, 20)
    assert all(row.change.low == row.change.high == 0.0 for row in found.rows)
    assert (found.written_min, found.whole_min, found.least_min, found.most_min) == (20, 30, 1, 29)
    assert found.colour_word == found.written_colour_word


def test_off_sooner_is_darker_and_lighter_in_weight(doors: Doors) -> None:
    sooner, later = at(doors, 14), at(doors, 26)
    for name in ("colour on top", "bake loss", "core at the end of the bake"):
        assert row(sooner, name)[1] > 0.0 > row(later, name)[1]
    assert row(sooner, "minutes in the oven until done inside")[1] < 0.0
    # the same kitchens on both sides: the change is known better than the figure
    colour = next(row for row in sooner.rows if row.name == "colour on top")
    assert colour.change.high - colour.change.low < 0.7 * (colour.after.high - colour.after.low)


def test_until_done_ends_when_it_is_done(doors: Doors) -> None:
    found = at(doors, 12, "done")
    assert found.whole_min == pytest.approx(
        next(row for row in found.rows if row.name.startswith("minutes in the oven")).after.likely
    )
    assert found.whole_min < at(doors, 26, "done").whole_min


def test_the_bake_alone_says_what_the_whole_timeline_says(doors: Doors) -> None:
    product, kitchen = demo_product(), demo_kitchen()
    steps = [
        step.model_copy(update={"minutes": Span(low=m, likely=m, high=m)}) if m else step
        for step, m in zip(product.procedure.steps, (0,) * 10 + (14, 16) + (0,) * 9, strict=False)
    ]
    moved: Product = product.model_copy(update={"procedure": Procedure(steps=tuple(steps))})
    ahead, _ = foreseeing.look_ahead(moved, kitchen, "07:30", members=MEMBERS)
    whole = measures(ahead.trace, kitchen)
    found = at(doors, 14)
    for name in ("core at the end of the bake", "colour on top", "bake loss"):
        after = next(row for row in found.rows if row.name == name).after
        assert after.likely == pytest.approx(float(np.quantile(whole[name].values, 0.5)), abs=1e-6), name


def test_a_moment_outside_the_bake_is_refused(doors: Doors) -> None:
    with pytest.raises(Refusal, match="1 to 29 minutes"):
        at(doors, 31)
    product = demo_product()
    alone = product.model_copy(
        update={"procedure": Procedure(steps=tuple(s for s in product.procedure.steps if not s.covered))}
    )
    with pytest.raises(Refusal, match="no covered bake"):
        uncovered(alone, demo_kitchen(), 10, doors=doors)
