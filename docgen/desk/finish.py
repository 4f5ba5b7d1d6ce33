"""The last screen of a case: each document read, what changed since the approval, approval, packet, papers to send."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from docgen.desk import papers, sheets
from docgen.desk.approved import since_approval
from docgen.desk.cases import Cases
from docgen.desk.finishing import Choice, askers_of, choices, open_folder, papers_of, reviewers_of
from docgen.desk.forms import sent_with, texts_of
from docgen.desk.of_case import of_case, unreadable
from docgen.desk.shown import page, sentence
from docgen.desk.taking import read_answers
from docgen.errors import Problem, UserError
from docgen.packet.papers import Paper

_NO_MORE = 286  # by which htmx stops to ask


class Finish:
    """Its addresses. What a form of it does is told at the head of the same screen."""

    def __init__(self, cases: Cases) -> None:
        self.cases = cases

    def screen(self, request: Request) -> Response:
        return self._screen(request)

    def _screen(self, request: Request, status: int = 200, says: Sequence[str] = ()) -> Response:
        folder, address = self.cases.of_request(request), request.path_params["case"]
        looked, messages = self.cases.look(folder), list(says)
        if looked.check is None:
            return unreadable(address, looked)
        enclosed: tuple[Paper, ...] = ()
        since = None
        try:
            since = since_approval(looked.check.assessed)
            enclosed = papers.papers_of(folder)
        except UserError as failure:
            messages += [sentence(problem) for problem in failure.problems]
        called = papers_of(looked.check)
        shown = of_case(address, looked) | {
            "papers": called,
            "unread": [name for name in called if name not in self.cases.read_of(folder)],
            "since": since,
            "reviewers": reviewers_of(looked.check),
            "askers": askers_of(looked.check),
            "choices": choices(looked.check),
            "chosen": self.cases.chosen(folder),
            "enclosed": enclosed,
            "kinds": papers.kinds(),
            "build": self.cases.builds.last(folder),
            "waited": False,
            "packet": self.cases.packet_of(folder),
            "out": str(self.cases.out),
            "says": messages,
            "done": status == 200,
        }
        return page("finish.html", status=status, **shown)

    def progress(self, request: Request) -> Response:
        """How far a packet is, for the page that waits for it: nothing where it is no further than that page tells."""
        folder, address = self.cases.of_request(request), request.path_params["case"]
        build, waits = self.cases.builds.last(folder), "hx-request" in request.headers
        if build and build.at_work and request.query_params.get("done") == str(len(build.done)):
            return Response(status_code=204)
        is_over = waits and not (build and build.at_work)
        return page("progress.html", _NO_MORE if is_over else 200, build=build, address=address, waited=is_over)

    async def build(self, request: Request) -> Response:
        form = await texts_of(request)
        folder = self.cases.of_request(request)
        chosen = Choice(
            tuple(form.get("formats", [])),
            tuple(form.get("langs", [])),
            bool(form.get("large_print")),
            tuple(form.get("enclose", [])),
        )
        self.cases.build(folder, chosen)
        return RedirectResponse(f"/case/{request.path_params['case']}/finish#build", status_code=303)

    async def approve(self, request: Request) -> Response:
        form = await texts_of(request)
        return await self._done(request, lambda folder: self.cases.approve(folder, form.get("by", [""])[0]))

    async def sheet(self, request: Request) -> Response:
        form = await texts_of(request)
        return await self._done(request, lambda folder: self.cases.sheet(folder, form.get("who", [""])[0]))

    async def answers(self, request: Request) -> Response:
        """Show what a file of answers holds; take it in once that was seen."""
        folder = self.cases.of_request(request)
        async with sent_with(request) as (form, files):
            kept, sent = form.get("kept", [""])[0], files.get("answers", [])
            path = await sheets.receive(folder, sent, kept, sheets.ANSWERS)
            takes = form.get("mode", [""])[0] == "take"
        looked = self.cases.look(folder)
        if path is None or looked.check is None:
            missing = UserError([Problem("the file of answers", "was not chosen", "Choose what the sheet has saved.")])
            return await self._refused(request, missing)
        if takes:
            answer = await self._done(request, lambda folder: self.cases.take_answers(folder, path))
            sheets.forget(folder, sheets.ANSWERS)
            return answer
        try:
            answers, _ = read_answers(looked.file, path)
        except UserError as failure:
            return await self._refused(request, failure)
        address = request.path_params["case"]
        return page("answers.html", **of_case(address, looked), answers=answers, kept=path.name)

    async def enclose(self, request: Request) -> Response:
        """Take a paper of others in, which each packet built from then on holds."""
        async with sent_with(request) as (form, files):
            sent = next(iter(files.get("paper", [])), None)
            kind = form.get("kind", [""])[0]

            def keep(folder: Path) -> list[str]:
                papers.keep(folder, kind, sent)
                return [f"{papers.kinds()[kind]}: taken in. Each packet from now on holds it."]

            return await self._done(request, keep)

    async def leave_out(self, request: Request) -> Response:
        form = await texts_of(request)
        kind = form.get("kind", [""])[0]

        def take_out(folder: Path) -> list[str]:
            papers.take_out(folder, kind)
            return ["Taken out. Build the packet again."]

        return await self._done(request, take_out)

    async def signed(self, request: Request) -> Response:
        """Take the scan of the signed letter in."""
        async with sent_with(request) as (form, files):
            sent = next(iter(files.get("scan", [])), None)
            return await self._done(
                request, lambda folder: self.cases.take_signed(folder, form.get("by", [""])[0], sent)
            )

    async def open(self, request: Request) -> Response:
        """Show the folder of the packet in the file manager of this machine."""
        await texts_of(request)
        return await self._done(request, lambda folder: open_folder(self.cases.packet_of(folder)))

    async def _done(self, request: Request, work: Callable[[Path], list[str]]) -> Response:
        folder = self.cases.of_request(request)
        try:
            says, status = await run_in_threadpool(work, folder), 200
        except UserError as failure:
            return await self._refused(request, failure)
        return await run_in_threadpool(self._screen, request, status, says)

    async def _refused(self, request: Request, failure: UserError) -> Response:
        says = [sentence(problem) for problem in failure.problems]
        return await run_in_threadpool(self._screen, request, 422, says)
