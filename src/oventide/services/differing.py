"""What is different between two formulas: line by line with grams and shares, step by step, figure by figure."""

from typing import Literal

from oventide.errors import Refusal
from oventide.formula import percent
from oventide.formula.model import Formula, Frozen, Line
from oventide.makeup.model import MakeUp
from oventide.services import balancing, pairing
from oventide.services.balancing import Level
from oventide.services.pairing import Placed
from oventide.timeline.procedure import Product, Step

Pair = tuple[str, Line | None, Line | None, float | None, float | None]
Way = Literal["came", "went", "changed", "moved"]
LEAST_G = 0.05


class LineChange(Frozen):
    """A line that differs, in the part that it stands in (or stood in, where it went)."""

    way: Way
    part: str
    before: Line | None
    after: Line | None
    before_percent: float | None
    after_percent: float | None


class StepChange(Frozen):
    """A step that differs."""

    way: Way
    before: Step | None
    after: Step | None


class TextChange(Frozen):
    """A name, a note, a way of measuring; empty where it was not there."""

    what: str
    before: str
    after: str


class LevelChange(Frozen):
    """One figure of the balance in both; None where one of them has none."""

    before: Level | None
    after: Level | None


class Differences(Frozen):
    """Everything that differs."""

    lines: tuple[LineChange, ...]
    steps: tuple[StepChange, ...]
    texts: tuple[TextChange, ...]
    makeup: tuple[MakeUp, MakeUp] | None
    """Both, where they differ."""
    levels: tuple[LevelChange, ...]
    """The figures of the balance that moved."""

    @property
    def is_nothing(self) -> bool:
        return not (self.lines or self.steps or self.texts or self.makeup)


def _shares(formula: Formula) -> list[list[float | None]]:
    try:
        return [[each.percent for each in part.on_all_flour] for part in percent.components(formula)]
    except Refusal:
        return [[None] * len(part.lines) for part in formula.components]


def _grams(line: Line) -> float | None:
    return None if line.grams is None else line.grams.likely


def _same(one: Line, other: Line) -> bool:
    here, there = _grams(one), _grams(other)
    weighs_alike = here is there if here is None or there is None else abs(here - there) < LEAST_G
    return weighs_alike and one.text == other.text and one.ingredient == other.ingredient


def _groups(before: Formula, after: Formula) -> tuple[list[int], list[int]]:
    known = pairing.components(before.components, after.components)
    return list(range(len(before.components))), [known.get(i, 1000 + i) for i in range(len(after.components))]


def line_pairs(before: Formula, after: Formula) -> tuple[Pair, ...]:
    """Every line of both, side by side: part, both lines, both shares [%]. In the order of `after`; what went, last."""
    old_groups, new_groups = _groups(before, after)
    old = pairing.lines_of(before.components, old_groups)
    new = pairing.lines_of(after.components, new_groups)
    old_shares = [share for part in _shares(before) for share in part]
    new_shares = [share for part in _shares(after) for share in part]
    names = {group: part.name for group, part in zip(old_groups, before.components, strict=True)}
    names |= {group: part.name for group, part in zip(new_groups, after.components, strict=True)}
    known = pairing.pairs(old, new, pairing.LINES)
    rows: list[Pair] = []
    for there, row in enumerate(new):
        here = known.get(there)
        rows.append((
            names[row.group], None if here is None else old[here].item, row.item,
            None if here is None else old_shares[here], new_shares[there],
        ))  # fmt: skip
    for here, row in enumerate(old):
        if here not in known.values():
            last = max((i for i, each in enumerate(rows) if each[0] == names[row.group]), default=len(rows) - 1)
            rows.insert(last + 1, (names[row.group], row.item, None, old_shares[here], None))
    return tuple(rows)


def _lines(before: Formula, after: Formula) -> tuple[LineChange, ...]:
    was_in = {id(line): part.name for part in before.components for line in part.lines}
    found = []
    for part, old, new, old_share, new_share in line_pairs(before, after):
        if old is None or new is None:
            way: Way = "came" if old is None else "went"
        elif not _same(old, new):
            way = "changed"
        elif was_in[id(old)] != part:
            way = "moved"
        else:
            continue
        found.append(LineChange(way=way, part=part, before=old, after=new, before_percent=old_share,
                                after_percent=new_share))  # fmt: skip
    return tuple(found)


def step_pairs(before: Product, after: Product) -> tuple[tuple[Step | None, Step | None], ...]:
    """Every step of both, side by side, in the order of `after`; what went where it stood."""
    old = [Placed(0, step) for step in before.procedure.steps]
    new = [Placed(0, step) for step in after.procedure.steps]
    known = pairing.pairs(old, new, pairing.STEPS)
    rows: list[tuple[Step | None, Step | None]] = [
        (old[known[i]].item if i in known else None, each.item) for i, each in enumerate(new)
    ]
    for here, each in enumerate(old):
        if here not in known.values():
            rows.insert(min(here, len(rows)), (each.item, None))
    return tuple(rows)


def _steps(before: Product, after: Product) -> tuple[StepChange, ...]:
    found = []
    for old, new in step_pairs(before, after):
        if old is None or new is None:
            found.append(StepChange(way="came" if old is None else "went", before=old, after=new))
        elif old.model_copy(update={"assumed": ()}) != new.model_copy(update={"assumed": ()}):
            found.append(StepChange(way="changed", before=old, after=new))
    if not found and [s.kind for s in before.procedure.steps] != [s.kind for s in after.procedure.steps]:
        moved = next(
            pair for pair in zip(before.procedure.steps, after.procedure.steps, strict=False) if pair[0] != pair[1]
        )
        found.append(StepChange(way="moved", before=moved[0], after=moved[1]))
    return tuple(found)


def _texts(before: Product, after: Product) -> tuple[TextChange, ...]:
    both = (
        ("Name", before.name, after.name), ("Notes", before.notes, after.notes),
        ("Cups and spoons", before.formula.measures.spoons, after.formula.measures.spoons),
        ("Eggs", before.formula.measures.eggs, after.formula.measures.eggs),
        ("Left for you", "; ".join(before.unread), "; ".join(after.unread)),
    )  # fmt: skip
    texts = [TextChange(what=what, before=was, after=now) for what, was, now in both if was != now]
    old_groups, new_groups = _groups(before.formula, after.formula)
    there = dict(zip(old_groups, before.formula.components, strict=True))
    for group, part in zip(new_groups, after.formula.components, strict=True):
        was = there.get(group)
        if was is not None and (was.name, was.kind) != (part.name, part.kind):
            said = [f"{each.name}, a {each.kind}" for each in (was, part)]
            texts.append(TextChange(what="Part", before=said[0], after=said[1]))
    return tuple(texts)


def level_pairs(before: Product, after: Product) -> tuple[LevelChange, ...]:
    """Every figure of the balance, of both."""
    old = {each.measure: each for each in balancing.levels_of(before)}
    new = {each.measure: each for each in balancing.levels_of(after)}
    return tuple(
        LevelChange(before=old.get(measure), after=new.get(measure)) for measure in dict.fromkeys([*new, *old])
    )


def _moved(change: LevelChange) -> bool:
    if change.before is None or change.after is None:
        return True
    return balancing.is_moved(change.before.value, change.after.value)


def between(before: Product, after: Product, balance: bool = True) -> Differences:
    """What is different in `after`; without `balance` the figures of the balance are left out."""
    bare = [each.makeup.model_copy(update={"assumed": ()}) for each in (before, after)]
    return Differences(
        lines=_lines(before.formula, after.formula),
        steps=_steps(before, after),
        texts=_texts(before, after),
        makeup=None if bare[0] == bare[1] else (before.makeup, after.makeup),
        levels=tuple(change for change in level_pairs(before, after) if _moved(change)) if balance else (),
    )
