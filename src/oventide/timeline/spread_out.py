"""Who carries the members: this machine, some of them at a time, or the workers of a cluster, with the same results.

A member's answer does not hang on those beside it (`oventide.lanes`). The members are cut at a multiple of LANES, each
part is carried on its own, and the parts are joined in their order: a step's answer is the same to the last bit,
whoever carried it, up to MEMBERS_AT_ONCE; more of them keep their samples in single precision. What the steps decide
for the whole ensemble stays where it is decided.
"""

import mmap
import tempfile
from collections.abc import Callable, Sequence
from dataclasses import dataclass, fields, is_dataclass
from typing import Any, TypeVar

import numpy as np
from numpy.typing import NDArray

from oventide.lanes.number import LANES

T = TypeVar("T")
MEMBERS_AT_ONCE = 2048
"""More members than this are carried in parts, and their samples lie in a temporary file in single precision."""
_SHARED = frozenset({"faces", "air_s", "sample_s"})
"""Arrays of a stage or a state that do not lead with the member."""


def cut(thing: Any, part: slice | NDArray[np.int64], members: int) -> Any:
    """What concerns some of the members: of an array its rows, of a dataclass or a dict of such every array's rows."""
    if isinstance(thing, np.ndarray):
        if thing.shape[0] != members:
            raise ValueError(f"an array of {thing.shape} does not lead with {members} members")
        return thing[part]
    if isinstance(thing, dict):
        return {key: cut(value, part, members) for key, value in thing.items()}
    if is_dataclass(thing) and not isinstance(thing, type):
        values = {field.name: getattr(thing, field.name) for field in fields(thing)}
        return type(thing)(
            **{name: value if name in _SHARED else cut(value, part, members) for name, value in values.items()}
        )
    return thing


def joined(parts: Sequence[Any]) -> Any:
    """Put parts together again, in their order: the inverse of `cut`."""
    first = parts[0]
    if isinstance(first, np.ndarray):
        return np.concatenate(parts)
    if not is_dataclass(first) or isinstance(first, type):
        return first
    found = {}
    for field in fields(first):
        values = [getattr(part, field.name) for part in parts]
        if field.name == "samples":
            found[field.name] = _put_away(values)
        else:
            found[field.name] = values[0] if field.name in _SHARED else joined(values)
    return type(first)(**found)


def _put_away(parts: Sequence[NDArray[Any]]) -> NDArray[Any]:
    """Samples (M, K, observables) of all parts; of many members in a file, in single precision, observables first.

    A curve is then read from one stretch of the file, and what is not being read takes no memory.
    """
    members, (count, kinds) = sum(part.shape[0] for part in parts), parts[0].shape[1:]
    if members <= MEMBERS_AT_ONCE:
        return np.concatenate(parts)
    with tempfile.TemporaryFile() as file:
        store = np.memmap(file, dtype=np.float32, mode="w+", shape=(kinds, members, count))
    begin = 0
    for part in parts:
        store[:, begin : begin + part.shape[0]] = np.moveaxis(part, -1, 0)
        begin += part.shape[0]
    forget(store)
    return np.moveaxis(store, 0, -1)


def forget(store: NDArray[Any]) -> None:
    """Give back the memory of what was read from a file; nothing for an array in memory."""
    base: Any = store
    while isinstance(base, np.ndarray):
        base = base.base
    if isinstance(base, mmap.mmap) and hasattr(mmap, "MADV_DONTNEED"):
        base.madvise(mmap.MADV_DONTNEED)


@dataclass(frozen=True)
class Hands:
    """This machine. `carry` calls `work(*arguments)` for all members, in parts where there are many."""

    members_at_once: int = MEMBERS_AT_ONCE

    def __post_init__(self) -> None:
        if self.members_at_once < LANES or self.members_at_once % LANES:
            raise ValueError(f"members at once: a multiple of {LANES}")

    def carry(self, members: int, work: Callable[..., T], *arguments: Any) -> T:
        """`work` over members; every array in the arguments leads with the member, but for _SHARED."""
        if members <= self.members_at_once:
            return work(*arguments)
        return self._in_parts(members, work, arguments)

    def _in_parts(self, members: int, work: Callable[..., T], arguments: Sequence[Any]) -> T:
        parts = [[cut(each, part, members) for each in arguments] for part in self._parts(members)]
        whole: T = joined(self._each(parts, work))
        return whole

    def _parts(self, members: int) -> list[slice]:
        return [slice(begin, begin + self.members_at_once) for begin in range(0, members, self.members_at_once)]

    def _each(self, parts: list[list[Any]], work: Callable[..., T]) -> list[T]:
        return [work(*part) for part in parts]


@dataclass(frozen=True)
class ClusterHands(Hands):
    """The workers of a Dask cluster; `client` is a `distributed.Client` (the extra `cluster`).

    Every worker needs Oventide installed; its machine code is compiled or read there. Parts go out as they are, come
    back in order, and are joined here.
    """

    client: Any = None

    def carry(self, members: int, work: Callable[..., T], *arguments: Any) -> T:
        return self._in_parts(members, work, arguments)

    def _each(self, parts: list[list[Any]], work: Callable[..., T]) -> list[T]:
        waiting = [self.client.submit(work, *part, pure=False) for part in parts]
        return list(self.client.gather(waiting))
