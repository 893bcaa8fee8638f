"""What people type: sizes, tins, times and numbers, read or refused with field, value and remedy."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from oventide.errors import Refusal
from oventide.services import asking


@pytest.mark.parametrize(
    ("text", "shape", "length", "width", "depth"),
    [
        ("square:20cm", "square", 200, 200, 50),
        ("square: 200 mm", "square", 200, 200, 50),
        ("SQUARE:20CM", "square", 200, 200, 50),
        ("rectangle:20x30cm", "rectangle", 300, 200, 50),
        ("rectangle:9x13in:2in", "rectangle", 330.2, 228.6, 50.8),
        ("round:24cm:4.5cm", "round", 240, 240, 45),
        ("round:9 1/2 in", "round", 241.3, 241.3, 50),
        ("tray:30×40cm:2cm", "sheet_pan", 400, 300, 20),
    ],
)
def test_tins_as_people_write_them(text, shape, length, width, depth):
    tin = asking.tin(text)
    assert tin is not None
    assert (tin.shape, tin.length_mm, tin.width_mm, tin.depth_mm) == (shape, length, width, depth)


@pytest.mark.parametrize(
    "text",
    ["", "square", "square:", "square:20", "20cm", "hexagon:20cm", "square:20x30cm", "rectangle:20cm", "round:0cm",
     "round:-24cm", "round:24cm:5cm:9", ":::", "square:20furlong", "square:9999cm", "square:nancm", "square:20cm:0cm",
     "rectangle:20x30x40cm", "#read(1)", "square:1/0cm"],
)  # fmt: skip
def test_odd_tins_are_refused_with_a_remedy(text):
    with pytest.raises(Refusal) as caught:
        asking.tin(text)
    complaint = caught.value.complaints[0]
    assert complaint.field == "tin"
    assert complaint.given == text
    assert "square:20cm" in complaint.remedy


@pytest.mark.parametrize(
    ("text", "size"), [("30x30cm", (300, 300)), ("12x16in", (304.8, 406.4)), ("1 m × 40 cm", (1000, 400))]
)
def test_sheets_as_people_write_them(text, size):
    assert asking.sheet_mm(text) == size


@pytest.mark.parametrize(
    "text", ["", "30", "30cm", "x", "30x", "axb cm", "30x40", "30x40x2cm", "0x40cm", "-3x40cm", "30x4000cm"]
)
def test_odd_sheets_are_refused(text):
    with pytest.raises(Refusal, match="sheet"):
        asking.sheet_mm(text)


@pytest.mark.parametrize(
    ("text", "clock"),
    [("07:30", "07:30"), ("7.30", "07:30"), ("0:00", "00:00"), ("23:59", "23:59"), ("12:30 pm", "12:30"),
     ("12:30am", "00:30"), ("8:05 PM", "20:05"), ("", None), (None, None)],
)  # fmt: skip
def test_clock_times(text, clock):
    assert asking.clock(text) == clock


@pytest.mark.parametrize(
    "text", ["25:99", "24:00", "7", "noon", "12:60", "-1:30", "13:00 pm", "0:30 am", "07:30:00", "٣:٣٠x"]
)
def test_odd_clock_times_are_refused(text):
    with pytest.raises(Refusal, match="ready_by"):
        asking.clock(text)


@pytest.mark.parametrize(
    ("text", "word"),
    [("-3", "between 1 and 9"), ("0", "between 1 and 9"), ("1e99", "not a number"), ("nan", "not a number"),
     ("many", "not a number"), ("", "not a number"), ("10", "between")],
)  # fmt: skip
def test_odd_numbers_are_refused(text, word):
    with pytest.raises(Refusal, match=word):
        asking.number(text, "pieces", 1, 9)


def test_whole_numbers_are_whole():
    assert asking.whole_number("12", "pieces", 1, 99) == 12
    with pytest.raises(Refusal, match="whole"):
        asking.whole_number("1.5", "pieces", 1, 99)


@given(st.text(max_size=40))
def test_whatever_is_typed_is_read_or_refused(text):
    for ask in (asking.tin, asking.sheet_mm, asking.clock, lambda words: asking.number(words, "n", 0, 10)):
        try:
            ask(text)
        except Refusal as refusal:
            complaints = refusal.complaints
        else:
            complaints = ()
        assert all(complaint.remedy for complaint in complaints)
