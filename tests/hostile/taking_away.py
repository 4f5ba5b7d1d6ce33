"""A case with one thing taken out of it, and what its pages say then that they did not say before.

Nothing may be said from silence: a page of a case with less in it says less, shows a gap, or says something that
`take_away_reviewed.toml` holds with the reason why it follows from what is left.
"""

from __future__ import annotations

import pickle
import re
import shutil
import tomllib
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache, lru_cache
from pathlib import Path
from typing import Any

from ablate import Change
from in_full import tables_in_full
from support import without

from docgen.case.read import read_tables
from docgen.case.toml import Toml
from docgen.codes.hcpcs import codes
from docgen.criteria.run import OPEN
from docgen.documents.classed import Classed
from docgen.documents.document import is_of_the_request
from docgen.documents.view import project
from docgen.fit.feature import features
from docgen.fit.finding import vocabulary
from docgen.fit.settings import drive_settings
from docgen.packet.assess import Assessed, assess, assess_file, on_its_day
from docgen.packet.trees import tables
from docgen.packet.wording import Wording, wording
from docgen.rendering.template import fill

DOCUMENTS = ("letter", "guide", "plan", "order", "cover")
GAP, PERSON = "\u25a1", "\u25cb"
_PRONOUN = re.compile(r"\b(?:he|she|they|him|them)\b", re.I)
_POSSESSIVE = re.compile(r"\b(?:his|her|their)\b|\u25cb[\u2019']s", re.I)
_REVIEWED = Path(__file__).parent.parent / "bench" / "take_away_reviewed.toml"
_SENTENCE_END = re.compile(r"(?<=[.!?|])[\"\u201d)]*\s+")
_YEAR = re.compile(r"(?<=\d), (?:19|20)\d\d\b")
_WORD = re.compile(r"\w+(?:[.:]\d+)*|\u25a1")
_UNSETTLED = ("not met", "insufficient documentation")
_ITEM = re.compile(r"^(?:[-*]|\d+\.) ")
_RULE = re.compile(r"[|:\- ]+")
_CELL = re.compile(r"(?<!\\)\|")
_LINK = re.compile(r"!?\[((?:[^\]\\]|\\.)*)\]\(([^)]*)\)")
_ESCAPED = re.compile(r"\\(.)")


@dataclass(frozen=True, slots=True)
class Said:
    """A sentence that a page did not say while the case was whole."""

    document: str
    sentence: str


@dataclass(frozen=True, slots=True)
class Taken:
    """One thing taken out of a case: the tables of case.toml that are left, or files with what each holds now."""

    label: str
    tables: Mapping[str, Any] | None = None
    files: Change = field(default_factory=dict)


def everything_taken(folder: Path) -> Iterator[Taken]:
    """Every way to take one optional key, one entry of a list or one column out of a case."""
    raw = tables_in_full(folder)
    for path in _paths(raw):
        if path[0] not in ("format", "id"):
            yield Taken(".".join(map(str, path)), without(raw, path))
    for name in ("trial.csv", "sessions.csv"):
        if (folder / name).is_file():
            lines = (folder / name).read_text(encoding="utf-8").strip().split("\n")
            for at, column in enumerate(lines[0].split(",")):
                kept = (",".join(cells[:at] + cells[at + 1 :]) for cells in (line.split(",") for line in lines))
                yield Taken(f"{name} {column}", files={name: ("\n".join(kept) + "\n").encode()})


def less(folder: Path, taken: Taken, under: Path) -> Assessed:
    """A case without what is taken. Raises UserError where it cannot be read without that."""
    if taken.tables is None:
        return assess(changed(folder, taken.files, under))
    # from the tables: to write them out and to read them again would take as long as all the rest of the reading
    return assess_file(read_tables(Toml(dict(taken.tables), "", "case.toml"), folder))


def changed(folder: Path, change: Change, under: Path) -> Path:
    """A copy of a case folder with these files changed."""
    shutil.rmtree(under / folder.name, ignore_errors=True)
    copy = Path(shutil.copytree(folder, under / folder.name))
    for name, data in change.items():
        (copy / name).unlink() if data is None else (copy / name).write_bytes(data)
    return copy


class Whole:
    """The pages of a case with nothing taken out of it, under the rules of each payer that one with less falls to."""

    def __init__(self, folder: Path) -> None:
        self._folder, self.named = folder, names_in(assess(folder))
        self._pages: dict[str, dict[str, list[str]]] = {}

    def newly_said(self, case: Assessed) -> Iterator[Said]:
        """What the pages of this case, with less in it, say and these do not."""
        if case.payer.id not in self._pages:
            self._pages[case.payer.id] = pages(assess(self._folder, case.payer), self.named)
        return newly_said(self._pages[case.payer.id], pages(case, self.named))


def names_in(case: Assessed) -> tuple[str, ...]:
    """What the client is called in a case."""
    client = case.file.case.client
    return tuple(name for name in (client.name, client.called) if name)


def pages(case: Assessed, named: Sequence[str]) -> dict[str, list[str]]:
    """Document -> its sentences, straight from the filled template; a gap is one sign in its place.

    named  what the client is called while the case is whole
    """
    worded = wording()
    now, earlier = _tables(case, worded), on_its_day(case)
    then = now if earlier is case else _tables(earlier, worded)
    shown = {name: then if is_of_the_request(worded.documents[name]) else now for name in DOCUMENTS}
    person = _person(tuple(named))
    return {
        name: [
            _nameless(sentence, person)
            for sentence in _said(_filled(worded, name, shown[name]), shown[name]["answers"])
        ]
        for name in DOCUMENTS
    }


@cache
def _person(named: tuple[str, ...]) -> re.Pattern[str]:
    return re.compile(rf"\b(?:{'|'.join(map(re.escape, (*named, 'the client')))})\b", re.I)


@lru_cache(20_000)
def _nameless(sentence: str, person: re.Pattern[str]) -> str:
    """The sentence with one sign for the person, however called: a name, a pronoun, or the client. A day stands
    without its year, which pages leave out where it is that of the letter."""
    sentence = _YEAR.sub("", sentence)
    return _POSSESSIVE.sub(f"{PERSON}'s", _PRONOUN.sub(PERSON, person.sub(PERSON, sentence)))


def _said(markdown: str, answers: Sequence[Mapping[str, Any]]) -> Iterator[str]:
    """Its sentences without those that tell a question that is open: what must be settled is a gap of its own."""
    still_open = {
        sentence
        for answer in answers
        if answer["status"] in OPEN
        for reason in (answer["reason"], answer["reason"].instead, getattr(answer["reason"].instead, "instead", None))
        if reason is not None
        for sentence in _split(_plain(str(reason.value if isinstance(reason, Classed) else reason)))
    }
    yield from (sentence for sentence in _sentences(markdown) if sentence not in still_open)


def _tables(assessed: Assessed, worded: Wording) -> Mapping[str, Any]:
    shown = tables(assessed, worded)
    return {**shown, "answers": tuple({**answer, "shown": ()} for answer in shown["answers"])}


_FILLED: dict[tuple[str, bytes], str] = {}  # what is taken leaves most documents as they are


def _filled(worded: Wording, name: str, shown: Mapping[str, Any]) -> str:
    document = worded.documents[name]
    view = project(shown, document.shows, worded.words["not_recorded"], None, document.may_see)
    seen = (name, pickle.dumps(view))
    if seen not in _FILLED:
        _FILLED[seen] = fill(worded.environment, f"{name}.md", view)
    return _FILLED[seen]


def newly_said(whole: Mapping[str, list[str]], less: Mapping[str, list[str]]) -> Iterator[Said]:
    """Sentences of the pages of less that are neither a gap, nor an old sentence or a shorter form of one."""
    for document, sentences in less.items():
        old = set(whole[document])
        for sentence in dict.fromkeys(sentences):
            if sentence not in old and not _is_shorter(sentence, whole[document]):
                yield Said(document, sentence)


def forms(new: Said) -> list[str]:
    """The forms of the reviewed list that a sentence has; one that has none may not be said."""
    return [form for form, pattern in _reviewed().get(new.document, {}).items() if pattern.fullmatch(new.sentence)]


def all_forms() -> Iterator[tuple[str, str]]:
    """Each document with each form that the reviewed list holds for it."""
    yield from ((document, form) for document, by_form in _reviewed().items() for form in by_form)


@cache
def _reviewed() -> Mapping[str, Mapping[str, re.Pattern[str]]]:
    """Document -> its forms with the pattern of each."""
    found: dict[str, dict[str, re.Pattern[str]]] = {}
    for entry in tomllib.loads(_REVIEWED.read_text(encoding="utf-8"))["said"]:
        for document in entry["in"]:
            for form in entry["forms"]:
                found.setdefault(document, {})[form] = _pattern(form)
    return found


def _pattern(form: str) -> re.Pattern[str]:
    """A form as a pattern: all but its places and its choices stands for itself."""
    parts = re.split(r"(\{\w+\}|[<|>])", form)
    return re.compile(
        "".join(_PLACES[part[1:-1]]() if part[:1] == "{" else _SIGNS.get(part, re.escape(part)) for part in parts)
    )


_SIGNS = {"<": "(?:", "|": "|", ">": ")"}


def _names(names: Iterable[str]) -> str:
    """Any of these names, joined as a list or by semicolons, the first with a capital or not."""
    any_of = f"(?i:{'|'.join(map(re.escape, sorted(set(names), key=len, reverse=True)))})"
    return rf"{any_of}(?:(?:[,;]| and|, and) {any_of})*"


def _settings_with_reasons() -> str:
    """Groups of drive settings, each with what they do not apply for."""
    group = rf"{_names(setting.name for setting in drive_settings().values())} \([^()]+\)"
    return f"{group}(?:; {group})*"


_PLACES: Mapping[str, Callable[[], str]] = {
    "n": lambda: r"\d[\d.,]*",
    "length": lambda: r"[\d/ ]+(?:ft|in)[\d/ ]*(?:in )?\(\d[\d.]* m?m\)",
    "speed": lambda: r"[\d.]+ mph \([\d.]+ m/s\)",
    "day": lambda: r"[A-Z][a-z]+ \d{1,2}",
    "days": lambda: r"[A-Z][a-z]+ \d{1,2}(?:(?:,| and|, and) (?:[A-Z][a-z]+ )?\d{1,2})*",
    "own": lambda: r"[^.!?]+(?:\.\d[^.!?]*)*",
    "codes": lambda: r"[A-Z]\d{4}(?:(?:,| and| or) [A-Z]\d{4})*",
    "code_name": lambda: _names(code.words.partition(";")[0] for code in codes().values()),
    "features": lambda: _names(feature.name for feature in features().values()),
    "findings": lambda: _names(meaning.name for meaning in vocabulary().values()),
    "settings": _settings_with_reasons,
    "person": lambda: r"[A-Z][\w'-]+(?: [A-Z][\w'-]+)+",
    "open_alone": lambda: _names(wording().words["alone_unsettled"].values()),
    "errors": lambda: r'"[^"]+"(?:, "[^"]+")*',
    "pictures": lambda: _names(wording().words["drawn"].values()),
}


def _paths(node: Any, path: tuple[str | int, ...] = ()) -> Iterator[tuple[str | int, ...]]:
    """Every key, and every entry of every list."""
    for name, child in node.items() if isinstance(node, dict) else enumerate(node) if isinstance(node, list) else ():
        yield (*path, name)
        yield from _paths(child, (*path, name))


@lru_cache(2_000)
def _sentences(markdown: str) -> tuple[str, ...]:
    """Sentences of a filled template block by block; a cell of a table is a block.

    What must still be settled is a gap of its own: neither its call-outs nor the rows of a cover that answer a question
    as open are taken.
    """
    return tuple(sentence for block in _blocks(markdown) for sentence in _split(block))


@lru_cache(20_000)
def _split(block: str) -> tuple[str, ...]:
    return tuple(filter(None, map(str.strip, _SENTENCE_END.split(block))))


def _blocks(markdown: str) -> Iterator[str]:
    together: list[str] = []
    unsettled = False
    for line in (*markdown.split("\n"), ""):
        quoted = line.startswith(">")
        unsettled = quoted and (unsettled or "[!IMPORTANT]" in line)
        bare = line.lstrip("> ").strip()
        if not bare or line.startswith(("|", "#", "Table: ")) or _ITEM.match(bare):
            if together:
                yield _plain(" ".join(together))
            together = []
        if unsettled or not bare or _RULE.fullmatch(bare):
            continue
        if line.startswith("|"):
            cells = [_plain(cell) for cell in _CELL.split(bare.strip("|"))]
            yield from cells if not any(cell in _UNSETTLED for cell in cells) else ()
        else:
            together.append(_ITEM.sub("", bare))


@lru_cache(20_000)
def _plain(markdown: str) -> str:
    """The words of a piece of Markdown, each gap as one sign."""
    markdown = markdown.replace("](sign:)", "").removeprefix("![") if "](sign:)" in markdown else markdown
    text = _LINK.sub(lambda link: GAP if link[2].startswith("gap:") else link[1], markdown)
    return " ".join(_ESCAPED.sub(r"\1", text).replace("**", "").split())


def _is_shorter(sentence: str, old: Sequence[str]) -> bool:
    """Whether all words of a sentence stand in this order in an old one; a gap stands for any, and what is left of a
    list has its "and" elsewhere."""
    words = _words(sentence)
    return not words or any(_in_order(words, _words(other)) for other in old)


@lru_cache(20_000)
def _words(sentence: str) -> tuple[str, ...]:
    return tuple(word for word in _WORD.findall(sentence.casefold()) if word not in (GAP, "and", "or"))


def _in_order(words: Sequence[str], among: Sequence[str]) -> bool:
    rest = iter(among)
    return len(words) <= len(among) and all(word in rest for word in words)
