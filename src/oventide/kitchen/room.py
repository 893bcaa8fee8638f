"""The room's temperature at an hour of the clock."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from oventide.kitchen.model import Kitchen

Array = NDArray[np.float64]
DAY_H = 24.0


def room_at(kitchen: Kitchen, clock_hours: ArrayLike) -> Array:
    """Room temperature at hours of the clock, same shape as `clock_hours` [°C].

    Hours run on past midnight (25.5 is half past one the next day, -1 is eleven the evening before). Between the
    hours given the temperature goes in a straight line, and from the last hour of the day to the first of the
    next one likewise. Without hours it is the kitchen's likely room temperature.

    >>> from oventide.kitchen.complete import complete
    >>> kitchen = complete({"room_by_hour": [(6, 16), (14, 24), (22, 20)]})
    >>> room_at(kitchen, [6, 10, 26]).tolist()
    [16.0, 20.0, 18.0]
    """
    hours = np.asarray(clock_hours, dtype=np.float64)
    if not kitchen.room_by_hour:
        return np.full_like(hours, kitchen.room.likely)
    at = np.array([entry.hour for entry in kitchen.room_by_hour])
    celsius = np.array([entry.celsius for entry in kitchen.room_by_hour])
    return np.asarray(np.interp(hours, at, celsius, period=DAY_H), dtype=np.float64)
