"""A product written as TOML; see product_toml.py for the form."""

import re

from oventide.formula.model import Line, Measures
from oventide.intake.country import sentence_of, stated
from oventide.intake.lines import read_lines
from oventide.intake.toml_text import (
    estimate_text,
    number,
    quoted,
    sizes_mm,
    span_text,
    strings,
    value,
)
from oventide.makeup.model import MakeUp
from oventide.timeline.procedure import Product, Step
from oventide.units.measure import COUNTRIES


def write(product: Product) -> str:
    """TOML text that reads back as the same product."""
    formula = product.formula
    out = [f"name = {quoted(product.name)}"]
    if formula.name != product.name:
        out.append(f"formula_name = {quoted(formula.name)}")
    out.append(f"spoons = {quoted(formula.measures.spoons)}  # whose cups and spoons: {' | '.join(COUNTRIES)}")
    out.append(f"eggs = {quoted(formula.measures.eggs)}  # size class")
    if product.notes:
        out.append(f"notes = {quoted(product.notes)}")
    if product.unread:
        out.append("# Lines that were not understood; deal with them, then delete them.")
        out.append(f"unread = {strings(product.unread)}")
    because = sentence_of([line for part in formula.components for line in part.lines])
    if because:
        out.append(f"spoons_because = {quoted(because)}")
    for component in formula.components:
        out += [
            "",
            "[[component]]",
            f"kind = {quoted(component.kind)}",
            f"name = {quoted(component.name)}",
            "lines = [",
        ]
        out += [f"  {_line_text(line, formula.measures, because)}," for line in component.lines]
        out.append("]")
    out += _makeup_text(product.makeup)
    for step in product.procedure.steps:
        out += _step_lines(step)
    return "\n".join(out) + "\n"


def _line_text(line: Line, measures: Measures, because: str) -> str:
    """The line as written where it reads back the same; else a table that stands for itself."""
    if (
        line.text.strip()
        and not re.match(r"^\s*-", line.text)
        and tuple(stated(item, because) for item in read_lines(line.text, measures)) == (line,)
    ):
        return quoted(line.text)
    table: dict[str, object] = {"text": line.text, "read": False, "name": line.name}
    for key in ("amount", "amount_high", "unit", "ingredient"):
        item = getattr(line, key)
        if item is not None:
            table[key] = item
    if line.preparation:
        table["preparation"] = line.preparation
    if line.grams is not None:
        table["grams"] = estimate_text(line.grams)
    if line.assumed:
        table["assumed"] = line.assumed
    if line.offered:
        table["offered"] = line.offered
    return value(table)


def _size_text(*lengths: float) -> str:
    """Lengths in cm where that is exact, else in mm."""
    in_cm = " x ".join(number(length / 10) for length in lengths) + " cm"
    in_mm = " x ".join(number(length) for length in lengths) + " mm"
    return in_cm if sizes_mm(in_cm, "") == list(lengths) else in_mm


def _sized(*lengths: float) -> bool:
    return all(0 < length < 1e6 for length in lengths) and sizes_mm(_size_text(*lengths), "") == list(lengths)


def _makeup_text(makeup: MakeUp) -> list[str]:
    out = ["", "[makeup]"]
    length, width = makeup.sheet_length_mm, makeup.sheet_width_mm
    if length is not None and width is not None and _sized(length, width):
        out.append(f"sheet = {quoted(_size_text(width, length))}  # width along the log x the length that is rolled up")
    else:
        out += [
            f"{key} = {number(item)}"
            for key, item in (("sheet_length_mm", length), ("sheet_width_mm", width))
            if item is not None
        ]
    if makeup.pieces is not None:
        out.append(f"pieces = {makeup.pieces}")
    if makeup.piece_g is not None:
        out.append(f"piece_g = {number(makeup.piece_g)}")
    out += [
        f"{key} = {number(item)}"
        for key, item in (
            ("kerf_mm", makeup.kerf_mm),
            ("trim_mm", makeup.trim_mm),
            ("seam_margin_mm", makeup.seam_margin_mm),
        )
        if item
    ]
    tin = makeup.tin
    if tin is not None:
        out.append(
            f"tin = {quoted(f'{tin.shape} {_size_text(tin.length_mm, tin.width_mm, tin.depth_mm)}')}  "
            f"# inside: length x width x depth"
        )
    if makeup.sheets is not None:
        out.append(f"sheets = {makeup.sheets}")
    if makeup.tins != 1:
        out.append(f"tins = {makeup.tins}")
    if makeup.assumed:
        out.append(f"assumed = {strings(makeup.assumed)}")
    return out


def _step_lines(step: Step) -> list[str]:
    out = ["", "[[step]]", f"do = {quoted(step.kind)}"]
    if step.name:
        out.append(f"name = {quoted(step.name)}")
    if step.minutes is not None:
        out.append(f"minutes = {value(span_text(step.minutes.low, step.minutes.likely, step.minutes.high))}")
    if step.target is not None:
        aim = step.target
        around = "" if aim.low is None and aim.high is None else f" ({_open(aim.low)} to {_open(aim.high)})"
        out.append(f"target = {quoted(f'{aim.measure} {number(aim.value)}{around}')}")
    if step.ends_by != "clock":
        out.append(f"ends_by = {quoted(step.ends_by)}")
    if step.where != ("oven" if step.kind == "bake" else "room"):
        out.append(f"where = {quoted(step.where)}")
    if step.air_c is not None:
        out.append(f"air = {number(step.air_c)}")
    if step.covered:
        out.append("covered = true")
    if step.oven_kind is not None:
        out.append(f"oven = {quoted(step.oven_kind)}")
    if step.container is not None:
        out.append(f"container = {value(step.container.model_dump(exclude_defaults=True))}")
    if step.dough_c is not None:
        out.append(f"dough = {number(step.dough_c)}")
    if step.text:
        out.append(f"text = {quoted(step.text)}")
    if step.assumed:
        out.append(f"assumed = {strings(step.assumed)}")
    return out


def _open(item: float | None) -> str:
    return "." if item is None else number(item)
