"""From the make-up as the baker gave it to a whole one, every default said, nonsense refused."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from oventide.errors import Complaint, Refusal
from oventide.evidence.parameters import load
from oventide.makeup.model import MakeUp, Tin
from oventide.makeup.tins import complaints_about, name_of


@dataclass(frozen=True)
class Batch:
    """What is made up: masses [g], their densities [g/cm³], and rise over the volume when cut [1]."""

    dough_g: float
    dough_density_g_cm3: float
    spread_g: float
    spread_density_g_cm3: float
    rise_after_proof: float
    rise_after_bake: float

    @property
    def dough_mm3(self) -> float:
        return 1000 * self.dough_g / self.dough_density_g_cm3

    @property
    def spread_mm3(self) -> float:
        return 1000 * self.spread_g / self.spread_density_g_cm3 if self.spread_g else 0.0

    @property
    def grams(self) -> float:
        return self.dough_g + self.spread_g


@dataclass(frozen=True)
class Whole:
    """A make-up with nothing left open. Sheet sizes are those of each of `sheets` equal sheets."""

    sheet_length_mm: float
    sheet_width_mm: float
    sheets: int
    pieces: int
    assumed: tuple[str, ...]


def limit_complaint(field: str, limit_name: str, value: float, remedy: str) -> Complaint | None:
    """A complaint where a figure lies outside ``limits.<limit_name>`` of makeup.toml."""
    limit = load("makeup")[f"limits.{limit_name}"]
    if math.isfinite(value) and limit.low <= value <= limit.high:
        return None
    unit = "" if limit.unit == "1" else f" {limit.unit}"
    return Complaint(
        field,
        f"{value:.4g}{unit}",
        f"It must lie between {limit.low:g} and {limit.high:g}{unit} ({limit.what[0].lower()}{limit.what[1:]}).",
        remedy,
    )


def check_given(batch: Batch, makeup: MakeUp) -> None:
    """Refuse figures that no make-up can have, all at once."""
    found = [complaint for complaint in _figures(batch, makeup) if complaint]
    if makeup.tin is not None:
        found += complaints_about(makeup.tin)
    if not found and makeup.pieces is not None and makeup.pieces < makeup.tins:
        found.append(
            Complaint(
                "makeup.tins", str(makeup.tins), f"There are only {makeup.pieces} pieces for that many tins.",
                "Give fewer tins or more pieces.",
            )
        )  # fmt: skip
    if not found and makeup.sheets and makeup.pieces and makeup.pieces % makeup.sheets:
        found.append(
            Complaint(
                "makeup.sheets", str(makeup.sheets),
                f"{makeup.pieces} pieces do not come out evenly from that many sheets.",
                "Give a number of sheets that divides the pieces.",
            )
        )  # fmt: skip
    if not found and makeup.sheet_length_mm and makeup.seam_margin_mm >= makeup.sheet_length_mm:
        found.append(
            Complaint(
                "makeup.seam_margin_mm", f"{makeup.seam_margin_mm:g} mm",
                f"The bare strip is as long as the sheet, {makeup.sheet_length_mm:g} mm.", "Give a narrower strip.",
            )
        )  # fmt: skip
    if found:
        raise Refusal(found)


def _figures(batch: Batch, makeup: MakeUp) -> Iterator[Complaint | None]:
    """Every figure against its limits."""
    again = "Check the figure and its unit."
    yield limit_complaint("makeup.dough_g", "dough", batch.dough_g, "Give the dough's weight in grams.")
    yield limit_complaint("makeup.spread_g", "spread", batch.spread_g, "Give the spread's weight in grams, or 0.")
    yield limit_complaint("makeup.dough_density", "dough_density", batch.dough_density_g_cm3, again)
    if batch.spread_g:
        yield limit_complaint("makeup.spread_density", "spread_density", batch.spread_density_g_cm3, again)
    for name, rise in (("proof", batch.rise_after_proof), ("bake", batch.rise_after_bake)):
        yield limit_complaint(f"makeup.rise_after_{name}", "rise", rise, again)
    yield limit_complaint("makeup.tins", "tins", makeup.tins, "Give how many tins there are.")
    yield limit_complaint("makeup.kerf_mm", "kerf", makeup.kerf_mm, "Give 0 for thread or a sharp knife.")
    yield limit_complaint("makeup.trim_mm", "trim", makeup.trim_mm, "Give what is cut off each end, in mm.")
    yield limit_complaint("makeup.seam_margin_mm", "seam_margin", makeup.seam_margin_mm, again)
    for name, side in (("length", makeup.sheet_length_mm), ("width", makeup.sheet_width_mm)):
        if side is not None:
            yield limit_complaint(f"makeup.sheet_{name}_mm", "sheet_side", side, "Measure the sheet in mm.")
    if makeup.pieces is not None:
        yield limit_complaint("makeup.pieces", "pieces", makeup.pieces, "Give a whole number of pieces.")
    if makeup.sheets is not None:
        yield limit_complaint("makeup.sheets", "tins", makeup.sheets, "Give how many sheets are rolled out.")
    if makeup.piece_g is not None:
        yield limit_complaint("makeup.piece_g", "piece_weight", makeup.piece_g, "Give one piece's weight in grams.")


_LEAST_CUT = 4
"""Sheets are not divided further than into this many pieces each."""


def make_whole(batch: Batch, makeup: MakeUp) -> Whole:
    """Pieces, then sheets, then the sheet's size: what is not given follows from stated defaults."""
    assumed: list[str] = []
    pieces = makeup.pieces or _pieces(batch, makeup, assumed)
    sheets = makeup.sheets or _sheets(batch, makeup, pieces, assumed)
    length, width = _sheet(batch, makeup, pieces // sheets, sheets, assumed)
    return Whole(length, width, sheets, pieces, tuple(assumed))


def _pieces(batch: Batch, makeup: MakeUp, assumed: list[str]) -> int:
    default = load("makeup")["defaults.piece"]
    piece = makeup.piece_g or default.value
    most = load("makeup")["limits.pieces"].high
    multiple = makeup.tins * (makeup.sheets or 1) // math.gcd(makeup.tins, makeup.sheets or 1)
    pieces = max(round(batch.grams / piece / multiple), 1) * multiple
    pieces = int(min(pieces, most // multiple * multiple))
    why = f"of about {piece:g} g each" + ("" if makeup.piece_g else f" (usual: {default.low:g} to {default.high:g} g)")
    assumed.append(f"Pieces: {pieces}, {why}.")
    return pieces


def _sheets(batch: Batch, makeup: MakeUp, pieces: int, assumed: list[str]) -> int:
    """One sheet, or one for each tin (or one for each bench length of log) where one is not workable."""
    evidence = load("makeup")
    length, width = makeup.sheet_length_mm, makeup.sheet_width_mm
    if width is None:
        longest = evidence["defaults.log_length"].high
        for height in (evidence["defaults.piece_height"].low, evidence["fill.one_log_piece"].low):
            for sheets in range(1, pieces // _LEAST_CUT + 2):
                if pieces % sheets == 0 and pieces // sheets * height <= longest:
                    if sheets > 1:
                        assumed.append(f"Sheets: {sheets}, so that no log is longer than {longest:g} mm.")
                    return sheets
        return 1
    if makeup.tins == 1 or pieces % makeup.tins:
        return 1
    too_thin = (width - 2 * makeup.trim_mm) / pieces < evidence["fill.one_log_piece"].low
    thickness = batch.dough_mm3 / (length * width) if length else 0.0
    if too_thin or thickness > evidence["fill.one_sheet_thickness"].high:
        assumed.append(f"Sheets: {makeup.tins}, one of the size given for each tin.")
        return makeup.tins
    return 1


def _sheet(batch: Batch, makeup: MakeUp, per_sheet: int, sheets: int, assumed: list[str]) -> tuple[float, float]:
    """Length and width of a sheet; what is missing from the usual thickness and piece height [mm]."""
    evidence = load("makeup")
    thickness, height = evidence["defaults.thickness"], evidence["defaults.piece_height"]
    length, width = makeup.sheet_length_mm, makeup.sheet_width_mm
    volume = batch.dough_mm3 / sheets
    if length is not None and width is not None:
        return length, width
    if width is None:
        cuts = per_sheet - 1 + (2 if makeup.trim_mm > 0 else 0)
        spare = 2 * makeup.trim_mm + cuts * makeup.kerf_mm
        width = per_sheet * height.value + spare
        longest = evidence["defaults.log_length"].high
        if per_sheet * evidence["fill.one_log_piece"].low + spare <= longest:
            width = min(width, longest)
        if (
            length is not None
            and length * width > 0
            and not thickness.low <= volume / (length * width) <= thickness.high
        ):
            shown = min(max(volume / (length * width), thickness.low), thickness.high)
            width = volume / (length * shown)
        width = float(5 * max(round(width / 5), 1))
        assumed.append(
            f"Sheet width (length of the log): {width:g} mm, "
            f"for pieces about {(width - 2 * makeup.trim_mm) / per_sheet:.0f} mm high."
        )
    if length is None:
        band = evidence["defaults.sheet_length"]
        length = min(max(volume / (width * thickness.value), band.low), band.high)
        length = float(5 * max(round(length / 5), 1))
        assumed.append(
            f"Sheet length (rolled up): {length:g} mm, for a thickness of about {volume / (length * width):.1f} mm "
            f"(usual: {thickness.low:g} to {thickness.high:g} mm)."
        )
    return length, width


def choose_tin(pieces: int, piece_diameter_mm: float) -> tuple[Tin, str]:
    """A square or rectangular tin for a grid of pieces with the usual gap, and the sentence that says so.

    >>> choose_tin(9, 55)[0].length_mm
    200.0
    """
    evidence = load("makeup")
    gap = evidence["defaults.tin_gap"]
    cell = piece_diameter_mm + gap.value
    rows = max(round(math.sqrt(pieces)), 1)
    options = []
    for across in range(1, rows + 2):
        along = math.ceil(pieces / across)
        if along >= across:
            spare = across * along - pieces
            options.append((along / across - 1 + 2 * spare / pieces, across, along))
    _, across, along = min(options)
    largest = evidence["limits.tin_side"].high
    length, width = (float(min(10 * math.ceil(count * cell / 10), largest)) for count in (along, across))
    tin = Tin(
        shape="square" if length == width else "rectangle",
        length_mm=length,
        width_mm=width,
        depth_mm=evidence.value("defaults.tin_depth"),
    )
    said = f"Tin: {name_of(tin)}, {tin.depth_mm:g} mm deep, with gaps of about {gap.value:g} mm before proof."
    return tin, said
