"""The pages of a case with a mark after each sentence, and what stands behind a sentence or a number of theirs."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from pathlib import Path

from msgspec import Struct

from docgen.case.keys import keys_at, value_at
from docgen.case.lines import KeyPath, dotted
from docgen.case.read import CaseFile
from docgen.case.record import TRIAL, Sheet
from docgen.case.session import SESSIONS
from docgen.case.totals import TOTALS
from docgen.desk.cases import Looked
from docgen.desk.fields import field_at
from docgen.desk.picked import name_of
from docgen.desk.topics import topic_of
from docgen.documents.phrase import number
from docgen.evidence.fact import Fact
from docgen.packet.origins import Origins
from docgen.packet.other_values import ROWS
from docgen.packet.render import render_alone
from docgen.packet.sentences import MARK, Sentence, marked
from docgen.packet.trees import trees
from docgen.packet.wording import in_locale, language_words, wording
from docgen.rendering.markup import escaped
from docgen.rendering.template import Gap

_OF_A_FACT = re.compile(r'<span data-fact="([^"]+)">(.*?)</span>', re.S)
_OF_A_GAP = re.compile(r'<mark class="gap" data-gap="([^"]+)">.*?</mark>', re.S)
_SECTION, _MARKUP = re.compile(r'<h2 id="([^"]+)">(.*?)</h2>', re.S), re.compile(r"<[^>]+>")
_STYLE = (
    ".sections{display:flex;flex-wrap:wrap;gap:0 1rem;font-size:.9rem}.sections a{padding:.3rem 0}"
    "a.from{display:inline-block;min-width:1.5rem;margin:.1rem .15rem;padding:0 .2rem;text-align:center;"
    "font-size:.75rem;font-weight:normal;line-height:1.5rem;vertical-align:middle;text-decoration:none;"
    "border:1px solid;border-radius:.75rem}"
    "a.from.new{border-width:4px;font-weight:bold}"
    "a.from:target{outline:3px solid;outline-offset:2px}"
)


class Answer(Struct, frozen=True):
    """A recorded answer behind a sentence: its question, what stands there, file and line, and where it is asked."""

    label: str
    shown: str
    where: str
    href: str


class Counted(Struct, frozen=True):
    """Rows of a file that a number rests on.

    file   its name; `lines` those of the rows in it, `columns` names of the columns that hold anything, `rows` their
           cells
    """

    file: str
    lines: tuple[int, ...]
    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


class Figure(Struct, frozen=True):
    """A number of a page: what it measures, its value, how it is worked out and from what."""

    label: str
    value: str
    formula: str
    source: str
    keys: tuple[Answer, ...]
    counted: tuple[Counted, ...]


class Pages:
    """The pages of the cases, each kept while its case stays as it is."""

    def __init__(self) -> None:
        self._origins: dict[tuple[Path, str], tuple[Looked, Origins]] = {}

    def origins(self, looked: Looked, name: str) -> Origins:
        """Where the sentences of a page come from."""
        kept, origins = self._origins.get((looked.folder, name), (None, None))
        if kept is not looked or origins is None:
            assert looked.check is not None
            origins = Origins(looked.check.assessed, name)
            self._origins[looked.folder, name] = looked, origins
        return origins

    def marked(self, looked: Looked, name: str, at: str) -> bytes:
        """A page as HTML, each sentence with a mark that leads to what is behind it, each number too.

        at  the address of the case
        Raises UserError where the page cannot be made, KeyError where the case has no such page.
        """
        assert looked.check is not None
        assessed = looked.check.assessed
        worded = in_locale(wording(), assessed.payer.locale)
        tree = marked(trees(assessed, (name,), worded)[name])
        html = render_alone(assessed, {name: tree}, worded, ("html",))[f"{name}.html"].decode()

        def led_on(mark: re.Match[str]) -> str:
            fact, words = mark.groups()
            if not fact.startswith(MARK):
                return f'<a href="{at}/number/{name}/{fact}" target="behind">{words}</a>'
            place = fact.removeprefix(MARK)
            label = f'aria-label="{words}: what is behind this sentence"'
            return f'<a class="from" id="{place}" href="{at}/behind/{name}/{place}" target="behind" {label}>{words}</a>'

        def filled_in(mark: re.Match[str]) -> str:
            field = gap_field(looked.file, mark[1], at)
            return f'<a href="{escaped(field)}" target="_top">{mark[0]}</a>' if field else mark[0]

        html = _OF_A_GAP.sub(filled_in, _OF_A_FACT.sub(led_on, html))
        html = html.replace("</style>", f"{_STYLE}</style>", 1)
        return html.replace("<main>", f"{_sections(html)}<main>", 1).encode()


def _sections(html: str) -> str:
    """Links to the sections of a page, so that nobody has to go through every mark of it."""
    links = "".join(f'<a href="#{anchor}">{_MARKUP.sub("", words)}</a> ' for anchor, words in _SECTION.findall(html))
    return f'<nav class="sections" aria-label="Sections of this page">{links}</nav>\n' if links else ""


def gap_field(file: CaseFile, name: str, at: str) -> str:
    """Where a gap of a page is asked for; empty where it is no key of the case."""
    path = tuple(int(part) if part.isdigit() else part for part in name.split("."))
    return _href(path, at) if str(path[-1]) in keys_at(path[:-1]) else ""


def answers_behind(looked: Looked, origins: Origins, sentence: Sentence, at: str) -> Iterator[Answer | str]:
    """The answers that change a sentence, one after the other as they are found; as a text what else is known."""
    untried: list[str] = []
    for path, changes in origins.each_behind(sentence):
        if path[0] == ROWS:
            method = next(method for method in looked.file.case.trial.methods if method.id == path[1])
            yield f"It changes with the rows of the trial with the {method.name}."
        elif changes:
            yield answer_at(looked.file, path, at)
        else:
            untried.append(dotted(path))
    if untried:
        yield f"Whether it changes with these could not be tried: {', '.join(dict.fromkeys(untried))}."


def answer_at(file: CaseFile, path: KeyPath, at: str) -> Answer:
    """An answer of the case as the page of a sentence shows it."""
    field, where = field_at(file, path), file.where(*path).rpartition("/")[2]
    last = max((at for at, part in enumerate(path) if isinstance(part, int)), default=None)
    label = field.label if last is None else f"{field.label} ({name_of(value_at(file.case, path[: last + 1]))})"
    shown = field.measure or "; ".join(field.in_words) or "not recorded"
    return Answer(label, shown, where, _href(path, at))


def _href(path: KeyPath, at: str) -> str:
    return f"{at}/{topic_of(path).id}#{'-'.join(map(str, path))}"


def figure(looked: Looked, fact: Fact, at: str) -> Figure:
    """A number of a page with its formula and its rows."""
    file, case = looked.file, looked.file.case
    value = number(fact, language_words())
    if "sessions.csv" in fact.keys:
        counted = [_counted("sessions.csv", SESSIONS, case.sessions, fact.rows)]
    else:
        counted = [
            _counted(case.trial.rows, TRIAL, case.records, fact.rows),
            _counted("totals.csv", TOTALS, case.totals, fact.totals),
        ]
    paths = [tuple(int(part) if part.isdigit() else part for part in key.split(".")) for key in fact.keys]
    return Figure(
        fact.label[:1].upper() + fact.label[1:],
        value.words if isinstance(value, Gap) else value.full,
        fact.formula,
        fact.source,
        tuple(
            answer_at(file, path, at)
            for path in paths
            if str(path[-1]) in keys_at(path[:-1]) and value_at(case, path) is not None
        ),
        tuple(rows for rows in counted if rows.lines),
    )


def _counted(name: str, sheet: Sheet, rows: Sequence[object], lines: Sequence[int]) -> Counted:
    """The rows of these lines, with the columns in which any of them holds something."""
    wanted = [row for row in rows if getattr(row, "line", None) in lines]
    columns = [column for column in sheet.by_name if any(_cell(row, column) for row in wanted)]
    cells = tuple(tuple(_cell(row, column) for column in columns) for row in wanted)
    return Counted(name, tuple(getattr(row, "line", 0) for row in wanted), tuple(columns), cells)


def _cell(row: object, column: str) -> str:
    value = getattr(row, column, None)
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, tuple):
        return " ".join(map(str, value))
    return "" if value is None else str(value).removesuffix(".0")
