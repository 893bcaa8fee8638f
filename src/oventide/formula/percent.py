"""Baker's percentages: weight on all flour, preferment flour included (all flours together are 100 %)."""

from oventide.errors import refuse
from oventide.formula.composition import Composition, compose, ingredient_of, yeast_kind
from oventide.formula.model import ComponentKind, Formula, Frozen, Line
from oventide.formula.parts import dough_lines, mass_g, names_part
from oventide.formula.yeast import convert
from oventide.pantry.own import Pantry


class LinePercent(Frozen):
    """One line with its share of the flour [%]; None where its weight is not known."""

    text: str
    name: str
    ingredient: str | None
    grams: float | None
    percent: float | None


class ComponentPercent(Frozen):
    """A component beside its own flour and beside all flour. Shares are None where there is no flour to count on."""

    name: str
    kind: ComponentKind
    flour_g: float
    mass_g: float
    on_own_flour: tuple[LinePercent, ...]
    on_all_flour: tuple[LinePercent, ...]
    mass_percent: float | None
    """The component's mass on all flour [%]."""


class WaterOnFlour(Frozen):
    """Water added to the flour, by where it comes from [% of all flour]."""

    liquid: float
    egg: float
    butter: float
    dairy: float
    other: float

    @property
    def total(self) -> float:
        return self.liquid + self.egg + self.butter + self.dairy + self.other


class DoughPercent(Frozen):
    """The whole dough, preferments included, in % of all flour."""

    flour_g: float
    dough_g: float
    prefermented_flour: float
    """Share of the flour that is in preferments [%]."""
    water: WaterOnFlour
    fat: float
    """Fat itself, of every ingredient."""
    fat_weighed: float
    """Butter, oil and other fats as they are weighed: what formula tables call fat."""
    sugars: float
    """Sugars of every ingredient."""
    sugar_weighed: float
    """Sugar, honey and syrups as they are weighed: what formula tables call sugar."""
    sugar_on_water: float | None
    """Sugars on added water [%]; the higher, the slower the yeast."""
    egg_weighed: float
    salt: float
    """Salt as it is weighed."""
    salt_of_all: float
    """Salt of every ingredient: salted butter, milk powder and cheese bring theirs."""
    yeast_weighed: float
    yeast_as_instant: float
    spice: float
    """Cinnamon-like spices that slow yeast."""
    total: float
    """Sum of every line, flour included: what the trade calls the formula's total."""
    composition: Composition
    unknown: tuple[str, ...] = ()


def _weighed(lines: tuple[Line, ...], category: str, pantry: Pantry | None) -> float:
    """Grams of the lines whose ingredient is of a category."""
    total = 0.0
    for line in lines:
        item = ingredient_of(line, pantry)
        if line.grams is not None and item is not None and item.category == category:
            total += line.grams.likely
    return total


def _shares(lines: tuple[Line, ...], flour_g: float) -> tuple[LinePercent, ...]:
    found = []
    for line in lines:
        grams = line.grams.likely if line.grams is not None else None
        percent = 100.0 * grams / flour_g if grams is not None and flour_g > 0 else None
        found.append(
            LinePercent(text=line.text, name=line.name, ingredient=line.ingredient, grams=grams, percent=percent)
        )
    return tuple(found)


def flour_g(lines: tuple[Line, ...], pantry: Pantry | None = None) -> float:
    """All flour in the lines [g], flour inside starters included."""
    total = 0.0
    for line in lines:
        item = ingredient_of(line, pantry)
        if line.grams is not None and item is not None:
            total += line.grams.likely * item.flour_share / 100.0
    return total


def components(formula: Formula, pantry: Pantry | None = None) -> tuple[ComponentPercent, ...]:
    """Every component: each line on its own flour and on all flour of the dough.

    A dough line that only names a preferment ("all of the sponge") keeps its place in the list, without a share.
    """
    everywhere = flour_g(dough_lines(formula), pantry)
    found = []
    for component in formula.components:
        in_dough = component.kind == "dough"
        counted = tuple(
            line.model_copy(update={"grams": None}) if in_dough and names_part(line, formula) else line
            for line in component.lines
        )
        own, mass = flour_g(counted, pantry), mass_g(counted)
        found.append(
            ComponentPercent(
                name=component.name,
                kind=component.kind,
                flour_g=own,
                mass_g=mass,
                on_own_flour=_shares(counted, own),
                on_all_flour=_shares(counted, everywhere),
                mass_percent=100.0 * mass / everywhere if everywhere > 0 else None,
            )
        )
    return tuple(found)


def whole_dough(formula: Formula, pantry: Pantry | None = None) -> DoughPercent:
    """The whole dough in baker's percentages. Refused where the dough has no flour.

    percent = 100 · grams / Σ flour. True water leaves out the flour's own moisture and takes in the water of egg,
    butter, dairy and everything else.
    """
    lines = dough_lines(formula)
    made_of = compose(lines, pantry)
    flour = made_of.flour_g
    if not flour > 0:
        raise refuse(
            "component.dough",
            "",
            "There is no flour with a known weight in the dough, and baker's percentages count on flour.",
            "Give the dough's flour with its weight.",
        )
    per = 100.0 / flour
    early = sum(flour_g(part.lines, pantry) for part in formula.of_kind("preferment"))
    instant = 0.0
    for line in lines:
        item = ingredient_of(line, pantry)
        if line.grams is not None and item is not None and item.category == "yeast":
            instant += convert(line.grams.likely, yeast_kind(item, pantry), "instant").grams.likely
    return DoughPercent(
        flour_g=flour,
        dough_g=made_of.mass_g,
        prefermented_flour=early * per,
        water=WaterOnFlour(
            liquid=made_of.water_from_liquid_g * per,
            egg=made_of.water_from_egg_g * per,
            butter=made_of.water_from_butter_g * per,
            dairy=made_of.water_from_dairy_g * per,
            other=made_of.water_from_other_g * per,
        ),
        fat=made_of.fat_g * per,
        fat_weighed=_weighed(lines, "fat", pantry) * per,
        sugars=made_of.sugars_g * per,
        sugar_weighed=_weighed(lines, "sugar", pantry) * per,
        sugar_on_water=100.0 * made_of.sugars_g / made_of.added_water_g if made_of.added_water_g > 0 else None,
        egg_weighed=made_of.egg_g * per,
        salt=_weighed(lines, "salt", pantry) * per,
        salt_of_all=made_of.salt_g * per,
        yeast_weighed=_weighed(lines, "yeast", pantry) * per,
        yeast_as_instant=instant * per,
        spice=made_of.spice_g * per,
        total=made_of.mass_g * per,
        composition=made_of,
        unknown=made_of.unknown,
    )
