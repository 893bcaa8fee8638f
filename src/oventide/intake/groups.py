"""A list read as a whole: what belongs together where headings are missing, and what most lines say for the rest.

Each of these readings needs evidence in the text, and each is stated in the line that it touches.
"""

import re
from dataclasses import dataclass, field

from oventide.formula.model import ComponentKind, Line
from oventide.intake.lines import read_lines
from oventide.pantry.ingredients import ingredient
from oventide.units.estimate import Estimate

FEWEST_BARE = 3
"""So many bare figures make a column of grams."""

FRESH_YEAST_SHARE = 0.022
"""Yeast without a kind above this share of the flour is read as fresh [g/g]: dry yeast is used at 0.5-2 % of the flour,
fresh at 2-8 % in sweet doughs (common practice, no source)."""

_KIND_HINTS: tuple[tuple[ComponentKind, str], ...] = (
    ("wash", r"\b(?:egg ?wash|(?:for|to) (?:the )?(?:brush(?:ing)?|glaz(?:e|ing) before)|to brush)\b"),
    ("glaze", r"\b(?:for|to make) (?:the )?(?:icing|glaze|frosting|syrup|drizzle)\b"),
    ("filling", r"\b(?:for|in) (?:the )?filling\b"),
    ("topping", r"\b(?:for|to) (?:the )?(?:topping|sprinkl(?:e|ing)|decorat(?:e|ing|ion)|finish(?:ing)?|top|scatter)\b"),
)  # fmt: skip
_HINTS = tuple((kind, re.compile(pattern, re.IGNORECASE)) for kind, pattern in _KIND_HINTS)
_GLAZES_EGG = re.compile(r"\b(?:to|for) (?:glaze|glazing)\b", re.IGNORECASE)
_NAMES: dict[ComponentKind, str] = {"wash": "Wash", "glaze": "Glaze", "filling": "Filling", "topping": "Topping"}


@dataclass
class Part:
    """A component on its way."""

    name: str
    kind: ComponentKind | None
    lines: list[Line] = field(default_factory=list)
    heading: str = ""
    """The heading's line as written."""
    apart: bool = False
    """Whether nothing but an empty line sets it apart from the part before."""


def is_flour(line: Line) -> bool:
    """Whether a line is a flour, also one that the pantry does not know by name."""
    return (line.ingredient or "").startswith("flour_") or bool(
        line.ingredient is None and re.search(r"\bflour$", line.name, re.IGNORECASE)
    )


def _said(line: Line, sentence: str) -> Line:
    return line.model_copy(update={"assumed": (*line.assumed, sentence)})


def kind_hint(line: Line) -> ComponentKind | None:
    """The component that a line's own words name: ``for the icing``, ``to glaze``."""
    words = f"{line.preparation} {line.text}"
    for kind, pattern in _HINTS:
        if pattern.search(words):
            return kind
    if _GLAZES_EGG.search(words):
        return "wash" if (line.ingredient or "").startswith(("egg_", "milk_")) else "glaze"
    return None


def set_apart(parts: list[Part]) -> list[Part]:
    """Groups that only empty lines part: the first with flour is the dough, later ones without flour fill or glaze it.

    Where the groups do not look like that, they stay one list.
    """
    out: list[Part] = []
    for part in parts:
        before = out[-1] if out else None
        if not part.apart or before is None:
            out.append(part)
            continue
        doughs = [other for other in out if any(is_flour(line) for line in other.lines)]
        if not part.lines or any(is_flour(line) for line in part.lines) or not doughs or len(part.lines) < 2:
            before.lines += part.lines
            continue
        ids = {line.ingredient or "" for line in part.lines}
        there = {line.ingredient for dough in doughs for line in dough.lines}
        if all(name.startswith(_OF_DOUGH) and name not in there for name in ids):
            before.lines += part.lines  # yeast and salt on their own are still the dough's
            continue
        icing = (
            "sugar_icing" in ids
            and len(ids) <= 4
            and not any(name.startswith(("butter", "cream_cheese")) for name in ids)
        )
        filled = any(other.kind == "filling" for other in out)
        if icing or (filled and len(part.lines) <= 3):
            part.kind, part.name = "glaze", "Glaze"
        else:
            part.kind, part.name = "filling", "Filling"
        note = f"No heading: read as the {part.name.lower()}, as these lines stand apart and hold no flour"
        part.lines = [_said(line, note) for line in part.lines]
        out.append(part)
    return out


def by_hints(parts: list[Part]) -> list[Part]:
    """Lines in the dough's list that say themselves that they belong elsewhere get a part of their own."""
    out: list[Part] = []
    for part in parts:
        out.append(part)
        if part.kind not in (None, "dough", "other") or not any(is_flour(line) for line in part.lines):
            continue
        moved: dict[ComponentKind, list[Line]] = {}
        kept: list[Line] = []
        joined: ComponentKind | None = None
        for at, line in enumerate(part.lines):
            kind = kind_hint(line)
            following = part.lines[at + 1] if at + 1 < len(part.lines) else None
            if kind is None and following is not None and _one_text(line, following):
                kind = kind_hint(following)
            if kind is None or is_flour(line):
                kept.append(line)
            else:
                joined = kind
                moved.setdefault(joined, []).append(line)
        part.lines = kept
        for kind, lines in moved.items():
            there = next((other for other in parts if other.kind == kind), None)
            note = f"Counted with the {_NAMES[kind].lower()}, as the line says"
            told = [_said(line, note) for line in lines]
            if there is not None:
                there.lines += told
            else:
                out.append(Part(_NAMES[kind], kind, told))
    return [part for part in out if part.lines or part.heading]


def by_spread(parts: list[Part], spread: str, mixed: str) -> None:
    """In a list without any heading: what the method names only where the filling is spread is the filling."""
    if any(part.heading for part in parts) or not spread:
        return
    dough = next((part for part in parts if part.kind == "dough"), None)
    if dough is None:
        return
    nouns = [_noun(line) for line in dough.lines]
    moved: list[Line] = []
    kept: list[Line] = []
    for line, noun in zip(dough.lines, nouns, strict=True):
        named = len(noun) > 2 and re.search(rf"\b{re.escape(noun)}", spread, re.IGNORECASE)
        again = noun in [_noun(other) for other in kept]
        usual = is_flour(line) or (line.ingredient or "").startswith(_OF_DOUGH)
        if named and (again or (not usual and not re.search(rf"\b{re.escape(noun)}", mixed, re.IGNORECASE))):
            moved.append(_said(line, "Read as filling: the method names it where the filling is spread"))
        else:
            kept.append(line)
    if not moved:
        return
    dough.lines = kept
    there = next((part for part in parts if part.kind == "filling"), None)
    if there is None:
        there = Part("Filling", "filling")
        parts.insert(parts.index(dough) + 1, there)
    there.lines = [*moved, *there.lines]


_OF_DOUGH = ("yeast_", "salt_", "milk_", "water_", "egg_", "butter_", "sugar_", "oil_", "sourdough_")
"""What a dough holds anyway: named again in the filling, it is moved only where it stands twice."""


def _noun(line: Line) -> str:
    """The last word of a name, without its plural ending, as it would stand in the method."""
    words: list[str] = re.findall(r"[a-zà-ÿ]+", line.name.lower())
    if not words:
        return ""
    word = words[-1]
    return word[:-3] if word.endswith("ies") else word.removesuffix("s")


def _one_text(line: Line, following: Line) -> bool:
    """Whether two lines came from one written line (1 yolk + 1 tbsp milk, for brushing)."""
    return line.text.startswith(("1 egg", "1 yolk", "1 large egg", "1 medium egg")) and kind_hint(following) == "wash"


def grams_for_bare(parts: list[Part]) -> None:
    """Figures without a unit are grams where most lines of a list are written so."""
    measured = [line for part in parts for line in part.lines if line.amount is not None]
    bare = [line for line in measured if _bare(line)]
    if len(bare) < FEWEST_BARE or len(bare) * 2 < len(measured):
        return
    for part in parts:
        part.lines = [
            line.model_copy(
                update={
                    "unit": "g",
                    "grams": Estimate.certain(line.amount),
                    "assumed": (
                        *(note for note in line.assumed if "No unit" not in note and " egg" not in note),
                        "No unit: grams taken, as most lines have none",
                    ),
                }
            )
            if _bare(line) and line.amount is not None
            else line
            for line in part.lines
        ]


def _bare(line: Line) -> bool:
    """An amount with neither unit nor a count that anybody would make."""
    return line.amount is not None and line.ingredient is not None and (
        (line.unit is None and not any(note.startswith(("The measure", "The word")) for note in line.assumed))
        or (line.unit == "piece" and line.amount >= 13)
    )  # fmt: skip


def yeast_by_share(parts: list[Part]) -> None:
    """Yeast whose kind is not said is fresh where there is too much of it for dry yeast."""
    flour = sum(line.grams.likely for part in parts for line in part.lines if is_flour(line) and line.grams)
    if flour <= 0:
        return
    for part in parts:
        for at, line in enumerate(part.lines):
            open_kind = line.ingredient == "yeast_instant_dry" and any("kind of yeast" in note for note in line.assumed)
            if not open_kind or line.grams is None or line.grams.likely <= FRESH_YEAST_SHARE * flour:
                continue
            share = 100 * line.grams.likely / flour
            notes = [note for note in line.assumed if "kind of yeast" not in note]
            notes.append(
                f"The kind of yeast is not said: at {share:.1f} % of the flour, {ingredient('yeast_fresh').name} is taken"
            )
            grams = line.grams if line.unit in {"g", "kg", "oz", "lb"} else _as_fresh(line)
            part.lines[at] = line.model_copy(
                update={"ingredient": "yeast_fresh", "assumed": tuple(notes), "grams": grams}
            )


def _as_fresh(line: Line) -> Estimate | None:
    return read_lines(f"{line.amount:g} {line.unit} fresh yeast")[0].grams
