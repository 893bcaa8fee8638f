"""Growth of sourdough organisms by temperature: the law of cardinal temperatures.

Cardinal figures as the sourdough part uses them; the law was fitted to these very anchors and still does not pass
through all of them.
"""

from oventide.laws.cardinal import cardinal_temperature
from validation.model import Check

LAB = (7.9, 30.1, 40.0)
MILLERI = (9.0, 27.0, 34.7)
REASON = "The law's form: one with three cardinal temperatures does not bend as these organisms do at the shoulders."


def _growth(name: str, what: str, law: tuple[float, float, float], anchors: dict[float, float], miss: str) -> Check:
    return Check(
        id=f"laws.{name}",
        room="laws",
        what=f"growth of {what} by temperature, best = 1",
        source="gaenzle-1998",
        where="letter of the author, excerpt",
        published=tuple(anchors.values()),
        ours=lambda: [cardinal_temperature(celsius, *law) for celsius in anchors],
        unit="1",
        tolerance=0.1,
        blind=False,
        kind="curve",
        x=tuple(anchors),
        x_name="temperature [°C]",
        miss=miss,
    )


CHECKS = (
    _growth(
        "sanfranciscensis",
        "L. sanfranciscensis",
        LAB,
        {4.0: 0.0, 15.0: 0.25, 20.0: 0.50, 32.5: 1.00, 37.0: 0.50, 39.0: 0.25, 41.0: 0.0},
        "",
    ),
    _growth(
        "milleri",
        "C. milleri",
        MILLERI,
        {8.0: 0.0, 14.0: 0.25, 20.0: 0.50, 28.0: 1.00, 32.0: 0.50, 34.0: 0.25, 35.0: 0.0},
        REASON,
    ),
)
