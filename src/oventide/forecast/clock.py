"""From minutes since the first step to times on the clock."""

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
