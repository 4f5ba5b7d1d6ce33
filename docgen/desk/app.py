"""The addresses of the desk, and what each answers. A case is named by an address that tells nothing about anybody."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from datetime import date
from functools import partial
from pathlib import Path
from typing import Any

from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import PlainTextResponse, RedirectResponse, Response
from starlette.routing import Route

from docgen.case.lines import KeyPath
from docgen.console.check_page import ahead
from docgen.console.evidence import OF_RANGES, asked_for, numbers_of
from docgen.console.evidence_page import misses_text
from docgen.console.fit import fit_sections
from docgen.desk import grid, history, sheets
from docgen.desk.cases import Cases, Conflict, Looked, NamedElsewhere
from docgen.desk.finish import Finish
from docgen.desk.finishing import askers_of, new_questions, papers_of
from docgen.desk.forms import sent_with, texts_of
from docgen.desk.glance import glance
from docgen.desk.guard import PAPER_POLICY
from docgen.desk.of_case import of_case, unreadable
from docgen.desk.pasting import of_sheet, pasted, row_of
from docgen.desk.reading import Reading
from docgen.desk.renaming import Proposal
from docgen.desk.searching import search
from docgen.desk.sections import missing, sections, wanted_keys
from docgen.desk.shown import PAGES, page, sentence
from docgen.desk.topics import topics
from docgen.errors import UserError
from docgen.filling import count_file
from docgen.library import evidence_of, fit_of
from docgen.months import day_in_words
from docgen.packet.render import render
from docgen.packet.wording import document_names

_FILES = {"desk.css": "text/css", "desk.js": "text/javascript", "htmx.min.js": "text/javascript"}


class _Desk:
    """The answers to requests, over the cases of one folder."""

    def __init__(self, cases: Cases, close: Callable[[], None]) -> None:
        self.cases, self.close = cases, close

    def caseload(self, request: Request) -> Response:
        rows = [_row(address, folder, self.cases.known(folder)) for address, folder in self.cases.folders().items()]
        return page("caseload.html", rows=rows)

    def row(self, request: Request) -> Response:
        """A line of the caseload, looked up when the page asks for it: a hundred cases are not waited for."""
        looked = self.cases.look(self.cases.of_request(request))
        return page("row.html", row=_row(request.path_params["case"], looked.folder, looked))

    def topic(self, request: Request) -> Response:
        return self._topic(request, self.cases.look(self.cases.of_request(request)))

    def _topic(self, request: Request, looked: Looked, status: int = 200, **more: Any) -> Response:
        address = request.path_params["case"]
        if looked.check is None:
            return unreadable(address, looked, status, **more)
        wanted = request.path_params.get("topic", topics()[0].id)
        topic = next((topic for topic in topics() if topic.id == wanted), None)
        if topic is None:
            raise HTTPException(404)
        shown = of_case(address, looked) | {
            "topic": topic,
            "sections": sections(looked.file, topic, wanted_keys(looked.check)),
            "missing": missing(looked.check),
            "papers": papers_of(looked.check),
            "askers": askers_of(looked.check),
            "glance": glance(looked.check),
            "trouble": None,
            "state": "",
        }
        if "hx-request" in request.headers:  # an answer that was sent while its page stays
            shown["state"] = "Not saved: see the question." if "trouble" in more else "Saved."
        return page("topic.html", status=status, **shown | more)

    async def answer(self, request: Request) -> Response:
        async with sent_with(request) as (form, files):
            path = _path(form["path"][0])
            given, was, photo = form.get("value", []), form.get("was", [""])[0], files.get("value", [None])[0]
            change = partial(self.cases.answer, path=path, given=given, was=was, photo=photo)
            return await self._changed(request, path, change, given)

    async def add(self, request: Request) -> Response:
        async with sent_with(request) as (form, files):
            of_list = _path(form["path"][0])
            keys = {name.removeprefix("key."): texts for name, texts in form.items() if name.startswith("key.")}
            photo = files.get("key.file", [None])[0]
            change = partial(self.cases.add, of_list=of_list, keys=keys, photo=photo)
            return await self._changed(request, of_list, change, [])

    async def remove(self, request: Request) -> Response:
        form = await texts_of(request)
        entry = _path(form["path"][0])
        return await self._changed(request, entry, lambda folder: self.cases.remove(folder, entry), [])

    async def rename(self, request: Request) -> Response:
        """Another name in the file, or another entry in place of one: shown first, then done everywhere."""
        form = {name: texts[0] for name, texts in (await texts_of(request)).items()}
        entry, folder = _path(form.get("path", "")), self.cases.of_request(request)
        name, shown, takes_out = form.get("name", "").strip(), form.get("shown", ""), bool(form.get("takes_out"))
        proposals: list[Proposal | None] = []

        def change(folder: Path) -> None:
            proposals.append(self.cases.rename(folder, entry, name, shown, takes_out))

        answer = await self._changed(request, entry[:-1] if takes_out else entry, change, [])
        if not proposals or proposals[0] is None:
            return answer
        looked, address = await run_in_threadpool(self.cases.look, folder), request.path_params["case"]
        topic = request.path_params["topic"]
        return page("rename.html", **of_case(address, looked), topic=topic, proposal=proposals[0])

    async def take_back(self, request: Request) -> Response:
        """Take the last change back. Once it was told that other programs changed a file of it, that goes too."""
        all_the_same = bool((await texts_of(request)).get("all_the_same"))
        return await self._changed(request, (), partial(self.cases.take_back, all_the_same=all_the_same), [])

    async def _changed(
        self, request: Request, path: KeyPath, change: Callable[[Path], KeyPath | None], given: list[str]
    ) -> Response:
        """The screen again once a change is written, or with what speaks against it. A change may tell of an entry
        that is new, where the screen then stands."""
        folder, at = self.cases.of_request(request), "-".join(map(str, path))
        trouble: dict[str, Any] = {"at": at, "given": "\n".join(given)}
        try:
            new = await run_in_threadpool(change, folder)
        except Conflict as conflict:
            says = "This was changed elsewhere meanwhile. Nothing was overwritten: look at both and answer again."
            trouble |= {"says": [says], "now": conflict.now}
        except history.ChangedSince as since:
            names = " and ".join(since.names)
            says = f"{names} was changed elsewhere after that. Nothing was taken back: it would undo that change too."
            trouble |= {"says": [says], "all_the_same": True}
        except NamedElsewhere as named:
            says = "Others name this entry. It can be taken out once each of these names another, or none:"
            trouble |= {"says": [says], "steps": named.steps, "entry": named.entry, "others": named.others}
        except ValueError as refusal:
            trouble["says"] = [str(refusal)]
        except UserError as failure:
            trouble["says"] = [sentence(problem) for problem in failure.problems]
        else:
            address, topic = request.path_params["case"], request.path_params["topic"]
            at = "-".join(map(str, new)) if new else at
            return RedirectResponse(f"/case/{address}/{topic}#{at}", status_code=303)
        status = 409 if "now" in trouble else 422
        if request.path_params["topic"] == "rows":
            return self._rows(request, status, trouble=trouble)
        return self._topic(request, await run_in_threadpool(self.cases.look, folder), status, trouble=trouble)

    async def search(self, request: Request) -> Response:
        """Findings and features by any words; they come by a form, since an address is kept in a browser."""
        words = (await texts_of(request)).get("words", [""])[0][:200] if request.method == "POST" else ""
        looked, address = self.cases.look(self.cases.of_request(request)), request.path_params["case"]
        if looked.check is None:
            return unreadable(address, looked)
        kinds = await run_in_threadpool(search, looked.check.case, words)
        return page("search.html", **of_case(address, looked), words=words, kinds=kinds)

    def rows(self, request: Request) -> Response:
        return self._rows(request)

    def _rows(self, request: Request, status: int = 200, **more: Any) -> Response:
        address, folder = request.path_params["case"], self.cases.of_request(request)
        looked = self.cases.look(folder)
        shown = of_case(address, looked) | {"text": "", "given": {}, "pasted": None}
        shown |= {"kept": "", "says": (), "grids": (), "more": "", "days": (), "trouble": None, "words": {}}
        if looked.check:
            form = more.pop("form", {})
            grids = grid.grids(looked.check.case, form, more.get("more", ""))
            trial = looked.check.case.trial
            words = {method.id: method.name for method in trial.methods} | {task.id: task.name for task in trial.tasks}
            shown |= {"grids": grids, "days": grid.by_day(looked.check.case), "words": words}
        return page("rows.html", status=status, **shown | more)

    async def paste(self, request: Request) -> Response:
        async with sent_with(request) as (form, files):
            sheet = await sheets.receive(
                self.cases.of_request(request), files.get("sheet", []), form.get("kept", [""])[0]
            )
        text, mode = form.get("text", [""])[0], form.get("mode", [""])[0]
        given = {name.removeprefix("map."): texts[0] for name, texts in form.items() if name.startswith("map.")}
        given = {key: answer for key, answer in given.items() if answer}
        if mode not in ("", "add", "replace", "more"):
            raise HTTPException(400)
        of_grid = form.get("grid", [""])[0]
        if of_grid and mode == "more":
            return self._rows(request, form=form, more=of_grid)
        text = text or grid.text_of(form, of_grid)
        shown: dict[str, Any] = {"text": text, "given": given, "kept": sheet.name if sheet else "", "form": form}
        try:
            folder = self.cases.of_request(request)
            take = partial(of_sheet, folder, sheet) if sheet else partial(pasted, folder, text)
            result = await run_in_threadpool(self.cases.take_rows, folder, partial(take, given, mode))
        except UserError as failure:
            says = [f"{row_of(problem)}{sentence(problem)}" for problem in failure.problems]
            return self._rows(request, 422, **shown, says=says)
        if result.written:
            sheets.forget(self.cases.of_request(request))
            shown |= {"text": "", "kept": "", "form": {}}
        return self._rows(request, **shown, pasted=result)

    def counting(self, request: Request) -> Response:
        """The page that counts a trial on a phone, to be kept there."""
        data = count_file(self.cases.of_request(request)).read_bytes()
        kept = {"Content-Disposition": 'attachment; filename="count.html"'}
        return Response(data, media_type="text/html", headers=kept)

    def report(self, request: Request) -> Response:
        """The evidence with every number, or the fit as the command prints it."""
        looked, which = self.cases.look(self.cases.of_request(request)), request.path_params["which"]
        address = request.path_params["case"]
        if looked.check is None:
            return unreadable(address, looked)
        if which not in ("evidence", "fit"):
            raise HTTPException(404)
        shown = of_case(address, looked) | {"which": which}
        if which == "fit":
            parts = tuple(fit_sections(fit_of(looked.folder))) if looked.check.case.findings else ()
            return page("report.html", **shown, sections=parts)
        evidence = evidence_of(looked.folder)
        shown |= {"asked": asked_for(evidence.case), "contradictions": evidence.contradictions, "of_ranges": OF_RANGES}
        return page("evidence.html", **shown, misses=misses_text(evidence), answers=numbers_of(evidence))

    def new(self, request: Request) -> Response:
        return page("new.html", **new_questions(), given={}, says=())

    async def start(self, request: Request) -> Response:
        given = {name: texts[0] for name, texts in (await texts_of(request)).items()}
        try:
            folder = await run_in_threadpool(self.cases.start, given)
        except UserError as failure:
            says = [f"{Path(p.where).name} {p.what}. {p.do}" for p in failure.problems]
            return page("new.html", status=422, **new_questions(), given=given, says=says)
        return RedirectResponse(f"/case/{self.cases.address(folder)}", status_code=303)

    def paper(self, request: Request) -> Response:
        """A document as it would print now, for a frame."""
        looked, name = self.cases.look(self.cases.of_request(request)), request.path_params["name"]
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
        return page("closed.html", building=self.cases.builds.at_work)

    def file(self, request: Request) -> Response:
        name = request.path_params["name"]
        if name not in _FILES:
            raise HTTPException(404)
        return Response((PAGES / name).read_bytes(), media_type=_FILES[name])


def application(folder: Path, close: Callable[[], None]) -> Starlette:
    """The desk over the cases of a folder; `close` ends the server."""
    cases = Cases(folder)
    desk, finish, reading = _Desk(cases, close), Finish(cases), Reading(cases)
    return Starlette(
        routes=[
            Route("/", desk.caseload),
            Route("/row/{case}", desk.row),
            Route("/new", desk.new),
            Route("/new", desk.start, methods=["POST"]),
            Route("/case/{case}", desk.topic),
            Route("/case/{case}/finish", finish.screen),
            Route("/case/{case}/progress", finish.progress),
            *(
                Route(f"/case/{{case}}/{name}", does, methods=["POST"])
                for name, does in {
                    "build": finish.build,
                    "approve": finish.approve,
                    "sheet": finish.sheet,
                    "answers": finish.answers,
                    "enclose": finish.enclose,
                    "leave_out": finish.leave_out,
                    "signed": finish.signed,
                    "open": finish.open,
                }.items()
            ),
            Route("/case/{case}/read", reading.first),
            Route("/case/{case}/read/{name}", reading.screen),
            Route("/case/{case}/page/{name}", reading.marked),
            Route("/case/{case}/behind", reading.nothing),
            Route("/case/{case}/behind/{name}/{sentence}", reading.behind),
            Route("/case/{case}/number/{name}/{fact}", reading.number),
            Route("/case/{case}/chart/{stamp}", reading.chart),
            Route("/case/{case}/search", desk.search, methods=["GET", "POST"]),
            Route("/case/{case}/rows", desk.rows),
            Route("/case/{case}/rows", desk.paste, methods=["POST"]),
            Route("/case/{case}/count.html", desk.counting),
            Route("/case/{case}/report/{which}", desk.report),
            Route("/case/{case}/paper/{name}", desk.paper),
            Route("/case/{case}/{topic}", desk.topic),
            Route("/case/{case}/{topic}/answer", desk.answer, methods=["POST"]),
            Route("/case/{case}/{topic}/add", desk.add, methods=["POST"]),
            Route("/case/{case}/{topic}/remove", desk.remove, methods=["POST"]),
            Route("/case/{case}/{topic}/rename", desk.rename, methods=["POST"]),
            Route("/case/{case}/{topic}/back", desk.take_back, methods=["POST"]),
            Route("/close", desk.closed, methods=["POST"]),
            Route("/files/{name}", desk.file),
        ],
        exception_handlers={HTTPException: _nothing_there},
    )


def _row(address: str, folder: Path, looked: Looked | None) -> dict[str, Any]:
    """A case as a line of the caseload shows it."""
    entry = looked.report.get("next_expiry") if looked else None
    return {"address": address, "id": folder.name, "looked": looked, "due": _due(entry) if entry else "nothing ahead"}


def _due(entry: Mapping[str, Any]) -> str:
    """The next day of a case, with its date as it is said."""
    return ahead(entry, lambda on: day_in_words(date.fromisoformat(on)), ", {}")


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
