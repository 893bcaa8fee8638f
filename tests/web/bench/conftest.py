"""A stage for the bench: the real shell, style and scripts, over bakes whose windows and alarms a test sets.

It answers the addresses of the bench as the program does (entries once each, a view, alarms, changes), without any
forecast, so that a test can put an alarm two seconds from now. The real services are used in test_real_bench.py.
"""

import asyncio
import json
from collections.abc import Iterator
from datetime import datetime, timedelta

import pytest
from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, Response, StreamingResponse
from starlette.routing import Route

from oventide.bench.model import (
    Alarm,
    Alarms,
    BenchView,
    Choice,
    Countdown,
    Entry,
    Instants,
    Level,
    Noted,
    NotedView,
    StepView,
    WeighView,
)
from oventide.web.app import create_app
from oventide.web.assets import asset_address
from oventide.web.embedded import as_json
from oventide.web.figures import Units
from oventide.web.render import make_environment

TOUCH_PX = 76
STEPS = (
    ("mix", "Mix the dough", "Speed 1 for 4 min, speed 2 for 7 min", "dough 24 to 26 °C", ("dough temperature",)),
    ("bulk", "First rise", "Covered, in the room", "×1.8, jar at 108 mm", ("jar height", "dough temperature")),
    ("sheet", "Sheet out", "45 × 60 cm, 5 mm thick", "dough 12 to 18 °C", ("dough temperature",)),
    ("spread", "Spread the poppy filling", "1 cm free at the far edge", "", ()),
    ("roll", "Roll up", "From the long side, seam below", "", ("dough temperature",)),
    ("proof", "Last rise in the tin", "Covered, in the prover at 28 °C", "×1.6 since shaping", ("rise since shaping",)),
    ("bake", "Bake", "Fan, 170 °C, uncover after 18 min", "core 92 to 95 °C", ("core", "surface")),
    ("cool", "Cool", "On the rack, out of the tin after 10 min", "", ("core",)),
)
LINES = (
    ("0.0", "Dough", "strong white bread flour", 800.0, 1.0), ("0.1", "Dough", "whole milk, 8 °C", 310.0, 1.0),
    ("0.2", "Dough", "boiled potato, riced", 160.0, 1.0), ("0.3", "Dough", "sponge", 240.0, 1.0),
    ("0.4", "Dough", "instant yeast", 9.6, 0.1), ("0.5", "Dough", "salt", 15.2, 0.1),
    ("1.0", "Filling", "poppy seed, ground", 260.0, 1.0), ("1.1", "Filling", "honey", 90.0, 1.0),
)  # fmt: skip
MINUTES = (15, 90, 12, 8, 10, 75, 32, 40)


def minutes(count: float) -> timedelta:
    return timedelta(minutes=count)


def view_at(
    now: datetime, key: str = "coils-2", name: str = "Poppy coils 2", sign: int = 2, step: int = 1
) -> BenchView:
    """A bake that has reached `step` and began it 20 minutes ago."""
    began = [now - minutes(20 + sum(MINUTES[index:step])) for index in range(step)] + [now - minutes(20)]
    for length in MINUTES[step:]:
        began.append(began[-1] + minutes(length))
    steps = []
    for index, (kind, title, action, target, asks) in enumerate(STEPS):
        ends, apart = began[index + 1], 0 if index < step else 4 + 3 * (index - step)
        steps.append(
            StepView(
                index=index, kind=kind, name=title, action=action, target=target,
                outside="Warmer: into the fridge for 20 min. Colder: 10 min on the bench." if target else "",
                state="done" if index < step else "now" if index == step else "ahead",
                begins=Instants(earliest=began[index], likely=began[index], latest=began[index]),
                ends=Instants(earliest=ends - minutes(apart), likely=ends, latest=ends + minutes(apart * 1.4)),
                figures=("core 91 to 96 °C",) if kind == "bake" else (),
                asks=asks, marks=("at the mark", "too soft", "not yet") if kind in ("bulk", "sheet", "proof") else (),
                cautions=("Hot tin: dry gloves, and your face away from the steam.",) if kind == "bake" else (),
            )
        )  # fmt: skip
    bowl, lines = 0.0, []
    for line, component, title, grams, scale in LINES:
        bowl = grams if line.endswith(".0") else bowl + grams
        lines.append(
            WeighView(line=line, component=component, name=title, grams=grams, step_g=scale, bowl_after_g=bowl,
                      weighed=step > 0)
        )  # fmt: skip
    at = tuple(began[0] + minutes(k * 3) for k in range(int((began[-1] - began[0]).total_seconds() / 180) + 1))
    share = [k / (len(at) - 1) for k in range(len(at))]
    heat = [24 + 6 * s + (60 * (s - 0.72) / 0.28 if s > 0.72 else 0) for s in share]
    rise = [1 + 1.1 * s for s in share]
    soft = [40 + 30 * s for s in share]
    levels = tuple(
        Level(name=title, unit=unit, at=at, p5=tuple(v * 0.93 for v in row), p50=tuple(row),
              p95=tuple(v * 1.07 for v in row))
        for title, unit, row in (("temperature", "°C", heat), ("rise", "×", rise), ("softness", "%", soft))
    )  # fmt: skip
    rolls, spreads = (began[2] + minutes(5), began[2] + minutes(24)), (began[2] - minutes(1), began[2] + minutes(13))
    return BenchView(
        key=key, name=name, sign=sign, product_key="lantern-quay-poppy-coils", product_revision=1, number=0,
        made_at=now, ready=steps[-1].ends, now_step=step, steps=tuple(steps), weighing=tuple(lines), levels=levels,
        countdowns=tuple(
            Countdown(name=title, opens=around(a), closes=around(b))
            for title, (a, b) in (("dough rolls", rolls), ("butter spreads", spreads))
        )
        if step in (2, 3, 4)
        else (),
        readings=((began[1] - minutes(2), "temperature", 24.6),) if step else (), foreseen="fresh",
    )  # fmt: skip


def around(when: datetime, by: float = 4) -> Instants:
    return Instants(earliest=when - minutes(by), likely=when, latest=when + minutes(by))


def alarm_at(view: BenchView, when: datetime, words: str = "Look at the jar", step: int | None = None) -> Alarm:
    """An alarm of a bake."""
    step = view.now_step if step is None else step
    return Alarm(id=f"{view.key}:{step}:look:{words[:6]}", bake=view.key, name=view.name, sign=view.sign, kind="look",
                 at=when, words=words, step=step)  # fmt: skip


class Stage:
    """Bakes in memory, and the answers that the bench asks for."""

    def __init__(self) -> None:
        self.views: dict[str, BenchView] = {}
        self.entries: list[tuple[str, Entry]] = []
        self.posted: list[list[str]] = []
        """Uids of each lot that came, so that a test sees what was sent twice."""
        self.changed = 0
        self.on = True
        self.closing = False

    def put(self, view: BenchView) -> BenchView:
        self.views[view.key] = view
        self.changed += 1
        return view

    def change(self, key: str, **fields: object) -> None:
        """A newer view, as if another device or a fresh forecast had changed it."""
        old = self.views[key]
        self.put(old.model_copy(update={"number": old.number + 1, "made_at": datetime.now().astimezone(), **fields}))

    def alarms(self) -> Alarms:
        return Alarms(alarms=tuple(alarm for view in self.views.values() for alarm in view.alarms))

    def note(self, key: str, entries: list[Entry]) -> Noted:
        self.posted.append([entry.uid for entry in entries])
        known = {entry.uid for _, entry in self.entries}
        for entry in entries:
            if entry.uid not in known:
                self.entries.append((key, entry))
                self._fold(key, entry)
        return Noted(view=self.views[key], taken=tuple(entry.uid for entry in entries))

    def _fold(self, key: str, entry: Entry) -> None:
        view = self.views[key]
        change: dict[str, object] = {}
        own = [each for bake, each in self.entries if bake == key]
        undone = {each.of for each in own if each.deed == "undo"}
        done = {each.step: each.at for each in own if each.deed == "done" and each.uid not in undone}
        first = min((step.index for step in view.steps if step.state == "now"), default=0)
        if entry.deed in ("done", "undo"):
            origin = min([each.step or 0 for each in own if each.deed == "done"] + [first])
            now = max(done, default=origin - 1) + 1
            now = max(now, origin)
            change["now_step"] = now if now < len(view.steps) else None
            change["steps"] = tuple(
                step.model_copy(
                    update={"state": "done" if step.index < now else "now" if step.index == now else "ahead"}
                )
                for step in view.steps
            )
        weighed = {each.line: each.value for each in own if each.deed == "weighed" and each.uid not in undone}
        if entry.deed in ("weighed", "undo"):
            change["weighing"] = tuple(
                line.model_copy(
                    update={
                        "weighed": line.line in weighed,
                        "bowl_read_g": weighed.get(line.line),
                        "difference": f"{line.bowl_after_g - read:g} g short: was it forgotten?"
                        if (read := weighed.get(line.line)) and line.bowl_after_g and line.bowl_after_g - read > 5
                        else "",
                    }
                )
                for line in view.weighing
            )
        if entry.deed == "heard":
            change["alarms"] = tuple(
                alarm.model_copy(update={"heard": alarm.heard or alarm.id == entry.of}) for alarm in view.alarms
            )
        elif entry.deed == "reading":
            change["levels"] = tuple(
                level.model_copy(update={"p50": tuple(v + 1 for v in level.p50)}) for level in view.levels
            )
        elif entry.deed == "finish":
            change["finished"] = True
        noted = tuple(
            NotedView(uid=each.uid, at=each.at, device=each.device, words=f"told: {each.deed}", entry=each,
                      undone=each.uid in undone, undoable=each.deed not in ("undo", "heard"))
            for each in reversed(own)
            if each.deed not in ("undo", "heard")
        )  # fmt: skip
        self.change(key, noted=noted, **change)


def shell(stage: Stage, key: str) -> str:
    view = stage.views[key]
    return make_environment().get_template("bench_bake.html").render(
        units=Units(), asset=asset_address, device="tablet at the oven", title=view.name, view_json=as_json(view),
        language="en", sheet_address=f"/formulas/{view.product_key}/sheet",
    )  # fmt: skip


def on_stage(stage: Stage):
    """The application with the stage's answers in front of its own."""
    app = create_app("sqlite://")

    async def page(request: Request) -> Response:
        return HTMLResponse(shell(stage, request.path_params["key"]))

    async def view(request: Request) -> Response:
        return Response(stage.views[request.path_params["key"]].model_dump_json(), media_type="application/json")

    async def alarms(_: Request) -> Response:
        return Response(stage.alarms().model_dump_json(), media_type="application/json")

    async def entries(request: Request) -> Response:
        sent = [Entry.model_validate(each) for each in (await request.json())["entries"]]
        if not stage.on:
            return JSONResponse({}, 503)
        return Response(stage.note(request.path_params["key"], sent).model_dump_json(), media_type="application/json")

    async def changes(request: Request) -> Response:
        async def told():
            seen = stage.changed
            while not stage.closing and not await request.is_disconnected():
                if stage.changed != seen:
                    seen = stage.changed
                    for key, each in list(stage.views.items()):
                        yield f"event: bake\ndata: {json.dumps({'key': key, 'number': each.number})}\n\n"
                await asyncio.sleep(0.05)

        return StreamingResponse(told(), media_type="text/event-stream")

    app.router.routes[:0] = [
        Route("/bench/alarms", alarms), Route("/bench/{key}/view", view),
        Route("/bench/{key}/entries", entries, methods=["POST"]), Route("/bench/{key}", page),
        Route("/changes", changes),
    ]  # fmt: skip
    return app


@pytest.fixture
def stage() -> Stage:
    return Stage()


@pytest.fixture
def address(stage: Stage, serve_app) -> Iterator[str]:
    with serve_app(on_stage(stage)) as server:
        yield server.address
        stage.closing = True  # an open stream would hold the server up


@pytest.fixture
def bench(stage: Stage, address: str, browser_page):
    """Open a bake at the bench: `bench(view)` gives the page. Its console must stay free of errors."""
    heard: list[str] = []
    browser_page.on("pageerror", lambda error: heard.append(str(error)))

    def watch(message) -> None:
        if message.type == "error" and "status of" not in message.text and "ERR_" not in message.text:
            heard.append(message.text)

    browser_page.on("console", watch)

    def opened(view: BenchView, size: tuple[int, int] = (820, 1180)):
        stage.put(view)
        browser_page.set_viewport_size({"width": size[0], "height": size[1]})
        browser_page.goto(f"{address}/bench/{view.key}")
        browser_page.locator("#clock").wait_for()
        return browser_page

    yield opened
    assert heard == []


@pytest.fixture
def rescue() -> tuple[Choice, ...]:
    return (
        Choice(
            id="chill", name="Into the fridge", costs="22 to 30 min", because="The dough cools to 15 °C in that time."
        ),
        Choice(
            id="roll-now", name="Roll it now", costs="flatter spirals", because="The butter is soft, it presses out."
        ),
    )
