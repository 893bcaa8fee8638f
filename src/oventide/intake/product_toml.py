"""A product as TOML of our own: short enough to write by hand, and nothing is lost on the way out and in.

name = "Poppy coils"
spoons = "metric"                 # us | metric | imperial | au
eggs = "eu_m"

[[component]]
kind = "dough"
name = "Dough"
lines = [
  "500 g strong white flour",     # as a recipe says it
  { text = "2 eggs", grams = 104 },   # a correction beside the words
]

[makeup]
sheet = "40 x 30 cm"              # width x length: the log is as long as the first, the second is rolled up
pieces = 12
tin = "rectangle 30 x 20 x 5 cm"

[[step]]
do = "proof"
minutes = "50-60"
air = 27
target = "rise 1.8"
"""

import re
from collections.abc import Mapping
from typing import Any

from pydantic import ValidationError

from oventide.errors import Complaint, Refusal, refuse
from oventide.formula.model import COMPONENT_KINDS, EGG_CLASSES, Component, Formula, Line, Measures
from oventide.intake.clean import check_size
from oventide.intake.country import stated
from oventide.intake.lines import read_lines
from oventide.intake.product_toml_out import write as write
from oventide.intake.toml_text import (
    estimate,
    load,
    only,
    sizes_mm,
    span,
)
from oventide.makeup.model import MakeUp, Tin
from oventide.pantry.weights import weigh
from oventide.timeline.procedure import STEP_KINDS, Container, Procedure, Product, Span, Step, Target
from oventide.units.measure import COUNTRIES

_TOP = ("name", "formula_name", "spoons", "eggs", "spoons_because", "notes", "unread", "component", "makeup", "step")
_COMPONENT = ("kind", "name", "lines")
_LINE = (
    "text",
    "read",
    "name",
    "amount",
    "amount_high",
    "unit",
    "ingredient",
    "preparation",
    "grams",
    "assumed",
    "offered",
)
_MAKEUP = (
    "sheet",
    "sheet_length_mm",
    "sheet_width_mm",
    "pieces",
    "piece_g",
    "sheets",
    "seam_margin_mm",
    "kerf_mm",
    "trim_mm",
    "tin",
    "tins",
    "assumed",
)
_PLAIN = (
    "sheet_length_mm",
    "sheet_width_mm",
    "pieces",
    "piece_g",
    "kerf_mm",
    "trim_mm",
    "tins",
    "sheets",
    "seam_margin_mm",
)
_STEP = (
    "do", "name", "minutes", "target", "ends_by", "where", "air", "covered", "oven", "container", "dough", "text",
    "assumed",
)  # fmt: skip
_CONTAINER = ("shape", "length_mm", "width_mm", "depth_mm", "wall", "cover", "pieces")
_MEASURES_OF_TARGET = ("rise", "core_c", "dough_c", "surface_c", "colour", "solid_fat")
_SHAPES = ("square", "rectangle", "round", "sheet_pan")


def read(text: str) -> Product:
    """The product of a TOML text. Refuses with the line, or the field, that cannot be read."""
    check_size(text, "formula")
    table = load(text, "formula")
    only(table, _TOP, "formula")
    measures = Measures(
        spoons=_choice(table.get("spoons", Measures().spoons), COUNTRIES, "formula.spoons"),
        eggs=_choice(table.get("eggs", Measures().eggs), EGG_CLASSES, "formula.eggs"),
    )
    name = _text(table.get("name", "Formula"), "formula.name")
    because = _text(table.get("spoons_because", ""), "formula.spoons_because")
    components = tuple(
        _component(part, measures, f"component.{at + 1}", because)
        for at, part in enumerate(_tables(table.get("component", []), "component"))
    )
    steps = tuple(_step(part, f"step.{at + 1}") for at, part in enumerate(_tables(table.get("step", []), "step")))
    return Product(
        name=name,
        formula=Formula(
            name=_text(table.get("formula_name", name), "formula.formula_name"),
            components=components,
            measures=measures,
        ),
        makeup=_makeup(table.get("makeup", {})),
        procedure=Procedure(steps=steps),
        notes=_text(table.get("notes", ""), "formula.notes"),
        unread=_texts(table.get("unread", []), "formula.unread"),
    )


# -- reading ---------------------------------------------------------------------------------------------------


def _text(item: object, field: str) -> str:
    if not isinstance(item, str):
        raise refuse(field, item, "Words in quotes are expected.", 'Write "…".')
    return item


def _texts(item: object, field: str) -> tuple[str, ...]:
    if isinstance(item, str):
        return (item,)
    if not isinstance(item, list) or not all(isinstance(entry, str) for entry in item):
        raise refuse(field, item, "A list of sentences in quotes is expected.", 'Write ["…", "…"].')
    return tuple(item)


def _tables(item: object, field: str) -> list[dict[str, Any]]:
    if not isinstance(item, list) or not all(isinstance(entry, dict) for entry in item):
        raise refuse(field, item, f"Each one is a table of its own: [[{field}]].", f"Begin each with [[{field}]].")
    return item


def _choice(item: object, allowed: tuple[str, ...], field: str) -> Any:
    if item not in allowed:
        raise refuse(field, item, f"One of {', '.join(allowed)} is expected.", "Choose one of these words.")
    return item


def _figure(item: object, field: str) -> float | None:
    if item is None:
        return None
    if isinstance(item, bool) or not isinstance(item, int | float):
        raise refuse(field, item, "A figure is expected.", "Write it without quotes and without a unit.")
    return float(item)


def _valid(build: Any, fields: dict[str, Any], field: str) -> Any:
    try:
        return build(**fields)
    except ValidationError as error:
        complaints = [
            Complaint(
                ".".join([field, *(str(part) for part in item["loc"])]), str(item.get("input", ""))[:60],
                item["msg"].removeprefix("Value error, ").rstrip(".") + ".",
                "Correct this figure or word.",
            )
            for item in error.errors()
        ]  # fmt: skip
        raise Refusal(complaints) from None


def _component(table: dict[str, Any], measures: Measures, field: str, because: str) -> Component:
    only(table, _COMPONENT, field)
    kind = _choice(table.get("kind", "dough"), COMPONENT_KINDS, f"{field}.kind")
    written = table.get("lines", [])
    if not isinstance(written, list):
        raise refuse(
            f"{field}.lines", written, "A list of lines is expected.", 'Write lines = ["500 g flour", "10 g salt"].'
        )
    lines: list[Line] = []
    for at, item in enumerate(written):
        where = f"{field}.line.{at + 1}"
        if isinstance(item, str):
            found = read_lines(item, measures)
            for line in found:
                _not_negative(item, line, where)
            lines += [stated(line, because) for line in found]
        elif isinstance(item, dict):
            lines.append(_line(item, measures, where))
        else:
            raise refuse(
                where, item, "A line in quotes, or a table with its text, is expected.", 'Write "500 g flour".'
            )
    return Component(kind=kind, name=_text(table.get("name", kind.capitalize()), f"{field}.name"), lines=tuple(lines))


def _not_negative(text: str, line: Line, field: str) -> None:
    if re.match(r"^\s*-\s?\d", text) or re.search(r"[:=]\s?-\s?\d", text):
        raise refuse(
            field, text, "An amount is above zero; this one has a minus.", "Write the amount without the minus."
        )
    if line.grams is not None and line.grams.likely > 1_000_000:
        raise refuse(field, text, "One line weighs at most 1,000 kg here.", "Check the figure and its unit.")


def _line(table: dict[str, Any], measures: Measures, field: str) -> Line:
    only(table, _LINE, field)
    text = _text(table.get("text", table.get("name", "")), f"{field}.text")
    if table.get("read", True):
        start: dict[str, Any] = (
            read_lines(text, measures)[0].model_dump() if text.strip() else {"text": text, "name": text}
        )
        corrected = {key: table[key] for key in table if key not in {"read", "text"}}
        if corrected and "grams" not in corrected and {"amount", "unit", "ingredient"} & set(corrected):
            merged = start | corrected
            if merged.get("amount") is not None:
                high = merged.get("amount_high")
                weighed = weigh(
                    float(merged["amount"]), merged.get("unit"), merged.get("ingredient"), measures, amount_high=high
                )
                start |= {"grams": weighed.grams, "assumed": tuple(weighed.assumed)}
        start["text"] = text
    else:
        start = {"text": text, "name": table.get("name", text)}
    for key in ("name", "unit", "ingredient", "preparation"):
        if key in table:
            start[key] = _text(table[key], f"{field}.{key}")
    for key in ("amount", "amount_high"):
        if key in table:
            start[key] = _figure(table[key], f"{field}.{key}")
    if "grams" in table:
        start["grams"] = estimate(table["grams"], f"{field}.grams")
        if start["grams"].low < 0:
            raise refuse(
                f"{field}.grams", table["grams"], "A weight is not below zero.", "Write the weight without the minus."
            )
    for key in ("assumed", "offered"):
        if key in table:
            start[key] = _texts(table[key], f"{field}.{key}")
    line: Line = _valid(Line, start, field)
    return line


def _makeup(table: object) -> MakeUp:
    if not isinstance(table, dict):
        raise refuse("makeup", table, "The make-up is a table.", "Begin it with [makeup].")
    only(table, _MAKEUP, "makeup")
    fields: dict[str, Any] = {key: table[key] for key in _PLAIN if key in table}
    if "sheet" in table:
        lengths = sizes_mm(_text(table["sheet"], "makeup.sheet"), "makeup.sheet")
        if len(lengths) != 2:
            raise refuse(
                "makeup.sheet",
                table["sheet"],
                "A sheet has two lengths.",
                'Write "40 x 30 cm": the width along the log, then the length that is rolled up.',
            )
        fields |= {"sheet_width_mm": lengths[0], "sheet_length_mm": lengths[1]}
    for key in ("sheet_length_mm", "sheet_width_mm", "pieces", "piece_g"):
        if key in fields and not (isinstance(fields[key], int | float) and fields[key] > 0):
            raise refuse(f"makeup.{key}", fields[key], "A figure above zero is expected.", "Correct the figure.")
    if "tin" in table:
        fields["tin"] = tin_from(_text(table["tin"], "makeup.tin"))
    fields["assumed"] = _texts(table.get("assumed", []), "makeup.assumed")
    makeup: MakeUp = _valid(MakeUp, fields, "makeup")
    return makeup


def tin_from(text: str, field: str = "makeup.tin") -> Tin:
    """A tin from ``square 20 cm``, ``rectangle 30 x 20 x 5 cm``, ``round 26 x 6 cm`` (diameter, depth).

    >>> tin_from("square 20 cm").width_mm, tin_from("round 26 x 6 cm").depth_mm
    (200.0, 60.0)
    """
    shape, _, size = text.strip().partition(" ")
    if shape not in _SHAPES:
        raise refuse(
            field, text, f"A tin begins with its shape: {', '.join(_SHAPES)}.", 'Write "rectangle 30 x 20 x 5 cm".'
        )
    lengths = sizes_mm(size, field)
    if shape in ("square", "round"):
        fields = {"length_mm": lengths[0], "width_mm": lengths[0]} | (
            {"depth_mm": lengths[1]} if len(lengths) > 1 else {}
        )
        if len(lengths) == 3:
            fields = {"length_mm": lengths[0], "width_mm": lengths[1], "depth_mm": lengths[2]}
    else:
        if len(lengths) < 2:
            raise refuse(
                field, text, "This tin has two lengths, and maybe a depth.", 'Write "rectangle 30 x 20 x 5 cm".'
            )
        fields = {"length_mm": lengths[0], "width_mm": lengths[1]} | (
            {"depth_mm": lengths[2]} if len(lengths) > 2 else {}
        )
    tin: Tin = _valid(Tin, {"shape": shape, **fields}, field)
    return tin


def _step(table: dict[str, Any], field: str) -> Step:
    only(table, _STEP, field)
    if "do" not in table:
        raise refuse(field, "", "A step says what is done.", f"Add do = one of {', '.join(STEP_KINDS)}.")
    fields: dict[str, Any] = {"kind": _choice(table["do"], STEP_KINDS, f"{field}.do")}
    if "minutes" in table:
        low, likely, high = span(table["minutes"], f"{field}.minutes")
        fields["minutes"] = _valid(Span, {"low": low, "likely": likely, "high": high}, f"{field}.minutes")
    if "target" in table:
        fields["target"] = _target(_text(table["target"], f"{field}.target"), f"{field}.target")
    for ours, theirs in (
        ("name", "name"),
        ("ends_by", "ends_by"),
        ("where", "where"),
        ("covered", "covered"),
        ("oven", "oven_kind"),
        ("text", "text"),
    ):
        if ours in table:
            fields[theirs] = table[ours]
    if "air" in table:
        fields["air_c"] = _figure(table["air"], f"{field}.air")
    elif fields["kind"] == "bake" and "where" not in table:
        fields["where"] = "oven"
    if fields["kind"] == "bake":
        fields.setdefault("where", "oven")
    if "container" in table:
        fields["container"] = _container(table["container"], f"{field}.container")
    if "dough" in table:
        fields["dough_c"] = _figure(table["dough"], f"{field}.dough")
    fields["assumed"] = _texts(table.get("assumed", []), f"{field}.assumed")
    step: Step = _valid(Step, fields, field)
    return step


def _container(table: object, field: str) -> Container:
    """``{ depth_mm = 120, cover = "lid" }``."""
    if not isinstance(table, dict):
        raise refuse(field, table, "A container is a small table.", 'Write { depth_mm = 120, cover = "lid" }.')
    only(table, _CONTAINER, field)
    container: Container = _valid(Container, table, field)
    return container


def _target(text: str, field: str) -> Target:
    """``rise 1.8``, ``core_c 92 (88 to 96)``."""
    figure = r"(-?\d+(?:\.\d+)?(?:e[+-]?\d+)?)"
    found = re.match(rf"^\s*(\w+)\s+{figure}(?:\s*\(\s*(?:{figure}|\.)\s*(?:-|–|to)\s*(?:{figure}|\.)\s*\))?\s*$", text)
    if found is None or found[1] not in _MEASURES_OF_TARGET:
        raise refuse(
            field,
            text,
            f"A target is a measure and a figure; measures are {', '.join(_MEASURES_OF_TARGET)}.",
            'Write "rise 1.8" or "core_c 92 (88 to 96)".',
        )
    low, high = (None if part is None else float(part) for part in (found[3], found[4]))
    return Target(measure=found[1], value=float(found[2]), low=low, high=high)


# -- writing ---------------------------------------------------------------------------------------------------


def is_product(table: Mapping[str, object]) -> bool:
    """Whether a parsed TOML looks like a product rather than a kitchen."""
    return any(key in table for key in ("component", "makeup", "step"))
