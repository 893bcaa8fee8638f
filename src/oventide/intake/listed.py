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
