"""Wordings around lists of ingredients: labels, lead-ins, header cells, component names."""

import re

from oventide.intake.amounts import tokens

HEADER_CELL = re.compile(
    (
        r"^(?:ingredients?|item|weight|amounts?|qty|quantity|grams?|g|%|baker'?s ?%?|bakers? "
        r"percent\w*|percent\w*|units?|notes?|volume|measure|us|metric|mass)(?: \(\w+\))?$"
    ),
    re.I,
)


LEAD_IN = re.compile(
    (
        r"^(?:you(?:'ll| will)? need:?|take|ingredients?:|gather|for (?:the|about) [\w "
        r"-]{2,30}?(?: you(?:'ll| will)? need)?:|use)\s+"
    ),
    re.I,
)


LABEL = re.compile(r"^([A-Za-z][A-Za-z '&-]{2,40}?)(?:\s?:\s+|\s[-–—]\s)(.+)$")


ATTACHED_MINUS = re.compile(r"^-\d")


FOR_WHAT = re.compile(
    r"^(?:for|to) (?:the )?(?:dust|sprinkl|brush|top|serv|decorat|finish|roll|glaz)\w*:?$", re.IGNORECASE
)
BARE_NUMBER = re.compile(r"^\d{1,2} (?=[A-Z][a-z]+,? .{30,})")
NOISE = re.compile(
    r"^(?:jump to\b|skip to\b|print(?: (?:this )?recipe)?$|pin(?: (?:it|this|recipe))?$|save(?: recipe)?$|share(?: this)?$|"
    r"rate (?:this|it)\b|leave a (?:comment|review)|advertisement|ad$|sponsored|sign up\b|subscribe\b|"
    r"(?:join|get) (?:our|my) (?:newsletter|mailing)|us customary\b|metric(?: us)?$|cups? ?[|/] ?metric|"
    r"(?:[½1-4](?:/2)?x ?){2,}$|[★☆⭐✩ ]+|"
    r"\d(?:\.\d+)?(?: stars?)? (?:from|out of|/) ?\d+|"
    r"(?:nutrition(?:al)? )?(?:information )?per (?:serving|portion|bun|roll|piece|100 ?g)\b|"
    r"(?:calories|kcal|energy|carbohydrates?|carbs|protein|saturated fat|sodium|cholesterol|fibre|fiber)\s?[:|]|"
    r"this post (?:may )?contain|affiliate\b|photo(?:graph)?s? (?:by|:)|cook mode\b|prevent your screen|"
    r"follow (?:us|me)\b|tag (?:us|me|@)|did you make this|read more\b|click here|cookies?\b.*(?:accept|policy))",
    re.IGNORECASE,
)
"""Lines of a web page around the recipe: they go to the notes."""

_UNIT_CELLS = {
    "kg": "kg", "g": "g", "grams": "g", "gram": "g", "gr": "g", "%": "%", "baker's %": "%", "bakers %": "%", "oz": "oz",
    "lb": "lb", "ml": "ml", "l": "l", "weight (g)": "g", "weight (kg)": "kg", "percent": "%", "bakers percent": "%",
}  # fmt: skip


_HEAD = re.compile(
    r"^\s*([A-Za-z][\w '&-]{1,40}?)[ \t|]+((?:%|kg|g|grams?)(?:[ \t|]+(?:%|kg|g|grams?))+)\s*$", re.IGNORECASE
)
_FIGURES = re.compile(r"^(\D*[^\d\s.,])((?:\s+\d+(?:[.,]\d+)?){2,})$")


def column_head(line: str) -> tuple[str, list[str]] | None:
    """A component's name over the heads of its columns: the name and the heads.

    >>> column_head("Dough            %      g"), column_head("Dough 500 g")
    (('Dough', ['%', 'g']), None)
    """
    found = _HEAD.match(line)
    return None if found is None else (found[1].strip(), found[2].lower().replace("|", " ").split())


def in_columns(line: str, columns: list[str]) -> str:
    """A row set in columns by spaces, with tabs instead: its figures are as many as the columns that have a unit.

    >>> in_columns("Whole milk       45     450", ["", "%", "g"]), in_columns("Eggs 2", ["", "%", "g"])
    ('Whole milk\\t45\\t450', 'Eggs 2')
    """
    found = _FIGURES.match(line)
    wanted = sum(1 for head in columns if head in _UNIT_CELLS)
    if found is None or not wanted or len(found[2].split()) != wanted:
        return line
    return "\t".join([found[1].strip(), *found[2].split()])


def tabbed(line: str, columns: list[str]) -> str:
    """A row of a sheet, its tabs as cell marks; bare figures take the unit of their column's head.

    >>> tabbed("Salt\\t0.036\\t1.8", ["kg", "%"])
    'Salt | 0.036 kg | 1.8 %'
    """
    if "\t" not in line:
        return line
    row = [re.sub(r"(?<=\d)[ \u00a0\u202f](?=\d{3}\b)", "", cell.strip()) for cell in line.split("\t") if cell.strip()]
    wordy = sum(1 for cell in row if not re.search(r"\d", cell))
    if len(row) < 2 or not (wordy == 1 or all(HEADER_CELL.match(cell) or cell.lower() in _UNIT_CELLS for cell in row)):
        return line
    heads = columns if not columns or columns[0] in _UNIT_CELLS else columns[1:]
    for at, head in enumerate(heads, start=1):
        unit = _UNIT_CELLS.get(head)
        if unit is not None and at < len(row) and re.fullmatch(r"\d+(?:[.,]\d+)?", row[at]):
            row[at] = f"{row[at]} {unit}"
    return " | ".join(row)


def row_of_sheet(line: str, columns: list[str]) -> tuple[str, list[str], list[str]]:
    """A line as a row of a sheet with columns: the line to read, the columns' heads from now on, and what goes to notes."""
    head = column_head(line)
    if head is not None:
        return head[0], ["", *head[1]], [line.strip()]
    return tabbed(in_columns(line.strip(), columns), columns), columns, []


def amountless(line: str) -> bool:
    return not any(token.kind == "num" for token in tokens(line))


def component_name(name: str) -> str:
    """A component's name without its preposition.

    >>> component_name("For the poppy filling"), component_name("TO FINISH")
    ('Poppy filling', 'To finish')
    """
    short = re.sub(r"^for (?:the |a )?", "", name.strip(" :"), flags=re.IGNORECASE)
    short = short.lower() if short.isupper() else short
    return short[:1].upper() + short[1:]
