"""The section through the tin, minute by minute: the buns cut open, to scale, with temperature, water and colour."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated

from markupsafe import Markup

from oventide.bake.colour import colour_word
from oventide.errors import Complaint, Refusal
from oventide.evidence.parameters import Source
from oventide.kitchen.model import Kitchen
from oventide.services.cover import uncovered_at
from oventide.services.tin_section import InKitchen, TinSection
from oventide.timeline.procedure import Product
from oventide.web.ask import Answer, Ask, Page
from oventide.web.browned import crust_colour
from oventide.web.context import Marks, PageContext, marks_of
from oventide.web.fields import Fields
from oventide.web.figures import Units, plain, temperature
from oventide.web.plan import MEMBERS, PATIENCE_S, SEED, asked_for, question_of
from oventide.web.readings import sources_of
from oventide.web.section_cut import Cut, cuts_of
from oventide.web.section_drawing import course_svg, section_svg
from oventide.web.section_view import (
    KITCHENS,
    VIEWS,
    Place,
    kitchen_of,
    last_words,
    moment_of,
    moments_of,
    out_min,
    places_at,
    said_of,
    scale_of,
)

WIDE, MIDDLING, NARROW, SMALL = 1000.0, 720.0, 372.0, 372.0


@dataclass(frozen=True)
class Drawn:
    """One cut, for wide paper, upright paper and narrow paper."""

    name: str
    wide: Markup
    middling: Markup
    narrow: Markup


@dataclass(frozen=True)
class Crust:
    """A side's colour: the drawn one, its word where it has one, and how far it is from pale dough."""

    side: str
    drawn: str
    words: str


@dataclass(frozen=True)
class Moment:
    """One of the five moments: what it is, and the middle of the tin then."""

    words: str
    said: str
    svg: Markup


@dataclass(frozen=True)
class Picture:
    """Everything that changes with the minute."""

    said: str
    cuts: tuple[Drawn, ...]
    places: tuple[Place, ...]
    crusts: tuple[Crust, ...]
    figures: tuple[tuple[str, str], ...]
    course_wide: Markup
    course_middling: Markup
    course_narrow: Markup


@dataclass(frozen=True)
class Shown(PageContext):
    """What the page shows."""

    key: Annotated[str, "The formula's address on the shelf"]
    number: Annotated[int, "Which revision is open"]
    newest: Annotated[int, "The newest revision's number"]
    name: Annotated[str, "The formula's name"]
    kitchens: Annotated[tuple[tuple[str, str], ...], "Kitchens to choose from"]
    share: Annotated[float | None, "Share done of a run that is under way, 0 to 1; else None"]
    kept: Annotated[Mapping[str, str], "What the form carries unseen"]
    tail: Annotated[str, "Kitchen and ready-by time as the end of an address"]
    section: Annotated[TinSection | None, "The section; None where it is not there"]
    picture: Annotated[Picture | None, "What is drawn of the minute that is looked at"]
    last: Annotated[str, "Which bun is last and when, in a sentence"]
    most: Annotated[int, "The last minute of the slider"]
    bands: Annotated[tuple[tuple[int, str], ...], "The look of each band and what it stands for"]
    moments: Annotated[tuple[Moment, ...], "Five moments, for paper and without scripts"]
    views: Annotated[tuple[tuple[str, str], ...], "What can be looked at"]
    which: Annotated[tuple[tuple[str, str], ...], "Kitchens of the ensemble to look at"]
    sources: Annotated[tuple[Source, ...], "What the section rests on"]
    values: Annotated[Mapping[str, str], "What stands in the form"]
    marks: Annotated[Marks, "Complaints by field"]
    found: Annotated[tuple[Complaint, ...], "Every complaint"]


def _chosen(given: str, options: tuple[tuple[str, str], ...]) -> str:
    return given if given in dict(options) else options[0][0]


def _picture(
    section: TinSection, kitchen: InKitchen, k: int, cuts: tuple[Cut, ...], view: str, units: Units
) -> Picture:
    drawn = []
    for number, cut in enumerate(cuts):
        wide, middling = (
            section_svg(section, kitchen, k, cut, view, units, width, f"{name}{number}")
            for width, name in ((WIDE, "w"), (MIDDLING, "u"))
        )
        narrow = section_svg(section, kitchen, k, cut.half(), view, units, NARROW, f"n{number}")
        drawn.append(Drawn(cut.name, wide, middling, narrow))
    water = kitchen.water_percent[k]
    crusts = (
        Crust(
            "top", crust_colour(kitchen.colour_top[k]), f"{kitchen.colour_words[k]}, ΔE {plain(kitchen.colour_top[k])}"
        ),
        Crust(
            "base",
            crust_colour(kitchen.colour_base[k]),
            f"{colour_word(kitchen.colour_base[k])}, ΔE {plain(kitchen.colour_base[k])}",
        ),
    )
    return Picture(
        said=said_of(section, kitchen, k, units),
        cuts=tuple(drawn),
        places=places_at(section, kitchen, k, units),
        crusts=crusts,
        figures=(
            ("Crust", temperature(kitchen.surface_c[k], units)),
            ("Base", temperature(kitchen.base_c[k], units)),
            ("Tin", temperature(kitchen.wall_c[k], units)),
            ("Water, crust and crumb", f"{plain(water[-1])} and {plain(water[len(water) // 2])}\u202f%"),
            ("Crumb set, middle", f"{plain(kitchen.set_percent[k][len(water) // 2])}\u202f%"),
            ("High", f"{plain(kitchen.height_mm[k])}\u202fmm"),
            ("Lost so far", f"{plain(kitchen.loss_percent[k], 1)}\u202f%"),
        ),
        course_wide=course_svg(section, k, units, WIDE),
        course_middling=course_svg(section, k, units, MIDDLING),
        course_narrow=course_svg(section, k, units, NARROW),
    )  # fmt: skip


def _moments(section: TinSection, kitchen: InKitchen, cut: Cut, view: str, units: Units) -> tuple[Moment, ...]:
    return tuple(
        Moment(
            f"{plain(section.minutes[k])}\u202fmin: {name}",
            said_of(section, kitchen, k, units),
            section_svg(section, kitchen, k, cut.half(), view, units, SMALL, f"m{number}"),
        )
        for number, (name, k) in enumerate(moments_of(section))
    )


def _section(
    ask: Ask, product: Product, kitchen: Kitchen, run_for: str | None
) -> tuple[TinSection | None, float | None]:
    job = ask.forecasts.sections.section(product, kitchen, run_for, SEED, MEMBERS)
    found = job.answer(PATIENCE_S)
    return found, (job.share if found is None else None)


def handle(ask: Ask) -> Answer:
    """The section at the minute in the address; or how far it is. `only=picture` answers with what a minute changes."""
    question = question_of(ask)
    fields = Fields(ask.query, ask.units)
    minutes = fields.number("uncover", 0, 600, "min")
    at = fields.number("minute", 0, 6000, "min")
    view, which = _chosen(ask.query.get("view", ""), VIEWS), _chosen(ask.query.get("which", ""), KITCHENS)
    complaints = (*question.complaints, *fields.complaints)
    section, share = None, None
    if not complaints:
        try:
            product = question.product if minutes is None else uncovered_at(question.product, minutes)
            section, share = _section(ask, product, question.kitchen, asked_for(question.ready_by, question.kitchen))
        except Refusal as refusal:
            complaints = refusal.complaints
    picture, moments, bands, last, most = None, tuple[Moment, ...](), tuple[tuple[int, str], ...](), "", 0
    if section is not None:
        k = moment_of(section, out_min(section) if at is None else at)
        at = section.minutes[k]
        kitchen, cuts = kitchen_of(section, which), cuts_of(section.tin, section.standing, section.piece_radius_mm)
        if not kitchen.places:  # every bun is alike: one cut shows them all
            cuts = cuts[:1]
        picture = _picture(section, kitchen, k, cuts, view, ask.units)
        most = int(section.minutes[-1])
        if ask.query.get("only") != "picture":
            moments = _moments(section, kitchen, cuts[0], view, ask.units)
            scale = scale_of(section, view)
            names = scale.names(ask.units)
            looks = range(len(names) - 1, -1, -1) if view == "water" else range(len(names))
            bands = tuple(zip(looks, names, strict=True))
            last = last_words(section, ask.units)
    kept = {**question.kept, **({"uncover": ask.query["uncover"]} if minutes is not None else {})}
    return Page(
        Shown(
            key=question.saved.key,
            number=question.saved.number,
            newest=question.saved.newest,
            name=question.saved.content.name,
            kitchens=question.kitchens,
            share=share,
            kept=kept,
            tail=question.tail,
            section=section,
            picture=picture,
            last=last,
            most=most,
            bands=bands,
            moments=moments,
            views=VIEWS,
            which=KITCHENS,
            sources=sources_of(section.sources) if section else (),
            values={**question.values, "view": view, "which": which, "minute": "" if at is None else plain(at)},
            marks=marks_of(complaints),
            found=complaints,
        ),
        422 if complaints else 200,
        part=ask.part or ask.query.get("only") == "picture",
        template="section_picture" if ask.query.get("only") == "picture" and picture else None,
    )
