"""Figures as the book prints them: as many digits as the tolerance deserves, so that machines print the same."""

import math
import re

from validation.model import Check, Outcome

_NUMBER = re.compile(r"-?\d[\d.]*(?:e[+-]?\d+)?")


def figure(value: float, step: float) -> str:
    """A figure of which `step` is the smallest difference that matters.

    >>> figure(96.8312, 0.02), figure(101325.4, 5.0), figure(5.0431e-7, 1e-9), figure(-0.0001, 0.1)
    ('96.83', '101325', '5.04e-07', '0.0')
    """
    if not math.isfinite(value):
        return "none"
    if value == 0:
        return "0"
    size = math.floor(math.log10(abs(value)))
    last = math.floor(math.log10(step)) if step > 0 else size - 3
    if abs(value) < 1e-3 and last < -4:
        return f"{value:.{min(6, max(1, size - last))}e}"
    text = f"{value:.{max(0, min(7, -last))}f}"
    return text.lstrip("-") if float(text) == 0 else text


def step_of(check: Check) -> float:
    """A tenth of what the check allows, in its unit; where it allows nothing, the last of four digits."""
    sizes = [abs(value) for value in check.published if value]
    smallest = min(sizes, default=1.0)
    allowed = check.tolerance * (smallest if check.relative else 1.0)
    if allowed <= 0 and check.kind == "range":
        allowed = 0.1 * (max(check.published) - min(check.published))
    return allowed / 10 if allowed > 0 else 10.0 ** (math.floor(math.log10(smallest)) - 3)


def published(check: Check) -> str:
    """What was published, as it was given."""
    return (" to " if check.kind == "range" else ", ").join(f"{value:.10g}" for value in check.published)


def ours(outcome: Outcome) -> str:
    """What we get."""
    step = step_of(outcome.check)
    return ", ".join(figure(value, step) for value in outcome.ours)


def share(value: float) -> str:
    """A share as percent.

    >>> share(0.0123), share(2e-5)
    ('1.2 %', '0.002 %')
    """
    percent = 100 * value
    return f"{percent:.1f} %" if percent >= 1 or percent == 0 else f"{percent:.1g} %"


def allowed(check: Check) -> str:
    """How far ours may lie from what was published."""
    if check.tolerance == 0:
        return "nothing"
    return f"{100 * check.tolerance:.4g} %" if check.relative else f"{check.tolerance:.4g}"


def error(outcome: Outcome) -> str:
    """How far ours lies from what was published, at the worst point."""
    if not math.isfinite(outcome.error):
        return "none"
    if outcome.error == 0:
        return "0"
    return share(outcome.error) if outcome.check.relative else figure(outcome.error, step_of(outcome.check))


def alike(one: str, other: str) -> bool:
    """Whether two printed lines say the same: the same words, and figures within two units of the last digit.

    >>> alike("off by 0.24 K", "off by 0.25 K"), alike("off by 0.24 K", "off by 0.34 K"), alike("1 kg", "1 g")
    (True, False, False)
    """
    if _NUMBER.sub("#", one) != _NUMBER.sub("#", other):
        return False
    return all(_close(a, b) for a, b in zip(_NUMBER.findall(one), _NUMBER.findall(other), strict=True))


def _close(one: str, other: str) -> bool:
    if one == other:
        return True
    try:
        a, b = float(one), float(other)
    except ValueError:
        return False
    mantissa, _, exponent = one.partition("e")
    last = 10.0 ** (int(exponent or 0) - len(mantissa.partition(".")[2]))
    return abs(a - b) <= 2.01 * last or abs(a - b) <= 0.002 * abs(a)
