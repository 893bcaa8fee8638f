"""Small readings in the words of a method: pieces, rise, covered and open parts of a bake."""

import re

from oventide.intake.actions import Event
from oventide.intake.amounts import quantity_at, tokens
from oventide.intake.durations import Time
from oventide.intake.rules import rule
from oventide.timeline.procedure import Target

FOIL_ON = re.compile(r"\b(?:covered|cover|covering|foil|lid)\b", re.I)
FOIL_OFF = re.compile(
    (
        r"\buncover(?:ed)?\b|\b(?:remove|take off|lift off|without)\b[^.;]{0,20}\b(?:foil|cover|"
        r"lid)\b|\bopen\b|\bfoil off\b"
    ),
    re.I,
)
_WORD_COUNT = r"(\d{1,3}|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|a dozen)"

_ROUNDS = (
    r"(?:pieces|slices|rolls|buns|rounds|portions|parts|swirls|scrolls|wheels|snails|knots|spirals|coils|twists|strips)"
)
_NOT_A_LENGTH = r"(?! ?(?:cm|mm|inch|in\b|\"))"
_PIECES = (
    re.compile(rf"\b(?:in|into)(?: about)? {_WORD_COUNT}\b(?! ?(?:cm|mm|inch|in\b|\"|x |× ?\d+ ?cm thick))", re.I),
    re.compile(rf"\b{_WORD_COUNT} (?:equal(?:-sized?)? |even(?:-sized)? |thick |generous )?{_ROUNDS}\b", re.I),
    re.compile(
        rf"\b(?:cut|slice|divide)(?: the log| the roll| it| dough| the dough)?(?: in)? {_WORD_COUNT}\b{_NOT_A_LENGTH}",
        re.I,
    ),
    re.compile(rf"\b{_WORD_COUNT} ?[x×] ?\d", re.I),
)


def stages(text: str, found: list[Time]) -> list[tuple[Time, bool]]:
    """The times of a bake, each with whether it is covered."""
    out: list[tuple[Time, bool]] = []
    for at, time in enumerate(found):
        start = 0 if at == 0 else found[at - 1].end
        tail = re.split(r"[,;.]|\bthen\b|\band\b", text[time.end :], maxsplit=1)[0]
        near = text[start : time.end] + tail
        off = FOIL_OFF.search(near)
        on = FOIL_ON.search(near) and not re.search(r"\bif\b", near, re.I)
        out.append((time, bool(on) and not off))
    if (
        len(out) > 1
        and not any(covered for _, covered in out)
        and not re.search(r"\b(?:then|and|more|further|another)\b", text, re.I)
    ):
        return out[:1]
    return out


def rise_target(text: str) -> tuple[Target, str] | None:
    """What a rise is aimed at: doubled, puffy, 1.8x, by half."""
    lowered = text.lower()
    times_ = re.search(
        r"(?<![\d.])([1-3](?:[.,]\d{1,2})?)\s?(?:x|×|times)\b(?! ?\d)|\b[x×]\s?([1-3][.,]\d{1,2})\b", lowered
    )
    if times_:
        value = float((times_[1] or times_[2]).replace(",", "."))
        return Target(measure="rise", value=value), ""
    if re.search(r"\bby half\b|\bhalf (?:again|as (?:big|high))\b", lowered):
        return Target(measure="rise", value=1.5, low=1.3, high=1.7), "By half read as 1.5 times the volume"
    for pattern, name in (
        (r"\b(?:almost|nearly|not quite) (?:doubl\w+|twice)", "almost_doubled"),
        (r"\bdoubl(?:e|ed|es|ing)\b|\btwice (?:its|the|their)\b", "doubled"),
        (r"\bpuff(?:y|ed)\b|\bwell[- ]risen\b", "puffy"),
    ):
        if re.search(pattern, lowered):
            aim = rule(name)
            return Target(
                measure="rise", value=aim.figure("value"), low=aim.figure("low"), high=aim.figure("high")
            ), aim.text
    return None


def pieces_in(text: str) -> int | None:
    """The number of pieces that a cut gives.

    >>> pieces_in("cut into 12 slices"), pieces_in("Cut into 3 cm slices"), pieces_in("slice into nine")
    (12, None, 9)
    """
    for pattern in _PIECES:
        match = pattern.search(text)
        if match:
            value, _, _ = quantity_at(tokens(match[1]), 0)
            if value is not None and 2 <= value <= 500:
                return int(value)
    return None


def with_foil(found: list[Event]) -> list[Event]:
    """Foil that is named in the words of a bake belongs to it, unless "first", "after" or "last" stand by it."""
    out: list[Event] = []
    for event in found:
        if (
            event.kind == "foil"
            and out
            and out[-1].kind == "bake"
            and not re.search(r"\b(?:first|after|last|if)\b", event.text, re.I)
        ):
            out[-1] = Event("bake", out[-1].words, out[-1].text + event.text)
        else:
            out.append(event)
    return out
