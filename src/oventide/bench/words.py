"""What the bench says, in the language of its device. English is the message; values stand in {named} places."""

from collections.abc import Mapping

from oventide.bench.model import Entry, Mark, Quantity
from oventide.words.speaker import Speaker

UNITS: Mapping[Quantity, tuple[str, int]] = {
    "dough temperature": (" °C", 1),
    "core": (" °C", 1),
    "surface": (" °C", 1),
    "rise since mixing": ("×", 2),
    "rise since shaping": ("×", 2),
    "jar height": (" mm", 0),
    "bowl weight": (" g", 0),
}
"""Unit and decimals of what is read; the unit of a rise stands before it."""


def grams_words(speaker: Speaker, grams: float) -> str:
    """Grams as a scale shows them: tenths below 20 g, whole grams above.

    >>> grams_words(Speaker(), 7.04), grams_words(Speaker("de"), 4.5), grams_words(Speaker(), 270.0)
    ('7 g', '4,5 g', '270 g')
    """
    tenths = abs(grams) < 20 and round(grams, 1) != round(grams)
    return f"{speaker.number(grams, 1 if tenths else 0)} g"


def quantity_words(speaker: Speaker, quantity: Quantity) -> str:
    """What was read."""
    named = {
        "dough temperature": speaker.say("dough"),
        "core": speaker.say("core"),
        "surface": speaker.say("surface"),
        "rise since mixing": speaker.say("risen since mixing"),
        "rise since shaping": speaker.say("risen since shaping"),
        "jar height": speaker.say("height in the jar"),
        "bowl weight": speaker.say("bowl"),
    }
    return named[quantity]


def reading_words(speaker: Speaker, quantity: Quantity, value: float) -> str:
    """A reading with its unit.

    >>> reading_words(Speaker(), "core", 91.0), reading_words(Speaker(), "rise since mixing", 1.8)
    ('core 91 °C', 'risen since mixing ×1.8')
    """
    return f"{quantity_words(speaker, quantity)} {figure_words(speaker, quantity, value)}"


def figure_words(speaker: Speaker, quantity: Quantity, value: float) -> str:
    """A figure of a reading with its unit.

    >>> figure_words(Speaker("de"), "rise since shaping", 1.75), figure_words(Speaker(), "core", -20.0)
    ('×1,75', '−20 °C')
    """
    unit, decimals = UNITS[quantity]
    number = speaker.number(round(value, decimals))
    return unit + number if unit == "×" else number + unit


def mark_words(speaker: Speaker, mark: Mark) -> str:
    """A mark of one tap."""
    return {
        "at the mark": speaker.say("at the mark"),
        "too soft": speaker.say("too soft"),
        "not yet": speaker.say("not yet"),
    }[mark]


def entry_words(
    speaker: Speaker, entry: Entry, steps: Mapping[int, str], lines: Mapping[str, str], of: str = ""
) -> str:
    """An entry as the log shows it.

    `steps` and `lines` name steps and ingredients; `of` says what an undo, an alarm or a way out was about.
    """
    step = steps.get(entry.step, "") if entry.step is not None else ""
    if entry.deed == "done":
        return speaker.say("{step}: done", step=step)
    if entry.deed == "mark" and entry.mark is not None:
        return speaker.say("{step}: {mark}", step=step, mark=mark_words(speaker, entry.mark))
    if entry.deed == "reading" and entry.quantity is not None and entry.value is not None:
        read = reading_words(speaker, entry.quantity, entry.value)
        return speaker.say("{step}: {reading}", step=step, reading=read)
    if entry.deed == "weighed":
        name = lines.get(entry.line, entry.line)
        if entry.value is None:
            return speaker.say("{name} is in the bowl", name=name)
        shown = grams_words(speaker, entry.value)
        return speaker.say("{name} is in the bowl, which shows {weight}", name=name, weight=shown)
    if entry.deed == "ready_by" and entry.value is not None:
        hour, minute = divmod(round(entry.value), 60)
        return speaker.say("to be ready by {clock}", clock=f"{hour % 24:02d}:{minute:02d}")
    if entry.deed == "note":
        if entry.score is None:
            return entry.text
        if not entry.text:
            return speaker.say("tasted: {score} of 5", score=str(entry.score))
        return speaker.say("tasted: {score} of 5. {text}", score=str(entry.score), text=entry.text)
    if entry.deed == "undo":
        return speaker.say("taken back: {what}", what=of or entry.of)
    if entry.deed == "heard":
        return speaker.say("alarm heard: {what}", what=of or entry.of)
    if entry.deed == "rescue":
        return speaker.say("way out taken: {what}", what=of or entry.of)
    return speaker.say("the bake is over")
