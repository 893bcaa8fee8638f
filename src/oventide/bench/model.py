"""A bake under way: entries that are only ever added, and the view of it that every face shows.

Entries are facts with a moment and a maker. They are never changed and never removed: undoing is one more entry. The
same entry sent twice (a tablet that was out of reach sends what it kept) counts once, by its `uid`. What a bake is
now is folded from its entries in the order of `at`; two devices that saw them in another order agree in the end.

Moments are timezone-aware instants, written in ISO 8601 with their zone. Figures are in the units of the forecast
(°C, ×, %, g, mm); the faces turn them into the baker's.
"""

from typing import Annotated, Literal

from pydantic import AwareDatetime, Field, StringConstraints

from oventide.formula.model import Frozen
from oventide.kitchen.model import Kitchen
from oventide.timeline.procedure import Product

Uid = Annotated[str, StringConstraints(pattern=r"^[A-Za-z0-9_-]{8,64}$")]
Deed = Literal["done", "mark", "reading", "weighed", "undo", "heard", "rescue", "ready_by", "note", "finish"]
Mark = Literal["at the mark", "too soft", "not yet"]
Quantity = Literal[
    "dough temperature", "core", "surface", "rise since mixing", "rise since shaping", "jar height", "bowl weight"
]
State = Literal["done", "now", "ahead"]
AlarmKind = Literal["look", "likely", "latest", "uncover", "begin"]


class Entry(Frozen):
    """One thing that was noted at the bench. Which fields count hangs on the deed; the others stay empty.

    ======== ==========================================================================================
    done     step `step` is over at `at` (a second one for the same step is kept and changes nothing)
    mark     `mark` at step `step`
    reading  `quantity` is `value` at step `step`
    weighed  line `line` ("component.line", counted from 0) is in the bowl; `value` the bowl's weight, if read [g]
    undo     entry `of` does not count
    heard    alarm `of` was heard
    rescue   way out `of` was taken at step `step`
    ready_by `value` is the new moment to be ready [minute of the day]
    note     `text`, with `score` 1 to 5 where one was given
    finish   the bake is over
    ======== ==========================================================================================
    """

    uid: Uid
    deed: Deed
    at: AwareDatetime
    """By the clock of the device that noted it."""
    device: str = Field(default="", max_length=60)
    step: int | None = Field(default=None, ge=0, le=200)
    mark: Mark | None = None
    quantity: Quantity | None = None
    value: float | None = Field(default=None, ge=-100, le=1e6, allow_inf_nan=False)
    line: str = Field(default="", pattern=r"^(\d{1,3}\.\d{1,3})?$")
    of: str = Field(default="", max_length=80)
    text: str = Field(default="", max_length=2000)
    score: int | None = Field(default=None, ge=1, le=5)


class Taken(Frozen):
    """An entry as it stands in the journal."""

    number: int
    """Counts up over the bake; the next device asks for what came after the last number that it has."""
    taken_at: AwareDatetime
    entry: Entry


class Bake(Frozen):
    """What a bake was begun with. Formula and kitchen are kept as they were then."""

    key: str
    name: str
    """Said and shown by its alarms, so that two bakes can be told apart: "Poppy coils 2"."""
    sign: int = Field(ge=0, le=7)
    """Which of eight shapes and sounds is its own while it is under way."""
    product_key: str
    product_revision: int
    product: Product
    kitchen_key: str
    kitchen: Kitchen
    started_at: AwareDatetime
    ready_at: AwareDatetime | None = None
    seed: int = 1
    members: int = 200
    factor: float = 1.0
    """How many times the written formula this batch is; `product` is already at that size."""


class Instants(Frozen):
    """A window on the clock."""

    earliest: AwareDatetime
    likely: AwareDatetime
    latest: AwareDatetime


class StepView(Frozen):
    """One step as the bench shows it. `begins` and `ends` are windows; once it is past, both ends are the moment."""

    index: int
    kind: str
    name: str
    action: str = ""
    target: str = ""
    outside: str = ""
    text: str = ""
    """The baker's own words."""
    cautions: tuple[str, ...] = ()
    state: State
    begins: Instants
    ends: Instants
    figures: tuple[str, ...] = ()
    """What is foreseen for its end, in words: "core 91 to 96 °C"."""
    asks: tuple[Quantity, ...] = ()
    """What may be read in this step, most telling first."""
    marks: tuple[Mark, ...] = ()


class WeighView(Frozen):
    """One ingredient to weigh: its own weight, and what the bowl must show after it."""

    line: str
    component: str
    name: str
    note: str = ""
    grams: float | None
    step_g: float = 1.0
    """The step of the scale that shows it."""
    bowl_after_g: float | None
    """Expected on the scale if the bowl is not tared in between."""
    weighed: bool = False
    bowl_read_g: float | None = None
    difference: str = ""
    """What a bowl that is too light or too heavy says, and the rescue; empty where it agrees."""
    step: int = 0
    """The step that it is weighed at."""


class Alarm(Frozen):
    """A moment on the clock that is called out until it is heard. It is stored, so it outlives page and program."""

    id: str
    """Unlike in the whole journal; the same moment of the same step keeps its id when it is foreseen anew."""
    bake: str
    name: str
    sign: int
    kind: AlarmKind
    at: AwareDatetime
    words: str
    step: int | None = None
    """The step that it belongs to, so that a device out of reach can still it when that step is done."""
    heard: bool = False


class Alarms(Frozen):
    """Alarms of all bakes under way, as every bench page keeps them."""

    alarms: tuple[Alarm, ...] = ()


class Countdown(Frozen):
    """Time left until something changes, as a window."""

    name: Literal["dough rolls", "butter spreads"]
    opens: Instants | None
    """From when on; None where it already is so."""
    closes: Instants | None
    """Until when; None where no end is foreseen."""


class Choice(Frozen):
    """A way out when a window was missed, with what it costs."""

    id: str
    name: str
    costs: str
    because: str


class Level(Frozen):
    """One water level of the tide chart on the clock."""

    name: str
    unit: str
    at: tuple[AwareDatetime, ...]
    p5: tuple[float, ...]
    p50: tuple[float, ...]
    p95: tuple[float, ...]


class NotedView(Frozen):
    """An entry as the log shows it, newest first; one that was undone stays, crossed out."""

    uid: str
    at: AwareDatetime
    device: str
    words: str
    undone: bool = False
    undoable: bool = True
    """Offered by the one undo button: the newest entry that counts."""
    entry: Entry | None = None
    """The entry itself, so that a device out of reach can fold it again with what it noted since."""


class BenchView(Frozen):
    """Everything that a face shows of one bake, ready to be shown."""

    key: str
    name: str
    sign: int
    product_key: str
    product_revision: int
    number: int
    """The last entry that it rests on."""
    made_at: AwareDatetime
    ready: Instants | None
    now_step: int | None
    """None once the last step is over."""
    finished: bool = False
    steps: tuple[StepView, ...]
    weighing: tuple[WeighView, ...] = ()
    """What is weighed at the step now, one ingredient after the other."""
    weigh_later: tuple[WeighView, ...] = ()
    """What is weighed at later steps; it may be weighed ahead."""
    alarms: tuple[Alarm, ...] = ()
    countdowns: tuple[Countdown, ...] = ()
    rescue: tuple[Choice, ...] = ()
    """Empty unless a window was missed."""
    levels: tuple[Level, ...] = ()
    readings: tuple[tuple[AwareDatetime, str, float], ...] = ()
    """Marks for the tide chart: moment, level's name, value."""
    noted: tuple[NotedView, ...] = ()
    foreseen: Literal["fresh", "under way", "planned"] = "planned"
    """`planned` is by the written minutes alone, until the first forecast is there; `under way` shows the last one."""
    said: tuple[str, ...] = ()
    """What the readings did to the forecast: "about 60 of 200 kitchens agree"; warnings of a reading far off."""


class Noted(Frozen):
    """Answer to entries that were sent: the view after them, what was taken, what was not and why."""

    view: BenchView
    taken: tuple[Uid, ...]
    refused: tuple[tuple[Uid, str], ...] = ()
