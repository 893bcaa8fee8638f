"""The arguments and options that several commands share, each with its help."""

from typing import Annotated

import typer

Formula = Annotated[
    str, typer.Argument(metavar="FORMULA", help="A file (TOML, JSON-LD, pasted text), '-' or a stored name.")
]
AsJson = Annotated[bool, typer.Option("--json", help="Print one JSON object (docs/schema.md).")]
Spoons = Annotated[str | None, typer.Option(metavar="COUNTRY", help="Whose spoons: us, metric, imperial, au.")]
Eggs = Annotated[str | None, typer.Option(metavar="CLASS", help="Egg size: us_large, eu_m, …")]
KitchenFile = Annotated[
    str | None, typer.Option("--kitchen", metavar="FILE", help="A kitchen's TOML, or a stored name.")
]
ReadyBy = Annotated[str | None, typer.Option(metavar="HH:MM", help="When the buns are to be ready, 24 h.")]
Seed = Annotated[str, typer.Option(metavar="N", help="Seed of the ensemble; the same seed gives the same answer.")]
Members = Annotated[str, typer.Option(metavar="N", help="How many plausible kitchens.")]
Pieces = Annotated[str | None, typer.Option(metavar="N", help="Number of pieces.")]
PieceG = Annotated[str | None, typer.Option(metavar="G", help="Dough for one piece, in g.")]
DoughG = Annotated[str | None, typer.Option(metavar="G", help="Mass of the dough, preferment included, in g.")]
FlourG = Annotated[str | None, typer.Option(metavar="G", help="All flour of dough and preferment, in g.")]
Factor = Annotated[str | None, typer.Option(metavar="X", help="Times the formula.")]
SheetSize = Annotated[
    str | None, typer.Option("--sheet", metavar="WxL", help="Width along the log x length rolled up: 30x40cm, 12x16in.")
]
TinSize = Annotated[
    str | None,
    typer.Option("--tin", metavar="TIN", help="square:20cm, rectangle:20x30cm, round:24cm; :5cm adds the depth."),
]
Tins = Annotated[str | None, typer.Option(metavar="N", help="How many tins.")]
Kerf = Annotated[str | None, typer.Option(metavar="MM", help="Loss at each cut, in mm.")]
Trim = Annotated[str | None, typer.Option(metavar="MM", help="Cut off each end of the log, in mm.")]
PaperSize = Annotated[str, typer.Option("--paper", metavar="PAPER", help="a4 or letter.")]
Output = Annotated[str, typer.Option("--output", "-o", metavar="FILE", help="Where to write the PDF.")]
Language = Annotated[str, typer.Option("--language", metavar="LANG", help="Language of the sheet: en, fr, de, it, es.")]
SheetKindAsked = Annotated[
    str, typer.Option("--kind", metavar="KIND", help="Which sheet: bench, wall, formula, handout, ruler.")
]
