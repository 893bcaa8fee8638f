"""The book's page of numerics: order of accuracy, and balances over random timelines."""

from validation.order import STUDIES, Study
from validation.timelines import KNOWN_OPEN, closures, some_cases

PAGE = "numerics.md"
CASES = 12
CLOSED = 1e-3
SECOND = [
    "## A second integration",
    "",
    "One timeline, from the bowl through fridge, proof and oven to the rack, is integrated a second time: the "
    "couplings are written anew (`validation/second.py`) and SciPy's LSODA and BDF advance them without splitting. "
    "`tests/timeline/test_whole_timeline.py` asks for 0.1 °C in every cell after every step, 0.5 % of the gas made and "
    "0.05 points of the loss. The sides of a tin, the bench and the colour are not in it.",
]
UNITS = {"warmth handed over": "K", "heat handed over": "K"}


def _size(value: float) -> str:
    return f"{value:.3g}"


def study_lines(study: Study) -> list[str]:
    """One table of errors, with the order fitted to it."""
    outcome = "met" if study.order >= study.wanted else '<strong class="missed">missed</strong>'
    return [
        f"### {study.name}",
        "",
        f"Kernel {study.kernel}: {study.what}.",
        "",
        "| " + " | ".join([study.refined, *(f"{size:g}" for size in study.sizes)]) + " |",
        "|---" * (1 + len(study.sizes)) + "|",
        "| " + " | ".join([f"error [{study.unit}]", *(_size(error) for error in study.errors)]) + " |",
        "",
        f"Order {study.order:.2f}, wanted {study.wanted:g} at least: {outcome}."
        + (f" {study.note}" if study.note else ""),
        "",
    ]


def order_lines() -> list[str]:
    """The part on order of accuracy."""
    lines = [
        "## Order of accuracy",
        "",
        "Errors against solutions on paper while cells or steps are refined; the order is the slope of log error over "
        "log size. Outside the oven heat is advanced by a scheme of second order, in the oven by backward Euler, which "
        "is of the first. A piece with edges is the product of its slabs (`bake/position.py`) and has no kernel of its "
        "own: that rule is tried against a two-dimensional run in the tests. No kernel is spherical.",
        "",
    ]
    for study in STUDIES:
        lines += study_lines(study())
    return lines


def _open(name: str, value: float) -> str:
    if name in UNITS:
        return "rounding" if value < 1e-9 else f"{value:.1g} {UNITS[name]}"
    return "rounding" if value < 1e-9 else f"{100 * value:.0f} %" if value > 0.1 else f"{100 * value:.1g} %"


def balance_lines() -> list[str]:
    """The part on balances."""
    worst: dict[str, float] = {}
    for case in some_cases(CASES):
        for name, value in closures(case).items():
            worst[name] = max(worst.get(name, 0.0), value)
    lines = [
        "## Balances",
        "",
        f"{CASES} random timelines (dough, kitchen, steps, temperatures and lengths drawn), three kitchens each, from "
        "the mixer to the rack. How far each balance is open at worst; 0.1 % is asked. The tests draw others. "
        "Heat before the oven is that of sheets, logs and pieces in the air: what a bench or the sides of a vessel "
        "take up cannot be seen from outside the kernel.",
        "",
        "| balance | open by | asked | outcome |",
        "|---|---|---|---|",
    ]
    for name, value in worst.items():
        met = "met" if value < CLOSED else '<strong class="missed">missed</strong>'
        asked = "0.001 K" if name in UNITS else "0.1 %"
        lines.append(f"| {name} | {_open(name, value)} | {asked} | {met} |")
    for name, (_, why) in KNOWN_OPEN.items():
        if worst[name] >= CLOSED:
            lines += ["", f"{name.capitalize()}: {why}"]
    return [*lines, ""]


def page() -> str:
    """The page, in Markdown."""
    head = ["# Numerics: order and balances", "", "Part of the [validation book](../validation.md).", ""]
    return "\n".join([*head, *order_lines(), *balance_lines(), *SECOND]).rstrip() + "\n"


def pointer() -> list[str]:
    """What the book's first page says of it."""
    return [
        "## Numerics",
        "",
        "How fast the kernels come to solutions on paper, and how well sugar, gas, water and heat balance over random "
        f"timelines: [numerics](validation/{PAGE}).",
    ]
