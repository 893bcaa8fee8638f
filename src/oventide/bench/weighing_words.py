"""What a bowl that is too light or too heavy says, and the rescue."""

from oventide.bench.weighing import Finding, Item
from oventide.bench.words import grams_words
from oventide.words.speaker import Speaker


def finding_words(speaker: Speaker, finding: Finding) -> str:
    """The difference and what to do; empty where the bowl agrees.

    >>> salt = Item("1.5", "Dough", "fine salt", "", 7.0, 0.1, 0)
    >>> finding_words(Speaker(), Finding("missing", -7.0, (salt,)))
    'The bowl is 7 g too light, as much as fine salt weighs. If it was left out, add 7 g fine salt.'
    """
    if finding.kind == "agrees":
        return ""
    off = grams_words(speaker, abs(finding.grams))
    if finding.kind == "unclear":
        return speaker.say(
            "The bowl is {weight} too light, and no one ingredient explains it: look at the scale's zero.", weight=off
        ) if finding.grams < 0 else speaker.say(
            "The bowl is {weight} too heavy, and no one ingredient explains it: look at the scale's zero.", weight=off
        )  # fmt: skip
    if len(finding.items) > 1:
        names = speaker.listed([item.name for item in finding.items])
        if finding.kind == "missing":
            return speaker.say(
                "The bowl is {weight} too light. {names} weigh as much: look which one is not in it, and add it.",
                weight=off, names=names,
            )  # fmt: skip
        return speaker.say(
            "The bowl is {weight} too heavy. {names} weigh as much: look which one is in it twice.",
            weight=off, names=names,
        )  # fmt: skip
    item = finding.items[0]
    own = grams_words(speaker, item.grams or 0.0)
    if finding.kind == "missing":
        return speaker.say(
            "The bowl is {weight} too light, as much as {name} weighs. If it was left out, add {own} {name}.",
            weight=off, name=item.name, own=own,
        )  # fmt: skip
    if finding.kind == "doubled":
        return speaker.say(
            "The bowl is {weight} too heavy, as much as {name} weighs. If it went in twice, lift {own} out; "
            "where it is stirred in, weigh everything else twice.",
            weight=off, name=item.name, own=own,
        )  # fmt: skip
    if finding.kind == "not ticked":
        return speaker.say(
            "The bowl is {weight} too heavy, as much as {name} weighs, which is not ticked yet: it may be in already.",
            weight=off, name=item.name,
        )  # fmt: skip
    if finding.kind == "short":
        return speaker.say("The bowl is {weight} too light: add {weight} {name}.", weight=off, name=item.name)
    return speaker.say(
        "The bowl is {weight} too heavy: lift out {weight} {name}, or weigh the other ingredients × {times}.",
        weight=off, name=item.name, times=speaker.number(_times(item, finding.grams), 2),
    )  # fmt: skip


def _times(item: Item, over_g: float) -> float:
    """How much larger the batch becomes where too much of a line stays in it."""
    grams = item.grams or 1.0
    return (grams + over_g) / grams
