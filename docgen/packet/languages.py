"""The documents of a case in another language: those that the language has, beside the English packet.

Nobody has reviewed them: an approval is of the English words, and each page says that its translation has none.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping

from msgspec import Struct

from docgen.documents.phrase import sentences_apart
from docgen.errors import Problem, UserError
from docgen.packet.approval import Review
from docgen.packet.assess import Assessed
from docgen.packet.render import FORMATS, page_words, render_alone
from docgen.packet.translation import translated
from docgen.packet.trees import tables, trees_of
from docgen.packet.wording import ENGLISH_TAG, in_locale, wording
from docgen.rendering.letterhead import Letterhead
from docgen.rendering.readability import LONG_SENTENCE, read_text
from docgen.rendering.reading_ease import LanguageReading, ReadingRule
from docgen.rendering.tree import Node

_MOST_PLACES = 5  # named on a line of what a build tells
_MOST_LONG = 3  # sentences of a document told as too long


class Foreign(Struct, frozen=True):
    """The documents of a case in another language.

    trees      by name, in packet order
    assessed   the case with its texts in that language
    originals  texts that the pages show as they stand in the case, each with its place
    unused     places of phrases that are for no text of the case
    """

    lang: str
    trees: Mapping[str, Node]
    assessed: Assessed
    originals: Mapping[str, str]
    unused: tuple[str, ...]

    def render(
        self,
        formats: Iterable[str] = FORMATS,
        letterhead: Letterhead | None = None,
        large_print: bool = True,
        review: Review | None = None,
    ) -> dict[str, bytes]:
        """File name -> bytes of each document in each format.

        review  of the English words; each page says who did it, and that its translation is not reviewed
        """
        return render_alone(self.assessed, self.trees, wording(self.lang), formats, letterhead, large_print, review)

    def readings(self) -> dict[str, LanguageReading]:
        """How easy each document is to read, without the pieces that hold a text left as it stands; none without a
        formula."""
        rule = wording(self.lang).reading
        if rule is None:
            return {}
        readings = {name: rule.reading(read_text(tree)) for name, tree in self.trees.items()}
        return {name: reading for name, reading in readings.items() if reading is not None}

    def remarks(self) -> list[str]:
        """What to know before anyone uses them, in lines: not reviewed, how easy to read, what is left as it stands."""
        if not self.trees:
            return [f"{self.lang}: has none of these documents"]
        readings, rule = self.readings(), wording(self.lang).reading
        scores = "".join(f"; {name} reads {_in_words(reading, rule)}" for name, reading in readings.items() if rule)
        lines = [f"{self.lang}: {', '.join(self.trees)}, to be reviewed by a qualified translator before use{scores}"]
        lines += [
            f'{self.lang}: {name} has a sentence of more than {LONG_SENTENCE} words; shorten it: "{long}"'
            for name, reading in readings.items()
            for long in reading.long_sentences[:_MOST_LONG]
        ]
        if self.originals:
            n, places = len(self.originals), sorted(set(self.originals.values()), key=_by_line)
            more = f" and {len(places) - _MOST_PLACES} more" if len(places) > _MOST_PLACES else ""
            lines += [
                (
                    f"{self.lang}: {n} {'text stands' if n == 1 else 'texts stand'} as in the case; put them in "
                    f"{self.lang}.toml beside it: "
                )
                + ", ".join(where.rpartition("/")[2] for where in places[:_MOST_PLACES])
                + more
            ]
        return lines + [f"{where} is for no text of the case" for where in self.unused]


def _in_words(reading: LanguageReading, rule: ReadingRule) -> str:
    """How easy a document is to read: the band, and the score that decides it."""
    first = rule.formulas[0]
    wanted = "" if reading.easy else f", and {rule.least:.0f} or more is wanted"
    return f"{reading.band} ({first.name} {reading.scores[first.id]:.0f}{wanted})"


def _by_line(where: str) -> tuple[str, int]:
    path, _, line = where.rpartition(":")
    return (path, int(line)) if line.isdigit() else (where, 0)


def in_language(assessed: Assessed, lang: str, only: Iterable[str] = ()) -> Foreign:
    """The documents of a case in a language: all that the language has when `only` names none.

    Raises UserError with every mistake in the phrases beside the case, and for a copy about nobody: phrases may hold
    names.
    """
    if assessed.copy is not None:
        raise UserError([Problem("--lang", "a de-identified copy is made in English alone", "Leave it out.")])
    worded, only = in_locale(wording(lang), assessed.payer.locale), tuple(only)
    result = translated(assessed, worded)
    wanted = [name for name in worded.documents if not only or name in only]
    pages = trees_of(result.assessed, wanted, worded, tables(result.assessed, worded, ())) if wanted else {}
    shown = " ".join(page_words(result.assessed, pages, worded).split())
    originals = {
        text: where
        for text, where in result.originals.items()
        if all(_stem(sentence) in shown for sentence in sentences_apart(text))
    }
    sign = worded.words["original"].partition("{text}")[0]
    for name, tree in pages.items():
        if sign in page_words(result.assessed, {name: tree}, worded):
            _explain_mark(tree, worded.words["original_means"])
    _mark_passages(pages.values(), worded.words["original"], originals)
    return Foreign(lang, pages, result.assessed, originals, result.unused)


def _explain_mark(tree: Node, meaning: str) -> None:
    """Say on a sheet what the mark around a text left as it stands means, beside the notice in both languages: the one
    passage that a sheet has of itself."""
    words = Node("text", text=f" {meaning}")
    notice = next((block for block in tree.children if any(part.kind == "passage" for part in block.walk())), None)
    if notice is None:  # a clinic's own template may have none
        tree.children.insert(1, Node("paragraph", children=[words]))
    else:
        notice.children.append(words)


def _mark_passages(trees: Iterable[Node], pattern: str, originals: Iterable[str]) -> None:
    """Make a passage in English of each text left as it stands, so that it is read aloud as such."""
    before, _, after = pattern.partition("{text}")
    wholes = {_stem(text).removeprefix(before).removesuffix(after) for text in originals}
    sentences = {
        _stem(sentence) for whole in wholes for sentence in sentences_apart(whole)
    }  # as points each stands alone
    texts = sorted(wholes | sentences, key=len, reverse=True)
    if not texts:
        return
    left = re.compile(f"(?<={re.escape(before)})({'|'.join(map(re.escape, texts))})")

    def parted(node: Node) -> Iterator[Node]:
        if node.kind != "text":
            yield node
            return
        for at, part in enumerate(left.split(node.text)):
            words = Node("text", text=part)
            if part:
                yield Node("passage", attrs={"lang": ENGLISH_TAG}, children=[words]) if at % 2 else words

    for node in [node for tree in trees for node in tree.walk()]:
        node.children = [part for child in node.children for part in parted(child)]


def _stem(text: str) -> str:
    """A text as a sentence or a drawing may show it: in one line, without the stop at its end."""
    return " ".join(text.split()).rstrip(". ")
