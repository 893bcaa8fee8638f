"""A product as a form: its texts by field name, and back again with every complaint.

Field names: ``name``, ``notes``, ``spoons``, ``eggs``; ``c0.name``, ``c0.kind``, ``c0.l2.text``, ``c0.l2.grams``,
``c0.l2.take`` for lines, ``c0.new`` for a line to add, ``cnew.…`` for a part to begin;
``u1.text`` and ``u1.what`` for unread lines; ``s3.…`` for steps.
"""

from collections.abc import Mapping
from typing import get_args

from oventide.errors import Complaint, Refusal
from oventide.formula.model import COMPONENT_KINDS, EGG_CLASSES, Component, Formula, Line, Measures
from oventide.services import arranging, editing
from oventide.timeline.procedure import STEP_KINDS, Procedure, Product, Step, Target, Where
from oventide.units.measure import COUNTRIES, GRAMS
from oventide.units.temperature import fahrenheit_from_celsius
from oventide.web.fields import Fields, span_words
from oventide.web.figures import Units, plain

WHERE: tuple[Where, ...] = get_args(Where)
HEAVIEST_LINE_G = 200_000.0
AIR_C = (-30.0, 320.0)
MEASURES = tuple(get_args(Target.model_fields["measure"].annotation))
TARGET_LIMITS = {"rise": (0.5, 6.0), "core_c": (-5.0, 130.0), "dough_c": (-5.0, 60.0), "surface_c": (-5.0, 250.0),
                 "colour": (0.0, 120.0), "solid_fat": (0.0, 1.0)}  # fmt: skip


def grams_text(grams: float | None, units: Units) -> str:
    """A weight as it is typed, without its unit."""
    if grams is None:
        return ""
    if units.mass == "oz":
        return plain(grams / GRAMS["oz"], 2)
    return plain(grams, 1 if grams < 20 else 0)


def celsius_text(celsius: float | None, units: Units) -> str:
    """A temperature as it is typed, without its unit."""
    if celsius is None:
        return ""
    return plain(fahrenheit_from_celsius(celsius) if units.temperature == "f" else celsius, 1)


def target_text(target: Target | None, units: Units) -> str:
    """A target's figure as it is typed."""
    if target is None:
        return ""
    return celsius_text(target.value, units) if target.measure.endswith("_c") else plain(target.value, 2)


def values_of(product: Product, units: Units) -> dict[str, str]:
    """Every field of the form as text."""
    values = {
        "name": product.name,
        "notes": product.notes,
        "spoons": product.formula.measures.spoons,
        "eggs": product.formula.measures.eggs,
    }
    for c, component in enumerate(product.formula.components):
        values[f"c{c}.name"], values[f"c{c}.kind"], values[f"c{c}.new"] = component.name, component.kind, ""
        for at, line in enumerate(component.lines):
            values[f"c{c}.l{at}.text"] = line.text
            values[f"c{c}.l{at}.grams"] = grams_text(line.grams.likely if line.grams else None, units)
            values[f"c{c}.l{at}.take"] = ""
    for u, text in enumerate(product.unread):
        values[f"u{u}.text"], values[f"u{u}.what"] = text, "leave"
    for s, step in enumerate(product.procedure.steps):
        values |= step_values(f"s{s}", step, units)
    values |= {"snew.kind": "", "cnew.kind": "dough", "cnew.name": "", "cnew.new": ""}
    return values


def step_values(prefix: str, step: Step, units: Units) -> dict[str, str]:
    """The fields of one step as text."""
    return {
        f"{prefix}.kind": step.kind,
        f"{prefix}.name": step.name,
        f"{prefix}.minutes": span_words(step.minutes),
        f"{prefix}.where": step.where,
        f"{prefix}.air": celsius_text(step.air_c, units),
        f"{prefix}.covered": "yes" if step.covered else "",
        f"{prefix}.measure": step.target.measure if step.target else "",
        f"{prefix}.target": target_text(step.target, units),
        f"{prefix}.ends_by": step.ends_by,
        f"{prefix}.drop": "",
    }


def product_from(
    product: Product, form: Mapping[str, str], units: Units, shown: Mapping[str, str] | None = None
) -> Product:
    """The product with what the form says. Raises Refusal with every complaint, each naming its field.

    A line whose text is emptied goes; one whose text was changed is read anew; a weight that was changed is the
    baker's own. What the form does not hold stays as it was. `shown` holds boxes that were shown otherwise than
    `values_of` says (weights rounded to the scale), so that an untouched box is no change.
    """
    fields = Fields(form, units)
    before = {**values_of(product, units), **(shown or {})}
    measures = _measures(product.formula.measures, fields)
    components = [
        _component(index, component, measures, product.formula.measures, fields, before)
        for index, component in enumerate(product.formula.components)
    ]
    notes = fields.text("notes") if "notes" in form else product.notes
    unread: list[str] = []
    for index, text in enumerate(product.unread):
        what, said = fields.text(f"u{index}.what") or "leave", fields.text(f"u{index}.text") or text
        if what == "note":
            notes = f"{notes}\n{said}".strip()
        elif what.startswith("c") and what[1:].isdigit() and int(what[1:]) < len(components):
            at = int(what[1:])
            components[at] = components[at].model_copy(
                update={"lines": (*components[at].lines, *editing.reread(said, measures))}
            )
        elif what != "drop":
            unread.append(said)
    steps = _steps(product.procedure.steps, fields)
    name = fields.text("name") if "name" in form else product.name
    if not name:
        fields.complaints.append(Complaint("name", "", "A formula needs a name to stand on the shelf.", "Type a name."))
    if fields.complaints:
        raise Refusal(fields.complaints)
    formula = Formula(name=name, components=tuple(c for c in components if c.lines), measures=measures)
    first = fields.text("cnew.new")
    if first:
        kind = fields.text("cnew.kind")
        asked = kind if kind in COMPONENT_KINDS else "other"
        formula = arranging.begun(formula, asked, fields.text("cnew.name"), first)
    return Product(
        name=name,
        formula=formula,
        makeup=product.makeup,
        procedure=Procedure(steps=steps),
        notes=notes,
        unread=tuple(unread),
    )


def _measures(measures: Measures, fields: Fields) -> Measures:
    spoons, eggs = fields.text("spoons"), fields.text("eggs")
    update: dict[str, str] = {}
    if spoons in COUNTRIES:
        update["spoons"] = spoons
    if eggs in EGG_CLASSES:
        update["eggs"] = eggs
    return measures.model_copy(update=update)


def _component(
    index: int, component: Component, measures: Measures, earlier: Measures, fields: Fields, before: Mapping[str, str]
) -> Component:
    prefix = f"c{index}"
    lines: list[Line] = []
    for at, line in enumerate(component.lines):
        name = f"{prefix}.l{at}"
        if f"{name}.text" in fields.form and not fields.text(f"{name}.text"):
            continue
        lines.extend(_line(name, line, measures, earlier, fields, before))
    for text in fields.text(f"{prefix}.new").splitlines():
        if text.strip():
            lines.extend(editing.reread(text.strip(), measures))
    kind = fields.text(f"{prefix}.kind")
    return component.model_copy(
        update={
            "name": fields.text(f"{prefix}.name") or component.name,
            "kind": kind if kind in COMPONENT_KINDS else component.kind,
            "lines": tuple(lines),
        }
    )


def _line(
    name: str, line: Line, measures: Measures, earlier: Measures, fields: Fields, before: Mapping[str, str]
) -> tuple[Line, ...]:
    text = fields.text(f"{name}.text") or line.text
    measured_anew = measures != earlier and editing.WEIGHED not in line.assumed
    if text != line.text.strip() or measured_anew:
        line, *others = editing.reread(text, measures)
        if others:
            return (line, *others)
    chosen = fields.text(f"{name}.take")
    if chosen and chosen in line.offered:
        line = editing.take(line, chosen, measures)
    typed = fields.text(f"{name}.grams")
    if typed and typed != before.get(f"{name}.grams"):
        grams = fields.grams(f"{name}.grams", 0.001, HEAVIEST_LINE_G)
        if grams is not None:
            line = editing.weighed(line, grams)
    return (line,)


def _steps(steps: tuple[Step, ...], fields: Fields) -> tuple[Step, ...]:
    kept = []
    for index, step in enumerate(steps):
        prefix = f"s{index}"
        if f"{prefix}.kind" not in fields.form:
            kept.append(step)
        elif not fields.ticked(f"{prefix}.drop"):
            kept.append(_step(prefix, step, fields))
    new = fields.text("snew.kind")
    if new in STEP_KINDS:
        kept.append(Step(kind=new, name=new.capitalize(), assumed=("step added by the baker",)))
    return tuple(kept)


def _step(prefix: str, step: Step, fields: Fields) -> Step:
    if {k: fields.text(k) for k in step_values(prefix, step, fields.units)} == {
        k: v.strip() for k, v in step_values(prefix, step, fields.units).items()
    }:
        return step  # untouched: what was assumed about it stays said
    kind, where, measure = (fields.text(f"{prefix}.{part}") for part in ("kind", "where", "measure"))
    return step.model_copy(
        update={
            "kind": kind if kind in STEP_KINDS else step.kind,
            "name": fields.text(f"{prefix}.name") or step.name,
            "minutes": fields.span(f"{prefix}.minutes"),
            "where": where if where in WHERE else step.where,
            "air_c": fields.celsius(f"{prefix}.air", *AIR_C),
            "covered": fields.ticked(f"{prefix}.covered"),
            "target": _target(prefix, measure, step.target, fields),
            "ends_by": "target" if fields.text(f"{prefix}.ends_by") == "target" else "clock",
            "assumed": (),
        }
    )


def _target(prefix: str, measure: str, earlier: Target | None, fields: Fields) -> Target | None:
    if measure not in MEASURES:
        return None
    name = f"{prefix}.target"
    low, high = TARGET_LIMITS[measure]
    value = fields.celsius(name, low, high) if measure.endswith("_c") else fields.number(name, low, high)
    if value is None:
        if not fields.text(name):
            fields.complaints.append(
                Complaint(name, "", "A target needs its figure.", "Type the figure, or choose no target.")
            )
        return earlier
    if earlier is not None and earlier.measure == measure and abs(earlier.value - value) < 0.06:
        return earlier
    return Target(measure=measure, value=value)
