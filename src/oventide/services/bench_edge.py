"""Entries at the edge: what a device sends is read one by one, and what cannot be used is refused in words.

One entry that cannot be used does not keep the others out.
"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from pydantic import ValidationError

from oventide.bench.model import Bake, Entry, Quantity, Uid
from oventide.bench.reading import ASKS, MARKS, RANGES
from oventide.bench.weighing import items_of
from oventide.bench.words import figure_words, mark_words, quantity_words
from oventide.errors import refuse
from oventide.forecast.words import step_words
from oventide.words.speaker import Speaker

MOST_AT_ONCE = 500
ENGLISH = Speaker()
_UID = re.compile(r"[A-Za-z0-9_-]{8,64}")


@dataclass(frozen=True)
class Sent:
    """What came in: entries that can be read, and uids of those that cannot with the reason."""

    entries: tuple[Entry, ...]
    refused: tuple[tuple[Uid, str], ...]


def entries_from(body: Any, speaker: Speaker = ENGLISH) -> Sent:
    """Entries from what a device sent, {"entries": [...]}."""
    found = body.get("entries") if isinstance(body, Mapping) else None
    if not isinstance(found, Sequence) or isinstance(found, str | bytes):
        raise refuse("entries", "", "A list of entries is needed.", 'Send {"entries": [...]}.')
    if len(found) > MOST_AT_ONCE:
        raise refuse("entries", len(found), f"At most {MOST_AT_ONCE} entries are taken at once.", "Send them in parts.")
    entries, refused = [], []
    for place, raw in enumerate(found):
        uid = raw.get("uid") if isinstance(raw, Mapping) else None
        if not isinstance(uid, str) or not _UID.fullmatch(uid):
            raise refuse(f"entries.{place}.uid", uid, "An entry needs a name of its own: 8 to 64 letters and digits.",
                         "Nothing was stored. Give every entry a uid, and the same one when it is sent again."
                         )  # fmt: skip
        try:
            entries.append(Entry.model_validate(dict(raw)))
        except ValidationError as trouble:
            refused.append((uid, _words(trouble, speaker)))
    return Sent(tuple(entries), tuple(refused))


def _words(trouble: ValidationError, speaker: Speaker) -> str:
    """Which field could not be read."""
    fields = dict.fromkeys(".".join(str(part) for part in each["loc"]) or "entry" for each in trouble.errors())
    return speaker.say("Not readable: {fields}.", fields=", ".join(fields))


def sorted_out(bake: Bake, entries: Sequence[Entry], known: frozenset[str], speaker: Speaker = ENGLISH) -> Sent:
    """Entries that belong to this bake, and those that do not with the reason. `known` are uids that are stored."""
    there = known | {entry.uid for entry in entries}
    lines = frozenset(item.line for item in items_of(bake))
    kept, refused = [], []
    for entry in entries:
        why = "" if entry.uid in known else _amiss(bake, entry, there, lines, speaker)
        if why:
            refused.append((entry.uid, why))
        else:
            kept.append(entry)
    return Sent(tuple(kept), tuple(refused))


def _amiss(bake: Bake, entry: Entry, there: frozenset[str], lines: frozenset[str], speaker: Speaker) -> str:
    """Why an entry cannot be used; empty where it can."""
    steps = bake.product.procedure.steps
    if entry.step is not None and entry.step >= len(steps):
        return speaker.say("This bake has {count} steps; step {number} is not one of them.", count=len(steps),
                           number=entry.step + 1)  # fmt: skip
    if entry.deed in ("done", "mark", "reading") and entry.step is None:
        return speaker.say("It is not said at which step.")
    if entry.deed == "mark":
        return _amiss_mark(bake, entry, speaker)
    if entry.deed == "reading":
        return _amiss_reading(bake, entry, speaker)
    if entry.deed == "weighed":
        if entry.line not in lines:
            return speaker.say("This line is not in the formula of this bake.")
        return _beyond("bowl weight", entry.value, speaker) if entry.value is not None else ""
    if entry.deed == "undo":
        if entry.of == entry.uid:
            return speaker.say("An entry cannot take itself back.")
        return "" if entry.of in there else speaker.say("What is to be taken back is not in this bake.")
    if entry.deed == "heard":
        parts = entry.of.removeprefix(f"{bake.key}.").split(".")
        is_own = entry.of.startswith(f"{bake.key}.") and len(parts) == 2 and parts[0].isdigit()
        return "" if is_own else speaker.say("This alarm is not one of this bake.")
    if entry.deed == "rescue":
        return "" if entry.of else speaker.say("It is not said which way out was taken.")
    if entry.deed == "ready_by":
        is_minute = entry.value is not None and 0 <= entry.value < 1440
        return "" if is_minute else speaker.say("A moment to be ready is a time of day, 00:00 to 23:59.")
    if entry.deed == "note":
        is_empty = not entry.text.strip() and entry.score is None
        return speaker.say("There is nothing in this note.") if is_empty else ""
    return ""


def _amiss_mark(bake: Bake, entry: Entry, speaker: Speaker) -> str:
    assert entry.step is not None
    step = bake.product.procedure.steps[entry.step]
    if entry.mark is None:
        return speaker.say("It is not said which mark.")
    if entry.mark not in MARKS[step.kind]:
        return speaker.say("“{mark}” says nothing about the step {step}.", mark=mark_words(speaker, entry.mark),
                           step=speaker.retell(step_words(step).name))  # fmt: skip
    return ""


def _amiss_reading(bake: Bake, entry: Entry, speaker: Speaker) -> str:
    assert entry.step is not None
    step = bake.product.procedure.steps[entry.step]
    if entry.quantity is None or entry.value is None:
        return speaker.say("A reading is a figure and what it is of.")
    if entry.quantity not in ASKS[step.kind]:
        name = speaker.retell(step_words(step).name)
        asked = ", ".join(quantity_words(speaker, quantity) for quantity in ASKS[step.kind])
        if not asked:
            return speaker.say("Nothing is read at the step {step}.", step=name)
        return speaker.say("At the step {step} can be read: {quantities}.", step=name, quantities=asked)
    return _beyond(entry.quantity, entry.value, speaker)


def _beyond(quantity: Quantity, value: float, speaker: Speaker) -> str:
    low, high, _unit = RANGES[quantity]
    if low <= value <= high:
        return ""
    least, most = (figure_words(speaker, quantity, end) for end in (low, high))
    what = quantity_words(speaker, quantity)
    return speaker.say("This figure cannot be of this kind ({what}): {low} to {high}.", what=what, low=least, high=most)
