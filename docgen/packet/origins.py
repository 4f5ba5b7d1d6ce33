"""Which recorded answers a sentence of a page rests on, found by trying them.

Each answer is given another value in memory, the page is laid out again, and it is seen whether the sentence still
stands there. Nothing is declared, and so nothing can be declared wrongly; what cannot be tried is told as that. Texts
are tried all at once, each with a mark of its own that shows in the sentences that quote it; other answers in groups,
of which only those that change the sentence are parted further.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from functools import cached_property
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from docgen.case.known_on import known_on
from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.documents.document import dated_on, is_of_the_request
from docgen.evidence.fact import Evidence
from docgen.packet.assess import Assessed, assess_file, on_its_day
from docgen.packet.other_values import ROWS, Other, others, with_others
from docgen.packet.sentences import Sentence, sentences
from docgen.packet.trees import trees
from docgen.packet.wording import Wording, wording

Group = tuple[int, ...]  # places of answers among all that are recorded
_PREPARED = 4  # how often what is tried is halved beforehand
_MARK = re.compile(r" zq(\d+)q")


class Behind(Struct, frozen=True):
    """What a sentence rests on.

    keys     recorded answers that change it, in the order of the case
    methods  ids of the methods whose rows change it
    untried  answers of which it is not known, since they could be given no other value
    """

    keys: tuple[KeyPath, ...]
    methods: tuple[str, ...] = ()
    untried: tuple[KeyPath, ...] = ()


class Origins:
    """What the sentences of one document of a case rest on; what was tried for one is kept for the others."""

    def __init__(self, assessed: Assessed, document: str, worded: Wording | None = None) -> None:
        self._assessed, self._document, self._worded = assessed, document, worded or wording()
        self._answers = others(assessed.file.case, assessed.file.lines.keys())
        self._pages: dict[Group, Counter[str] | None] = {}

    @cached_property
    def sentences(self) -> tuple[Sentence, ...]:
        """Every sentence of the page, in reading order."""
        return sentences(trees(self._assessed, (self._document,), self._worded)[self._document])

    @cached_property
    def evidence(self) -> Evidence:
        """Every number as the page has it, which tells what was known on its day."""
        document, case = self._worded.documents[self._document], self._assessed.file.case
        if not is_of_the_request(document):
            return self._assessed.evidence
        return on_its_day(self._assessed, dated_on(document, case)).evidence

    def prepare(self) -> None:
        """Try what is tried for any sentence first, so that the first one that is asked for is not waited for long."""
        groups: tuple[Group, ...] = (self._no_texts,)
        self._quoted.get("")
        for _ in range(_PREPARED):
            for group in groups:
                self._page_with(group)
            groups = tuple(half for group in groups if len(group) > 1 for half in _halves(group))

    def behind(self, sentence: Sentence) -> Behind:
        """The answers that change a sentence: none of them where it says the same of every case."""
        keys, methods, untried = set[KeyPath](), set[str](), set[KeyPath]()
        for path, changes in self.each_behind(sentence):
            if not changes:
                untried.add(path)
            elif path[0] == ROWS:
                methods.add(str(path[1]))
            else:
                keys.add(path)
        paths = [answer.path for answer in self._answers]
        return Behind(
            tuple(path for path in paths if path in keys),
            tuple(str(path[1]) for path in paths if path[0] == ROWS and path[1] in methods),
            tuple(path for path in paths if path in untried),
        )

    def each_behind(self, sentence: Sentence) -> Iterator[tuple[KeyPath, bool]]:
        """The same one after the other, as they are found: the path of an answer, or `ROWS` and a method, and whether
        it changes the sentence or could not be tried."""
        quoted = self._quoted.get(sentence.text, frozenset())
        yield from ((self._answers[at].path, True) for at in sorted(quoted))
        texts = tuple(at for at, answer in enumerate(self._answers) if answer.text and at not in quoted)
        for group in (texts, self._no_texts):
            yield from ((self._answers[at].path, changes) for at, changes in self._parted(sentence.text, group))
        yield from ((answer.path, False) for answer in self._answers if answer.value is None)

    def _parted(self, text: str, group: Group) -> Iterator[tuple[int, bool]]:
        """Those of a group that change a sentence, or could not be tried."""
        page = self._page_with(group) if group else self._before
        if page and page[text] == self._before[text]:
            return
        if len(group) == 1:
            yield group[0], page is not None
            return
        for half in _halves(group):
            yield from self._parted(text, half)

    @cached_property
    def _no_texts(self) -> Group:
        return tuple(at for at, answer in enumerate(self._answers) if answer.value is not None and not answer.text)

    @cached_property
    def _before(self) -> Counter[str]:
        return Counter(self._texts({}))

    @cached_property
    def _quoted(self) -> dict[str, frozenset[int]]:
        """Of each sentence that quotes texts of the case, which."""
        marks = {at: answer for at, answer in enumerate(self._answers) if answer.text}
        quoted: dict[str, frozenset[int]] = {}
        for text in self._texts({answer.path: _with_mark(answer, at) for at, answer in marks.items()}):
            if marked := frozenset(map(int, _MARK.findall(text))):
                plain = _MARK.sub("", text)
                quoted[plain] = quoted.get(plain, frozenset()) | marked
        return quoted

    def _page_with(self, group: Group) -> Counter[str] | None:
        """How often each sentence stands on the page with other values for these answers; None where they are
        refused."""
        if group not in self._pages:
            try:
                self._pages[group] = Counter(
                    self._texts({self._answers[at].path: self._answers[at].value for at in group})
                )
            except Exception:  # what no reader of a case would have let in may be refused anywhere
                self._pages[group] = None
        return self._pages[group]

    def _texts(self, values: Mapping[KeyPath, Any]) -> Iterable[str]:
        """The sentences of the page with other values for some answers, as known on the day of that page."""
        case: Case = with_others(self._assessed.file.case, values)
        document = self._worded.documents[self._document]
        day = dated_on(document, case) if is_of_the_request(document) else None
        then = known_on(case, day) if day else case
        tree = trees(assess_file(replace(self._assessed.file, case=then)), (self._document,), self._worded)
        return [sentence.text for sentence in sentences(tree[self._document])]


def _halves(group: Group) -> tuple[Group, Group]:
    return group[: len(group) // 2], group[len(group) // 2 :]


def _with_mark(answer: Other, at: int) -> Any:
    marked = answer.text.replace("{mark}", f" zq{at}q")
    return tuple(marked.split("\n")) if isinstance(answer.value, tuple) else marked
