"""The commands. Each opens its formula, asks one use case, and shows the answer or prints it as JSON.

Nothing heavy is imported before a command runs, so that help comes at once.
"""

import os
import sys
from typing import TYPE_CHECKING, Annotated, Any

import typer
from typer.core import TyperGroup

from oventide.cli import bench_questions
from oventide.cli.answering import ensemble_asked, kitchen_or_usual, print_json
from oventide.cli.log import log
from oventide.cli.options import (
    AsJson,
    DoughG,
    Eggs,
    Factor,
    FlourG,
    Formula,
    Kerf,
    KitchenFile,
    Language,
    Members,
    Output,
    PaperSize,
    PieceG,
    Pieces,
    ReadyBy,
    Seed,
    SheetKindAsked,
    SheetSize,
    Spoons,
    Tins,
    TinSize,
    Trim,
)
from oventide.cli.sizing import scaling as scaling_of
from oventide.errors import Refusal, refuse

if TYPE_CHECKING:
    from oventide.timeline.procedure import Product

REFUSED = 2
BROKEN = 1


class _Guarded(TyperGroup):
    """Every command behind one guard: a refusal is shown as field, value, remedy, and no traceback is."""

    def invoke(self, ctx: Any) -> Any:
        try:
            return super().invoke(ctx)
        except Refusal as refusal:
            for complaint in refusal.complaints:
                typer.echo(str(complaint), err=True)
            raise typer.Exit(REFUSED) from refusal
        except BrokenPipeError:
            raise
        except Exception as fault:
            # typer's own signals (exit, usage) pass; Ctrl-C is no Exception and becomes exit 130 there
            if type(fault).__module__.startswith("typer"):
                raise
            self._own_fault(fault)

    def _own_fault(self, fault: Exception) -> None:
        if os.environ.get("OVENTIDE_DEBUG"):
            raise fault
        typer.echo(
            f"This is a fault of Oventide itself, not of your input: {type(fault).__name__}: {fault}\n"
            "Nothing was stored. Set OVENTIDE_DEBUG=1 to see where it happened.",
            err=True,
        )
        raise typer.Exit(BROKEN) from fault


app = typer.Typer(
    name="oventide",
    cls=_Guarded,
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
    help="A dough's formula, fitted to a tin and a kitchen, with a forecast of its whole timeline.",
)


def _made_up(
    product: "Product",
    sheet: str | None,
    pieces: str | None,
    tin: str | None,
    tins: str | None,
    kerf: str | None,
    trim: str | None,
) -> "Product":
    from oventide.services import asking
    from oventide.services.making_up import with_make_up

    return with_make_up(
        product,
        sheet_mm=asking.sheet_mm(sheet),
        pieces=asking.whole_number(pieces, "pieces", 1, 1_000),
        tin=asking.tin(tin),
        tins=asking.whole_number(tins, "tins", 1, 100),
        kerf_mm=asking.number(kerf, "kerf", 0, 10, "mm"),
        trim_mm=asking.number(trim, "trim", 0, 200, "mm"),
    )


def _version(asked: bool) -> None:
    if asked:
        from importlib.metadata import version

        typer.echo(f"oventide {version('oventide')}")
        raise typer.Exit


@app.callback()
def _top(
    version: Annotated[
        bool, typer.Option("--version", callback=_version, is_eager=True, help="Show the version.")
    ] = False,
) -> None:
    """A dough's formula, fitted to a tin and a kitchen, with a forecast of its whole timeline."""


@app.command()
def read(formula: Formula, spoons: Spoons = None, eggs: Eggs = None, json: AsJson = False) -> None:
    """Show how every line of a recipe was read, with what was assumed."""
    from oventide.cli.opening import open_product
    from oventide.services.reading import read_answer

    answer = read_answer(open_product(formula, spoons, eggs))
    if json:
        return print_json(answer)
    from oventide.cli.showing import show_read

    return show_read(answer)


@app.command()
def weigh(
    formula: Formula,
    pieces: Pieces = None,
    piece_g: PieceG = None,
    dough_g: DoughG = None,
    flour_g: FlourG = None,
    factor: Factor = None,
    kitchen: KitchenFile = None,
    spoons: Spoons = None,
    eggs: Eggs = None,
    json: AsJson = False,
) -> None:
    """Weights for the scale, baker's percentages, true water and the balance of the formula."""
    from oventide.cli.opening import open_kitchen, open_product
    from oventide.services.weighing import weigh as weigh_product

    scaling = scaling_of(pieces, piece_g, dough_g, flour_g, factor)
    answer = weigh_product(open_product(formula, spoons, eggs), scaling, open_kitchen(kitchen))
    if json:
        return print_json(answer)
    from oventide.cli.showing import show_weigh

    return show_weigh(answer)


@app.command()
def makeup(
    formula: Formula,
    sheet: SheetSize = None,
    pieces: Pieces = None,
    tin: TinSize = None,
    tins: Tins = None,
    kerf: Kerf = None,
    trim: Trim = None,
    dough_g: DoughG = None,
    spoons: Spoons = None,
    eggs: Eggs = None,
    json: AsJson = False,
) -> None:
    """Sheet, roll, cuts and tin: thickness, turns, log, pieces, layout and fill."""
    from oventide.cli.opening import open_product
    from oventide.services.asking import number
    from oventide.services.making_up import make_up, with_dough

    grams = number(dough_g, "dough_g", 10, 1_000_000, "g")
    whole = with_dough(open_product(formula, spoons, eggs), grams)
    product = _made_up(whole, sheet, pieces, tin, tins, kerf, trim)
    answer = make_up(product, drawings=json)
    if json:
        return print_json(answer)
    from oventide.cli.showing import show_make_up

    return show_make_up(answer)


@app.command()
def foresee(
    formula: Formula,
    kitchen: KitchenFile = None,
    ready_by: ReadyBy = None,
    seed: Seed = "1",
    members: Members = "200",
    spoons: Spoons = None,
    eggs: Eggs = None,
    json: AsJson = False,
) -> None:
    """The whole timeline as forecast: every step with its window, and what to do outside it."""
    from oventide.cli.opening import open_product
    from oventide.cli.waiting import waiting
    from oventide.services import asking
    from oventide.services.foreseeing import foresee as foresee_product

    clock = asking.clock(ready_by)
    seeded, count = ensemble_asked(seed, members)
    product, place = open_product(formula, spoons, eggs), kitchen_or_usual(kitchen)
    with waiting("foreseeing") as progress:
        answer = foresee_product(product, place, clock, seeded, count, progress)
    if json:
        return print_json(answer)
    from oventide.cli.showing import show_forecast

    return show_forecast(answer)


@app.command()
def sheet(
    formula: Formula,
    output: Output,
    kind: SheetKindAsked = "bench",
    language: Language = "en",
    kitchen: KitchenFile = None,
    ready_by: ReadyBy = None,
    paper: PaperSize = "a4",
    units: Annotated[str, typer.Option(metavar="UNITS", help="metric, or us for ounces beside grams.")] = "metric",
    degrees: Annotated[str, typer.Option(metavar="C|F", help="c for °C, f for °F.")] = "c",
    pieces: Pieces = None,
    piece_g: PieceG = None,
    dough_g: DoughG = None,
    flour_g: FlourG = None,
    factor: Factor = None,
    seed: Seed = "1",
    members: Members = "200",
    spoons: Spoons = None,
    eggs: Eggs = None,
) -> None:
    """A sheet as a PDF: bench, wall, formula, handout or ruler, in one of five languages."""
    from oventide.cli.opening import check_target, open_product, write_whole
    from oventide.cli.printing import order_asked
    from oventide.cli.waiting import waiting
    from oventide.services import asking
    from oventide.services.papers import foreseen_paper

    check_target(output)
    clock = asking.clock(ready_by)
    order = order_asked(kind, language, paper, units, degrees)
    seeded, count = ensemble_asked(seed, members)
    scaling = scaling_of(pieces, piece_g, dough_g, flour_g, factor)
    product, place = open_product(formula, spoons, eggs), kitchen_or_usual(kitchen)
    with waiting("foreseeing") as progress:
        content = foreseen_paper(order, product, place, clock, seeded, count, scaling, progress)
    write_whole(output, content)
    if output != "-":
        typer.echo(output, err=True)


@app.command()
def ruler(
    formula: Formula,
    output: Output,
    sheet: SheetSize = None,
    pieces: Pieces = None,
    tin: TinSize = None,
    kerf: Kerf = None,
    trim: Trim = None,
    paper: PaperSize = "a4",
    language: Language = "en",
    spoons: Spoons = None,
    eggs: Eggs = None,
) -> None:
    """The cut marks as a paper ruler, 1 : 1."""
    from oventide.cli.opening import open_product, write_whole
    from oventide.cli.printing import order_asked
    from oventide.services.papers import ruler_sheet, sheet_pdf

    order = order_asked("ruler", language, paper)
    product = _made_up(open_product(formula, spoons, eggs), sheet, pieces, tin, None, kerf, trim)
    write_whole(output, sheet_pdf(ruler_sheet(product, order.voice), order.paper))
    if output != "-":
        typer.echo(output, err=True)


@app.command()
def serve(
    port: Annotated[str, typer.Option(metavar="N", help="Port on this machine.")] = "8711",
    join: Annotated[bool, typer.Option("--join", help="Let tablets and phones on the local network join.")] = False,
    new_passphrase: Annotated[
        bool, typer.Option("--new-passphrase", help="Ask for another passphrase, or choose one.")
    ] = False,
    always_ask: Annotated[
        bool, typer.Option("--always-ask", help="This machine's own browser has to join as well.")
    ] = False,
    name: Annotated[
        list[str] | None, typer.Option(metavar="NAME", help="Another name of this machine on the network.")
    ] = None,
    secure_port: Annotated[
        str | None, typer.Option(metavar="N", help="Port for HTTPS; the next one after --port if left out.")
    ] = None,
) -> None:
    """Open the workbench for the browser of this machine; with --join for other devices as well."""
    from oventide.cli.serving import Wanted
    from oventide.cli.serving import serve as serve_pages
    from oventide.services.asking import whole_number

    plain = whole_number(port, "port", 1, 65535) or 0
    secure = whole_number(secure_port, "secure_port", 1, 65535) or (plain + 1 if plain < 65535 else plain - 1)
    serve_pages(Wanted(plain, join, new_passphrase, always_ask, tuple(name or ()), secure))


@app.command()
def warm() -> None:
    """Compile the kernels now, so that no first forecast waits for it."""
    from oventide.cli.waiting import waiting
    from oventide.services.demo_bake import warm as warm_kernels

    with waiting("compiling") as progress:
        warm_kernels(progress)


@app.command()
def demo(
    folder: Annotated[str, typer.Argument(metavar="DIR", help="Where to write the demo files.")],
    force: Annotated[bool, typer.Option("--force", help="Write over files of the same name.")] = False,
) -> None:
    """Write an invented formula and kitchen, to try the commands with."""
    from pathlib import Path

    from oventide.cli.opening import write_whole
    from oventide.services.demo_bake import demo_files

    target = Path(folder)
    there = [name for name in demo_files() if (target / name).exists()]
    if there and not force:
        raise refuse("folder", folder, f"It already holds {', '.join(there)}.", "Name another folder, or add --force.")
    try:
        target.mkdir(parents=True, exist_ok=True)
    except OSError as trouble:
        raise refuse("folder", folder, f"It cannot be made: {trouble.strerror}.", "Name another folder.") from trouble
    for name, content in demo_files().items():
        write_whole(str(target / name), content)
        typer.echo(str(target / name))


bench_questions.add_to(app)
app.add_typer(log, name="log")


def run() -> None:
    """The entry point of the `oventide` command."""
    if hasattr(sys.stdout, "reconfigure"):
        sys.stdout.reconfigure(errors="replace")
    app()
