"""From minutes since the first step to times on the clock."""

from oventide.forecast.model import Forecast

DAY_MIN = 24 * 60


def clock_words(minute_of_day: float) -> str:
    """HH:MM, with the days before or after the day of being ready.

    >>> clock_words(7 * 60 + 5), clock_words(-90), clock_words(1500)
    ('07:05', '22:30 the day before', '01:00 the day after')
    """
    whole = round(minute_of_day)
    day, minute = divmod(whole, DAY_MIN)
    shown = f"{minute // 60:02d}:{minute % 60:02d}"
    if day == 0:
        return shown
    if day == -1:
        return f"{shown} the day before"
    if day == 1:
        return f"{shown} the day after"
    return f"{shown}, {abs(day)} days {'before' if day < 0 else 'after'}"


def minute_of(words: str) -> int:
    """The minute of the day that `clock_words` told, below 0 the day before.

    >>> minute_of("07:05"), minute_of("22:30 the day before"), minute_of("01:00, 2 days after")
    (425, -90, 2940)
    """
    minute = int(words[:2]) * 60 + int(words[3:5])
    rest = words[5:].strip(", ")
    if not rest:
        return minute
    days = int(rest.split()[0]) if rest[0].isdigit() else 1
    return minute + DAY_MIN * (-days if rest.endswith("before") else days)


def moved(forecast: Forecast, by_min: int) -> Forecast:
    """The same forecast by another clock, later by whole minutes.

    Where no temperature follows the clock this is the forecast for the other time, to the minute, without a run.
    """
    steps = tuple(
        step.model_copy(
            update={
                name: clock_words(minute_of(words) + by_min)
                for name, words in (("start_clock", step.start_clock), ("end_clock", step.end_clock))
                if words
            }
        )
        for step in forecast.steps
    )
    return forecast.model_copy(update={"steps": steps})
