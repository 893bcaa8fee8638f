"""Draw docs/floors.svg from the floors contract in .importlinter, so that the picture cannot drift from it.

Run by hand after a change of the floors; a test compares.
"""

import configparser
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
PICTURE = ROOT / "docs" / "floors.svg"
LABEL = "The floors of the package, highest first; a room imports only from floors below"
WIDTH, FLOOR, GAP, MARGIN = 720, 44, 8, 16


def floors() -> list[list[str]]:
    """Rooms by floor, highest first."""
    contracts = configparser.ConfigParser()
    contracts.read(ROOT / ".importlinter", "utf-8")
    layers = contracts["importlinter:contract:floors"]["layers"].split("\n")
    return [[room.strip() for room in layer.replace("|", ":").split(":")] for layer in layers if layer.strip()]


def draw() -> str:
    """The picture: one row a floor, one box a room."""
    rows = floors()
    height = 2 * MARGIN + len(rows) * (FLOOR + GAP) - GAP
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {height}" font-family="sans-serif"'
        f' font-size="15" role="img" aria-label="{LABEL}">',
        f'<rect width="{WIDTH}" height="{height}" fill="#fff"/>',
    ]
    for number, rooms in enumerate(rows):
        top = MARGIN + number * (FLOOR + GAP)
        room_width = (WIDTH - 2 * MARGIN - GAP * (len(rooms) - 1)) / len(rooms)
        for place, room in enumerate(rooms):
            left = MARGIN + place * (room_width + GAP)
            parts.append(
                f'<rect x="{left:g}" y="{top}" width="{room_width:g}" height="{FLOOR}" fill="#f4f1ea" stroke="#333"/>'
                f'<text x="{left + room_width / 2:g}" y="{top + 28}" text-anchor="middle">{room}</text>'
            )
    return "\n".join([*parts, "</svg>"]) + "\n"


def main(arguments: list[str]) -> int:
    """Write the picture, or with --check compare it."""
    if "--check" in arguments:
        fresh = PICTURE.exists() and PICTURE.read_text("utf-8") == draw()
        if not fresh:
            print("docs/floors.svg is behind .importlinter; run tools/floors_svg.py", file=sys.stderr)
        return 0 if fresh else 1
    PICTURE.write_text(draw(), "utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
