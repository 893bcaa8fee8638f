"""Two things side by side: formulas, revisions, what is typed, or bakes; as rows of figures with their difference."""

from dataclasses import dataclass
from datetime import datetime

from oventide.errors import Refusal, refuse
from oventide.formula.model import Line
from oventide.kitchen.model import Kitchen
from oventide.services import differing, foreseeing
from oventide.services.record import Record
from oventide.timeline.procedure import Product
from oventide.web import typed
from oventide.web.ask import Ask
from oventide.web.differences import level_figure, make_up_words
from oventide.web.figures import Units, mass, percent, plain
from oventide.web.lines import STEP_WORD, step_words

USUAL = "usual"
TYPED, BAKE = "typed:", "bake:"


@dataclass(frozen=True)
class Side:
    """One of the two."""

    ref: str
    """As it stands in the address."""
    title: str
    label: str
    """Revision, day or "as typed"."""
    address: str
    product: Product
    kitchen_key: str
    kitchen: Kitchen
    record: Record | None = None
    saved_at: datetime | None = None


@dataclass(frozen=True)
class Row:
    """One row: what it is, both figures, and the difference in words; empty texts where there is none."""

    name: str
    one: str
    other: str
    change: str
    differs: bool


@dataclass(frozen=True)
class Rows:
    """Rows under a heading."""

    name: str
    rows: tuple[Row, ...]


def _kitchen(ask: Ask, key: str) -> tuple[str, Kitchen]:
    if key and key != USUAL:
        saved = ask.shelf.kitchen(key)
        return saved.key, saved.content
    if not key:
        first = next(iter(ask.shelf.kitchens(limit=1)), None)
        if first is not None:
            return first.key, first.content
    return USUAL, foreseeing.usual_kitchen()


def side_of(ask: Ask, field: str, ref: str, kitchen: str) -> Side:
    """The side that a reference names: ``key``, ``key@3``, ``bake:key`` or ``typed:mark``; else the nearest name."""
    ref = ref.strip()
    if ref.startswith(TYPED):
        product = typed.of(ref.removeprefix(TYPED))
        key, place = _kitchen(ask, kitchen)
        return Side(ref, product.name, "as it is typed now", "", product, key, place)
    if ref.startswith(BAKE):
        record = ask.bakes.record(ref.removeprefix(BAKE))
        bake = record.bake
        begun = bake.started_at
        said = f"bake of {begun:%a} {begun.day} {begun:%b}, revision {bake.product_revision}"
        return Side(ref, bake.name, said, f"/bakes/{bake.key}", bake.product, bake.kitchen_key, bake.kitchen, record)
    key, _, number = ref.partition("@")
    place_key, place = _kitchen(ask, kitchen)
    try:
        saved = ask.shelf.product(key, int(number) if number.isascii() and number.isdigit() else None)
    except Refusal as refusal:
        near = ask.shelf.products(text=ref, limit=1)
        if not near:
            raise refuse(field, ref, "Nothing on the shelf has that name.", "Choose one from the list.") from refusal
        saved = near[0]
    return Side(
        f"{saved.key}@{saved.number}", saved.content.name, f"revision {saved.number}",
        f"/formulas/{saved.key}" + ("" if saved.is_newest else f"?revision={saved.number}"), saved.content, place_key,
        place, saved_at=saved.saved_at,
    )  # fmt: skip


def _grams(line: Line | None, share: float | None, units: Units) -> str:
    if line is None:
        return ""
    if line.grams is None:
        return "weight not known"
    return mass(line.grams.likely, units) + ("" if share is None else f" ({percent(share)})")


def _by(one: float | None, other: float | None, shown: str) -> str:
    """More or less by how much, in words."""
    if one is None or other is None:
        return ""
    return "the same" if abs(other - one) < 1e-9 else f"{shown} {'more' if other > one else 'less'}"


def weights(one: Product, other: Product, units: Units) -> tuple[Rows, ...]:
    """Every ingredient line, part by part."""
    parts: dict[str, list[Row]] = {}
    for part, old, new, old_share, new_share in differing.line_pairs(one.formula, other.formula):
        here = old.grams.likely if old and old.grams else None
        there = new.grams.likely if new and new.grams else None
        line = new or old
        assert line is not None
        if old is None or new is None:
            change = "only in the other" if old is None else "only in the first"
        else:
            change = _by(here, there, mass(abs((there or 0) - (here or 0)), units))
            if change == "the same" and old_share is not None and new_share is not None:
                change = _by(round(old_share, 2), round(new_share, 2), f"{plain(abs(new_share - old_share), 1)} points")
        names = [each.name or each.text for each in (old, new) if each is not None]
        name = " / ".join(dict.fromkeys(names))
        parts.setdefault(part, []).append(
            Row(name, _grams(old, old_share, units), _grams(new, new_share, units), change, change != "the same")
        )
    return tuple(Rows(part, tuple(rows)) for part, rows in parts.items())


def balance(one: Product, other: Product) -> tuple[Row, ...]:
    """Every figure of the balance."""
    rows = []
    for pair in differing.level_pairs(one, other):
        level = pair.after or pair.before
        assert level is not None
        change, differs = "", True
        if pair.before and pair.after:
            by = pair.after.value - pair.before.value
            differs = round(abs(by), 1) > 0
            change = f"{plain(abs(by), 1)} points {'more' if by > 0 else 'less'}" if differs else "the same"
            if differs and pair.before.standing != pair.after.standing and pair.after.standing:
                change += f"; {pair.after.standing} its range instead of {pair.before.standing}"
        figures = level_figure(pair.before), level_figure(pair.after)
        rows.append(Row(f"{level.name}, {level.of}", *figures, change, differs))
    return tuple(rows)


def make_up(one: Product, other: Product) -> tuple[Row, ...]:
    """The make-up, figure by figure."""
    old, new = make_up_words(one.makeup), make_up_words(other.makeup)
    return tuple(
        Row(what, old.get(what, ""), new.get(what, ""), "" if old.get(what) != new.get(what) else "the same",
            old.get(what) != new.get(what))
        for what in dict.fromkeys([*old, *new])
    )  # fmt: skip


def steps(one: Product, other: Product, units: Units) -> tuple[Row, ...]:
    """The steps as they are written."""
    rows = []
    for old, new in differing.step_pairs(one, other):
        step = new or old
        assert step is not None
        said = ["" if each is None else step_words(each, units) for each in (old, new)]
        same = said[0] == said[1]
        rows.append(Row(step.name or STEP_WORD[step.kind], said[0], said[1], "the same" if same else "", not same))
    return tuple(rows)


def as_made(one: Side, other: Side) -> tuple[Row, ...]:
    """How long each step took in two bakes, and what was read and tasted."""
    if one.record is None and other.record is None:
        return ()
    records = [side.record for side in (one, other)]
    steps_by = [{(s.kind, s.index): s for s in record.steps} if record else {} for record in records]
    rows = []
    for at in dict.fromkeys([*steps_by[0], *steps_by[1]]):
        both = [each.get(at) for each in steps_by]
        step = both[0] or both[1]
        assert step is not None
        minutes = [None if each is None else each.minutes for each in both]
        said = []
        for each in both:
            words = [] if each is None or each.minutes is None else [f"{plain(each.minutes)} min"]
            if each is not None:
                words += [f"{read.quantity} {plain(read.value, 1)}" for read in each.readings]
                words += [mark for _, mark in each.marks]
            said.append(", ".join(words) or "not noted")
        here, there = minutes
        change = _by(here, there, f"{plain(abs((there or 0) - (here or 0)))} min")
        rows.append(Row(step.name, said[0], said[1], change, bool(change) and change != "the same"))
    tasted = [
        "; ".join(f"{t.score} of 5, {t.text}" if t.score else t.text for t in record.tasted) if record else ""
        for record in records
    ]
    if any(tasted):
        rows.append(Row("tasting note", tasted[0] or "none", tasted[1] or "none", "", tasted[0] != tasted[1]))
    return tuple(rows)
