"""The desk asked without a network: one request, one answer."""

from __future__ import annotations

import asyncio
import re
import subprocess
import sys
from pathlib import Path
from urllib.parse import urlencode

from msgspec import Struct

from docgen.desk.app import application
from docgen.desk.guard import Door, Guard

PORT = 8765
HOME = f"127.0.0.1:{PORT}"


class Answer(Struct):
    """Status, headers and text of an answer."""

    status: int
    headers: dict[str, str]
    text: str


class Visitor:
    """A browser at the desk of a folder; `closed` counts how often the desk was told to close."""

    def __init__(self, folder: Path) -> None:
        self.closed: list[None] = []
        self.door = Door(PORT)
        self.app = Guard(application(folder, lambda: self.closed.append(None)), self.door)
        self.cookie = ""

    def enter(self) -> Visitor:
        """Open the one-time link and keep its cookie."""
        answer = self.ask("GET", self.door.link)
        self.cookie = answer.headers["set-cookie"].partition(";")[0]
        return self

    def get(self, path: str) -> Answer:
        """A page of the desk, as a click asks for it."""
        return self.ask("GET", path)

    def post(self, where: str, **fields: str | list[str]) -> Answer:
        """A form of the desk, as its own page sends it."""
        return self.ask("POST", where, urlencode(fields, doseq=True).encode(), origin=f"http://{HOME}")

    def send(self, where: str, files: dict[str, tuple[str, bytes]], **fields: str) -> Answer:
        """A form with files, name -> (file name, what it holds), as its own page sends it. RFC 7578."""
        parts = [(f'name="{name}"', text.encode()) for name, text in fields.items()]
        parts += [(f'name="{name}"; filename="{file}"', data) for name, (file, data) in files.items()]
        body = b"".join(b"--x\r\nContent-Disposition: form-data; %s\r\n\r\n%s\r\n" % (h.encode(), d) for h, d in parts)
        kind = "multipart/form-data; boundary=x"
        return self.ask("POST", where, body + b"--x--\r\n", origin=f"http://{HOME}", content_type=kind)

    def ask(self, method: str, path: str, body: bytes = b"", **headers: str | None) -> Answer:
        """Any request; a header that is None is left out."""
        named = {"host": HOME, "cookie": self.cookie or None, "content-length": str(len(body))}
        if method == "POST":
            named["content-type"] = "application/x-www-form-urlencoded"
        named |= {name.replace("_", "-"): value for name, value in headers.items()}
        return asyncio.run(self._ask(method, path, body, {n: v for n, v in named.items() if v is not None}))

    async def _ask(self, method: str, path: str, body: bytes, headers: dict[str, str]) -> Answer:
        path, _, query = path.partition("?")
        scope = {
            "type": "http",
            "method": method,
            "path": path,
            "raw_path": path.encode(),
            "query_string": query.encode(),
            "root_path": "",
            "scheme": "http",
            "headers": [(name.encode(), value.encode()) for name, value in headers.items()],
            "server": ("127.0.0.1", PORT),
            "client": ("127.0.0.1", 1),
            "http_version": "1.1",
            "asgi": {"version": "3.0", "spec_version": "2.4"},
        }
        sent: list[dict] = []
        pieces = [body[at : at + 100_000] for at in range(0, len(body), 100_000)] or [b""]

        async def receive() -> dict:
            if not pieces:
                return {"type": "http.disconnect"}
            return {"type": "http.request", "body": pieces.pop(0), "more_body": bool(pieces)}

        async def send(message: dict) -> None:
            sent.append(message)

        await self.app(scope, receive, send)
        head = {name.decode(): value.decode() for name, value in sent[0].get("headers", [])}
        return Answer(sent[0]["status"], head, b"".join(m.get("body", b"") for m in sent[1:]).decode())


class Running:
    """`docgen desk` as a process of its own, which can be killed."""

    def __init__(self, folder: Path) -> None:
        command = [sys.executable, "-m", "docgen", "desk", str(folder), "--no-browser"]
        self.process = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
        assert self.process.stdout is not None
        self.link = self.process.stdout.readline().rpartition(" ")[2].strip()

    def kill(self) -> tuple[str, str]:
        """End it as a crash would; what it has written to its standard streams since."""
        self.process.kill()
        return self.process.communicate()


def address_of(caseload: str, case_id: str) -> str:
    """Where a case stands, from the page of all cases."""
    return re.search(rf'href="(/case/[0-9a-f]+)">{case_id}</a>', caseload)[1]
