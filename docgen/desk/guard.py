"""Who may speak to the desk: this machine's browser that was opened with the one-time link, and no page of another.

The desk listens at this machine's own address alone. A page elsewhere on the web can still make a browser send requests
there, so each request must name this address as its host (or a name was bound anew to it), come from a page of the desk
itself, and carry the cookie that the one-time link sets. WHATWG Fetch, "Sec-Fetch-Site" and "Origin"; RFC 6265bis,
SameSite.
"""

from __future__ import annotations

import secrets
from collections.abc import Iterable

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import PlainTextResponse, RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

COOKIE = "desk"
MOST_BYTES = 2_000_000  # of one request; a form holds a text of 4,000 characters at most
MOST_BYTES_WITH_FILES = 60_000_000  # of a form that brings a sheet, papers or photos
PAGE_POLICY = (
    "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self' data:; connect-src 'self'; "
    "frame-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
)
FRAMED_POLICY = PAGE_POLICY.replace("frame-ancestors 'none'", "frame-ancestors 'self'")  # a page shown in one of these
# a document of the packet, shown in a frame: it brings its own style and runs nothing
PAPER_POLICY = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; font-src data:; frame-ancestors 'self'"
_ENTER = "/enter/"
_PLAIN = {"Cache-Control": "no-store"}


class Door:
    """What lets a browser in.

    link    the path that is opened once
    hosts   the addresses that a request may name
    """

    def __init__(self, port: int) -> None:
        self.hosts = frozenset({f"127.0.0.1:{port}", f"localhost:{port}", f"[::1]:{port}"})
        self._session = secrets.token_urlsafe(32)
        self._key: str | None = secrets.token_urlsafe(32)

    @property
    def link(self) -> str:
        """The one-time path; raises RuntimeError once it was opened."""
        if self._key is None:
            raise RuntimeError("the link was used")
        return _ENTER + self._key

    def enter(self, path: str) -> bool:
        """Whether this is the one-time path; it is none from then on."""
        key = self._key
        if key is None or not secrets.compare_digest(path.encode(), (_ENTER + key).encode()):
            return False
        self._key = None
        return True

    def knows(self, cookie: str) -> bool:
        """Whether a browser brings the cookie that the link gave it."""
        return secrets.compare_digest(cookie.encode(), self._session.encode())

    def welcome(self) -> Response:
        """The way on from the one-time link, with the cookie."""
        response = RedirectResponse("/", status_code=303, headers=_PLAIN)
        response.set_cookie(COOKIE, self._session, httponly=True, samesite="strict", path="/")
        return response


class Guard:
    """The application behind the door; what is refused never reaches it."""

    def __init__(self, app: ASGIApp, door: Door) -> None:
        self.app, self.door = app, door

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] == "lifespan":
            await self.app(scope, receive, send)
            return
        if scope["type"] != "http":
            return
        headers = Headers(scope=scope)
        refusal = self._refusal(scope, headers)
        if refusal:
            await refusal(scope, receive, _with_headers(send))
        elif self.door.enter(scope["path"]):
            await self.door.welcome()(scope, receive, _with_headers(send))
        elif not self.door.knows(_cookie(headers)):
            text = "This is not open here. Start the desk again with 'docgen desk' and open the link that it shows."
            await PlainTextResponse(text, 403)(scope, receive, _with_headers(send))
        else:
            await self.app(scope, _limited(receive, _most_bytes(headers)), _with_headers(send))

    def _refusal(self, scope: Scope, headers: Headers) -> Response | None:
        if headers.get("host", "") not in self.door.hosts:
            return PlainTextResponse("This machine's own address alone.", 421)
        if scope["method"] not in ("GET", "HEAD", "POST"):
            return PlainTextResponse("Not a thing that can be asked.", 405)
        sent_from, site = headers.get("origin"), headers.get("sec-fetch-site")
        foreign = sent_from is not None and sent_from != f"http://{headers['host']}"
        if foreign or site not in (None, "same-origin", "none"):
            return PlainTextResponse("A page of the desk itself alone.", 403)
        if scope["method"] == "POST" and sent_from is None and site is None:
            return PlainTextResponse("A page of the desk itself alone.", 403)
        length = headers.get("content-length", "0")
        if not length.isdecimal() or int(length) > _most_bytes(headers):
            return PlainTextResponse(f"More than {_most_bytes(headers):,} bytes.", 413)
        return None


def _most_bytes(headers: Headers) -> int:
    """How much a request may bring."""
    with_files = headers.get("content-type", "").startswith("multipart/form-data")
    return MOST_BYTES_WITH_FILES if with_files else MOST_BYTES


def _cookie(headers: Headers) -> str:
    pairs = (pair.strip().partition("=") for pair in headers.get("cookie", "").split(";"))
    return next((value for name, _, value in pairs if name == COOKIE), "")


def _limited(receive: Receive, most_bytes: int) -> Receive:
    """What comes in, and no more of it than is allowed, whatever length was said: the rest is as if cut off."""
    taken = 0

    async def limited() -> Message:
        nonlocal taken
        message = await receive()
        taken += len(message.get("body", b""))
        return {"type": "http.disconnect"} if taken > most_bytes else message

    return limited


def _with_headers(send: Send) -> Send:
    async def sending(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            headers.setdefault("Content-Security-Policy", PAGE_POLICY)
            for name, value in _EVERY_ANSWER:
                headers[name] = value
        await send(message)

    return sending


_EVERY_ANSWER: Iterable[tuple[str, str]] = (
    ("Cache-Control", "no-store"),
    ("Referrer-Policy", "same-origin"),  # with none at all a browser says of its own forms that they come from nowhere
    ("X-Content-Type-Options", "nosniff"),
    ("Cross-Origin-Opener-Policy", "same-origin"),
    ("Cross-Origin-Resource-Policy", "same-origin"),
)
