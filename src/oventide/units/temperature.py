"""Temperature points and temperature steps, kept apart: 10 °C is 50 °F, a step of 10 °C is 18 °F."""

ABSOLUTE_ZERO_C = -273.15


def fahrenheit_from_celsius(celsius: float) -> float:
    """A point on the scale.

    >>> fahrenheit_from_celsius(180)
    356.0
    """
    return celsius * 1.8 + 32.0


def celsius_from_fahrenheit(fahrenheit: float) -> float:
    """A point on the scale.

    >>> celsius_from_fahrenheit(356)
    180.0
    """
    return (fahrenheit - 32.0) / 1.8


def celsius_step_from_fahrenheit_step(step: float) -> float:
    """A difference of temperatures: never minus 32.

    >>> celsius_step_from_fahrenheit_step(18)
    10.0
    """
    return step / 1.8


def kelvin(celsius: float) -> float:
    """Thermodynamic temperature [K]."""
    return celsius - ABSOLUTE_ZERO_C
