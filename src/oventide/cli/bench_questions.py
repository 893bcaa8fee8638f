"""The commands that answer one question of the bench: figures with ranges, the reason, and what to do."""

from typing import Annotated

import typer

from oventide.cli.answering import ensemble_asked, kitchen_or_usual, print_json, tell
from oventide.cli.options import AsJson, Eggs, Formula, KitchenFile, Members, Seed, SheetSize, Spoons


def travel(
    formula: Formula,
    to_tin: Annotated[
        str | None, typer.Option("--to-tin", metavar="TIN", help="Another tin: round:24cm, rectangle:20x30cm.")
    ] = None,
    to_material: Annotated[
        str | None,
        typer.Option("--to-material", metavar="KIND", help="light_metal, dark_metal, glass, ceramic, silicone, paper."),
    ] = None,
    to_oven: Annotated[
        str | None, typer.Option("--to-oven", metavar="KIND", help="convection, static or deck.")
    ] = None,
    to_eggs: Annotated[
        str | None, typer.Option("--to-eggs", metavar="CLASS", help="Eggs at hand: eu_s, eu_m, us_large, …")
    ] = None,
    to_yeast: Annotated[
        str | None, typer.Option("--to-yeast", metavar="KIND", help="Yeast at hand: fresh, active_dry, instant.")
    ] = None,
    protein: Annotated[
        str | None, typer.Option("--protein", metavar="A>B", help="Flour's protein here and there, in %: 12.5>10.5.")
    ] = None,
    instead: Annotated[
        list[str] | None,
        typer.Option("--instead", metavar="OLD=NEW", help="An ingredient for another: 'whole milk=oat drink'."),
    ] = None,
    kitchen: KitchenFile = None,
    seed: Seed = "1",
    members: Members = "200",
    spoons: Spoons = None,
    eggs: Eggs = None,
    json: AsJson = False,
) -> None:
    """The same bake with another tin, oven, egg, yeast, flour or fat: what changes, and what to do."""
    from oventide.cli.opening import open_product
    from oventide.cli.waiting import waiting
    from oventide.services import asking, travelling

    pair, swaps = asking.pair(protein, "protein", 0, 100), asking.swaps(instead)
    wanted = asking.egg_class(to_eggs, "to_eggs")
    seeded, count = ensemble_asked(seed, members)
    with waiting("foreseeing twice") as progress:
        answer = travelling.travel(
            open_product(formula, spoons, eggs), kitchen_or_usual(kitchen), to_tin=asking.tin(to_tin, "to_tin"),
            to_material=to_material, to_oven=to_oven, to_eggs=wanted, to_yeast=to_yeast, protein=pair, swaps=swaps,
            members=count, seed=seeded, progress=progress,
        )  # fmt: skip
    if json:
        return print_json(answer)
    from oventide.cli.telling import show_travel

    return show_travel(answer)


def rescue(
    formula: Formula,
    forgot: Annotated[str, typer.Option("--forgot", metavar="WHAT", help="What was left out: salt, yeast, sugar.")],
    found: Annotated[
        str, typer.Option("--found", metavar="WHEN", help="When it was found: mix, bulk, shaping, proof.")
    ] = "shaping",
    dough: Annotated[str | None, typer.Option("--dough", metavar="M", help="How much dough: 6kg, 850g.")] = None,
    kitchen: KitchenFile = None,
    seed: Seed = "1",
    members: Members = "200",
    spoons: Spoons = None,
    eggs: Eggs = None,
    json: AsJson = False,
) -> None:
    """Something was forgotten: the dose, how to work it in, or how to use the dough as it is."""
    from oventide.cli.opening import open_product
    from oventide.services import asking, travelling

    grams = asking.grams(dough, "dough", 10, 1_000_000)
    seeded, count = ensemble_asked(seed, members)
    answer = travelling.rescue_forgotten(
        open_product(formula, spoons, eggs), kitchen_or_usual(kitchen), forgot, found, grams, count, seeded
    )
    return tell(answer, json)


def proof(
    formula: Formula,
    room: Annotated[
        list[str] | None,
        typer.Option("--room", metavar="T", help="Air where the tin stands: 18C, 65F. More than once."),
    ] = None,
    fridge: Annotated[
        str, typer.Option("--fridge", metavar="T", help="Air of the fridge that they spent it in.")
    ] = "4C",
    night: Annotated[str, typer.Option("--night", metavar="H", help="How long they stood in the fridge.")] = "10h",
    uncovered: Annotated[bool, typer.Option("--uncovered", help="The tin has no cover.")] = False,
    kitchen: KitchenFile = None,
    seed: Seed = "1",
    members: Members = "200",
    spoons: Spoons = None,
    eggs: Eggs = None,
    json: AsJson = False,
) -> None:
    """Shaped buns out of the fridge: when they are ready for the oven, in a room so warm."""
    from oventide.cli.opening import open_product
    from oventide.services import asking, travelling

    place = kitchen_or_usual(kitchen)
    rooms = [value for each in room or [] if (value := asking.celsius(each, "room", 5, 40)) is not None]
    cold, hours = asking.celsius(fridge, "fridge", -1, 12), asking.minutes(night, "night", 60, 2880, "h")
    assert cold is not None
    assert hours is not None
    seeded, count = ensemble_asked(seed, members)
    answer = travelling.proof_from_cold(
        open_product(formula, spoons, eggs), place, rooms or [place.room.likely], fridge_c=cold, night_h=hours / 60.0,
        covered=not uncovered, members=count, seed=seeded,
    )  # fmt: skip
    return tell(answer, json)


def probe(
    formula: Formula,
    core: Annotated[str, typer.Option("--core", metavar="T", help="What the probe shows in the middle bun: 84C.")],
    after: Annotated[str, typer.Option("--after", metavar="MIN", help="How long the tin has been in the oven.")],
    tops: Annotated[
        str | None,
        typer.Option("--tops", metavar="WORD", help="The tops now: pale, straw, golden, golden brown, dark."),
    ] = None,
    edge: Annotated[str | None, typer.Option("--edge", metavar="WORD", help="The edge of the tin now.")] = None,
    kitchen: KitchenFile = None,
    seed: Seed = "1",
    members: Members = "200",
    spoons: Spoons = None,
    eggs: Eggs = None,
    json: AsJson = False,
) -> None:
    """A probe's reading in the middle of the bake: bake on, cover, or take it out."""
    from oventide.cli.opening import open_product
    from oventide.services import asking, travelling

    core_c, minutes = asking.celsius(core, "core", 0, 105), asking.minutes(after, "after", 1, 240)
    assert core_c is not None
    assert minutes is not None
    seeded, count = ensemble_asked(seed, members)
    answer = travelling.probe(
        open_product(formula, spoons, eggs), kitchen_or_usual(kitchen), after_min=minutes, core_c=core_c, tops=tops,
        edge=edge, members=count, seed=seeded,
    )  # fmt: skip
    return tell(answer, json)


def chill(
    formula: Formula,
    dough: Annotated[str | None, typer.Option("--dough", metavar="M", help="How much dough: 4kg, 850g.")] = None,
    dough_c: Annotated[str | None, typer.Option("--at", metavar="T", help="The dough after mixing: 25.5C.")] = None,
    depth: Annotated[str | None, typer.Option("--depth", metavar="L", help="How deep it lies: 12cm, 40mm.")] = None,
    floor: Annotated[
        str | None, typer.Option("--floor", metavar="WxL", help="The box's floor, in place of the depth: 30x40cm.")
    ] = None,
    pieces: Annotated[
        str, typer.Option("--pieces", metavar="N", help="Into how many boxes or slabs it is divided.")
    ] = "1",
    wall: Annotated[
        str, typer.Option("--wall", metavar="KIND", help="plastic, steel, glass, none (in film).")
    ] = "plastic",
    cover: Annotated[str, typer.Option("--cover", metavar="KIND", help="lid, film or open.")] = "lid",
    fridge: Annotated[
        str | None, typer.Option("--fridge", metavar="T", help="Air of the fridge, if not the kitchen's.")
    ] = None,
    hours: Annotated[str, typer.Option("--hours", metavar="H", help="How long it stays.")] = "10h",
    kitchen: KitchenFile = None,
    seed: Seed = "1",
    members: Members = "200",
    spoons: Spoons = None,
    eggs: Eggs = None,
    json: AsJson = False,
) -> None:
    """Dough in the fridge: cold inside when, how risen by then, and how thin it should lie."""
    from oventide.cli.opening import choice, open_product
    from oventide.services import asking, travelling

    place = kitchen_or_usual(kitchen)
    cold = asking.celsius(fridge, "fridge", -1, 12)
    if cold is not None:
        place = travelling.with_fridge(place, cold)
    container = travelling.container_asked(
        asking.millimetres(depth, "depth", 5, 400), asking.sheet_mm(floor, "floor"),
        asking.whole_number(pieces, "pieces", 1, 200) or 1,
        choice(wall, "wall", ("plastic", "steel", "glass", "none")), choice(cover, "cover", ("lid", "film", "open")),
    )  # fmt: skip
    stay = asking.minutes(hours, "hours", 60, 2880, "h")
    assert stay is not None
    seeded, count = ensemble_asked(seed, members)
    answer = travelling.chill(
        open_product(formula, spoons, eggs), place, container, hours=stay / 60.0,
        dough_c=asking.celsius(dough_c, "at", 5, 40), dough_g=asking.grams(dough, "dough", 50, 1_000_000),
        members=count, seed=seeded,
    )  # fmt: skip
    return tell(answer, json)


def weep(
    formula: Formula,
    spread: Annotated[
        list[str] | None, typer.Option("--spread", metavar="LINE", help="What goes on first: '200 g butter'.")
    ] = None,
    strewn: Annotated[
        list[str] | None,
        typer.Option("--strewn", metavar="LINE", help="What goes over it: '200 g sugar'. More than once."),
    ] = None,
    sheet: SheetSize = None,
    hours: Annotated[str, typer.Option("--hours", metavar="H", help="How long it lies rolled up.")] = "12h",
    fridge: Annotated[str | None, typer.Option("--fridge", metavar="T", help="The dough's temperature then.")] = None,
    kitchen: KitchenFile = None,
    seed: Seed = "1",
    members: Members = "1000",
    spoons: Spoons = None,
    eggs: Eggs = None,
    json: AsJson = False,
) -> None:
    """Sugar on the sheet overnight: how much syrup it makes, whether it runs, and what to do."""
    from oventide.cli.opening import open_product
    from oventide.services import asking, travelling
    from oventide.services.making_up import with_make_up

    product = with_make_up(open_product(formula, spoons, eggs), sheet_mm=asking.sheet_mm(sheet))
    stay = asking.minutes(hours, "hours", 30, 5760, "h")
    assert stay is not None
    seeded, count = ensemble_asked(seed, members)
    answer = travelling.weep(
        product, kitchen_or_usual(kitchen), spread=spread or (), strewn=strewn or (), hours=stay / 60.0,
        celsius=asking.celsius(fridge, "fridge", -1, 40), members=count, seed=seeded,
    )  # fmt: skip
    return tell(answer, json)


def glaze(
    formula: Formula,
    surface: Annotated[str, typer.Option("--surface", metavar="T", help="The crust that it goes on: 60C.")],
    line: Annotated[
        list[str] | None, typer.Option("--line", metavar="LINE", help="'300 g icing sugar'. More than once.")
    ] = None,
    seed: Seed = "1",
    members: Members = "400",
    spoons: Spoons = None,
    eggs: Eggs = None,
    json: AsJson = False,
) -> None:
    """A glaze on a hot crust: does it coat or soak in, how much stays, what would make it coat."""
    from oventide.cli.opening import open_product
    from oventide.services import asking, travelling

    crust = asking.celsius(surface, "surface", 10, 160)
    assert crust is not None
    seeded, count = ensemble_asked(seed, members)
    answer = travelling.glaze(open_product(formula, spoons, eggs), line or (), crust, count, seeded)
    return tell(answer, json)


def add_to(app: typer.Typer) -> None:
    """Put the commands on the program."""
    for command in (travel, chill, weep, proof, probe, glaze, rescue):
        app.command()(command)
