"""A bench sheet of our own invention, and eyes for a PDF."""

from collections.abc import Callable

import numpy as np
import pypdfium2
import pytest
from numpy.typing import NDArray

from oventide.press.model import BenchSheet, SheetBlock, SheetFigure, SheetRow, SheetStep

DPI = 254.0
"""Ten dots a millimetre."""


class Pdf:
    """A PDF read back: pages, sizes [mm], text, and pictures at ten dots a millimetre."""

    def __init__(self, content: bytes) -> None:
        self.document = pypdfium2.PdfDocument(content)
        self.pages = len(self.document)

    def size_mm(self, page: int = 0) -> tuple[float, float]:
        width, height = self.document[page].get_size()
        return width / 72 * 25.4, height / 72 * 25.4

    def text(self, page: int | None = None) -> str:
        numbers = range(self.pages) if page is None else [page]
        read = " ".join(self.document[number].get_textpage().get_text_range() for number in numbers)
        return " ".join(read.replace("\u00a0", " ").replace("\ufffe", "-").split())

    def dark(self, page: int = 0) -> NDArray[np.bool_]:
        """True where the page is printed, row by row from the top."""
        picture = self.document[page].render(scale=DPI / 72, grayscale=True).to_numpy()
        return np.asarray(picture.reshape(picture.shape[0], picture.shape[1]) < 128)


@pytest.fixture
def read_pdf() -> Callable[[bytes], Pdf]:
    return Pdf


@pytest.fixture
def sheet() -> BenchSheet:
    rows = [("strong white flour", "80 %", "441 g"), ("whole milk", "38 %", "209 g"), ("fine salt", "1.8 %", "9.9 g")]
    filling = [("poppy seeds", "", "151 g"), ("caster sugar", "", "83 g")]
    return BenchSheet(
        title="Lantern Quay poppy coils",
        revision="revision 3",
        batch="12 pieces × 98 g",
        kitchen="Lantern Quay bakehouse",
        ready_by="09:30",
        start_at="19:10",
        blocks=(
            SheetBlock(
                name="Dough",
                kind="dough",
                rows=tuple(SheetRow(ingredient=a, baker_percent=b, weight=c) for a, b, c in rows),
                total_weight="659.9 g",
                total_percent="119.8 %",
            ),
            SheetBlock(
                name="Filling",
                kind="filling",
                rows=tuple(SheetRow(ingredient=a, baker_percent=b, weight=c) for a, b, c in filling),
                total_weight="234 g",
            ),
        ),
        total_weight="893.9 g",
        summary=(SheetFigure(label="true water", value="58 %"),),
        steps=(
            SheetStep(
                number=1,
                clock="19:10",
                name="Mix the dough",
                duration="12 min",
                target="24 °C",
                window="23–26 °C",
                outside="Above 26 °C: 15 min in the fridge.",
                cautions=("Keep hands out of the bowl while the hook turns.",),
            ),
            SheetStep(number=2, clock="08:15", name="Bake open", duration="10 min", target="core 93 °C"),
        ),
        makeup=(SheetFigure(label="sheet", value="30 × 40 cm, 8.1 mm"),),
        cut_marks_mm=(75.0, 150.0, 225.0),
        log_length_mm=300.0,
        allergens=("wheat", "milk"),
        assumed=("the fridge is at 4 °C (2–7 °C)",),
        unread=("a handful of patience",),
        rests_on=("ASHRAE Refrigeration Handbook",),
        printed="2026-11-25 10:12",
    )
