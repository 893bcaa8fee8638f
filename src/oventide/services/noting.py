"""What is typed to note something at a bake: which bake, which line, which reading, when."""

import re
from collections.abc import Sequence
from datetime import datetime, timedelta

from oventide.bench.model import BenchView, Mark, Quantity, WeighView
from oventide.errors import refuse
from oventide.journal.engine import folded
from oventide.services import asking
from oventide.services.bakes import BakeRow, Bakes
from oventide.units.measure import GRAMS, MILLIMETRES

_READ: dict[str, tuple[Quantity, ...]] = {
    "dough temperature": ("dough temperature",),
    "dough": ("dough temperature",),
    "core": ("core",),
    "surface": ("surface",),
    "rise since shaping": ("rise since shaping",),
    "rise since mixing": ("rise since mixing",),
    "rise": ("rise since shaping", "rise since mixing"),
    "risen": ("rise since shaping", "rise since mixing"),
    "jar height": ("jar height",),
    "jar": ("jar height",),
    "bowl weight": ("bowl weight",),
    "bowl": ("bowl weight",),
}
"""Words for what is read; where two are meant, the one that the step asks for."""
_REMEDY = 'Write it like "core 84 C", "dough 76F", "rise 1.8x", "jar 62 mm" or "bowl 540 g".'
_READING = re.compile(r"^(?P<what>[a-z ]+?)\s*[×x]?\s*(?P<value>-?[\d.,/ ½¼¾]*[\d½¼¾])\s*(?P<unit>°?\s*[a-z×%]*)$")


def reading_asked(text: str, asks: Sequence[Quantity]) -> tuple[Quantity, float]:
    """What was read and its figure, in the units of the forecast.

    >>> reading_asked("core 84 C", ("core", "surface")), reading_asked("dough 77F", ("dough temperature",))
    (('core', 84.0), ('dough temperature', 25.0))
    >>> reading_asked("rise 1.8x", ("rise since mixing",)), reading_asked("jar 6.2 cm", ("jar height",))
    (('rise since mixing', 1.8), ('jar height', 62.0))
    """
    match = _READING.match(" ".join(text.lower().replace("−", "-").split()))
    if match is None:
        raise refuse("reading", text, "This is not a reading that can be understood.", _REMEDY)
    what = match["what"].strip()
    if what not in _READ:
        raise refuse("reading", text, f"“{what}” is nothing that is read here.", _REMEDY)
    meant = [quantity for quantity in _READ[what] if quantity in asks]
    quantity = meant[0] if meant else _READ[what][0]
    return quantity, _figure(quantity, match["value"], match["unit"].replace(" ", ""), text)


def _figure(quantity: Quantity, value: str, unit: str, given: str) -> float:
    if quantity in ("dough temperature", "core", "surface"):
        celsius = asking.celsius(value + unit, "reading", -60, 400)
        assert celsius is not None
        return round(celsius, 1)  # a probe shows tenths
    figure = asking.number(value.strip(), "reading", 0, 1e6)
    assert figure is not None
    if quantity in ("rise since mixing", "rise since shaping"):
        if unit not in ("", "x", "×", "times"):
            raise refuse("reading", given, "A rise is a number of times.", _REMEDY)
        return figure
    units = MILLIMETRES if quantity == "jar height" else GRAMS
    usual = "mm" if quantity == "jar height" else "g"
    if (unit or usual) not in units:
        raise refuse("reading", given, f"“{unit}” is not a unit of a {quantity}.", _REMEDY)
    return round(figure * units[unit or usual], 4)


def mark_asked(text: str) -> Mark:
    """A mark of one tap.

    >>> mark_asked("Too soft"), mark_asked("at-the-mark")
    ('too soft', 'at the mark')
    """
    plain = " ".join(text.lower().replace("-", " ").replace("_", " ").split())
    marks: tuple[Mark, ...] = ("at the mark", "too soft", "not yet")
    for mark in marks:
        if mark == plain:
            return mark
    raise refuse("mark", text, "This is not one of the marks.", f"Choose one of: {', '.join(marks)}.")


def bake_asked(bakes: Bakes, text: str | None) -> str:
    """The key of the bake that is meant: its key, words of its name, or nothing where only one is under way."""
    under_way = bakes.under_way()
    wanted = (text or "").strip()
    if wanted in ("", "."):
        return _only(under_way, "bake", "", "")
    if any(row.key == wanted for row in under_way):
        return wanted
    found = [row for row in under_way if _has(f"{row.key} {row.name}", wanted)]
    if found:
        exact = [row for row in found if folded(row.name) == folded(wanted)]
        return _only(exact or found, "bake", wanted, " of that name")
    bakes.bake(wanted)  # one that is over may be looked at by its key; anything else is refused there
    return wanted


def _has(text: str, words: str) -> bool:
    return all(word in folded(text) for word in folded(words).split())


def _only(rows: Sequence[BakeRow], field: str, given: str, which: str) -> str:
    if len(rows) == 1:
        return rows[0].key
    if not rows:
        raise refuse(field, given, "No bake is under way.", "Begin one: oventide log start FORMULA.")
    keys = ", ".join(row.key for row in rows[:8])
    raise refuse(field, given, f"{len(rows)} bakes{which} are under way.", f"Name one: {keys}.")


def line_asked(view: BenchView, text: str) -> WeighView:
    """The line that is meant: its number ("1.4"), or words of its name; the step now and the next one come first."""
    lines = (*view.weighing, *view.weigh_later)
    for line in lines:
        if line.line == text.strip():
            return line
    for lines_here in (view.weighing, view.weigh_later):
        found = [line for line in lines_here if _has(f"{line.name} {line.component}", text)]
        found = [line for line in found if not line.weighed] or found
        exact = [line for line in found if folded(line.name) == folded(text)]
        if exact or len(found) == 1:
            return (exact or found)[0]
        if found:
            break
    if not found:
        names = ", ".join(f"{line.line} {line.name}" for line in lines if not line.weighed)
        raise refuse("line", text, "There is nothing of that name to be weighed now or later.",
                     f"Left to weigh: {names}." if names else "Everything is weighed.")  # fmt: skip
    names = ", ".join(f"{line.line} {line.name} ({line.component})" for line in found)
    raise refuse("line", text, "Several lines have that name.", f"Name one by its number: {names}.")


def moment_asked(text: str | None, now: datetime, started_at: datetime | None = None) -> datetime:
    """The last time that the clock showed HH:MM; now where nothing was given.

    >>> from datetime import UTC
    >>> noon = datetime(2026, 3, 5, 12, 0, tzinfo=UTC)
    >>> f"{moment_asked('11:40', noon):%d %H:%M}, {moment_asked('23:10', noon):%d %H:%M}"
    '05 11:40, 04 23:10'
    """
    shown = asking.clock(text, "at")
    if shown is None:
        return now
    hour, minute = (int(part) for part in shown.split(":"))
    moment = now.replace(hour=hour, minute=minute, second=0, microsecond=0)
    moment = moment if moment <= now else moment - timedelta(days=1)
    if started_at is not None and moment < started_at - timedelta(minutes=1):
        raise refuse("at", text, f"The bake was begun at {started_at:%H:%M}, later than that.",
                     "Give a moment since then.")  # fmt: skip
    return moment


def step_asked(text: str | None, view: BenchView) -> int:
    """A step by its number, counted from 1; without one the step now, or the last where all are over."""
    number = asking.whole_number(text, "step", 1, len(view.steps))
    if number is not None:
        return number - 1
    return view.now_step if view.now_step is not None else len(view.steps) - 1
