"""The chart's minutes on the clock: time of day where a ready-by time was given, else hours since the start."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from oventide.forecast.model import Forecast

DAY_MIN = 1440
KEPT_SHARE = 1.05
"""The chart runs a little beyond the moment when the buns are ready, and does not draw hours of keeping."""


@dataclass(frozen=True)
class Clock:
    """Minute 0 is the start of the first step. `start_minute` is its minute of the day, None without a clock."""

    span_min: float
    start_minute: int | None
    start_at: datetime | None
    now_min: float | None
    ready_min: float | None = None
    """The minute of the ready-by time."""

    def at(self, minutes: float) -> str:
        """A moment as the clock shows it.

        >>> Clock(600, 1380, None, None).at(90), Clock(600, None, None, None).at(90)
        ('00:30', '+1:30')
        """
        whole = round(minutes)
        if self.start_minute is None:
            return f"+{whole // 60}:{whole % 60:02d}"
        of_day = (self.start_minute + whole) % DAY_MIN
        return f"{of_day // 60:02d}:{of_day % 60:02d}"

    def day(self, minutes: float) -> str:
        """The day's name (or number) of a moment; empty without a clock."""
        if self.start_minute is None:
            return ""
        if self.start_at is not None:
            return f"{self.start_at + timedelta(minutes=minutes):%a}"
        return f"day {(self.start_minute + round(minutes)) // DAY_MIN + 1}"

    @property
    def is_now_on_it(self) -> bool:
        """Whether now lies between the start and the end."""
        return self.now_min is not None and 0 <= self.now_min <= self.span_min

    def ticks(self, every_min: int) -> list[float]:
        """Moments on whole hours (or halves), within the span."""
        offset = 0 if self.start_minute is None else -self.start_minute % every_min
        return [float(m) for m in range(offset, int(self.span_min) + 1, every_min)]

    def is_midnight(self, minutes: float) -> bool:
        return self.start_minute is not None and (self.start_minute + round(minutes)) % DAY_MIN == 0


def clock_of(forecast: Forecast, ready_by: str | None, now: datetime) -> Clock:
    """The clock of a forecast: ready at the next `ready_by` after now."""
    work = [step for step in forecast.steps if step.kind != "keep"] or list(forecast.steps)
    last = max((step.end.likely_min for step in work), default=0.0)
    kept = max((step.end.likely_min for step in forecast.steps), default=last)
    span = min(max(last + 10, kept), last * KEPT_SHARE + 10)
    first = forecast.steps[0].start_clock[:5] if forecast.steps else ""
    if ready_by is None or len(first) != 5:
        return Clock(span, None, None, None)
    start_minute = int(first[:2]) * 60 + int(first[3:])
    ready_at = now.replace(hour=int(ready_by[:2]), minute=int(ready_by[3:]), second=0, microsecond=0)
    if ready_at <= now:
        ready_at += timedelta(days=1)
    before = (int(ready_by[:2]) * 60 + int(ready_by[3:]) - start_minute) % DAY_MIN
    days = max(0, round((last - before) / DAY_MIN))
    start_at = ready_at - timedelta(minutes=before + days * DAY_MIN)
    now_min = (now - start_at).total_seconds() / 60
    return Clock(span, start_minute, start_at, now_min, before + days * DAY_MIN)
