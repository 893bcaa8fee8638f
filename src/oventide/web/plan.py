"""What the tide and sheet pages are asked for: formula, size, kitchen, ready-by time; and the forecast of it."""

from collections.abc import Mapping
from dataclasses import dataclass
from urllib.parse import urlencode

from oventide.errors import Complaint, Refusal
from oventide.forecast.clock import minute_of, moved
from oventide.forecast.model import Forecast
from oventide.kitchen.model import Kitchen
from oventide.services import asking, weighing
from oventide.services.answers import Scaling
from oventide.services.shelf import Saved
from oventide.services.tasks import Stopped
from oventide.services.uncovering import Uncovering
from oventide.timeline.procedure import Product
from oventide.web import sizes
from oventide.web.ask import Ask, Redirect
from oventide.web.figures import Units

MEMBERS = 200
SEED = 1
USUAL = "usual"
PATIENCE_S = 0.3
"""A forecast that is there so soon is shown without a waiting page between."""


@dataclass(frozen=True)
class Question:
    """One question as it is read from the address."""

    saved: Saved[Product]
    product: Product
    """The formula at the size that is asked for."""
    size: Scaling | None
    sized: str
    kitchen_key: str
    kitchen: Kitchen
    kitchens: tuple[tuple[str, str], ...]
    ready_by: str | None
    values: Mapping[str, str]
    complaints: tuple[Complaint, ...]

    @property
    def tail(self) -> str:
        """The question as the end of an address."""
        revision = "" if self.saved.is_newest else f"&revision={self.saved.number}"
        return self.tail_without_revision + revision

    @property
    def tail_without_revision(self) -> str:
        """The question as the end of an address, for the newest revision."""
        parts = {"kitchen": self.kitchen_key}
        if self.ready_by:
            parts["ready_by"] = self.ready_by
        return "?" + urlencode({**parts, **sizes.in_address(self.size)})

    @property
    def kept(self) -> Mapping[str, str]:
        """What the form carries unseen: an earlier revision, another size."""
        revision = {} if self.saved.is_newest else {"revision": str(self.saved.number)}
        return {**revision, **sizes.in_address(self.size)}


@dataclass(frozen=True)
class Plan(Question):
    """One question, and how far its answer is."""

    forecast: Forecast | None = None
    share: float | None = None
    """Share done of a forecast that is under way."""
    stopped: bool = False
    meanwhile: Forecast | None = None
    """The same bake for another time, moved to the one asked for: shown until the forecast is there."""


NOON = "12:00"


def asked_for(ready_by: str | None, kitchen: Kitchen) -> str | None:
    """The time that is foreseen: in a kitchen whose room keeps its warmth every time is the same run, moved."""
    return NOON if ready_by and not kitchen.room_by_hour else ready_by


def told_for(forecast: Forecast, run_for: str | None, ready_by: str | None) -> Forecast:
    """A forecast that was run for one time of day, told for another."""
    if run_for is None or ready_by is None or run_for == ready_by:
        return forecast
    by_min = minute_of(ready_by) - minute_of(run_for)
    return moved(forecast, by_min)


def question_of(ask: Ask) -> Question:
    """Read the question from the address; complaints name the form's fields."""
    from oventide.services import foreseeing

    saved = ask.shelf.product(ask.path["key"], ask.number("revision"))
    on_shelf = ask.shelf.kitchens()
    kitchens = (*((k.key, k.content.name) for k in on_shelf), (USUAL, "a kitchen of which nothing is known"))
    asked = ask.query.get("kitchen", "")
    key = asked if asked in dict(kitchens) else kitchens[0][0]
    kitchen = next((k.content for k in on_shelf if k.key == key), None) or foreseeing.usual_kitchen()
    complaints: list[Complaint] = []
    ready_by, size, product, sized = None, None, saved.content, ""
    try:
        ready_by = asking.clock(ask.query.get("ready_by", ""))
    except Refusal as refusal:
        complaints += refusal.complaints
    try:
        size = sizes.size_of(ask.query, Units())
        if size is not None:
            product, _, sized = weighing.scaled(saved.content, size)
    except Refusal as refusal:
        size = None
        complaints += refusal.complaints
    return Question(
        saved, product, size, sized, key, kitchen, kitchens, ready_by,
        {"kitchen": key, "ready_by": ask.query.get("ready_by", "")}, tuple(complaints),
    )  # fmt: skip


def plan_of(ask: Ask, patience_s: float | None = PATIENCE_S) -> Plan:
    """The question and its answer, or how far the answer is after the patience; None waits for it."""
    question = question_of(ask)
    forecast, meanwhile, share, complaints = None, None, None, question.complaints
    stopped = ask.query.get("stopped") == "yes"
    if not complaints and not stopped:
        run_for = asked_for(question.ready_by, question.kitchen)
        job = ask.forecasts.begin(question.product, question.kitchen, run_for, SEED, MEMBERS)
        try:
            found = job.answer(patience_s)
            if found is not None:
                forecast = told_for(found, run_for, question.ready_by)
            else:
                share = job.share
                beside = ask.forecasts.beside(question.product, question.kitchen, SEED, MEMBERS)
                if beside is not None and question.ready_by:
                    meanwhile = told_for(beside[1], beside[0], question.ready_by)
        except Refusal as refusal:
            complaints = refusal.complaints
        except Stopped:
            stopped = True
    return Plan(
        **{**vars(question), "complaints": complaints},
        forecast=forecast,
        share=share,
        stopped=stopped,
        meanwhile=meanwhile,
    )


def quick_uncovered(ask: Ask, question: Question, minutes: float) -> Uncovering | None:
    """What another moment to uncover changes, of the bake alone; None where it takes longer than there is patience."""
    run_for = asked_for(question.ready_by, question.kitchen)
    task = ask.forecasts.sections.uncovered(question.product, question.kitchen, minutes, run_for, SEED, MEMBERS)
    try:
        return task.answer(PATIENCE_S)
    except Stopped:
        return None


def foreseen(
    ask: Ask, product: Product, question: Question, patience_s: float = PATIENCE_S
) -> tuple[Forecast | None, float | None]:
    """The forecast of a product that was varied, for the same kitchen and time; or how far it is."""
    run_for = asked_for(question.ready_by, question.kitchen)
    job = ask.forecasts.begin(product, question.kitchen, run_for, SEED, MEMBERS)
    try:
        found = job.answer(patience_s)
    except Stopped:
        return None, None
    if found is None:
        return None, job.share
    return told_for(found, run_for, question.ready_by), None


def stop(ask: Ask, page: str) -> Redirect:
    """Stop the forecast that the address asks for, and go back to the page without it."""
    question = question_of(ask)
    if not question.complaints:
        run_for = asked_for(question.ready_by, question.kitchen)
        ask.forecasts.stop(question.product, question.kitchen, run_for, SEED, MEMBERS)
    return Redirect(f"/formulas/{question.saved.key}/{page}{question.tail}&stopped=yes")
