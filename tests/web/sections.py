"""Answers of the bake alone, of the right shape with invented figures: for the pages' own tests."""

from oventide.bake.colour import colour_word
from oventide.makeup.model import Place, Tin
from oventide.services.tin_section import AtPlace, InKitchen, Stay, TinSection
from oventide.services.travelling import Beside
from oventide.services.uncovering import Uncovering
from oventide.travel.model import Figure

TIN = Tin(shape="rectangle", length_mm=300, width_mm=200, depth_mm=50)
SPOTS = [(x, y) for y in (40, 100, 160) for x in (40, 113, 187, 260)]
CORNERS = {(40, 40), (260, 40), (40, 160), (260, 160)}
MIDDLE = {(113, 100), (187, 100)}
STANDING = tuple(
    Place(x_mm=x, y_mm=y, radius_mm=28,
          position="corner" if (x, y) in CORNERS else "centre" if (x, y) in MIDDLE else "edge")
    for x, y in SPOTS
)  # fmt: skip


def invented(by_place: bool = True, slower: float = 0.0) -> TinSection:
    """A section of invented figures: a core that rises in a straight line, edge and corner 6 and 10 °C ahead."""
    minutes = tuple(float(m) for m in range(41))

    def kitchen(which: str, ahead: float) -> InKitchen:
        core = tuple(min(25 + 2.2 * m + ahead, 99.0) for m in minutes)
        cells = tuple((c + 20, c, c, c + 30) for c in core)
        tops = tuple((8.0 + 0.05 * m, 20.0 + 0.1 * m, 32.0 + 0.15 * m, 40.0 + 0.15 * m) for m in minutes)
        water = tuple((38 - m / 2, 38.0, 38.0, max(38.0 - m, 2.0)) for m in minutes)
        places = tuple(
            AtPlace(position=name, temperature_c=tuple(tuple(v + by for v in row) for row in cells[:31]),
                    core_c=tuple(v + by for v in core[:31]))
            for name, by in (("edge", 6.0), ("corner", 10.0))
        )  # fmt: skip
        colour = tuple(min(m, 36.0) for m in minutes)
        return InKitchen(
            which=which, height_mm=tuple(row[-1] for row in tops), top_mm=tops, temperature_c=cells,
            water_percent=water, set_percent=tuple((0.0, m, m, 100.0) for m in minutes), core_c=core,
            surface_c=tuple(c + 30 for c in core),
            base_c=core, wall_c=core, colour_top=colour, colour_base=colour,
            colour_words=tuple(colour_word(c) for c in colour), loss_percent=tuple(m / 10 for m in minutes),
            places=places if by_place else (),
        )  # fmt: skip

    return TinSection(
        product="Invented", kitchen="Invented", minutes=minutes,
        stays=(Stay(name="Bake covered", begins_min=0, ends_min=20, covered=True, air_c=170),
               Stay(name="Bake open", begins_min=20, ends_min=30, covered=False, air_c=170),
               Stay(name="Cool", begins_min=30, ends_min=40, covered=False, air_c=None)),
        kitchens=(kitchen("low", -8 - slower), kitchen("likely", 0 - slower), kitchen("high", 8 - slower)),
        tin=TIN, standing=STANDING, piece_radius_mm=38, done_c=80.0, boiling_c=100.0, members=200, seed=1,
    )  # fmt: skip


def invented_uncovering(covered_min: float) -> Uncovering:
    """The cover off at another moment: a core 2 °C hotter for 5 min sooner, in every kitchen."""
    by = (20 - covered_min) * 0.4
    rows = []
    for name, unit, low, likely, high in (("core at the end of the bake", "°C", 88.0, 92.0, 96.0),
                                          ("colour on top", "ΔE", 12.0, 16.0, 24.0)):  # fmt: skip
        before = Figure(name=name, unit=unit, low=low, likely=likely, high=high)
        after = Figure(name=name, unit=unit, low=low + by, likely=likely + by, high=high + by)
        change = Figure(name=name, unit="K" if unit == "°C" else unit, low=by - 1, likely=by, high=by + 1)
        rows.append(Beside(name=name, before=before, after=after, change=change))
    return Uncovering(
        covered_min=covered_min, written_min=20, whole_min=30, least_min=1, most_min=29, until="as long",
        rows=tuple(rows), colour_word="light golden", written_colour_word="straw", kitchens=100, seed=1,
    )  # fmt: skip
