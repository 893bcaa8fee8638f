"""The section through the tin: which buns a knife meets, what is said of a minute, and the colour of a crust."""

import math
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.web.sections import STANDING, TIN, invented

from oventide.makeup.model import Place, Tin
from oventide.services import tin_section as service
from oventide.services.tin_section import TinSection
from oventide.web.browned import PALE, crust_colour, lab_of, srgb_of
from oventide.web.figures import Units
from oventide.web.section_cut import cuts_of
from oventide.web.section_drawing import course_svg, section_svg
from oventide.web.section_view import (
    coldest,
    kitchen_of,
    last_words,
    moments_of,
    passes,
    places_at,
    said_of,
    scale_of,
)


@pytest.fixture
def sectioned(monkeypatch: pytest.MonkeyPatch) -> list[dict[str, object]]:
    asked: list[dict[str, object]] = []

    def answer(product: object, kitchen: object, ready_by: str | None = None, **rest: object) -> TinSection:
        asked.append({"product": product, **rest})
        return invented()

    monkeypatch.setattr(service, "tin_section", answer)
    return asked


@given(st.floats(0, 84))
def test_a_drawn_crust_is_as_far_from_pale_dough_as_reckoned(delta_e: float) -> None:
    assert math.dist(lab_of(delta_e), PALE) == pytest.approx(delta_e, abs=1e-6) or delta_e > 60


def test_colours_by_published_values() -> None:
    # sRGB primaries in CIELAB, D65 (Lindbloom's tables of the IEC 61966-2-1 primaries)
    for lab, shown in (((53.24, 80.09, 67.2), "#ff0000"), ((87.73, -86.18, 83.18), "#00ff00"),
                       ((32.3, 79.19, -107.86), "#0000ff"), ((53.59, 0, 0), "#808080")):  # fmt: skip
        found = srgb_of(*lab)
        off = max(abs(int(found[at : at + 2], 16) - int(shown[at : at + 2], 16)) for at in (1, 3, 5))
        assert off <= 1, (lab, found)


def test_a_browner_crust_is_drawn_darker() -> None:
    lightness = [lab_of(e)[0] for e in range(0, 60, 2)]
    assert lightness == sorted(lightness, reverse=True)
    assert crust_colour(0) != crust_colour(30) != crust_colour(50)


def test_the_knife_meets_whole_rows_and_neighbours_share_their_room() -> None:
    middle, by_wall = cuts_of(TIN, STANDING, 38)
    assert [b.position for b in middle.buns] == ["edge", "centre", "centre", "edge"]
    assert [b.position for b in by_wall.buns] == ["corner", "edge", "edge", "corner"]
    for before, after in zip(middle.buns, middle.buns[1:], strict=False):
        assert before.right_mm <= after.left_mm
    assert middle.buns[0].left_mm >= 0
    assert middle.buns[-1].right_mm <= 300
    assert middle.buns[1].right_mm == pytest.approx(150)
    half = middle.half()
    assert (half.width_mm, [b.position for b in half.buns]) == (150, ["edge", "centre"])


def test_a_round_tin_is_cut_by_its_chord_and_a_lone_bun_stands_alone() -> None:
    ring = [Place(x_mm=120 + 75 * math.cos(a), y_mm=120 + 75 * math.sin(a), radius_mm=30, position="edge")
            for a in (k * math.tau / 6 for k in range(6))]  # fmt: skip
    tin = Tin(shape="round", length_mm=240, width_mm=240)
    cuts = cuts_of(tin, [*ring, Place(x_mm=120, y_mm=120, radius_mm=30, position="centre")], 38)
    assert [b.position for b in cuts[0].buns] == ["edge", "centre", "edge"]
    assert cuts[0].width_mm == pytest.approx(240)
    assert cuts[1].width_mm < 240
    assert not cuts_of(None, (), 40)[0].has_walls


def test_last_is_the_centre_bun_with_its_range() -> None:
    words = last_words(invented(), Units())
    # 25 + 2.2 m = 80 at 25 min; 8 °C more or less move it by 8/2.2 = 3.6 min; the corner is 10/2.2 = 4.5 min ahead
    assert words.startswith("Last is the centre bun: it passes 80\u202f°C inside after 21 to 29\u202fmin, likely 25.")
    assert "The corner bun is there 5\u202fmin before." in words
    assert "does not come to 80" in last_words(invented(slower=70), Units())
    assert last_words(invented(by_place=False), Units()).startswith("All buns bake alike here")
    assert passes((0.0, 1.0), (20.0, 30.0), 80.0) is None


def test_the_coldest_core_is_the_coldest_of_all_buns() -> None:
    section = invented()
    likely = kitchen_of(section, "likely")
    assert coldest(likely) == likely.core_c
    assert kitchen_of(section, "nonsense").which == "likely"
    rows = places_at(section, likely, 24, Units())
    assert [(row.name, row.done) for row in rows] == [("centre", "not yet"), ("edge", "passed"), ("corner", "passed")]
    assert places_at(section, likely, 35, Units())[1].core == "not reckoned out of the oven"


def test_five_moments_with_the_cover_among_them() -> None:
    section = invented()
    assert [(name, section.minutes[k]) for name, k in moments_of(section)] == [
        ("half of the covered bake", 10), ("the cover comes off", 20), ("half of the open bake", 25),
        ("out of the oven", 30), ("10\u202fmin later", 40),
    ]  # fmt: skip


@pytest.mark.parametrize("view", ["temperature", "water", "set"])
def test_each_bun_is_drawn_in_its_bands_to_scale(view: str) -> None:
    section = invented()
    cut = cuts_of(TIN, STANDING, 38)[0]
    svg = str(section_svg(section, section.kitchens[1], 25, cut, view, Units(), 1000, "t"))
    assert svg.count('class="sx-outline"') == 4
    assert svg.count('class="sx-crust"') == 8
    assert "nan" not in svg.lower()
    scale = scale_of(section, view)
    assert len(scale.names(Units())) == len(scale.edges) + 1
    # to scale: the tin's inside is 300 mm of 306 mm in 992 units
    left, right = (float(v) for v in re.search(r'sx-tin" d="M([\d.]+) [^H]*H([\d.]+)', svg).groups())  # type: ignore[union-attr]
    assert right - left == pytest.approx(303 * 992 / 306, abs=0.3)


def test_the_band_of_the_cover_and_the_mast_of_the_minute() -> None:
    svg = str(course_svg(invented(), 20, Units(), 1000))
    assert "covered" in svg
    assert "tc-mast" in svg
    other = str(course_svg(invented(), 30, Units(), 1000))
    assert svg != other


def test_the_page_shows_the_minute_asked_for(client, key: str, sectioned) -> None:
    page = client.get(f"/formulas/{key}/section?minute=20&kitchen=usual").text
    assert said_of(invented(), invented().kitchens[1], 20, Units()) in page
    assert page.count('class="section"') == 2 + 5
    part = client.get(f"/formulas/{key}/section?minute=21&kitchen=usual&only=picture").text
    assert "<html" not in part
    assert "21\u202fmin" in part
    assert len(sectioned) == 1, "a minute runs nothing"
    client.cookies.set("oventide_degree", "f")
    assert "°F" in client.get(f"/formulas/{key}/section?minute=20&kitchen=usual").text


def test_the_moment_that_is_tried_is_what_is_cut_open(client, key: str, sectioned) -> None:
    client.get(f"/formulas/{key}/section?uncover=14")
    bakes = [s for s in sectioned[0]["product"].procedure.steps if s.kind == "bake"]  # type: ignore[attr-defined]
    assert [s.minutes.likely for s in bakes] == [14, 16]
    refused = client.get(f"/formulas/{key}/section?uncover=99")
    assert refused.status_code == 422
    assert "of this bake" in refused.text
    assert client.get(f"/formulas/{key}/section?minute=x").status_code == 422
