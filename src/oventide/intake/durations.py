"""Times in a method: 50-60 minutes, 1 1/4 hours, 1h15, half an hour, overnight."""

import re
from dataclasses import dataclass

from oventide.intake.amounts import Token, quantity_at, tokens
from oventide.intake.rules import rule
from oventide.timeline.procedure import Span

_MINUTES: dict[str, float] = {
    **dict.fromkeys(("min", "mins", "minute", "minutes", "minuten", "'", "′"), 1.0),
    **dict.fromkeys(("h", "hr", "hrs", "hour", "hours", "std"), 60.0),
    **dict.fromkeys(("day", "days"), 1440.0),
    **dict.fromkeys(("sec", "secs", "second", "seconds"), 1 / 60),
}


@dataclass(frozen=True)
class Time:
    """A time in a text, and where it stands."""

    span: Span
    start: int
    end: int
    assumed: str = ""


def _unit(token: Token | None) -> float | None:
    if token is None or (token.kind == "num"):
        return None
    if token.text in {"M", "H"}:
        return None
    return _MINUTES.get(token.low)


_STATED = re.compile(
    r"^\s?(?:[,:(–—-]|in the fridge|in a cold place|at \d+ ?°? ?[CF])*[\s,(]*(?:for |or |about |ca\.? |at least |i\.e\. |~ ?|up to )*"
    r"\d[\d.,½ –—-]*(?:to \d+ ?)?(?:h|hrs?|hours?)\b",
    re.IGNORECASE,
)


def _stated_after(rest: str) -> re.Match[str] | None:
    """Whether hours follow the word overnight, so that these are meant."""
    return _STATED.match(rest)


def times(text: str) -> list[Time]:
    """Every time in a text, in order.

    >>> [(time.span.low, time.span.high) for time in times("Rise 1 to 1 1/2 hours; bake 25-30 min, rest 1 hr 10 min")]
    [(60.0, 90.0), (25.0, 30.0), (70.0, 70.0)]
    """
    parts = tokens(text)
    found: list[Time] = []
    at = 0
    while at < len(parts):
        word = parts[at].low
        if word == "overnight" or (word == "night" and at and parts[at - 1].low in {"the", "a", "all"} and at > 1
                                   and parts[at - 2].low in {"over", "for", "through", "all"}):  # fmt: skip
            stated = _stated_after(text[parts[at].end :])
            if stated is not None:
                at += 1
                continue  # overnight, 9-11 hours: the hours say it
            night = rule("overnight")
            found.append(Time(night.span, parts[at].start, parts[at].end, night.says("the text says overnight")))
            at += 1
            continue
        low, high, after = quantity_at(parts, at)
        if low is None:
            at += 1
            continue
        if after < len(parts) and parts[after].low in {"-", "full", "more", "further", "good", "whole", "extra"}:
            after += 1
        factor = _unit(parts[after] if after < len(parts) else None)
        if factor is None:
            # 30 min - 1 hour is met below, at its first figure
            at = after if parts[at].kind == "num" and after > at else at + 1
            continue
        first, last = low * factor, (high or low) * factor
        end = after + 1
        if factor == 60.0 and end < len(parts):
            # 1 hr 10 min, 1 hour and 15 minutes, 1h15
            here = end + (parts[end].low in {"and", ","})
            more, _, then = (
                quantity_at(parts, here) if here < len(parts) and parts[here].kind == "num" else (None, None, 0)
            )
            if more is not None and then < len(parts) and _unit(parts[then]) == 1.0:
                first, last, end = first + more, last + more, then + 1
            elif more is not None and parts[after].low == "h" and parts[after].end == parts[here].start:
                first, last, end = first + more, last + more, then
            elif parts[end].low == "and" and [part.low for part in parts[end + 1 : end + 3]] == ["a", "half"]:
                first, last, end = first + 30, last + 30, end + 3
        if end < len(parts) and parts[end].low in {"-", "–", "to"} and high is None:
            second, _, then = quantity_at(parts, end + 1)
            other = _unit(parts[then]) if second is not None and then < len(parts) else None
            if second is not None and other is not None and second * other > first:
                last, end = second * other, then + 1
        span = Span(low=first, likely=(first + last) / 2, high=last)
        found.append(Time(span, parts[at].start, parts[end - 1].end))
        at = end
    return found
