"""The paper ruler measured in its PDF: the page is drawn at ten dots a millimetre and the ink is counted."""

from itertools import pairwise

import numpy as np
import pytest

from oventide.errors import Refusal
from oventide.press.ruler import STRIP_MM, RulerSheet, joints, strips
from oventide.press.ruler import render_ruler as render


def render_ruler(title: str, length: float, marks: tuple[float, ...], paper: str = "a4") -> bytes:
    return render(RulerSheet(title=title, log_length_mm=length, cut_marks_mm=marks), paper)


def runs(line: np.ndarray) -> list[tuple[int, int]]:
    """Begin and end of the printed runs in a row of dots."""
    edges = np.flatnonzero(np.diff(np.r_[0, line.astype(int), 0]))
    return list(zip(edges[::2].tolist(), edges[1::2].tolist(), strict=True))


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_check_bar_is_100_mm(read_pdf, paper):
    dark = read_pdf(render_ruler("Coils", 300, (100.0, 200.0), paper)).dark()
    bars = [run for row in dark for run in runs(row) if run[1] - run[0] > 900]
    begin, end = max(set(bars), key=bars.count)
    assert (end - begin) / 10 == pytest.approx(100.0, abs=0.2)


@pytest.mark.parametrize(("paper", "size"), [("a4", (297.0, 210.0)), ("letter", (279.4, 215.9))])
def test_cut_marks_stand_at_their_millimetres(read_pdf, paper, size):
    marks = (31.5, 63.0, 94.5, 126.0, 157.5, 189.0, 220.5)
    pdf = read_pdf(render_ruler("Coils", 240, marks, paper))
    assert pdf.pages == 1
    assert pdf.size_mm() == pytest.approx(size, abs=0.05)
    dark = pdf.dark()
    # the strip's top line is the only unbroken line of 240 mm
    top = next(y for y, row in enumerate(dark) if any(abs(end - begin - 2400) < 6 for begin, end in runs(row)))
    begin, end = next(run for run in runs(dark[top]) if run[1] - run[0] > 2000)
    assert (end - begin) / 10 == pytest.approx(240.0, abs=0.3)
    below = dark[top + 200]  # 20 mm down only the long cut lines (and the dashed ends) are left
    middles = [(a + b) / 2 for a, b in runs(below) if b - a >= 3 and begin + 20 < a < end - 20]
    assert [round((x - begin) / 10, 1) for x in middles] == pytest.approx(marks, abs=0.2)


def test_a_long_log_is_printed_in_strips_that_join(read_pdf):
    marks = tuple(37.5 * number for number in range(1, 24))
    pdf = read_pdf(render_ruler("Coils", 900, marks, "letter"))
    text = pdf.text()
    for number in range(1, 24):
        assert f" {number} " in f" {text} "
    assert text.count("join 1") == 2
    assert text.count("end of the log") == 2


@pytest.mark.parametrize("length", [40.0, 259.9, 260.0, 260.1, 777.7, 2500.0])
@pytest.mark.parametrize("cuts", [1, 5, 23])
def test_strips_lose_no_length_and_no_cut(length, cuts):
    marks = tuple(length * number / (cuts + 1) for number in range(1, cuts + 1))
    parts = strips(length, marks, STRIP_MM["a4"])
    assert sum(part["length"] for part in parts) == pytest.approx(length)
    assert all(part["length"] <= STRIP_MM["a4"] + 1e-9 for part in parts)
    begins = joints(length, marks, STRIP_MM["a4"])
    drawn = {round(begin + cut["at"], 6) for begin, part in zip(begins, parts, strict=False) for cut in part["cuts"]}
    assert drawn == {round(mark, 6) for mark in marks}
    assert all(later > earlier for earlier, later in pairwise(begins))


@pytest.mark.parametrize("length", [0.0, -3.0, 99999.0])
def test_absurd_logs_are_refused(length):
    with pytest.raises(Refusal, match=r"makeup\.log_length_mm"):
        render_ruler("Coils", length, ())


def test_a_nasty_title_is_only_a_title(read_pdf):
    assert '#read("/etc/passwd")' in read_pdf(render_ruler('#read("/etc/passwd")', 100, (50.0,))).text()
