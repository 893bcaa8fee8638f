"""Two edits of the same revision put together line by line; where both touched the same line, both are kept to choose.

`base` is what both had before them, `theirs` what was saved meanwhile, `mine` what was typed. A thing that one side
changed is taken from that side. A thing that both changed, each in its own way, is a clash: nothing is chosen for it,
and no word of either side is lost.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Generic, Literal, TypeVar, cast

from oventide.services.pairing import Likeness, Placed, pairs

T = TypeVar("T")
Take = Literal["theirs", "mine", "both"]


@dataclass(frozen=True)
class Clash(Generic[T]):
    """One thing that both sides changed; None on the side where it is gone, and as `base` where it is new."""

    key: str
    base: T | None
    theirs: T | None
    mine: T | None

    def taken(self, take: Take) -> tuple[T, ...]:
        """What stands there by a choice."""
        found = {"theirs": (self.theirs,), "mine": (self.mine,), "both": (self.theirs, self.mine)}[take]
        return tuple(each for each in found if each is not None)


@dataclass(frozen=True)
class Slot(Generic[T]):
    """A place in a list that was put together: one thing, or a clash."""

    group: int
    what: T | Clash[T]


def one(key: str, base: T, theirs: T, mine: T) -> "T | Clash[T]":
    """A single thing, put together.

    >>> one("name", "coils", "coils", "poppy coils")
    'poppy coils'
    """
    if mine in (base, theirs):
        return theirs
    if theirs == base:
        return mine
    return Clash(key, base, theirs, mine)


@dataclass(frozen=True)
class _Side(Generic[T]):
    """One side beside the base."""

    rows: Sequence[Placed[T]]
    to_base: Mapping[int, int]

    @property
    def from_base(self) -> dict[int, int]:
        return {here: there for there, here in self.to_base.items()}

    def is_rearranged(self, base: Sequence[Placed[T]]) -> bool:
        """Whether things that the base holds stand in another order or part."""
        order = [self.to_base[i] for i in range(len(self.rows)) if i in self.to_base]
        return order != sorted(order) or any(
            self.rows[there].group != base[here].group for there, here in self.to_base.items()
        )


def sequence(key: str, three: Sequence[Sequence[Placed[T]]], like: Likeness[T]) -> tuple[Slot[T], ...]:
    """A list put together, of base, theirs and mine.

    It keeps the order of the side that rearranged it; of theirs where both did, or none.
    """
    base, theirs, mine = three
    other, own = _Side(theirs, pairs(base, theirs, like)), _Side(mine, pairs(base, mine, like))
    mine_leads = own.is_rearranged(base) and not other.is_rearranged(base)
    lead, follow = (own, other) if mine_leads else (other, own)
    came = _came_on_both(lead, follow, like)

    def settled(here: int | None, led: T | None, followed: T | None) -> T | Clash[T] | None:
        was: Any = None if here is None else base[here].item
        left: Any
        right: Any
        left, right = (followed, led) if mine_leads else (led, followed)
        name = f"{key}.{here}" if here is not None else f"{key}.new{len(slots)}"
        return cast("T | Clash[T] | None", one(name, was, left, right))

    slots: list[tuple[Slot[T], int | None]] = []
    """What stands there, and which row of the following side it holds."""
    where: dict[int, int | None] = {}
    for there, row in enumerate(lead.rows):
        here = lead.to_base.get(there)
        place = came.get(there) if here is None else follow.from_base.get(here)
        if here is None and place is None:
            slots.append((Slot(row.group, row.item), None))
            continue
        found = settled(here, row.item, None if place is None else follow.rows[place].item)
        if place is not None:
            where[place] = None
        if found is not None:
            slots.append((Slot(row.group, found), place))
    for there, row in enumerate(follow.rows):
        if there in where:
            continue
        here = follow.to_base.get(there)
        found = row.item if here is None else settled(here, None, row.item)
        if found is not None:
            _after(slots, follow.rows, there, Slot(row.group, found))
    return tuple(slot for slot, _ in slots)


def _came_on_both(lead: _Side[T], follow: _Side[T], like: Likeness[T]) -> dict[int, int]:
    """Things that are new on both sides and stand for the same: place on the leading side to the following one's."""
    new_here = [i for i in range(len(lead.rows)) if i not in lead.to_base]
    new_there = [i for i in range(len(follow.rows)) if i not in follow.to_base]
    found = pairs([lead.rows[i] for i in new_here], [follow.rows[i] for i in new_there], like)
    same = {}
    for there, here in found.items():
        one_, other = lead.rows[new_here[here]], follow.rows[new_there[there]]
        kin = like.kind(one_.item)
        if one_.group == other.group and (
            like.words(one_.item) == like.words(other.item) or (kin is not None and kin == like.kind(other.item))
        ):
            same[new_here[here]] = new_there[there]
    return same


def _after(slots: list[tuple[Slot[T], int | None]], rows: Sequence[Placed[T]], there: int, slot: Slot[T]) -> None:
    """Put a slot behind the row that it follows on its own side; else before everything of its part."""
    held = {row: at for at, (_, row) in enumerate(slots) if row is not None}
    for before in range(there - 1, -1, -1):
        if rows[before].group != slot.group:
            break
        if before in held and slots[held[before]][0].group == slot.group:
            slots.insert(held[before] + 1, (slot, there))
            return
    first = next((at for at, (each, _) in enumerate(slots) if each.group == slot.group), len(slots))
    slots.insert(first, (slot, there))


def clashes(slots: Sequence[Slot[T]]) -> tuple[Clash[T], ...]:
    """The clashes among them."""
    return tuple(slot.what for slot in slots if isinstance(slot.what, Clash))


def settle(slots: Sequence[Slot[T]], choose: Callable[[Clash[T]], Take]) -> tuple[Placed[T], ...]:
    """The list with every clash settled."""
    found: list[Placed[T]] = []
    for slot in slots:
        things = slot.what.taken(choose(slot.what)) if isinstance(slot.what, Clash) else (slot.what,)
        found += [Placed(slot.group, thing) for thing in things]
    return tuple(found)
