"""The application: guard, static files, and one endpoint for each line of ROUTES."""

from collections.abc import Awaitable, Callable
from dataclasses import replace
from urllib.parse import urlsplit

from fastapi import FastAPI, Request, Response
from fastapi.exceptions import HTTPException
from fastapi.responses import FileResponse, HTMLResponse, RedirectResponse
from starlette.concurrency import run_in_threadpool

from oventide.errors import Complaint, Refusal
from oventide.services.bakes import Bakes, NoSuchBake
from oventide.services.outlooking import Live, LiveLater
from oventide.services.shelf import Clock, NotOnShelf, Shelf, local_now
from oventide.web import assets
from oventide.web.ask import Answer, Ask, Data, Download, Page, Redirect
from oventide.web.changes import ASKING, Changes, Stream, mark_text
from oventide.web.door import LOOPBACK_NAMES, TOKEN_FIELD, TOKEN_HEADER, Caller, Door
from oventide.web.figures import Units
from oventide.web.forecasts import Forecasts
from oventide.web.guard import BodyTooLarge, Guard
from oventide.web.pages import refused
from oventide.web.render import make_environment, render
from oventide.web.routes import ROUTES, Route
from oventide.web.session import signed_in, signed_out
from oventide.words.catalogue import known_language

OPEN_COOKIES = ("oventide_language", "oventide_paper")
"""Choices that the bench's own scripts may set too."""
ASSET_AGE_S = 31_536_000
FIELDS_LIMIT = 3000
FIELD_LIMIT_BYTES = 3_900_000


def _local_path(address: str) -> str:
    """The path and query of an address, so that a switch can only lead back into these pages."""
    parts = urlsplit(address)
    if not parts.path.startswith("/") or parts.path.startswith("//"):
        return "/"
    return parts.path + (f"?{parts.query}" if parts.query else "")


async def _sent(request: Request) -> tuple[dict[str, str], dict[str, tuple[str, bytes]], bytes]:
    """Texts and files of a form, by field; or the bytes of what was sent as JSON."""
    if request.method != "POST":
        return {}, {}, b""
    if request.scope.get("state", {}).get("body_too_large"):
        raise BodyTooLarge
    if request.headers.get("content-type", "").partition(";")[0].strip().lower() == "application/json":
        return {}, {}, await request.body()
    async with request.form(max_files=1, max_fields=FIELDS_LIMIT, max_part_size=FIELD_LIMIT_BYTES) as form:
        texts = {name: value for name, value in form.multi_items() if isinstance(value, str)}
        files = {
            name: (value.filename or "file", await value.read())
            for name, value in form.multi_items()
            if not isinstance(value, str)
        }
    return texts, files, b""


def create_app(
    journal_url: str | None = None,
    clock: Clock = local_now,
    hosts: tuple[str, ...] = LOOPBACK_NAMES,
    live: Live | None = None,
    door: Door | None = None,
) -> FastAPI:
    """The workbench over one journal; without an address, the user's own.

    `live` foresees the bakes under way. With a `door`, devices may join.
    """
    shelf = Shelf.at(journal_url, clock)
    bakes = Bakes(shelf.journal, live or LiveLater(clock), clock)
    forecasts = Forecasts()
    environment = make_environment()
    app = FastAPI(title="Oventide", docs_url=None, redoc_url=None, openapi_url=None)
    app.state.shelf = shelf
    app.state.forecasts = forecasts
    changes = Changes(shelf)
    shelf.on_saved = changes.saved
    bakes.on_noted = lambda _key, _number: changes.nudge()
    app.state.bakes = bakes
    app.state.changes = changes
    app.add_middleware(Guard, hosts=hosts, door=door)

    def ask_of(request: Request, form: dict[str, str], files: dict[str, tuple[str, bytes]], body: bytes = b"") -> Ask:
        here = request.url.path + (f"?{request.url.query}" if request.url.query else "")
        caller = caller_of(request)
        return Ask(
            shelf=shelf,
            bakes=bakes,
            forecasts=forecasts,
            now=clock(),
            units=Units.from_cookies(request.cookies.get("oventide_degree"), request.cookies.get("oventide_mass")),
            path={name: str(value) for name, value in request.path_params.items()},
            query=dict(request.query_params),
            form=form,
            files=files,
            is_post=request.method == "POST",
            part=request.headers.get("hx-request") == "true"
            and request.headers.get("hx-history-restore-request") != "true",
            back=here if request.method == "GET" else _local_path(request.headers.get("referer", "/")),
            body=body,
            device=caller.device.name if caller.device else "",
            caller=caller,
            door=door,
            language=known_language(request.cookies.get("oventide_language")),
            paper_language=known_language(
                request.cookies.get("oventide_paper") or request.cookies.get("oventide_language")
            ),
        )

    def caller_of(request: Request) -> Caller:
        known = request.scope.get("state", {}).get("caller")
        return known if isinstance(known, Caller) else Caller(allowed=False)

    def answered(route: Route, ask: Ask) -> tuple[Ask, Answer]:
        ask = replace(ask, mark=mark_text(shelf.mark()))  # before anything is read
        return ask, route.handler()(ask)

    def answer_with(name: str, page: Page, ask: Ask) -> Response:
        return HTMLResponse(render(environment, name, page, ask), status_code=page.status)

    def refusal_page(request: Request, status: int, complaints: tuple[Complaint, ...]) -> Response:
        return answer_with("refused", refused.page_for(status, complaints), ask_of(request, {}, {}))

    def endpoint_of(route: Route) -> Callable[[Request], Awaitable[Response]]:
        async def endpoint(request: Request) -> Response:
            try:
                form, files, body = await _sent(request)
            except BodyTooLarge:
                return refusal_page(request, 413, refused.TOO_LARGE)
            given = request.headers.get(TOKEN_HEADER) or form.get(TOKEN_FIELD, "")
            form.pop(TOKEN_FIELD, None)
            ask = ask_of(request, form, files, body)
            if ask.is_post and door is not None and ask.caller.token and not door.is_token(ask.caller, given):
                return refusal_page(request, 403, refused.NO_TOKEN)
            ASKING.set(ask.device)
            try:
                ask, answer = await run_in_threadpool(answered, route, ask)
            except (NotOnShelf, NoSuchBake) as refusal:
                return refusal_page(request, 404, refusal.complaints)
            except Refusal as refusal:
                return refusal_page(request, 422, refusal.complaints)
            if ask.is_post:
                changes.nudge()
            if isinstance(answer, Page):
                return await run_in_threadpool(answer_with, route.name, answer, ask)
            if isinstance(answer, Redirect):
                response = RedirectResponse(answer.to, status_code=303)
                for name, value in answer.cookies.items():
                    response.set_cookie(
                        name, value, max_age=ASSET_AGE_S, samesite="strict", httponly=name not in OPEN_COOKIES
                    )
                if door is not None and answer.joined is not None:
                    for cookie in signed_in(door, answer.joined, ask.caller.secure):
                        response.headers.append("set-cookie", cookie)
                if answer.leaves:
                    for cookie in signed_out(ask.caller.secure):
                        response.headers.append("set-cookie", cookie)
                if answer.ended:
                    changes.end_of(answer.ended)
                return response
            if isinstance(answer, Data):
                return Response(
                    answer.content.model_dump_json(), status_code=answer.status, media_type="application/json"
                )
            assert isinstance(answer, Download)
            disposition = "inline" if answer.inline else "attachment"
            return Response(
                answer.content,
                media_type=answer.media_type,
                headers={"Content-Disposition": f'{disposition}; filename="{answer.file_name}"'},
            )

        return endpoint

    for route in ROUTES:
        app.add_api_route(route.path, endpoint_of(route), methods=list(route.methods), response_model=None)

    @app.get("/changes", response_model=None)
    async def listen(request: Request) -> Response:
        device = caller_of(request).device
        since = request.headers.get("last-event-id") or request.query_params.get("since", "")
        return Stream(changes, since, device.id if device else "")

    @app.get("/static/{name:path}", response_model=None)
    def static(name: str, request: Request) -> Response:
        path = assets.path_of(name)
        if path is None:
            raise HTTPException(404)
        mark = assets.content_mark(path)
        known = path.suffix == ".woff2" or assets.may_be_kept(path, name, request.query_params.get("v", ""))
        headers = {
            "ETag": f'"{mark}"',
            "Cache-Control": f"public, max-age={ASSET_AGE_S}, immutable" if known else "no-cache",
        }
        if request.headers.get("if-none-match") == headers["ETag"]:
            return Response(status_code=304, headers=headers)
        return FileResponse(path, headers=headers, media_type=assets.MEDIA_TYPES[path.suffix])

    @app.exception_handler(400)
    async def not_a_form(request: Request, _trouble: Exception) -> Response:
        return refusal_page(request, 400, refused.NO_FORM)

    @app.exception_handler(404)
    async def not_found(request: Request, _trouble: Exception) -> Response:
        return refusal_page(request, 404, refused.NO_SUCH_PAGE)

    @app.exception_handler(Exception)
    async def unforeseen(request: Request, trouble: Exception) -> Response:
        return refusal_page(request, 500, refused.unforeseen(trouble))

    return app
