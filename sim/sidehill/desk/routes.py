"""What may be asked of the desk, each with its own small answer; a refusal is a sentence."""

import json
from collections.abc import Awaitable, Callable
from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.requests import ClientDisconnect, Request
from starlette.responses import (
    FileResponse,
    HTMLResponse,
    JSONResponse,
    Response,
    StreamingResponse,
)
from starlette.routing import Route

from sidehill.desk.desk import Desk
from sidehill.desk.drawing import bank_svg
from sidehill.desk.guard import refusal
from sidehill.desk.names import inside
from sidehill.desk.opening import open_machine
from sidehill.desk.render import part
from sidehill.desk.replays import beside, policy_of, run_of
from sidehill.desk.web import SCRIPTS, asset
from sidehill.files.errors import InputError, SidehillError

MOST_CHANGES = 60  # in one request
Answer = Callable[[Request], Awaitable[Response]]


def routes(desk: Desk) -> list[Route]:
    """All of them."""
    handlers = _Handlers(desk)
    return [
        Route("/", handlers.page),
        Route("/web/{name}", handlers.web),
        Route("/everything", handlers.everything),
        Route("/events", handlers.events),
        Route("/bank.svg", handlers.bank),
        Route("/strip/{number}", handlers.strip),
        Route("/files/{name}", handlers.file),
        Route("/replays/{number}", handlers.replay_page),
        *(
            Route(f"/{name}", told(getattr(handlers, name)), methods=["POST"])
            for name in ("change", "option", "open", "save", "make", "stop", "replay")
        ),
    ]


def told(answer: Callable[[dict[str, Any]], Any]) -> Answer:
    """A POST of a JSON object, answered in a thread."""

    async def handle(request: Request) -> Response:
        if request.headers.get("content-type", "").split(";")[0] != "application/json":
            return refusal(415, "send JSON")
        try:
            asked = json.loads(await request.body())
        except ClientDisconnect:
            return refusal(413, "too large, or cut off")
        except (ValueError, RecursionError):
            return refusal(400, "not valid JSON")
        if not isinstance(asked, dict):
            return refusal(400, "send a JSON object")
        try:
            return JSONResponse(await run_in_threadpool(answer, asked))
        except (SidehillError, _WrongError) as error:
            return refusal(422, str(error))

    return handle


class _WrongError(Exception):
    """What was sent has not the form that is asked for."""


def _text(asked: dict[str, Any], name: str, longest: int = 200) -> str:
    value = asked.get(name, "")
    if not isinstance(value, str) or len(value) > longest:
        raise _WrongError(f"{name}: give text of up to {longest} characters")
    return value


def _whole(asked: dict[str, Any], name: str) -> int:
    value = asked.get(name)
    if type(value) is not int:
        raise _WrongError(f"{name}: give a whole number")
    return value


class _Handlers:
    def __init__(self, desk: Desk) -> None:
        self.desk = desk

    async def page(self, _: Request) -> Response:
        everything = await run_in_threadpool(self.desk.everything)
        return HTMLResponse(
            part("page", parts=everything["parts"], state=self.desk.state, notice=self.desk.notice)
        )

    async def web(self, request: Request) -> Response:
        name = request.path_params["name"]
        if name not in SCRIPTS:
            raise HTTPException(404, "no such file")
        text, kind = asset(name)
        return Response(text, media_type=kind)

    async def everything(self, _: Request) -> Response:
        return JSONResponse(await run_in_threadpool(self.desk.everything))

    async def events(self, _: Request) -> Response:
        return StreamingResponse(self.desk.hub.listen(), media_type="text/event-stream")

    async def bank(self, _: Request) -> Response:
        try:
            drawn = await run_in_threadpool(bank_svg, self.desk.question)
        except SidehillError as error:
            return refusal(422, str(error))
        return Response(drawn, media_type="image/svg+xml")

    async def strip(self, request: Request) -> Response:
        try:
            found = await run_in_threadpool(self.desk.strip, request.path_params["number"])
        except InputError as error:
            return refusal(404, str(error))
        if found is None:
            return refusal(409, "it is being computed: ask again")
        return JSONResponse(found)

    async def file(self, request: Request) -> Response:
        try:
            path = inside(self.desk.folder, request.path_params["name"])
        except InputError as error:
            return refusal(404, str(error))
        if not path.is_file():
            return refusal(404, f"{path.name}: no such file")
        if path.suffix == ".html":
            text = await run_in_threadpool(path.read_text, "utf-8")
            policy = await run_in_threadpool(policy_of, text)
            return HTMLResponse(text, headers={"content-security-policy": policy})
        kind = "video/mp4" if path.suffix == ".mp4" else "text/plain; charset=utf-8"
        return FileResponse(path, media_type=kind)

    async def replay_page(self, request: Request) -> Response:
        text = self.desk.replays.page(request.path_params["number"])
        if text is None:
            return refusal(404, "this replay is no longer kept; click the strip again")
        return HTMLResponse(text, headers={"content-security-policy": policy_of(text)})

    def change(self, asked: dict[str, Any]) -> Any:
        changes = asked.get("changes")
        if not isinstance(changes, list) or not 1 <= len(changes) <= MOST_CHANGES:
            raise _WrongError(f"changes: give a list of 1 to {MOST_CHANGES}")
        for pair in changes:
            if not (isinstance(pair, list) and [type(one) for one in pair] == [str, str]):
                raise _WrongError("changes: each is a pair of texts, field and value")
        pairs = [(path, text) for path, text in changes]
        return self.desk.change(pairs, asked.get("live") is True, _text(asked, "by"))

    def option(self, asked: dict[str, Any]) -> Any:
        return self.desk.option(_text(asked, "do"), _whole(asked, "number"), _text(asked, "by"))

    def open(self, asked: dict[str, Any]) -> Any:
        name = open_machine(self.desk.folder, _text(asked, "name"), _text(asked, "text", 1_000_000))
        changes = [("tractor/opened", name), ("tractor/kind", "file")]
        return self.desk.change(changes, False, _text(asked, "by")) | {"opened": name}

    def save(self, _: dict[str, Any]) -> Any:
        return {"files": self.desk.save()}

    def make(self, asked: dict[str, Any]) -> Any:
        names = asked.get("names", [])
        if not isinstance(names, list) or not all(isinstance(n, str) for n in names[:10]):
            raise _WrongError("names: give the names of options")
        return {"files": self.desk.make(_text(asked, "kind"), names, asked.get("quick") is True)}

    def stop(self, asked: dict[str, Any]) -> Any:
        self.desk.jobs.stop(_text(asked, "kind"))
        return {}

    def replay(self, asked: dict[str, Any]) -> Any:
        desk, way, other = self.desk, _text(asked, "way"), _text(asked, "beside")
        case = run_of(desk.found(way), _text(asked, "value"))
        names, cases = [desk.way(way)[0]], [case]
        if other:
            name, case_there = desk.way(other)
            names.append(name)
            cases.append(beside(case, case_there))
        number = desk.replays.make(names, cases)
        return {"page": f"/replays/{number}", "names": names}
