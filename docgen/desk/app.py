"""The addresses of the desk, and what each answers. A case is named by an address that tells nothing about anybody."""

from __future__ import annotations

import json
from collections.abc import Callable, Sequence
from functools import cache
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import HTMLResponse, PlainTextResponse, RedirectResponse, Response
from starlette.routing import Route

from docgen.case.lines import KeyPath
from docgen.console.evidence import evidence_text
from docgen.console.fit import fit_text
from docgen.desk import history, sheets
from docgen.desk.cases import Cases, Conflict, Looked
from docgen.desk.finishing import askers_of, new_questions, papers_of
from docgen.desk.forms import sent_with, texts_of
from docgen.desk.guard import PAPER_POLICY
from docgen.desk.pasting import of_sheet, pasted
from docgen.desk.sections import ids_in, missing, sections, wanted_keys
from docgen.desk.topics import topics
from docgen.errors import Problem, UserError
from docgen.filling import count_file
from docgen.library import evidence_of, fit_of
from docgen.packet.render import render
from docgen.packet.wording import document_names

_HERE = Path(__file__).parent
_FILES = {"desk.css": "text/css", "desk.js": "text/javascript"}


class _Desk:
    """The answers to requests, over the cases of one folder."""

    def __init__(self, folder: Path, close: Callable[[], None]) -> None:
        self.cases, self.close = Cases(folder), close

    def caseload(self, request: Request) -> Response:
        rows = [
            {"address": address, "id": folder.name, "looked": self.cases.known(folder)}
            for address, folder in self.cases.folders().items()
        ]
        return _page("caseload.html", rows=rows)

    def row(self, request: Request) -> Response:
        """A line of the caseload, looked up when the page asks for it: a hundred cases are not waited for."""
        looked = self.cases.look(self._folder(request))
        return _page(
            "row.html", row={"address": request.path_params["case"], "id": looked.folder.name, "looked": looked}
        )

    def topic(self, request: Request) -> Response:
        return self._topic(request, self.cases.look(self._folder(request)))

    def _topic(self, request: Request, looked: Looked, status: int = 200, **more: Any) -> Response:
        address = request.path_params["case"]
        if looked.check is None:
            return _page("unreadable.html", looked=looked, address=address, status=status)
        wanted = request.path_params.get("topic", topics()[0].id)
        topic = next((topic for topic in topics() if topic.id == wanted), None)
        if topic is None:
            raise HTTPException(404)
        shown = {
            "address": address,
            "looked": looked,
            "topic": topic,
            "topics": topics(),
            "sections": sections(looked.check.case, topic, wanted_keys(looked.check)),
            "missing": missing(looked.check),
            "ids": ids_in(looked.check.case),
            "papers": document_names(),
            "changes": history.count(looked.folder),
            "trouble": None,
        }
        return _page("topic.html", status=status, **shown | more)

    async def answer(self, request: Request) -> Response:
        form = await texts_of(request)
        path = _path(form["path"][0])
        given, was = form.get("value", []), form.get("was", [""])[0]
        return await self._changed(request, path, lambda folder: self.cases.answer(folder, path, given, was), given)

    async def add(self, request: Request) -> Response:
        form = await texts_of(request)
        of_list = _path(form["path"][0])
        keys = {name.removeprefix("key."): texts for name, texts in form.items() if name.startswith("key.")}
        return await self._changed(request, of_list, lambda folder: self.cases.add(folder, of_list, keys), [])

    async def remove(self, request: Request) -> Response:
        form = await texts_of(request)
        entry = _path(form["path"][0])
        return await self._changed(request, entry, lambda folder: self.cases.remove(folder, entry), [])

    async def take_back(self, request: Request) -> Response:
        await texts_of(request)
        return await self._changed(request, (), self.cases.take_back, [])

    async def _changed(
        self, request: Request, path: KeyPath, change: Callable[[Path], object], given: list[str]
    ) -> Response:
        """The screen again once a change is written, or with what speaks against it."""
        folder, at = self._folder(request), "-".join(map(str, path))
        trouble: dict[str, Any] = {"at": at, "given": "\n".join(given)}
        try:
            await run_in_threadpool(change, folder)
        except Conflict as conflict:
            says = "This was changed elsewhere meanwhile. Nothing was overwritten: look at both and answer again."
            trouble |= {"says": [says], "now": conflict.now}
        except ValueError as refusal:
            trouble["says"] = [str(refusal)]
        except UserError as failure:
            trouble["says"] = [_sentence(problem) for problem in failure.problems]
        else:
            address, topic = request.path_params["case"], request.path_params["topic"]
            return RedirectResponse(f"/case/{address}/{topic}#{at}", status_code=303)
        looked = await run_in_threadpool(self.cases.look, folder)
        return self._topic(request, looked, status=409 if "now" in trouble else 422, trouble=trouble)

    def finish(self, request: Request) -> Response:
        return self._finish(request)

    def _finish(self, request: Request, status: int = 200, says: Sequence[str] = ()) -> Response:
        folder, address = self._folder(request), request.path_params["case"]
        looked = self.cases.look(folder)
        if looked.check is None:
            return _page("unreadable.html", looked=looked, address=address)
        papers = papers_of(looked.check)
        shown = {
            "address": address,
            "looked": looked,
            "topics": topics(),
            "papers": papers,
            "unread": [name for name in papers if name not in self.cases.read_of(folder)],
            "askers": askers_of(looked.check),
            "out": str(self.cases.out),
            "says": says,
        }
        return _page("finish.html", status=status, **shown)

    async def build(self, request: Request) -> Response:
        await texts_of(request)
        return await self._done(request, lambda folder: self.cases.build(folder))

    async def approve(self, request: Request) -> Response:
        form = await texts_of(request)
        return await self._done(request, lambda folder: self.cases.approve(folder, form.get("by", [""])[0]))

    async def sheet(self, request: Request) -> Response:
        form = await texts_of(request)
        return await self._done(request, lambda folder: self.cases.sheet(folder, form.get("who", [""])[0]))

    async def _done(self, request: Request, work: Callable[[Path], list[str]]) -> Response:
        folder = self._folder(request)
        try:
            says, status = await run_in_threadpool(work, folder), 200
        except UserError as failure:
            says, status = [_sentence(problem) for problem in failure.problems], 422
        return await run_in_threadpool(self._finish, request, status, says)

    def rows(self, request: Request) -> Response:
        return self._rows(request)

    def _rows(self, request: Request, status: int = 200, **more: Any) -> Response:
        address, folder = request.path_params["case"], self._folder(request)
        shown = {"address": address, "name": folder.name, "topics": topics(), "text": "", "given": {}, "pasted": None}
        shown |= {"kept": ""}
        return _page("rows.html", status=status, **shown | {"says": ()} | more)

    async def paste(self, request: Request) -> Response:
        async with sent_with(request) as (form, files):
            sheet = await sheets.receive(self._folder(request), files.get("sheet", []), form.get("kept", [""])[0])
        text, mode = form.get("text", [""])[0], form.get("mode", [""])[0]
        given = {name.removeprefix("map."): texts[0] for name, texts in form.items() if name.startswith("map.")}
        given = {key: answer for key, answer in given.items() if answer}
        if mode not in ("", "add", "replace"):
            raise HTTPException(400)
        shown: dict[str, Any] = {"text": text, "given": given, "kept": sheet.name if sheet else ""}
        try:
            if sheet:
                result = await run_in_threadpool(of_sheet, self._folder(request), sheet, given, mode)
            else:
                result = await run_in_threadpool(pasted, self._folder(request), text, given, mode)
        except UserError as failure:
            return self._rows(request, 422, **shown, says=[_sentence(problem) for problem in failure.problems])
        if result.written:
            sheets.forget(self._folder(request))
            shown |= {"text": "", "kept": ""}
        return self._rows(request, **shown, pasted=result)

    def counting(self, request: Request) -> Response:
        """The page that counts a trial on a phone, to be kept there."""
        data = count_file(self._folder(request)).read_bytes()
        kept = {"Content-Disposition": 'attachment; filename="count.html"'}
        return Response(data, media_type="text/html", headers=kept)

    def report(self, request: Request) -> Response:
        """The evidence or the fit, as the command prints it."""
        looked, which = self.cases.look(self._folder(request)), request.path_params["which"]
        address = request.path_params["case"]
        if looked.check is None:
            return _page("unreadable.html", looked=looked, address=address)
        if which not in ("evidence", "fit"):
            raise HTTPException(404)
        text = evidence_text(evidence_of(looked.folder)) if which == "evidence" else fit_text(fit_of(looked.folder))
        return _page("report.html", address=address, name=looked.folder.name, topics=topics(), which=which, text=text)

    def new(self, request: Request) -> Response:
        return _page("new.html", **new_questions(), given={}, says=())

    async def start(self, request: Request) -> Response:
        given = {name: texts[0] for name, texts in (await texts_of(request)).items()}
        try:
            folder = await run_in_threadpool(self.cases.start, given)
        except UserError as failure:
            says = [_sentence(problem) for problem in failure.problems]
            return _page("new.html", status=422, **new_questions(), given=given, says=says)
        return RedirectResponse(f"/case/{self.cases.address(folder)}", status_code=303)

    def paper(self, request: Request) -> Response:
        """A document as it would print now, for a frame."""
        looked, name = self.cases.look(self._folder(request)), request.path_params["name"]
        if looked.check is None or name not in document_names():
            raise HTTPException(404)
        try:
            files = render(looked.check.assessed, ("html",), (name,))
        except UserError as failure:
            return PlainTextResponse(str(failure), 422)
        if f"{name}.html" not in files:
            return PlainTextResponse("This document does not belong to this request.", 404)
        self.cases.note_read(looked.folder, name)
        policy = {"Content-Security-Policy": PAPER_POLICY}
        return Response(files[f"{name}.html"], media_type="text/html", headers=policy)

    async def closed(self, request: Request) -> Response:
        await texts_of(request)
        self.close()
        return _page("closed.html")

    def file(self, request: Request) -> Response:
        name = request.path_params["name"]
        if name not in _FILES:
            raise HTTPException(404)
        return Response((_HERE / "pages" / name).read_bytes(), media_type=_FILES[name])

    def _folder(self, request: Request) -> Path:
        folder = self.cases.folders().get(request.path_params["case"])
        if folder is None:
            raise HTTPException(404)
        return folder


def application(folder: Path, close: Callable[[], None]) -> Starlette:
    """The desk over the cases of a folder; `close` ends the server."""
    desk = _Desk(folder, close)
    return Starlette(
        routes=[
            Route("/", desk.caseload),
            Route("/row/{case}", desk.row),
            Route("/new", desk.new),
            Route("/new", desk.start, methods=["POST"]),
            Route("/case/{case}", desk.topic),
            Route("/case/{case}/finish", desk.finish),
            Route("/case/{case}/rows", desk.rows),
            Route("/case/{case}/rows", desk.paste, methods=["POST"]),
            Route("/case/{case}/count.html", desk.counting),
            Route("/case/{case}/report/{which}", desk.report),
            Route("/case/{case}/build", desk.build, methods=["POST"]),
            Route("/case/{case}/approve", desk.approve, methods=["POST"]),
            Route("/case/{case}/sheet", desk.sheet, methods=["POST"]),
            Route("/case/{case}/paper/{name}", desk.paper),
            Route("/case/{case}/{topic}", desk.topic),
            Route("/case/{case}/{topic}/answer", desk.answer, methods=["POST"]),
            Route("/case/{case}/{topic}/add", desk.add, methods=["POST"]),
            Route("/case/{case}/{topic}/remove", desk.remove, methods=["POST"]),
            Route("/case/{case}/{topic}/back", desk.take_back, methods=["POST"]),
            Route("/close", desk.closed, methods=["POST"]),
            Route("/files/{name}", desk.file),
        ],
        exception_handlers={HTTPException: _nothing_there},
    )


def _sentence(problem: Problem) -> str:
    """A mistake as it stands beside its question, which says where it is."""
    return f"{problem.what[:1].upper()}{problem.what[1:]}. {problem.do}".strip()


def _nothing_there(request: Request, failure: Exception) -> Response:
    return PlainTextResponse("Nothing is here.", getattr(failure, "status_code", 404))


def _path(written: str) -> KeyPath:
    """The key that a form names. Raises HTTPException for what is none."""
    try:
        path = json.loads(written)
    except ValueError:
        path = None
    whole = isinstance(path, list) and path and isinstance(path[0], str)
    if not whole or not all(isinstance(part, str) or (type(part) is int and 0 <= part < 1000) for part in path):
        raise HTTPException(400)
    return tuple(path)


@cache
def _pages() -> Environment:
    pages = Environment(
        loader=FileSystemLoader(_HERE / "pages"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    pages.filters["key_path"] = lambda path: json.dumps(list(path))
    return pages


def _page(template: str, /, status: int = 200, **shown: Any) -> Response:
    return HTMLResponse(_pages().get_template(template).render(shown), status)
