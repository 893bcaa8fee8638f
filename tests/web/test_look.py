"""The look keeps what docs/look.md says: contrast, size, and one palette in both places."""

import re
from pathlib import Path

import pytest

CSS = "src/oventide/web/static/oventide.css"
TEXT = ("ink", "soft", "crust-text", "tide-text", "alarm")
DRAWN = ("crust", "tide", "line")


def palettes(root: Path) -> list[dict[str, str]]:
    """Light and dark: name to colour."""
    css = (root / CSS).read_text(encoding="utf-8")
    blocks = re.findall(r":root \{(.*?)\}", css, re.DOTALL)[:2]
    return [dict(re.findall(r"--([\w-]+): (#[0-9a-f]{6})", block)) for block in blocks]


def luminance(colour: str) -> float:
    """Relative luminance of an sRGB colour (WCAG 2.2, definition of relative luminance)."""
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [v / 12.92 if v <= 0.04045 else ((v + 0.055) / 1.055) ** 2.4 for v in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    """Contrast ratio (WCAG 2.2)."""
    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def test_the_contrast_sum_is_the_standard_s() -> None:
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.01)  # the well known near miss of 4.5


@pytest.mark.parametrize("dark", [0, 1])
@pytest.mark.parametrize("ground", ["paper", "leaf"])
@pytest.mark.parametrize("name", TEXT)
def test_text_keeps_seven_to_one(root: Path, dark: int, ground: str, name: str) -> None:
    palette = palettes(root)[dark]
    assert contrast(palette[name], palette[ground]) >= 7


@pytest.mark.parametrize("dark", [0, 1])
@pytest.mark.parametrize("name", DRAWN)
def test_lines_and_edges_keep_three_to_one(root: Path, dark: int, name: str) -> None:
    palette = palettes(root)[dark]
    assert contrast(palette[name], palette["leaf"]) >= 3
    assert contrast(palette[name], palette["paper"]) >= 3


def test_alarm_words_can_be_read_on_their_own_ground(root: Path) -> None:
    for palette in palettes(root):
        assert contrast(palette["ink"], palette["alarm-ground"]) >= 7


def test_the_look_s_page_names_the_colours_in_use(root: Path) -> None:
    page = (root / "docs/look.md").read_text(encoding="utf-8")
    light, dark = palettes(root)
    rows = re.findall(r"^\| ([\w, ]+) \| `(#\w+)` \| `(#\w+)` \|.*?(?:\| ([\d.]+) / ([\d.]+) \|)?$", page, re.MULTILINE)
    assert len(rows) >= 10
    for name, day, night, by_day, by_night in rows:
        key = name.replace(", as text", "-text")
        assert (light[key], dark[key]) == (day, night), name
        if by_day:
            assert contrast(day, light["paper"]) == pytest.approx(float(by_day), abs=0.06), name
            assert contrast(night, dark["paper"]) == pytest.approx(float(by_night), abs=0.06), name


def test_type_is_large_and_tabular(root: Path) -> None:
    css = (root / CSS).read_text(encoding="utf-8")
    assert "html { font-size: 112.5%" in css, "18 px where the reader set nothing else"
    sizes = [float(size) for size in re.findall(r"font-size: (0?\.\d+)rem", css)]
    assert min(sizes) >= 0.9, "no small print"
    assert 'font-feature-settings: "tnum"' in css
    assert "http" not in css
