"""Which line of one revision is which line of another: by its words, then by what it is, then by its place."""

from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher
from typing import Generic, TypeVar

from oventide.formula.model import Component, Line
from oventide.timeline.procedure import Step

T = TypeVar("T")


@dataclass(frozen=True)
class Placed(Generic[T]):
    """Something in a list, and the part of the formula that it stands in."""

    group: int
    item: T


@dataclass(frozen=True)
class Likeness(Generic[T]):
    """How things are known again: by their words, and by what they are (None where that is not known)."""

    words: Callable[[T], Hashable]
    kind: Callable[[T], Hashable]


LINES: Likeness[Line] = Likeness(
    lambda line: " ".join(line.text.lower().split()), lambda line: line.ingredient or line.name.lower() or None
)
STEPS: Likeness[Step] = Likeness(lambda step: (step.kind, step.name, step.text), lambda step: step.kind)
TEXTS: Likeness[str] = Likeness(lambda text: text.strip(), lambda _: None)


def components(before: Sequence[Component], after: Sequence[Component]) -> dict[int, int]:
    """Place in `after` to place in `before`: same name and kind, then same name, then same kind in order."""
    found: dict[int, int] = {}
    ways: tuple[Callable[[Component, Component], bool], ...] = (
        lambda one, other: one.name == other.name and one.kind == other.kind,
        lambda one, other: one.name == other.name,
        lambda one, other: one.kind == other.kind,
    )
    for alike in ways:
        for there, other in enumerate(after):
            if there in found:
                continue
            here = next((i for i, one in enumerate(before) if i not in found.values() and alike(one, other)), None)
            if here is not None:
                found[there] = here
    return found


def pairs(before: Sequence[Placed[T]], after: Sequence[Placed[T]], like: Likeness[T]) -> dict[int, int]:
    """Place in `after` to place in `before`, for what is the same thing in both.

    >>> old = [Placed(0, "salt"), Placed(0, "milk")]
    >>> pairs(old, [Placed(0, "milk"), Placed(0, "rye flour"), Placed(1, "salt")], TEXTS)
    {0: 1, 2: 0}
    """
    found: dict[int, int] = {}
    taken: set[int] = set()

    def pair(there: int, here: int) -> None:
        found[there] = here
        taken.add(here)

    gaps: list[tuple[list[int], list[int]]] = []
    for group in dict.fromkeys(each.group for each in after):
        old = [i for i, each in enumerate(before) if each.group == group]
        new = [i for i, each in enumerate(after) if each.group == group]
        matcher = SequenceMatcher(
            None, [like.words(before[i].item) for i in old], [like.words(after[i].item) for i in new], autojunk=False
        )
        for deed, a, b, c, d in matcher.get_opcodes():
            if deed == "equal":
                for here, there in zip(old[a:b], new[c:d], strict=True):
                    pair(there, here)
            elif deed == "replace":
                gaps.append((old[a:b], new[c:d]))

    def rest(same: Callable[[Placed[T], Placed[T]], bool]) -> None:
        for there, now in enumerate(after):
            if there not in found:
                here = next((i for i, was in enumerate(before) if i not in taken and same(was, now)), None)
                if here is not None:
                    pair(there, here)

    rest(lambda was, now: like.words(was.item) == like.words(now.item))
    rest(lambda was, now: was.group == now.group and like.kind(now.item) is not None
         and like.kind(was.item) == like.kind(now.item))  # fmt: skip
    for old, new in gaps:
        left, right = [i for i in old if i not in taken], [i for i in new if i not in found]
        for here, there in zip(left, right, strict=False):
            pair(there, here)
    return dict(sorted(found.items()))


def lines_of(parts: Sequence[Component], groups: Sequence[int]) -> list[Placed[Line]]:
    """Every line with the number of its part."""
    return [Placed(group, line) for group, part in zip(groups, parts, strict=True) for line in part.lines]
