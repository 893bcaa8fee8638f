"""What is foreseen of a bake under way, as it is kept beside the bake: windows as moments on the clock.

Made by the live forecast, kept in the journal with the number of the entry that it rests on, so that page and alarms
are right at once after a restart, before anything has been reckoned anew.
"""

from typing import Literal

from pydantic import AwareDatetime

from oventide.bench.model import Choice, Countdown, Instants, Level
from oventide.formula.model import Frozen


class StepOutlook(Frozen):
    """One step as foreseen. A step that is over carries its own moments: earliest, likely and latest are the same."""

    index: int
    """The step's place in the procedure, from 0."""
    begins: Instants
    ends: Instants
    figures: tuple[str, ...] = ()
    """What is foreseen for its end, in words: "core 91 to 96 °C"."""
    action: str = ""
    target: str = ""
    outside: str = ""
    cautions: tuple[str, ...] = ()


class Outlook(Frozen):
    """The whole bake as foreseen from its entries so far."""

    number: int
    """The last entry that it rests on; 0 where it rests on none."""
    made_at: AwareDatetime
    """The moment that it was reckoned for."""
    steps: tuple[StepOutlook, ...]
    """One for each step of the procedure, in order."""
    ready: Instants | None = None
    """When the buns are ready: the end of the last step that is not keeping."""
    levels: tuple[Level, ...] = ()
    countdowns: tuple[Countdown, ...] = ()
    choices: tuple[Choice, ...] = ()
    """Ways out where a window was missed; empty where none was."""
    said: tuple[str, ...] = ()
    """What the readings did to the forecast, and warnings of a reading far off."""
    foreseen: Literal["fresh", "under way", "planned"] = "planned"
    """`fresh` rests on every entry that was there, `under way` is the last one while a newer is being reckoned,
    `planned` is by the written minutes alone."""
