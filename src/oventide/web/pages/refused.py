"""The page that says what went amiss and what to do, where no form can say it."""

import logging
from dataclasses import dataclass
from typing import Annotated

from oventide.errors import Complaint
from oventide.web.ask import Page
from oventide.web.context import PageContext

_LOG = logging.getLogger("oventide.web")
TITLES = {404: "Not on the shelf", 413: "Too much at once", 500: "Something broke on our side"}

TOO_LARGE = (
    Complaint("text", "", "That is more than a recipe: up to 1 MB of text is read, and the rest was not looked at.",
              "Paste the one recipe that you want to make. Nothing was stored; what you copied is still where it was."),
)  # fmt: skip
NO_TOKEN = (
    Complaint("", "", "This page was opened before this device joined as it is now. Nothing was changed.",
              "Go back, load the page again, and enter it once more."),
)  # fmt: skip
NO_FORM = (Complaint("form", "", "What was sent cannot be read as a form. Nothing was stored.",
                     "Go back and send it once more; one file at a time."),)  # fmt: skip
NO_SUCH_PAGE = (Complaint("address", "", "There is no page at this address.", "Go back to the shelf."),)


def unforeseen(trouble: Exception) -> tuple[Complaint, ...]:
    """Words for what nobody foresaw; the details go to the log of the terminal."""
    _LOG.error("unforeseen", exc_info=trouble)
    return (
        Complaint("page", "", "This page could not be worked out. Nothing was stored half.",
                  "Go back and try once more. The terminal shows the details for a report."),
    )  # fmt: skip


@dataclass(frozen=True)
class Shown(PageContext):
    """What the page shows."""

    title: Annotated[str, "What happened, in a few words"]
    found: Annotated[tuple[Complaint, ...], "Every complaint with its remedy"]


def page_for(status: int, complaints: tuple[Complaint, ...]) -> Page:
    """The page for a status and its complaints."""
    return Page(Shown(TITLES.get(status, "This needs a look"), complaints), status)
