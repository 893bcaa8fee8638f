"""One ingredient: what it holds and how that is known, and the baker's own packets of it."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Annotated

from oventide.errors import Complaint, Refusal
from oventide.evidence.parameters import Source
from oventide.formula.model import Measures
from oventide.pantry import ingredients
from oventide.pantry.densities import density
from oventide.pantry.ingredients import Ingredient
from oventide.pantry.names import names_of
from oventide.pantry.packet import PACK_UNITS, PRINTED, Packet
from oventide.pantry.weights import weigh
from oventide.services.finding import finding_of
from oventide.services.packets import packet_from, packet_history, save_packet
from oventide.services.prices import price_of
from oventide.services.shelf import NotOnShelf, Saved
from oventide.units.estimate import Estimate
from oventide.web.ask import Answer, Ask, Page, Redirect
from oventide.web.context import Marks, PageContext, marks_of
from oventide.web.figures import plain
from oventide.web.money import told
from oventide.web.pages.pantry import GROUP_WORDS
from oventide.web.readings import sources_of

FIGURE_WORDS = {
    "water": "Water", "fat": "Fat", "saturates": "of which saturates", "carbohydrate": "Carbohydrate",
    "sugars": "of which sugars", "starch": "of which starch", "fibre": "of which fibre", "protein": "Protein",
    "salt": "Salt", "ash": "Ash", "alcohol": "Alcohol", "energy": "Energy",
}  # fmt: skip
GRADE_WORDS = {
    "exact": "exact by definition", "given": "as you gave it", "read": "read in the source",
    "fitted": "worked out from the source", "remembered": "from memory: read the packet", "assumed": "our choice",
}  # fmt: skip
UNIT_WORDS = {"g": "g", "kg": "kg", "ml": "mL", "l": "L", "piece": "pieces"}
COUNTED = ("piece", "stick", "packet", "clove", "slice", "zest_of", "juice_of")
FORMULAS_SHOWN = 12
USUAL = "usual"


@dataclass(frozen=True)
class Figure:
    """One figure per 100 g: as tabulated and as the packet prints it. Empty where it is not known."""

    word: str
    table: str
    packet: str
    unit: str


@dataclass(frozen=True)
class Weight:
    """What one of a unit weighs."""

    what: str
    estimate: Estimate
    unit: str
    because: str


@dataclass(frozen=True)
class Bought:
    """One packet that was written down."""

    number: int
    saved_at: datetime
    packet: Packet
    per_kg: str


@dataclass(frozen=True)
class Shown(PageContext):
    """What the page shows."""

    item: Annotated[Ingredient, "The ingredient as the built-in table has it"]
    group: Annotated[str, "The name of its group"]
    figures: Annotated[tuple[Figure, ...], "What 100 g hold, as tabulated and as the packet prints it"]
    grade: Annotated[str, "How the tabulated figures are known, in words"]
    sources: Annotated[tuple[Source, ...], "Where the tabulated figures come from"]
    weights: Annotated[tuple[Weight, ...], "Density and the weights of pieces"]
    names: Annotated[tuple[str, ...], "Other names that it is recognised by"]
    uses: Annotated[int, "How many formulas have it"]
    formulas: Annotated[tuple[tuple[str, str], ...], "Key and name of the formulas with it that were saved last"]
    bought: Annotated[tuple[Bought, ...], "Packets that were written down, newest first"]
    number: Annotated[int, "The newest packet's revision; 0 where there is none"]
    values: Annotated[Mapping[str, str], "What stands in the packet's form, as typed"]
    printed: Annotated[tuple[tuple[str, str], ...], "Name and label of the figures that a packet may print"]
    pack_units: Annotated[tuple[tuple[str, str], ...], "Units that a pack is sold in"]
    marks: Annotated[Marks, "Complaints by field"]
    found: Annotated[tuple[Complaint, ...], "Every complaint"]


def values_of(packet: Packet) -> dict[str, str]:
    """A packet as texts of its form."""
    values = {
        name: getattr(packet, name) for name in ("brand", "currency", "unit", "lot", "shop", "allergens", "notes")
    }
    values["best_before"] = packet.best_before.isoformat() if packet.best_before else ""
    for name in ("price", "pack"):
        value = getattr(packet, name)
        values[name] = "" if value is None else f"{value:f}"
    for name in PRINTED:
        value = getattr(packet, name)
        values[name] = "" if value is None else plain(value, 2)
    return values


def _figures(item: Ingredient, packet: Packet | None) -> tuple[Figure, ...]:
    rows = []
    for name, word in FIGURE_WORDS.items():
        table = getattr(item, name)
        own = getattr(packet, name, None) if packet else None
        if table is None and own is None and name in ("starch", "ash", "alcohol"):
            continue
        texts = tuple("" if value is None else plain(value, 2) for value in (table, own))
        rows.append(Figure(word, texts[0], texts[1], "kcal" if name == "energy" else "g"))
    return tuple(rows)


def _weights(item: Ingredient) -> tuple[Weight, ...]:
    rows = []
    how = density(item.id)
    if how is not None:
        filled = f", {how.filled}" if how.filled else ""
        rows.append(Weight(f"1 mL{filled}", how.estimate, "g/mL", how.source))
    for unit in COUNTED:
        one = weigh(1, unit, item.id, Measures())
        if one.grams is not None:
            word = {"zest_of": "zest of one", "juice_of": "juice of one"}.get(unit, f"1 {unit}")
            rows.append(Weight(word, one.grams, "g", one.assumed[0] if one.assumed else ""))
    return tuple(rows)


def _bought(saved: Saved[Packet]) -> Bought:
    price = price_of(saved.content, saved.saved_at, saved.number)
    return Bought(saved.number, saved.saved_at, saved.content, told(price.per_kg) if price else "")


def handle(ask: Ask) -> Answer:
    """Show an ingredient; write down a packet of it."""
    key = ask.path["id"]
    if not ingredients.known(key):
        raise NotOnShelf("ingredient", key)
    item = ingredients.ingredient(key)
    history = packet_history(ask.shelf, key)
    newest = history[0].content if history else None
    values = values_of(newest) if newest else {"unit": "g"}
    seen = history[0].number if history else 0
    complaints: tuple[Complaint, ...] = ()
    if ask.is_post:
        sent = ask.form.get("after", "")
        seen = int(sent) if sent.isascii() and sent.isdigit() and len(sent) < 9 else seen
        try:
            save_packet(ask.shelf, packet_from(key, ask.form), seen, ask.form.get("note", "")[:200])
            return Redirect(f"/pantry/{key}")
        except Refusal as refusal:
            complaints, values = refusal.complaints, dict(ask.form)
    uses, formulas = finding_of(ask.shelf).made_of(key, FORMULAS_SHOWN)
    return Page(
        Shown(
            item=item,
            group=GROUP_WORDS[item.category],
            figures=_figures(item, newest),
            grade=GRADE_WORDS[item.grade],
            sources=sources_of((item.source,)),
            weights=_weights(item),
            names=names_of().get(item.id, ()),
            uses=uses,
            formulas=formulas,
            bought=tuple(_bought(saved) for saved in history),
            number=seen,
            values=values,
            printed=tuple(
                (name, f"{FIGURE_WORDS[name]}, {'kcal' if name == 'energy' else 'g'} per 100 g") for name in PRINTED
            ),
            pack_units=tuple((unit, UNIT_WORDS[unit]) for unit in PACK_UNITS),
            marks=marks_of(complaints),
            found=complaints,
        ),
        422 if complaints else 200,
    )
