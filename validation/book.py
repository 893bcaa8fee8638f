"""The book's pages, in Markdown, from checks that were run.

docs/validation.md is the head: totals, and every miss with its reason. docs/validation/<room>.md has a room's checks,
docs/pictures/validation the drawings of the curves.
"""

import shutil
from collections.abc import Callable, Iterable
from html import escape
from pathlib import Path

from oventide.evidence import parameters
from validation import plot, printed
from validation.collect import Subject
from validation.model import Check, Outcome

COMMON_PRACTICE = "common-practice"
ROOM_TITLES = {
    "matter": "Matter: water, air, foods, fat, syrup",
    "laws": "Laws of growth and rate",
    "formula": "Formula and measures",
    "makeup": "Make-up: sheet, roll, tin",
    "dough": "Dough: yeast, gas, mixing, butter",
    "bake": "Bake",
    "timeline": "The timeline's kernels",
    "kitchen": "Kitchen",
    "keep": "Keeping",
}
Outcomes = dict[str, Outcome]


def cell(text: object) -> str:
    """A text inside a table cell."""
    return escape(str(text), quote=False).replace("|", "\\|").replace("\n", " ")


def source_words(key: str) -> str:
    """A source, spelled out, with the way in which it was seen."""
    if key == COMMON_PRACTICE:
        return "Common practice of the trade, no source"
    source = parameters.sources()[key]
    parts = (source.author, source.title, source.where, source.year)
    return (
        f"{'. '.join(escape(part, quote=False) for part in parts if part)}. *Seen: {escape(source.seen, quote=False)}*"
    )


def word(outcome: Outcome) -> str:
    """Met, or missed with the reason; a reader of plain text sees it as well as one who sees the red."""
    if outcome.ok:
        return "met"
    return f'<strong class="missed">missed</strong>: {cell(outcome.check.miss or "no reason is written down yet")}'


def used(check: Check) -> str:
    """Whether the figure had a part in choosing a parameter."""
    return "blind" if check.blind else "fitted"


def value_line(outcome: Outcome, number: int) -> str:
    """One figure or range as a line of the room's table."""
    check = outcome.check
    note = f" *{cell(check.note)}*" if check.note else ""
    row = [
        f'<a id="{check.id}"></a>{cell(check.what)} [{cell(check.unit)}]{note}',
        printed.published(check),
        printed.ours(outcome),
        printed.error(outcome),
        printed.allowed(check),
        word(outcome),
        used(check),
        f"[{number}](#source-{number})" + (f", {cell(check.where)}" if check.where else ""),
    ]
    return "| " + " | ".join(row) + " |"


def picture(check: Check) -> str:
    """The drawing's name."""
    return f"{check.id.replace('.', '-')}.svg"


def is_drawn(check: Check) -> bool:
    """Whether a check has a drawing: a curve whose points have an order."""
    return check.kind == "curve" and not check.labels


def curve_block(outcome: Outcome, number: int) -> list[str]:
    """A curve: its drawing, its points, and what came out."""
    check = outcome.check
    step = printed.step_of(check)
    where = f", {escape(check.where, quote=False)}" if check.where else ""
    names = [cell(label) for label in check.labels] or [f"{x:.10g}" for x in check.x]
    drawing = f"![{escape(check.what)}: published as dots, ours as a line](../pictures/validation/{picture(check)})"
    drawn = [drawing, ""] if is_drawn(check) else []
    return [
        f'#### <a id="{check.id}"></a>{escape(check.what, quote=False)}',
        "",
        f"{word(outcome)}. Off by {printed.error(outcome)} at the worst point, may be {printed.allowed(check)}; "
        f"{used(check)}. Source [{number}](#source-{number}){where}." + (f" *{check.note}*" if check.note else ""),
        "",
        *drawn,
        "| " + " | ".join([cell(check.x_name), *names]) + " |",
        "|---" * (1 + len(check.x)) + "|",
        "| " + " | ".join([f"published [{cell(check.unit)}]", *(f"{value:.10g}" for value in check.published)]) + " |",
        "| " + " | ".join(["ours", *(printed.figure(value, step) for value in outcome.ours)]) + " |",
        "",
    ]


TABLE_HEAD = [
    "| what | published | ours | off by | may be | outcome | used | source |",
    "|---|---|---|---|---|---|---|---|",
]


def source_numbers(checks: Iterable[Check]) -> dict[str, int]:
    """Sources of a page, numbered as they come."""
    numbers: dict[str, int] = {}
    for check in checks:
        numbers.setdefault(check.source, len(numbers) + 1)
    return numbers


def in_room(subjects: list[Subject], room: str) -> list[tuple[Subject, list[Check]]]:
    """Subjects that have checks of a room, with those checks."""
    pairs = [(subject, [check for check in subject.checks if check.room == room]) for subject in subjects]
    return [(subject, checks) for subject, checks in pairs if checks]


def rooms(subjects: list[Subject]) -> list[str]:
    """Rooms that have checks, from the ground up."""
    present = {check.room for subject in subjects for check in subject.checks}
    known = list(ROOM_TITLES)
    return sorted(present, key=lambda room: (known.index(room) if room in known else len(known), room))


def room_page(subjects: list[Subject], room: str, outcomes: Outcomes) -> str:
    """The page of one room."""
    parts = in_room(subjects, room)
    numbers = source_numbers(check for _, checks in parts for check in checks)
    lines = [
        f"# {ROOM_TITLES.get(room, room.capitalize())}",
        "",
        "Part of the [validation book](../validation.md).",
        "",
    ]
    for subject, checks in parts:
        lines += [f"## {subject.title}", ""] + ([subject.lead, ""] if subject.lead else [])
        single = [check for check in checks if check.kind != "curve"]
        if single:
            lines += [*TABLE_HEAD, *(value_line(outcomes[check.id], numbers[check.source]) for check in single), ""]
        for check in checks:
            if check.kind == "curve":
                lines += curve_block(outcomes[check.id], numbers[check.source])
    lines += ["## Sources", ""]
    lines += [
        f'{number}. <a id="source-{number}"></a>{source_words(key)}' + ("" if key == COMMON_PRACTICE else f" (`{key}`)")
        for key, number in numbers.items()
    ]
    return "\n".join(lines) + "\n"


def _count(outcomes: list[Outcome], which: Callable[[Outcome], bool]) -> str:
    return str(sum(1 for outcome in outcomes if which(outcome)))


def totals(subjects: list[Subject], outcomes: Outcomes) -> list[str]:
    """The table of totals, by room."""
    lines = ["| room | checks | curves | points | blind | fitted | met | missed |", "|---|---|---|---|---|---|---|---|"]

    def row(title: str, some: list[Outcome]) -> str:
        cells = [
            title,
            str(len(some)),
            _count(some, lambda one: one.check.kind == "curve"),
            str(sum(len(one.check.published) if one.check.kind == "curve" else 1 for one in some)),
            _count(some, lambda one: one.check.blind),
            _count(some, lambda one: not one.check.blind),
            _count(some, lambda one: one.ok),
            _count(some, lambda one: not one.ok),
        ]
        return "| " + " | ".join(cells) + " |"

    for room in rooms(subjects):
        some = [outcomes[check.id] for _, checks in in_room(subjects, room) for check in checks]
        lines.append(row(f"[{ROOM_TITLES.get(room, room.capitalize())}](validation/{room}.md)", some))
    lines.append(row("**all**", list(outcomes.values())))
    return lines


def head_page(subjects: list[Subject], outcomes: Outcomes, more: list[str]) -> str:
    """The first page: how to read the book, totals, misses."""
    long = [one for one in outcomes.values() if one.check.kind == "curve" and len(one.check.x) >= 5]
    lines = [
        "# Validation book",
        "",
        "What others published, and what we get. `make validate` writes these pages; it runs every check anew.",
        "",
        "- **Published** is what the source gives, **ours** what the program gives for the same case.",
        "- **Off by** is the distance at the worst point. **May be** is the tolerance: the source's own scatter, or "
        "the digits that it prints. It is not widened to let a check pass.",
        "- **Blind**: the figure had no part in choosing a parameter. **Fitted**: it had, or it was looked at while "
        "one was chosen.",
        '- <strong class="missed">missed</strong> stands with its reason. A miss stays here until the model is better.',
        "- Every page ends with its sources and the way in which each was seen: read, as an abstract, or from memory.",
        "",
        "## Totals",
        "",
        *totals(subjects, outcomes),
        "",
        f"{len(long)} of the curves have five points or more.",
        "",
        "## Misses",
        "",
    ]
    missed = [one for one in outcomes.values() if not one.ok]
    for one in missed:
        check = one.check
        lines.append(
            f"- [{escape(check.what, quote=False)}](validation/{check.room}.md#{check.id}): published "
            f"{printed.published(check)}, ours {printed.ours(one)} {check.unit}. {word(one)}"
        )
    lines += [] if missed else ["None."]
    return "\n".join([*lines, "", *more]) + "\n"


def write(
    docs: Path, subjects: list[Subject], outcomes: Outcomes, extra: dict[str, str], more: list[str]
) -> list[Path]:
    """Write every page and drawing, take away those that are no longer made; give the paths."""
    pages = {f"validation/{room}.md": room_page(subjects, room, outcomes) for room in rooms(subjects)}
    pages |= {f"validation/{name}": text for name, text in extra.items()}
    pages["validation.md"] = head_page(subjects, outcomes, more)
    for one in outcomes.values():
        if is_drawn(one.check):
            pages[f"pictures/validation/{picture(one.check)}"] = plot.svg(one)
    for folder in ("validation", "pictures/validation"):
        shutil.rmtree(docs / folder, ignore_errors=True)
    for name, text in pages.items():
        path = docs / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, "utf-8")
    return [docs / name for name in pages]
