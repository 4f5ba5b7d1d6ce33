"""The screens on which pages are read as they would print now, with what stands behind each sentence and number."""

from __future__ import annotations

from starlette.background import BackgroundTask
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import PlainTextResponse, RedirectResponse, Response, StreamingResponse

from docgen.desk.behind import Pages, answers_behind, figure
from docgen.desk.cases import Cases, Looked
from docgen.desk.finishing import papers_of
from docgen.desk.glance import chart
from docgen.desk.guard import FRAMED_POLICY, PAPER_POLICY
from docgen.desk.of_case import of_case, unreadable
from docgen.desk.shown import page, pieces
from docgen.errors import UserError
from docgen.packet.wording import wording

_FRAMED = {"Content-Security-Policy": FRAMED_POLICY}


class Reading:
    """Its addresses."""

    def __init__(self, cases: Cases) -> None:
        self.cases, self.pages = cases, Pages()

    def first(self, request: Request) -> Response:
        """The letter, or the first page there is."""
        looked = self.cases.look(self.cases.of_request(request))
        if looked.check is None:
            return unreadable(request.path_params["case"], looked)
        papers = self._papers(looked)
        name = "letter" if "letter" in papers else next(iter(papers))
        return RedirectResponse(f"/case/{request.path_params['case']}/read/{name}", status_code=303)

    def screen(self, request: Request) -> Response:
        """A page beside what is behind its sentences; what takes long is looked up while it is read."""
        looked, name = self._looked(request), self._name(request)
        shown = of_case(request.path_params["case"], looked) | {
            "name": name,
            "papers": self._papers(looked),
            "enclosing": "enclosed" in wording().documents[name].shows,
        }
        response = page("read.html", **shown)
        response.background = BackgroundTask(self.pages.origins(looked, name).prepare)
        return response

    def marked(self, request: Request) -> Response:
        """A page for a frame, with its marks."""
        looked, name = self._looked(request), self._name(request)
        at = f"/case/{request.path_params['case']}"
        try:
            html = self.pages.marked(looked, name, at)
        except UserError as failure:
            return PlainTextResponse(str(failure), 422)
        return Response(html, media_type="text/html", headers={"Content-Security-Policy": PAPER_POLICY})

    def nothing(self, request: Request) -> Response:
        """What the frame beside a page says before anything was asked."""
        return page("behind_nothing.html", headers=_FRAMED)

    def behind(self, request: Request) -> Response:
        """What is behind a sentence: its numbers at once, the answers one after the other as they are found."""
        looked, name = self._looked(request), self._name(request)
        at = f"/case/{request.path_params['case']}"
        origins = self.pages.origins(looked, name)
        sentence = next((s for s in origins.sentences if s.id == request.path_params["sentence"]), None)
        if sentence is None:
            return page("behind_gone.html", status=404, headers=_FRAMED)
        shown = {
            "at": at,
            "name": name,
            "title": wording().documents[name].title,
            "sentence": sentence,
            "figures": [figure(looked, origins.evidence[fact], at) for fact in dict.fromkeys(sentence.facts)],
            "answers": answers_behind(looked, origins, sentence, at),
        }
        return StreamingResponse(pieces("behind.html", **shown), media_type="text/html", headers=_FRAMED)

    def number(self, request: Request) -> Response:
        """How a number of a page is worked out, and from which rows."""
        looked, name = self._looked(request), self._name(request)
        fact = self.pages.origins(looked, name).evidence.get(request.path_params["fact"])
        if fact is None:
            return page("behind_gone.html", status=404, headers=_FRAMED)
        return page("number.html", figure=figure(looked, fact, f"/case/{request.path_params['case']}"), headers=_FRAMED)

    def chart(self, request: Request) -> Response:
        """The evidence as one drawing."""
        looked = self._looked(request)
        drawing = chart(looked.check) if looked.check else None
        if drawing is None:
            raise HTTPException(404)
        return Response(drawing.svg, media_type="image/svg+xml")

    def _looked(self, request: Request) -> Looked:
        looked = self.cases.look(self.cases.of_request(request))
        if looked.check is None:
            raise HTTPException(409)
        return looked

    @staticmethod
    def _papers(looked: Looked) -> dict[str, str]:
        return papers_of(looked.check) if looked.check else {}

    def _name(self, request: Request) -> str:
        """The document that an address names. Raises HTTPException for one that this case has not."""
        looked, name = self._looked(request), request.path_params["name"]
        if name not in self._papers(looked):
            raise HTTPException(404)
        return str(name)
