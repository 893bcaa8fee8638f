"""What a text leaves open, filled with stated defaults (data/defaults.toml): a whole procedure, mix to keep.

Every figure that is filled in stands in `assumed` of its step or of the make-up; nothing that was read is changed.
"""

import math
import re

from oventide.errors import Complaint, Refusal
from oventide.formula.model import Component
from oventide.intake.rules import rule
from oventide.makeup.model import MakeUp, Tin
from oventide.timeline.procedure import Procedure, Product, Span, Step, StepKind, Target

ORDER: tuple[StepKind, ...] = (
    "mix", "bulk", "retard", "temper", "sheet", "spread", "roll", "chill", "cut", "tin", "proof", "bake", "glaze",
    "cool", "keep",
)  # fmt: skip

_NEEDED: tuple[StepKind, ...] = ("mix", "bulk", "sheet", "roll", "cut", "tin", "proof", "bake", "cool", "keep")
_NAMES: dict[StepKind, str] = {
    "mix": "Mix", "bulk": "First rise", "retard": "Fridge", "temper": "Temper", "sheet": "Roll out", "spread": "Spread",
    "roll": "Roll up", "chill": "Firm up in the fridge", "cut": "Cut", "tin": "Set in the tin", "proof": "Proof",
    "bake": "Bake", "glaze": "Glaze", "cool": "Cool", "keep": "Keep",
}  # fmt: skip
_TIMED: tuple[StepKind, ...] = (
    "mix", "bulk", "retard", "temper", "sheet", "spread", "roll", "chill", "cut", "tin", "proof", "bake", "glaze",
    "cool", "keep",
)  # fmt: skip


def complete(product: Product) -> Product:
    """The product with every gap filled and every filling stated.

    Refuses a product without flour: nothing can be weighed against it.
    """
    _require_flour(product)
    makeup = _makeup(product)
    steps = _steps(product)
    return product.model_copy(update={"makeup": makeup, "procedure": Procedure(steps=steps)})


def _require_flour(product: Product) -> None:
    lines = [line for part in product.formula.components for line in part.lines]
    if any(_floury(line.ingredient) for line in lines):
        return
    near = sorted({offer for line in lines for offer in line.offered if _floury(offer)})
    shown = "; ".join(line.text for line in lines[:5])
    raise Refusal(
        Complaint(
            "component.dough",
            shown,
            "No flour was found among the ingredients, and every share is counted on the flour.",
            f"Name the flour: one of {', '.join(near[:3])}."
            if near
            else "Add the line with the flour, such as 500 g bread flour.",
        )
    )


def _floury(ingredient: str | None) -> bool:
    return ingredient is not None and ingredient.startswith(("flour_", "sourdough_starter"))


# -- make-up ---------------------------------------------------------------------------------------------------


def _grams(parts: tuple[Component, ...]) -> float:
    return sum(line.grams.likely for part in parts for line in part.lines if line.grams is not None)


def _makeup(product: Product) -> MakeUp:
    makeup = product.makeup
    notes = list(makeup.assumed)
    changes: dict[str, object] = {}
    dough_g = _grams(product.formula.of_kind("dough", "preferment"))
    pieces = makeup.pieces
    if pieces is None:
        per_piece, usual = rule("piece"), rule("pieces")
        if makeup.piece_g:
            pieces = max(1, round(dough_g / makeup.piece_g)) if dough_g else int(usual.figure("value"))
        elif dough_g:
            pieces = max(
                1,
                round(
                    _grams(product.formula.of_kind("dough", "preferment", "spread", "filling"))
                    / per_piece.figure("grams")
                ),
            )
            notes.append(f"{pieces} pieces: {per_piece.text[:1].lower()}{per_piece.text[1:]}")
        else:
            pieces = int(usual.figure("value"))
            notes.append(usual.text)
        changes["pieces"] = pieces
    if makeup.sheet_length_mm is None or makeup.sheet_width_mm is None:
        sheet = rule("sheet_aspect")
        area_cm2 = (dough_g or 900.0) / rule("sheet_weight").figure("g_per_cm2")
        length = makeup.sheet_length_mm or _to_cm(10 * math.sqrt(area_cm2 / sheet.figure("value")))
        width = makeup.sheet_width_mm or _to_cm(100 * area_cm2 / length)
        changes |= {"sheet_length_mm": length, "sheet_width_mm": width}
        notes.append(sheet.text)
    if makeup.tin is None:
        changes["tin"], sentence = _tin(product)
        notes.append(sentence)
    return makeup.model_copy(update={**changes, "assumed": tuple(dict.fromkeys(notes))})


def _tin(product: Product) -> tuple[Tin, str]:
    """A tray where the text speaks of one, else the usual tin whose floor fits best."""
    words = " ".join(step.text for step in product.procedure.steps if step.kind in {"cut", "tin", "proof", "bake"})
    if re.search(r"\b(?:trays?|baking sheets?|sheet pans?)\b", words, re.IGNORECASE):
        tray = rule("tray")
        shape, length, width = tray.fields["size"]
        return Tin(shape=shape, length_mm=length * 10, width_mm=width * 10, depth_mm=tray.figure("depth_mm")), tray.text
    usual = rule("usual_tin")
    grams = _grams(product.formula.of_kind("dough", "preferment", "spread", "filling")) or 900.0
    wanted = grams * usual.figure("cm2_per_g")
    shape, length, width = min(usual.fields["usual"], key=lambda row: abs(math.log(row[1] * row[2] / wanted)))
    depth = rule("tin_depth").figure("mm")
    return Tin(shape=shape, length_mm=length * 10, width_mm=width * 10, depth_mm=depth), usual.text


def _to_cm(millimetres: float) -> float:
    return float(max(10, round(millimetres / 10) * 10))


# -- steps -----------------------------------------------------------------------------------------------------


def _steps(product: Product) -> tuple[Step, ...]:
    steps = list(product.procedure.steps)
    kinds = {step.kind for step in steps}
    needed = [kind for kind in _NEEDED if kind not in kinds]
    if "retard" in kinds and "bulk" in needed:
        needed.remove("bulk")  # dough that goes straight into the fridge
    if product.formula.of_kind("spread", "filling") and "spread" not in kinds:
        needed.append("spread")
    if product.formula.of_kind("glaze") and "glaze" not in kinds:
        needed.append("glaze")
    for kind in sorted(needed, key=ORDER.index):
        steps.insert(_place(steps, kind), _added(kind))
    return tuple(_filled(step, steps) for step in _in_order(steps))


def _added(kind: StepKind) -> Step:
    where = {"bake": "oven", "retard": "fridge", "chill": "fridge"}.get(kind, "room")
    return Step.model_validate(
        {"kind": kind, "where": where, "assumed": (f"{_NAMES[kind]}: the text does not name this step",)}
    )


def _place(steps: list[Step], kind: StepKind) -> int:
    """After the last step that comes before this kind in the usual order, by the steps that are there."""
    at = 0
    for position, step in enumerate(steps):
        if ORDER.index(step.kind) < ORDER.index(kind) and not (
            step.kind in {"retard", "temper", "chill"} and _before(steps, position, kind)
        ):
            at = position + 1
    return at


def _before(steps: list[Step], position: int, kind: StepKind) -> bool:
    """Whether a rest in the cold at `position` already follows later work than `kind`."""
    return any(
        ORDER.index(step.kind) > ORDER.index(kind) and step.kind not in {"retard", "temper", "chill"}
        for step in steps[:position]
    )


def _in_order(steps: list[Step]) -> list[Step]:
    """The text's own order, except where it cannot be: nothing is baked before it is mixed, cut before it is rolled.

    Work steps that stand out of order are moved to their place; rests (bulk, fridge, temper, chill, proof, cool) stay
    beside the work step that they followed.
    """
    fixed = ("mix", "sheet", "spread", "roll", "cut", "tin", "bake", "keep")
    groups: list[list[Step]] = []
    for step in steps:
        if step.kind in fixed or not groups:
            groups.append([step])
        else:
            groups[-1].append(step)
    groups.sort(key=lambda group: ORDER.index(group[0].kind) if group[0].kind in fixed else -1)
    ordered = [step for group in groups for step in group]
    baked = next((at for at, step in enumerate(ordered) if step.kind == "bake"), len(ordered))
    early = [step for step in ordered[:baked] if step.kind in {"cool", "glaze"}]
    late = [step for step in ordered[baked:] if step.kind in {"bulk", "proof"}]
    if not early and not late:
        return ordered
    head = [step for step in ordered[:baked] if step not in early] + late
    tail = [step for step in ordered[baked:] if step not in late]
    bakes = [step for step in tail if step.kind == "bake"]
    rest = [step for step in tail if step.kind not in {"bake", "keep"}]
    return head + bakes + early + rest + [step for step in tail if step.kind == "keep"]


def _filled(step: Step, steps: list[Step]) -> Step:
    """One step with its time, target and oven."""
    notes = list(step.assumed)
    changes: dict[str, object] = {}
    if not step.name:
        changes["name"] = _NAMES[step.kind]
    if step.minutes is None and step.kind in _TIMED:
        usual = rule(step.kind)
        span = usual.span
        if step.kind == "cool" and any(other.kind == "glaze" for other in steps) and _glazed_warm(steps):
            warm = rule("cool_before_glaze")
            span, usual = warm.span, warm
        changes["minutes"] = Span(low=span.low, likely=span.likely, high=span.high)
        notes.append(usual.text)
    target, note = _target(step, steps)
    if target is not None:
        changes["target"] = target
        notes.append(note)
    if step.kind == "bake" and step.air_c is None:
        oven = rule("oven")
        changes["air_c"] = next(
            (other.air_c for other in steps if other.kind == "bake" and other.air_c is not None), oven.figure("celsius")
        )
        notes.append(
            oven.text if changes["air_c"] == oven.figure("celsius") else "Oven as for the other part of the bake"
        )
    if step.kind in {"retard", "chill"} and step.where == "room":
        changes["where"] = "fridge"
    if step.kind == "bake" and step.where != "oven":
        changes["where"] = "oven"
    if step.kind in {"bulk", "proof", "retard"} and not step.covered:
        changes["covered"] = True
        notes.append("Covered, so that no skin forms: the text does not say")
    return step.model_copy(update={**changes, "assumed": tuple(dict.fromkeys(notes))})


def _glazed_warm(steps: list[Step]) -> bool:
    kinds = [step.kind for step in steps]
    return (
        "cool" in kinds
        and kinds.index("cool") < kinds.index("glaze")
        and any("warm" in step.text.lower() for step in steps if step.kind == "glaze")
    )


def _target(step: Step, steps: list[Step]) -> tuple[Target | None, str]:
    """The usual aim of a step that names none; for a bake in two parts, of the last part only."""
    if step.target is not None:
        if step.kind == "bake" and step.target.measure == "core_c" and step.target.low is None:
            value = step.target.value
            return Target(
                measure="core_c", value=value, low=value - 3, high=step.target.high or value + 4
            ), "Core aim kept within 3 below and 4 above"
        return None, ""
    if step.kind == "mix":
        aim = rule("dough")
        return Target(
            measure="dough_c", value=aim.figure("celsius"), low=aim.figure("low"), high=aim.figure("high")
        ), aim.text
    if step.kind == "bulk" and not any(other.kind == "retard" for other in steps):
        aim = rule("rise_bulk")
        return Target(
            measure="rise", value=aim.figure("value"), low=aim.figure("low"), high=aim.figure("high")
        ), aim.text
    if step.kind == "proof":
        aim = rule("rise_proof")
        return Target(
            measure="rise", value=aim.figure("value"), low=aim.figure("low"), high=aim.figure("high")
        ), aim.text
    if step.kind == "bake":
        bakes = [other for other in steps if other.kind == "bake"]
        if step.text != bakes[-1].text or step.covered != bakes[-1].covered or any(other.target for other in bakes):
            return None, ""
        aim = rule("core")
        return Target(
            measure="core_c", value=aim.figure("celsius"), low=aim.figure("low"), high=aim.figure("high")
        ), aim.text
    return None, ""
