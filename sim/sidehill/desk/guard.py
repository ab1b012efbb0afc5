"""Who may talk to the desk: this computer's own browser, with the token of the address."""

import secrets
from collections.abc import Awaitable, Callable
from contextlib import suppress
from http.cookies import CookieError, SimpleCookie
from urllib.parse import parse_qs

from h11 import LocalProtocolError
from starlette.datastructures import Headers
from starlette.responses import JSONResponse, RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

MOST_BYTES = 1_200_000  # of a request: a machine file, and what is around it
LONGEST_ADDRESS = 2000  # characters
POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; "
    "connect-src 'self'; frame-src 'self'; base-uri 'none'; form-action 'none'; "
    "frame-ancestors 'none'"
)
_HEADERS = {
    "x-content-type-options": "nosniff",
    "referrer-policy": "no-referrer",
    "cache-control": "no-store",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
}
_NOT_HERE = "open the address that `sidehill desk` printed when it started"


def refusal(status: int, words: str) -> Response:
    """A refused request, in a sentence."""
    return JSONResponse({"error": words}, status)


class Guard:
    """Lets through what comes from the desk's own page; everything else gets a sentence."""

    def __init__(self, app: ASGIApp, port: int, token: str) -> None:
        self.app, self.token = app, token
        self.hosts = {f"127.0.0.1:{port}", f"localhost:{port}"}
        self.origins = {f"http://{host}" for host in self.hosts}
        self.cookie = f"sidehill-desk-{port}"

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """One request."""
        if scope["type"] != "http":
            if scope["type"] == "lifespan":
                await self.app(scope, receive, send)
            return  # no web sockets here
        answer = self._refused(scope) or self._let_in(scope)
        if answer is not None:
            await answer(scope, receive, with_headers(send))
            return
        await self.app(scope, limited(receive), with_headers(send))

    def _refused(self, scope: Scope) -> Response | None:
        headers = Headers(scope=scope)
        if headers.get("host", "") not in self.hosts:
            return refusal(403, f"this desk is for this computer alone: {_NOT_HERE}")
        if headers.get("origin", next(iter(self.origins))) not in self.origins:
            return refusal(403, f"asked for by another page: {_NOT_HERE}")
        if headers.get("sec-fetch-site", "same-origin") not in ("same-origin", "none"):
            return refusal(403, f"asked for by another site: {_NOT_HERE}")
        if len(scope["path"]) + len(scope["query_string"]) > LONGEST_ADDRESS:
            return refusal(414, f"an address of over {LONGEST_ADDRESS} characters")
        length = headers.get("content-length", "0")
        if not length.isdecimal() or int(length) > MOST_BYTES:
            return refusal(413, f"too large; allowed: up to {MOST_BYTES} bytes")
        return None

    def _let_in(self, scope: Scope) -> Response | None:
        """The token once, from then on the cookie."""
        given = parse_qs(scope["query_string"].decode("latin-1")).get("token", [""])[0]
        if scope["path"] == "/" and secrets.compare_digest(given.encode(), self.token.encode()):
            answer = RedirectResponse("/", 303)
            answer.set_cookie(self.cookie, self.token, httponly=True, samesite="strict")
            return answer
        if secrets.compare_digest(self._held(scope).encode(), self.token.encode()):
            return None
        words = f"this page does not belong to a desk that runs now: {_NOT_HERE}"
        return refusal(403, words)

    def _held(self, scope: Scope) -> str:
        cookies: SimpleCookie = SimpleCookie()
        try:
            cookies.load(Headers(scope=scope).get("cookie", ""))
        except CookieError:
            return ""
        return cookies[self.cookie].value if self.cookie in cookies else ""


def limited(receive: Receive) -> Receive:
    """What comes in, up to the size allowed: a length may be left unsaid."""
    left = MOST_BYTES

    async def take() -> Message:
        nonlocal left
        message = await receive()
        left -= len(message.get("body", b""))
        if left < 0:
            return {"type": "http.disconnect"}
        return message

    return take


def with_headers(send: Send) -> Callable[[Message], Awaitable[None]]:
    """What goes out, with the headers that every answer has."""

    async def give(message: Message) -> None:
        if message["type"] == "http.response.start":
            names = {name for name, _ in message["headers"]}
            own = {"content-security-policy": POLICY} | _HEADERS
            message["headers"] = [
                *message["headers"],
                *((k.encode(), v.encode()) for k, v in own.items() if k.encode() not in names),
            ]
        with suppress(LocalProtocolError):  # what came was no HTTP any more, and was told so
            await send(message)

    return give
