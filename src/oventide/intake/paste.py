"""The lines of a paste, one by one: which section each belongs to, and what it is there."""

import re

from oventide.errors import Complaint
from oventide.formula.model import Measures
from oventide.intake.absurd import MINUS, weight_complaints
from oventide.intake.amounts import measure_at, tokens
from oventide.intake.clean import (
    cells,
    even,
    is_rule,
    number_in_front,
    sentences,
    without_emphasis,
    without_numbering,
)  # fmt: skip
from oventide.intake.groups import Part
from oventide.intake.headings import (
    Heading,
    bare_heading,
    heading,
    is_fact,
    is_yield,
    kind_of,
    pieces_of,
    starts_with_verb,
)  # fmt: skip
from oventide.intake.lines import LONGEST, is_whole_of, plain, read_lines
from oventide.intake.listed import (
    ATTACHED_MINUS,
    BARE_NUMBER,
    FOR_WHAT,
    HEADER_CELL,
    LABEL,
    LEAD_IN,
    NOISE,
    amountless,
    component_name,
    row_of_sheet,
)  # fmt: skip
from oventide.intake.sizes import read_tin, rectangles
from oventide.intake.split import several
from oventide.makeup.model import Tin

MOST_INGREDIENTS = 400
"""A recipe has no more ingredients than this; what follows is left unread."""
MOST_LONG_LINES = 100
"""A recipe has no more lines of prose longer than an ingredient than this; what follows is left unread."""


class Paste:
    """Goes through the lines once."""

    def __init__(self, measures: Measures, dashes_are_bullets: bool) -> None:
        self.measures = measures
        self.dashes_are_bullets = dashes_are_bullets
        self.title = ""
        self.notes: list[str] = []
        self.unread: list[str] = []
        self.parts: list[Part] = []
        self.method: list[str] = []
        self.section = "opening"
        self.pieces: int | None = None
        self.tin: Tin | None = None
        self.makeup_notes: list[str] = []
        self.complaints: list[Complaint] = []
        self.label = ""
        self.columns: list[str] = []
        self.gap_before, self.written, self.long_lines = False, "", 0

    def read(self, raw: list[str]) -> None:
        for at, line in enumerate(raw):
            bare = even(line)
            if not bare or not re.search(r"[^\W_]", bare):
                self.gap_before = self.gap_before or not bare
                continue
            self.long_lines += len(bare) > LONGEST
            if self.long_lines > MOST_LONG_LINES and len(bare) > LONGEST:
                self.unread.append(line.strip())
                continue
            if NOISE.match(bare):
                self.notes.append(line.strip())
                continue
            following = next((even(other) for other in raw[at + 1 :] if re.search(r"[^\W_]", other)), "")
            underlined = at + 1 < len(raw) and is_rule(even(raw[at + 1])) and "|" not in raw[at + 1]
            if self._full():
                self.unread.append(line.strip())
                continue
            gap = at + 1 < len(raw) and not raw[at + 1].strip()
            self.written = line.strip()
            line, self.columns, note = row_of_sheet(line, self.columns)
            self.notes += note
            self._line(line, even(line), following, underlined, gap)
            self.gap_before = False

    # -- one line ----------------------------------------------------------------------------------------------

    def _full(self) -> bool:
        return sum(len(part.lines) for part in self.parts) >= MOST_INGREDIENTS

    def _line(self, line: str, bare: str, following: str, underlined: bool, gap: bool) -> None:
        if not self.title and self._is_title(bare, following, underlined, gap):
            self.title = without_emphasis(bare)
            self._yield(bare)
            return
        found = heading(line)
        if found is None and FOR_WHAT.match(bare) and self._measured(following) and self._is_ingredient(following):
            self.section = "ingredients"
            self.parts.append(Part(component_name(bare), kind_of(bare) or "topping", heading=line))
            return
        if found is not None and self._open(found, line, following):
            return
        if self.section != "method" and (is_yield(bare) or is_fact(bare)):
            self._yield(bare)
            self._fact_tin(bare)
            self.notes.append(line)
            return
        if self.section == "notes":
            if self._is_ingredient(bare) and not starts_with_verb(bare) and len(bare) < 60:
                self.section = "ingredients"
            else:
                self.notes.append(line)
                return
        if self.section == "method":
            self._method(line)
            return
        self._ingredients(line, bare, following)

    def _is_title(self, bare: str, following: str, underlined: bool, gap: bool) -> bool:
        if self.parts or self.method or self.section != "opening":
            return False
        if bare.startswith("# ") or underlined:
            return True
        if len(bare) > 100 or number_in_front(bare) or is_fact(bare):
            return False
        opened = heading(bare)
        if opened is not None and (opened.section is not None or bare.rstrip("* ").endswith(":")):
            return False
        if (
            opened is not None
            and opened.kind is not None
            and (self._is_ingredient(following) and not bare.isupper() and len(bare.split()) < 3)
        ):
            return False
        if opened is not None and re.match(r"^(?:for|to) ", bare, re.I):
            return False
        if re.match(r"^(?:makes?|yields?|serves?|servings?)\b", bare, re.I):
            return False
        announced = bool(following) and (
            gap or is_yield(following) or is_fact(following) or heading(following) is not None
        )
        if announced and amountless(bare) and not starts_with_verb(bare) and not bare.endswith("."):
            return True
        return not self._is_ingredient(bare) and not (starts_with_verb(bare) and bare.endswith("."))

    def _open(self, found: Heading, line: str, following: str) -> bool:
        """Take a heading; False where the line turns out to be something else."""
        if found.section == "method":
            self.section, self.label = "method", ""
            self._keep_heading(line)
            return True
        if found.section == "notes":
            self.section = "notes"
            self.notes.append(line)
            return True
        if found.section == "ingredients":
            self.section = "ingredients"
            if found.kind is not None:
                self.parts.append(Part(found.name, found.kind, heading=line))
                self._cover(line, found.name)
            return True
        next_is_ingredient = self._is_ingredient(following) and not number_in_front(following)
        if self.section == "method":
            if next_is_ingredient and (found.kind is not None or found.certain) and not starts_with_verb(following):
                self.section = "ingredients"
                self.parts.append(Part(component_name(found.name), found.kind, heading=line))
                return True
            if (following and found.certain and line.rstrip("* ").endswith(":")) or line.startswith("#"):
                self.label = bare_heading(line)
                self.method.append(line)
                return True
            return False
        if self.section == "notes" and not next_is_ingredient:
            return False
        if found.kind is None and not next_is_ingredient:
            return False
        lone = self._is_ingredient(line) and found.kind in {"filling", "spread", None} and not found.certain
        if lone and not (
            next_is_ingredient and amountless(line) and self._measured(following) and not self._known(line)
        ):
            return False
        self.section = "ingredients"
        titled = self.title or self.parts or line.rstrip("* ").endswith(":")  # else the line is the title as well
        self.parts.append(Part(component_name(found.name), found.kind, heading=line if titled else ""))
        self._cover(line, found.name)
        return True

    def _cover(self, line: str, name: str) -> None:
        """A heading's words that the component's name does not carry (a yield in brackets) go to the notes."""
        self._yield_soft(line)
        if re.search(r"\d", line) and not re.search(r"\d", name):
            self.notes.append(line)

    def _keep_heading(self, line: str) -> None:
        if re.search(r"\d", line):
            self.notes.append(line)

    def _known(self, text: str) -> bool:
        first = read_lines(text, self.measures)[0]
        return first.ingredient is not None

    def _measured(self, text: str) -> bool:
        return any(line.amount is not None for line in read_lines(text, self.measures))

    def _is_ingredient(self, text: str) -> bool:
        """Whether a line can be an ingredient: an amount with a name, or a name that the pantry knows."""
        bare = plain(text)
        if bare and is_whole_of(text):
            return True
        if not bare or len(bare) > 200:
            return False
        if starts_with_verb(text) and tokens(bare)[0].kind != "num":
            # "Cream 200 ml" is an ingredient, "Cream the butter for 2 minutes" is not.
            read = read_lines(text, self.measures)[0]
            return (
                len(bare.split()) <= 5
                and read.amount is not None
                and read.unit is not None
                and read.ingredient is not None
            )
        if len(bare) > 60 and re.search(r"[.!?]$", bare) and not re.match(r"^\d", bare):
            return False
        if re.match(r"^\d+ (?:min|hour|hr|day)", bare) or (
            re.search(r"\b(?:minutes?|mins?|hours?|oven)\b", bare)
            and not re.search(r"\b(?:soaked|g|tbsp|tsp|cups?|ml)\b", bare)
        ):
            return False
        first = read_lines(text, self.measures)[0]
        if first.amount is not None and first.unit is not None:
            return first.ingredient is not None or first.unit != "piece" or len(first.name.split()) <= 4
        if first.ingredient is not None and len(bare.split()) <= 8:
            return True
        return first.amount is not None and len(bare.split()) <= 6

    # -- ingredients -------------------------------------------------------------------------------------------

    def _ingredients(self, line: str, bare: str, following: str) -> None:
        row = cells(bare)
        if len(row) > 1 and sum(1 for cell in row if HEADER_CELL.match(cell)) >= len(row) - 1:
            self.notes.append(line)
            self.columns = [cell.lower().strip("() ") for cell in row]
            return
        if self._opens_step(bare):
            self.section = "method"
            self._method(line)
            return
        if self._prose(line, bare):
            return
        label = LABEL.match(plain(line))
        if label and self._labelled(line, label):
            return
        if self._opens_method(line, bare):
            self.section = "method"
            self._method(line)
            return
        if self._is_ingredient(line):
            self._take(line)
            return
        if self.section == "ingredients" and not self.parts and len(bare) <= 60 and not bare.endswith("."):
            self._take(line)
            return
        if self.section == "opening" or not self.parts:
            self.notes.append(line)
            return
        text = plain(line)
        if (
            len(text.split()) <= 6
            and not text.endswith(".")
            and self.section == "ingredients"
            and not starts_with_verb(line)
        ):
            self._take(line)  # a name that the pantry does not know
            return
        self.unread.append(line)

    def _opens_method(self, line: str, bare: str) -> bool:
        if not self.parts and self.section == "opening" and not number_in_front(bare):
            return False
        content = without_numbering(bare)
        verb = starts_with_verb(content)
        if number_in_front(bare):
            return verb or (not self._is_ingredient(line) and len(content.split()) > 3)
        words = len(bare.split())
        return (
            verb
            and (words >= 4 or bare.endswith("."))
            and not re.match(r"^(?:egg|ice|cream|top|work|sheet|first|in|on|out|day)\b \d*$", content, re.I)
        )

    def _opens_step(self, bare: str) -> bool:
        """``1 Put the flour into a bowl. Add …``: a step numbered without a point, after the ingredients."""
        step = BARE_NUMBER.match(bare)
        return bool(self.parts) and step is not None and starts_with_verb(bare[step.end() :])

    def _prose(self, line: str, bare: str) -> bool:
        """Ingredients in sentences: You need 500 g flour, 250 ml milk and an egg. For the filling: 3 apples …"""
        text = plain(line)
        if "|" in text:
            return False
        found = sentences(text)
        if len(found) < 2 and not LEAD_IN.match(text) and len(several(text)) < 3:
            return False
        lists = [self._listed(sentence) for sentence in found]
        if not any(lists) or sum(map(bool, lists)) * 2 < len(found) or (len(found) > 1 and starts_with_verb(text)):
            return False
        for sentence, items in zip(found, lists, strict=True):
            if not items:
                (self.method if self.section == "method" else self.notes).append(sentence)
                continue
            label = re.match(r"^(?:(?:and|then) )?((?:for|to) [^:]{3,40}|[A-Z][\w ]{2,25}):\s", sentence)
            lead = label or re.match(r"^((?:for the) \w+)(?:,)? you(?:'ll| will)? need\b", sentence, re.I)
            if lead and kind_of(lead[1]):
                self.parts.append(Part(component_name(lead[1]), kind_of(lead[1])))
            self.section = "ingredients"
            for item in items:
                self._take(item.rstrip(" ."))
        return True

    def _listed(self, sentence: str) -> list[str]:
        """The ingredients that a sentence lists, or none."""
        if starts_with_verb(sentence) and not re.match(r"^(?:for|to|in)\b", sentence, re.I):
            return []
        text = (
            LEAD_IN.sub("", re.sub(r"^[A-Z][\w ]{2,25}:\s", "", sentence))
            if kind_of(sentence.split(":")[0])
            else LEAD_IN.sub("", sentence)
        )
        items = several(text.rstrip(" ."))
        if len(items) < 2:
            return []
        good = sum(1 for item in items if measure_at(tokens(item), 0)[0] is not None or self._measured(item))
        return items if good * 3 >= len(items) * 2 and len(items) >= 2 else []

    def _labelled(self, line: str, label: re.Match[str]) -> bool:
        """``Filling - 250 g spinach; 150 g feta``: a component in one line."""
        kind = kind_of(label[1])
        if kind is None or len(label[1].split()) > 4:
            return False
        items = several(label[2])
        if len(items) < 2 and not self._measured(label[2]):
            return False
        if self._known(label[1]) and len(items) < 2:
            return False
        if not self._measured(items[0]):
            return False
        self.section = "ingredients"
        self.parts.append(Part(component_name(label[1]), kind))
        for item in items:
            self._take(item.rstrip(" ."))
        return True

    def _take(self, line: str) -> None:
        if not self.parts:
            self.parts.append(Part("Dough", None))
        elif self.gap_before and not self.parts[-1].heading and self.parts[-1].lines:
            self.parts.append(Part("Dough", None, apart=True))
        if ATTACHED_MINUS.match(line) and not self.dashes_are_bullets:
            self._complain(line, *MINUS)
        for read in read_lines(line, self.measures):
            for problem, remedy in weight_complaints(read):
                self._complain(read.text, problem, remedy)
            if "\t" in self.written and read.text == line:
                read = read.model_copy(update={"text": self.written})
            self.parts[-1].lines.append(read)

    def _complain(self, given: str, problem: str, remedy: str) -> None:
        part = self.parts[-1]
        self.complaints.append(Complaint(f"component.{part.name}.line.{len(part.lines) + 1}", given, problem, remedy))

    # -- method and facts --------------------------------------------------------------------------------------

    def _method(self, line: str) -> None:
        self.method.append(line)

    def _yield(self, bare: str) -> None:
        if self.pieces is None:
            self.pieces = pieces_of(bare)

    def _yield_soft(self, line: str) -> None:
        if re.search(r"\bmakes?\b|\byields?\b", line, re.I):
            self._yield(line)

    def _fact_tin(self, bare: str) -> None:
        if self.tin is not None:
            return
        tin, _, assumed = read_tin(bare)
        if tin is None and re.match(r"^(?:tin|pan)\b", bare, re.I) and rectangles(bare):
            tin, _, assumed = read_tin(bare + " tin")
        self.tin, self.makeup_notes = tin, list(assumed)
