"""What this is, what it does not do, and the cautions."""

from dataclasses import dataclass
from typing import Annotated

from oventide.web.ask import Ask, Page
from oventide.web.context import PageContext

CAUTIONS = (
    ("Raw flour and raw egg", "Do not taste raw dough. Flour is not heat-treated. Keep it away from ready food, and "
     "wash hands and tools after it."),
    ("Heat", "Oven, tin and sugar syrup burn. Sugar at the bottom of a tin is far hotter than boiling water and "
     "sticks to skin. Use dry cloths, and keep your face away from the steam when you uncover a tin."),
    ("Mixers", "Keep fingers, sleeves and tools out of a turning bowl. Stop it before you scrape."),
    ("Allergens", "Wheat, egg, milk, nuts, sesame and more travel on hands, bench and tins. The sheet names what the "
     "formula holds, as far as it knows. Read each packet; traces are not known here."),
    ("Cooling and keeping", "Fillings with dairy, egg, meat or cheese are food for germs. Cool them fast, keep them "
     "cold, and throw away what stood warm for longer than your local rules allow."),
)  # fmt: skip


@dataclass(frozen=True)
class Shown(PageContext):
    """What the page shows."""

    cautions: Annotated[tuple[tuple[str, str], ...], "Caution by caution: its name and its words"]


def handle(ask: Ask) -> Page:
    """The page."""
    del ask
    return Page(Shown(CAUTIONS))
