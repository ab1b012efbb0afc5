"""The server: on this computer alone, until it is told to stop."""

import secrets
import socket
import sys
import traceback
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from pathlib import Path

import uvicorn
from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response

from sidehill.desk.desk import Desk
from sidehill.desk.guard import Guard, refusal
from sidehill.desk.keep import held
from sidehill.desk.routes import routes
from sidehill.files.errors import InputError

HERE = "127.0.0.1"
_LEAVING = 2  # [s] that open pages are waited for


def build(desk: Desk, port: int, token: str) -> Guard:
    """The application of a desk."""

    async def refused(_: Request, error: Exception) -> Response:
        status = error.status_code if isinstance(error, HTTPException) else 500
        if status == 500:
            traceback.print_exception(error, file=sys.stderr)
        words = {404: "there is no such page here", 405: "it cannot be asked for like that"}
        return refusal(status, words.get(status, "a fault of our own; nothing was changed"))

    @asynccontextmanager
    async def living(_: Starlette) -> AsyncIterator[None]:
        yield
        desk.end()

    handlers = {HTTPException: refused, Exception: refused}
    inner = Starlette(routes=routes(desk), exception_handlers=handlers, lifespan=living)
    inner.router.redirect_slashes = False  # an address is right, or there is no such page
    return Guard(inner, port, token)


def serve(folder: Path, port: int, ready: Callable[[str], None]) -> None:
    """Serve a desk on that folder until asked to stop.

    Args:
        port: 0 for any that is free; ready: called with the address once it answers.

    Raises:
        InputError: the folder or the port cannot be had.
    """
    with held(folder) as own, listening(port) as sock:
        server_of(Desk(own.resolve()), sock, ready).run([sock])


def server_of(desk: Desk, sock: socket.socket, ready: Callable[[str], None]) -> uvicorn.Server:
    """The server of a desk on a socket, with a token of its own; `ready` is told the address."""
    port, token = sock.getsockname()[1], secrets.token_urlsafe(32)
    config = uvicorn.Config(
        build(desk, port, token),
        log_level="critical",
        access_log=False,
        server_header=False,
        ws="none",
        http="h11",
        timeout_graceful_shutdown=_LEAVING,
    )
    return _Server(config, desk, lambda: ready(f"http://{HERE}:{port}/?token={token}"))


def listening(port: int) -> socket.socket:
    """A socket of this computer alone.

    Raises:
        InputError: the port is taken, or may not be had.
    """
    sock = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    if sys.platform != "win32":  # there it would let two have the same one
        sock.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        sock.bind((HERE, port))
        sock.listen()
    except (OSError, OverflowError) as error:
        sock.close()
        reason = getattr(error, "strerror", None) or error
        raise InputError(f"--port {port}: {reason}; leave it out for one that is free") from None
    return sock


class _Server(uvicorn.Server):
    """Says when it answers; lets go of its pages when it is to stop."""

    def __init__(self, config: uvicorn.Config, desk: Desk, ready: Callable[[], None]) -> None:
        super().__init__(config)
        self._desk, self._ready = desk, ready

    async def startup(self, sockets: list[socket.socket] | None = None) -> None:
        """Begin, then say so."""
        await super().startup(sockets)
        if self.started:
            self._ready()

    async def shutdown(self, sockets: list[socket.socket] | None = None) -> None:
        """Open pages hold a stream each: end those first."""
        self._desk.hub.end()
        await super().shutdown(sockets)
