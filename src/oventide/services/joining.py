"""A formula or a kitchen that was changed on two devices, put together, with what only the baker can settle."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from oventide.formula.model import Component, Formula, Frozen, Line, Measures
from oventide.kitchen.model import Kitchen
from oventide.makeup.model import MakeUp
from oventide.services import merging, pairing
from oventide.services.merging import Clash, Slot, Take
from oventide.services.pairing import Placed
from oventide.timeline.procedure import Procedure, Product, Step
from oventide.units.estimate import Estimate

AS_SHOWN = 0.06
"""Figures that a form shows alike [°C]."""
Choices = Mapping[str, Take]
MAKE_UP = {
    "sheet": ("sheet_length_mm", "sheet_width_mm"), "pieces": ("pieces", "piece_g"), "tin": ("tin", "tins"),
    "cuts": ("kerf_mm", "trim_mm"), "sheets": ("sheets",), "seam": ("seam_margin_mm",),
}  # fmt: skip
NEW_THERE, NEW_HERE = 1000, 2000
"""Numbers of the parts that came with the other device's revision, and with what was typed here."""


LISTED = ("line", "step", "unread", "notes")


def _take(clash: Clash[Any], choices: Choices) -> Take:
    """What was chosen; without a choice whatever still stands on either side, so that nothing is lost."""
    return choices.get(clash.key, "both" if clash.key.startswith(LISTED) else "mine")


def stands_twice(clash: Clash[Any]) -> bool:
    """Whether both can be taken: two lines can stand one below the other, two names cannot."""
    return clash.key.startswith(LISTED) and clash.theirs is not None and clash.mine is not None


def _settled(value: Any, choices: Choices) -> Any:
    if isinstance(value, Clash):
        return value.theirs if _take(value, choices) == "theirs" else value.mine
    return value


@dataclass(frozen=True)
class JoinedProduct:
    """A formula put together: lists of slots, and single things that are either settled or a clash."""

    parts: Mapping[int, tuple[Any, Any]]
    """Kind and name of each part, in order."""
    lines: tuple[Slot[Line], ...]
    steps: tuple[Slot[Step], ...]
    unread: tuple[Slot[str], ...]
    notes: tuple[Slot[str], ...]
    fields: Mapping[str, Any]

    @property
    def clashes(self) -> tuple[Clash[Any], ...]:
        """What only the baker can settle, in the order of the page."""
        single = [*self.fields.values(), *(each for part in self.parts.values() for each in part)]
        return (
            *(each for each in single if isinstance(each, Clash)),
            *merging.clashes(self.lines), *merging.clashes(self.steps),
            *merging.clashes(self.notes), *merging.clashes(self.unread),
        )  # fmt: skip

    def content(self, choices: Choices) -> Product:
        """The formula by the baker's choices."""

        def choose(clash: Clash[Any]) -> Take:
            return _take(clash, choices)

        def texts(slots: Sequence[Slot[str]]) -> tuple[str, ...]:
            return tuple(placed.item for placed in merging.settle(slots, choose))

        by_part: dict[int, list[Line]] = {group: [] for group in self.parts}
        for placed in merging.settle(self.lines, choose):
            by_part[placed.group].append(placed.item)
        components = tuple(
            Component(kind=_settled(kind, choices), name=_settled(name, choices), lines=tuple(by_part[group]))
            for group, (kind, name) in self.parts.items()
            if by_part[group]
        )
        settled = {key: _settled(value, choices) for key, value in self.fields.items()}
        makeup: dict[str, Any] = {"assumed": settled["assumed"]}
        for key, names in MAKE_UP.items():
            makeup |= dict(zip(names, settled[f"makeup.{key}"], strict=True))
        return Product(
            name=settled["name"],
            formula=Formula(
                name=settled["name"], components=components,
                measures=Measures(spoons=settled["spoons"], eggs=settled["eggs"]),
            ),
            makeup=MakeUp(**makeup),
            procedure=Procedure(steps=tuple(p.item for p in merging.settle(self.steps, choose))),
            notes="\n".join(texts(self.notes)),
            unread=texts(self.unread),
        )  # fmt: skip


@dataclass(frozen=True)
class JoinedKitchen:
    """A kitchen put together, figure by figure."""

    fields: Mapping[str, Any]

    @property
    def clashes(self) -> tuple[Clash[Any], ...]:
        """Figures that both changed."""
        return tuple(each for each in self.fields.values() if isinstance(each, Clash))

    def content(self, choices: Choices) -> Kitchen:
        """The kitchen by the baker's choices."""
        return Kitchen(**{key: _settled(value, choices) for key, value in self.fields.items()})


Joined = JoinedProduct | JoinedKitchen


def _united(base: Sequence[str], theirs: Sequence[str], mine: Sequence[str]) -> tuple[str, ...]:
    """Sentences of what was assumed: what either side still says, without what the other one took away."""
    gone = (set(base) - set(theirs)) | (set(base) - set(mine))
    return tuple(said for said in dict.fromkeys([*theirs, *mine]) if said not in gone)


def _untouched(base: Any, mine: Any) -> Any:
    """A range that was only shown (in °F perhaps) and read again is no change: a form shows its ends."""
    if isinstance(base, Estimate) and isinstance(mine, Estimate) and base.grade == mine.grade:
        ends = ((base.low, mine.low), (base.high, mine.high))
        return base if all(abs(one - other) < AS_SHOWN for one, other in ends) else mine
    return mine


def join_kitchens(base: Kitchen, theirs: Kitchen, mine: Kitchen) -> JoinedKitchen:
    """Figure by figure."""
    fields: dict[str, Any] = {
        name: merging.one(
            f"kitchen.{name}",
            getattr(base, name),
            _untouched(getattr(base, name), getattr(theirs, name)),
            _untouched(getattr(base, name), getattr(mine, name)),
        )
        for name in Kitchen.model_fields
        if name != "assumed"
    }
    return JoinedKitchen({**fields, "assumed": _united(base.assumed, theirs.assumed, mine.assumed)})


def _groups(base: Formula, theirs: Formula, mine: Formula) -> tuple[list[int], list[int], list[int]]:
    """The parts of the three, numbered so that the same part has the same number."""
    there = pairing.components(base.components, theirs.components)
    here = pairing.components(base.components, mine.components)
    of_theirs = [there.get(i, NEW_THERE + i) for i in range(len(theirs.components))]
    new = {(theirs.components[i].kind, theirs.components[i].name): g for i, g in enumerate(of_theirs) if g >= NEW_THERE}
    of_mine = []
    for i, part in enumerate(mine.components):
        group = here.get(i)
        of_mine.append(new.pop((part.kind, part.name), NEW_HERE + i) if group is None else group)
    return list(range(len(base.components))), of_theirs, of_mine


def _parts(
    base: Formula, theirs: Formula, mine: Formula, groups: tuple[list[int], list[int], list[int]]
) -> dict[int, tuple[Any, Any]]:
    """Kind and name of every part, in their order, each of mine behind the one that it follows here."""
    had, there, here = (
        dict(zip(numbers, formula.components, strict=True))
        for numbers, formula in zip(groups, (base, theirs, mine), strict=True)
    )
    order = list(there)
    before: int | None = None
    for group in here:
        if group not in order:
            order.insert(order.index(before) + 1 if before is not None else 0, group)
        before = group
    found: dict[int, tuple[Any, Any]] = {}
    for group in order:
        sides = [side.get(group) for side in (had, there, here)]
        if all(sides):
            was, other, own = (side for side in sides if side is not None)
            found[group] = (
                merging.one(f"part.{group}.kind", was.kind, other.kind, own.kind),
                merging.one(f"part.{group}.name", was.name, other.name, own.name),
            )
        else:
            part = next(side for side in reversed(sides) if side is not None)
            found[group] = (part.kind, part.name)
    return found


def _listed(key: str, three: Sequence[Sequence[str]]) -> tuple[Slot[str], ...]:
    return merging.sequence(key, [[Placed(0, text) for text in side] for side in three], pairing.TEXTS)


def join_products(base: Product, theirs: Product, mine: Product) -> JoinedProduct:
    """Line by line, step by step, figure by figure."""
    three = (base, theirs, mine)
    groups = _groups(base.formula, theirs.formula, mine.formula)
    lines = [pairing.lines_of(each.formula.components, numbers) for each, numbers in zip(three, groups, strict=True)]
    steps = [[Placed(0, step) for step in each.procedure.steps] for each in three]

    def single(key: str, read: Callable[[Product], Any]) -> Any:
        return merging.one(key, read(base), read(theirs), read(mine))

    fields: dict[str, Any] = {
        "name": single("name", lambda each: each.name),
        "spoons": single("spoons", lambda each: each.formula.measures.spoons),
        "eggs": single("eggs", lambda each: each.formula.measures.eggs),
        "assumed": _united(base.makeup.assumed, theirs.makeup.assumed, mine.makeup.assumed),
    }
    for key, names in MAKE_UP.items():
        sides = [tuple(getattr(each.makeup, name) for name in names) for each in three]
        fields[f"makeup.{key}"] = merging.one(f"makeup.{key}", *sides)
    return JoinedProduct(
        parts=_parts(base.formula, theirs.formula, mine.formula, groups),
        lines=merging.sequence("line", lines, pairing.LINES),
        steps=merging.sequence("step", steps, pairing.STEPS),
        unread=_listed("unread", [each.unread for each in three]),
        notes=_listed("notes", [each.notes.split("\n") if each.notes else () for each in three]),
        fields=fields,
    )


def join(base: Frozen, theirs: Frozen, mine: Frozen) -> Joined:
    """A formula or a kitchen of which there are two newer ones."""
    if isinstance(base, Product) and isinstance(theirs, Product) and isinstance(mine, Product):
        return join_products(base, theirs, mine)
    assert isinstance(base, Kitchen)
    assert isinstance(theirs, Kitchen)
    assert isinstance(mine, Kitchen)
    return join_kitchens(base, theirs, mine)
