"""Another size of a batch, as it is typed on a page and as it stands in an address."""

from collections.abc import Mapping

from oventide.errors import Complaint, Refusal
from oventide.services.answers import Scaling
from oventide.services.weighing import scaling_asked
from oventide.web.fields import Fields
from oventide.web.figures import Units, plain

WAYS = ("to_pieces", "to_piece", "to_dough", "to_flour", "to_factor")
"""Names of the boxes, and of the same figures in an address (there in g)."""
LARGEST_G = 2_000_000.0
MOST_PIECES = 20_000
LARGEST_FACTOR = 10_000.0


def labels(units: Units) -> tuple[tuple[str, str], ...]:
    """Name and label of each box."""
    return (
        ("to_pieces", "Pieces"), ("to_piece", f"Dough for one piece, {units.mass}"),
        ("to_dough", f"Dough in all, {units.mass}"), ("to_flour", f"Flour in all, {units.mass}"),
        ("to_factor", "Times"),
    )  # fmt: skip


def size_of(form: Mapping[str, str], units: Units) -> Scaling | None:
    """The size that is asked for; None where every box is empty. Complaints name the boxes."""
    fields = Fields(form, units)
    pieces = fields.whole("to_pieces", 1, MOST_PIECES)
    piece_g = fields.grams("to_piece", 1.0, LARGEST_G)
    dough_g = fields.grams("to_dough", 1.0, LARGEST_G)
    flour_g = fields.grams("to_flour", 1.0, LARGEST_G)
    factor = fields.number("to_factor", 0.001, LARGEST_FACTOR)
    if fields.complaints:
        raise Refusal(fields.complaints)
    try:
        return scaling_asked(pieces, piece_g, dough_g, flour_g, factor)
    except Refusal as refusal:
        filled = [name for name in WAYS if fields.text(name)]
        raise Refusal(
            Complaint(name, fields.text(name), each.problem, each.remedy)
            for each in refusal.complaints
            for name in filled
        ) from refusal


def on_boxes(refusal: Refusal, form: Mapping[str, str]) -> tuple[Complaint, ...]:
    """A refusal of the sums about the size, told to the boxes that are filled."""
    filled = [name for name in WAYS if form.get(name, "").strip()] or ["to_factor"]
    return tuple(Complaint(filled[0], each.given, each.problem, each.remedy) for each in refusal.complaints)


def in_address(size: Scaling | None) -> dict[str, str]:
    """The size as it stands in an address [g]."""
    if size is None:
        return {}
    figures = {"to_pieces": size.pieces, "to_piece": size.piece_g, "to_dough": size.dough_g,
               "to_flour": size.flour_g, "to_factor": size.factor}  # fmt: skip
    return {name: plain(float(figure), 4) for name, figure in figures.items() if figure is not None}
