"""Differences between two formulas in the baker's words."""

from dataclasses import dataclass

from oventide.formula.model import Line
from oventide.makeup.model import MakeUp
from oventide.services.balancing import Level
from oventide.services.differing import Differences, LineChange, StepChange, TextChange
from oventide.web.figures import Units, mass, percent, plain
from oventide.web.lines import STEP_WORD, step_words

ARROW = "→"


@dataclass(frozen=True)
class Told:
    """One difference: a sign and word for its way, what it is about, and both sides in words."""

    sign: str
    way: str
    what: str
    before: str
    after: str


SIGNS = {"came": "+", "went": "−", "changed": "≠", "moved": "↕"}


def _weight(line: Line, share: float | None, units: Units) -> str:
    grams = mass(line.grams.likely, units) if line.grams is not None else "weight not known"
    return grams if share is None else f"{grams}, {percent(share)}"


def _line(change: LineChange, units: Units) -> Told:
    before, after = change.before, change.after
    was = "" if before is None else _weight(before, change.before_percent, units)
    now = "" if after is None else _weight(after, change.after_percent, units)
    if before is not None and after is not None and before.text != after.text:
        was, now = f"“{before.text}”, {was}", f"“{after.text}”, {now}"
    line = after or before
    assert line is not None
    name = line.name or line.text
    return Told(SIGNS[change.way], change.way, f"{name} ({change.part})", was, now)


def _step(change: StepChange, units: Units) -> Told:
    step = change.after or change.before
    assert step is not None
    words = [
        "" if each is None else f"{each.name or STEP_WORD[each.kind]}: {step_words(each, units)}"
        for each in (change.before, change.after)
    ]
    return Told(SIGNS[change.way], change.way, f"step {step.name or STEP_WORD[step.kind]}", words[0], words[1])


def _text(change: TextChange) -> Told:
    way = "came" if not change.before else "went" if not change.after else "changed"
    return Told(SIGNS[way], way, change.what.lower(), change.before, change.after)


def make_up_words(makeup: MakeUp) -> dict[str, str]:
    """The make-up figure by figure; what it does not say is left out."""
    found: dict[str, str] = {}
    if makeup.sheet_width_mm and makeup.sheet_length_mm:
        found["sheet"] = f"{plain(makeup.sheet_width_mm / 10, 1)} × {plain(makeup.sheet_length_mm / 10, 1)} cm"
    if makeup.pieces:
        found["pieces"] = str(makeup.pieces)
    if makeup.piece_g:
        found["one piece"] = f"{plain(makeup.piece_g)} g"
    if makeup.tin:
        tin = makeup.tin
        size = plain(tin.length_mm / 10, 1) if tin.shape in ("square", "round") else (
            f"{plain(tin.width_mm / 10, 1)} × {plain(tin.length_mm / 10, 1)}")  # fmt: skip
        found["tin"] = f"{tin.shape.replace('_', ' ')} {size} cm, {plain(tin.depth_mm / 10, 1)} cm deep"
    found["tins"] = str(makeup.tins)
    if makeup.trim_mm:
        found["trim"] = f"{plain(makeup.trim_mm, 1)} mm off each end"
    if makeup.kerf_mm:
        found["lost in a cut"] = f"{plain(makeup.kerf_mm, 1)} mm"
    if makeup.sheets:
        found["sheets"] = str(makeup.sheets)
    if makeup.seam_margin_mm:
        found["bare strip"] = f"{plain(makeup.seam_margin_mm)} mm"
    return found


def _make_up(pair: tuple[MakeUp, MakeUp]) -> list[Told]:
    old, new = make_up_words(pair[0]), make_up_words(pair[1])
    told = []
    for what in dict.fromkeys([*new, *old]):
        if old.get(what) != new.get(what):
            way = "came" if what not in old else "went" if what not in new else "changed"
            told.append(Told(SIGNS[way], way, what, old.get(what, ""), new.get(what, "")))
    return told


def told_of(found: Differences, units: Units) -> tuple[Told, ...]:
    """Every difference, lines first."""
    return (
        *(_line(each, units) for each in found.lines),
        *(_make_up(found.makeup) if found.makeup else ()),
        *(_step(each, units) for each in found.steps),
        *(_text(each) for each in found.texts),
    )


def sentence(told: Told) -> str:
    """One difference in one sentence.

    >>> sentence(Told("≠", "changed", "salt (Dough)", "7 g", "8 g"))
    'salt (Dough): 7 g became 8 g'
    """
    if told.way == "changed" and told.before and told.after:
        return f"{told.what}: {told.before} became {told.after}"
    return f"{told.what} {told.way}"


def level_figure(level: Level | None) -> str:
    """A figure of the balance.

    >>> level_figure(None)
    '–'
    """
    return "–" if level is None else percent(level.value)


def level_sentence(before: Level, after: Level) -> str:
    """What became of a figure, and where it stands now."""
    side = f", {after.standing} its range" if after.standing else ""
    return f"{after.name} {percent(before.value)} became {percent(after.value)}{side}"
