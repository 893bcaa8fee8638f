"""Another size of the batch, as it is asked for behind a command."""

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from oventide.services.answers import Scaling


def scaling(
    pieces: str | None, piece_g: str | None, dough_g: str | None, flour_g: str | None, factor: str | None
) -> "Scaling | None":
    """The size that is asked for; None where none was. Two ways at once are refused."""
    from oventide.services.asking import number, whole_number
    from oventide.services.weighing import scaling_asked

    return scaling_asked(
        pieces=whole_number(pieces, "pieces", 1, 10_000),
        piece_g=number(piece_g, "piece_g", 1, 5_000, "g"),
        dough_g=number(dough_g, "dough_g", 10, 1_000_000, "g"),
        flour_g=number(flour_g, "flour_g", 5, 500_000, "g"),
        factor=number(factor, "factor", 0.01, 1_000),
    )
