"""Tin to tin, and pieces in a tin beside the best known packings of circles."""

from oventide.evidence.parameters import load
from oventide.makeup.free import free_placing
from oventide.makeup.layout import choose, regular_candidates
from oventide.makeup.model import Tin, TinShape
from oventide.makeup.room_in_tin import room
from oventide.makeup.swap import factor_by_area, factor_by_volume
from oventide.makeup.tins import area_mm2, equivalent_square_mm, volume_mm3
from validation.model import Check

INCH = 25.4
COMMON = (5, 7, 8, 9, 12)
ALL = tuple(range(2, 21))
PRINTED_SQUARES = ((15.0, 13.0), (20.0, 18.0), (23.0, 20.0), (28.0, 25.5), (30.0, 28.0))


def _tin(shape: TinShape, length: float, width: float | None = None, depth: float = 50.0) -> Tin:
    return Tin(shape=shape, length_mm=length, width_mm=length if width is None else width, depth_mm=depth)


def _record(shape: TinShape, pieces: int) -> float:
    """Diameter of the best known packing in a tin of side or diameter 1, three digits as the tables deserve."""
    size = load("makeup").value(f"best.{shape}.n{pieces:02d}")
    return round(2 / size if shape == "square" else 1 / size, 4)


def _ours(shape: TinShape, pieces: int) -> float:
    one = _tin(shape, 1000.0)
    regular = [points for _, _, points in regular_candidates(pieces, one)]
    start = max(regular, key=lambda points: room(points, one))
    return 2 * max(room(start, one), room(free_placing(pieces, one, begin=start), one)) / 1000


def _proposed(shape: TinShape, pieces: int) -> float:
    return 2 * choose(pieces, _tin(shape, 1000.0)).room_mm / 1000


def _packing(shape: TinShape, pieces: tuple[int, ...], best: bool, slow: bool) -> Check:
    source = "circles-in-square" if shape == "square" else "circles-in-circle"
    words = "the best placing we find" if best else "the placing that we propose, which a hand can set"
    return Check(
        id=f"tins.{'best' if best else 'proposed'}-{shape}-{'all' if slow else 'common'}",
        room="makeup",
        what=f"room for each piece in a {shape} tin: {words}, beside the record",
        source=source,
        where="table of best known packings",
        published=tuple(_record(shape, count) for count in pieces),
        ours=lambda: [(_ours if best else _proposed)(shape, count) for count in pieces],
        unit="tin widths",
        tolerance=0.01 if best else 0.04,
        relative=True,
        blind=True,
        kind="curve",
        x=tuple(float(count) for count in pieces),
        x_name="pieces",
        slow=slow,
    )


CHECKS = (
    Check(
        "tins.round-by-volume", "makeup", "8 × 2 in round to 10 × 3 in, by volume", "tin-conversion-page",
        "worked example", (2.34375,),
        lambda: factor_by_volume(_tin("round", 8 * INCH, depth=2 * INCH), _tin("round", 10 * INCH, depth=3 * INCH)),
        "1", 1e-6, True,
    ),
    Check(
        "tins.round-by-area", "makeup", "8 in round to 10 in, by area", "tin-conversion-page", "worked example", (1.5625,),
        lambda: factor_by_area(_tin("round", 8 * INCH), _tin("round", 10 * INCH)), "1", 1e-6, True,
    ),
    Check(
        "tins.six-inch", "makeup", "volume of 6 in tins, 4 in deep", "square-round-guide", "table", (144.0, 113.1),
        lambda: [volume_mm3(_tin(shape, 6 * INCH, depth=4 * INCH)) / INCH**3 for shape in ("square", "round")],
        "cubic inches", 0.05, True, kind="curve", x=(1, 2), x_name="tin", labels=("square", "round"),
    ),
    Check(
        "tins.quarter-rule", "makeup", "how much more a square holds than a round of its size", "square-round-guide",
        "the rule of a quarter", (25.0,),
        lambda: 100 * (area_mm2(_tin("square", 200)) / area_mm2(_tin("round", 200)) - 1), "%", 0.5, True,
        miss="The rule is rounded: 4/π is 27.3 % more, and the other way 21.5 % less.",
    ),
    Check(
        "tins.square-for-round", "makeup", "square tin of a round tin's area", "square-round-table", "printed sizes",
        tuple(square for _, square in PRINTED_SQUARES), lambda: [equivalent_square_mm(10 * d) / 10 for d, _ in PRINTED_SQUARES],
        "cm", 0.5, True, kind="curve", x=tuple(d for d, _ in PRINTED_SQUARES), x_name="round tin [cm]",
        miss="The printed sizes are whole tins of the trade: 28 and 30 cm round are given squares of 6 and 11 % more area.",
    ),
    Check(
        "tins.bread-tin", "makeup", "8 × 3.5 × 3 in to 9 × 4 × 4 in, by volume", "bread-tin-page", "worked example",
        (1.714,),
        lambda: factor_by_volume(
            _tin("rectangle", 8 * INCH, 3.5 * INCH, 3 * INCH), _tin("rectangle", 9 * INCH, 4 * INCH, 4 * INCH)
        ),
        "1", 5e-4, True,
    ),
    Check(
        "tins.twelve-in-a-square", "makeup", "twelve in a 23 cm square tin: diameter for each", "circles-in-square",
        "table: 2 × 23/7.144", (64.39,), lambda: 2 * choose(12, _tin("square", 230)).room_mm, "mm", 0.1, True,
    ),
    Check(
        "tins.nine-in-a-square", "makeup", "nine in a 23 cm square tin: diameter for each", "circles-in-square",
        "table: 2 × 23/6", (76.67,), lambda: choose(9, _tin("square", 230)).pitch_mm, "mm", 0.01, True,
    ),
    *(
        _packing(shape, ALL if slow else COMMON, best, slow)
        for shape in ("square", "round") for best in (True, False) for slow in (False, True)
    ),
)  # fmt: skip
