"""How hard each document of a case is to read, as facts."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.documents.document import Document
from docgen.evidence.fact import Fact, Kind
from docgen.packet.assess import Assessed
from docgen.packet.languages import in_language
from docgen.packet.translation import has_phrases
from docgen.packet.trees import trees
from docgen.packet.wording import Wording, languages, wording
from docgen.rendering.readability import LONG_SENTENCE, READING_SOURCES, Reading, reading

_FLESCH_KINCAID = "0.39 words/sentence + 11.8 syllables/word - 15.59"
_FLESCH = "206.835 - 1.015 words/sentence - 84.6 syllables/word"
_PASSIVE = "a form of be before a past participle"


def reading_facts(assessed: Assessed, worded: Wording | None = None) -> tuple[Fact, ...]:
    """How hard each document of this case is to read, as facts: grade, SMOG, ease, sentences, trade terms."""
    worded = worded or wording()
    facts: list[Fact] = []
    for name, tree in trees(assessed, worded=worded).items():
        document = worded.documents[name]
        measured = reading(tree, worded.words["plain"] if document.plain else {})
        if measured is not None:
            facts += _scores(document, measured)
            facts += _hard_places(document, measured)
    for lang in languages():
        if has_phrases(assessed, lang):
            facts += _foreign_facts(assessed, lang)
    return tuple(facts)


def _scores(document: Document, measured: Reading) -> Iterator[Fact]:
    scores: tuple[tuple[str, str, Kind, float, str], ...] = (
        ("grade", "school grade (Flesch-Kincaid)", "ratio", measured.grade, _FLESCH_KINCAID),
        ("smog", "school grade (SMOG)", "ratio", measured.smog, "1.0430 sqrt(30 long words / sentences) + 3.1291"),
        ("ease", "reading ease (Flesch)", "ratio", measured.ease, _FLESCH),
        ("sentence_words", "words in a sentence", "ratio", measured.words_per_sentence, "words / sentences"),
        ("passive", "sentences in the passive", "proportion", measured.passive_share, _PASSIVE),
        ("you", "sentences that speak to the reader", "proportion", measured.you_share, "you or your"),
    )
    n = measured.n_sentences
    for key, label, kind, value, formula in scores:
        yield Fact(
            f"{key}.{document.name}",
            "reading",
            f"{label}, {document.title.lower()}",
            kind,
            value,
            n,
            round(value * n) if kind == "proportion" else None,
            keys=(f"templates/{document.name}.md",),
            formula=formula,
            source=READING_SOURCES.get(key, "counted on the words a reader sees"),
        )


def _hard_places(document: Document, measured: Reading) -> Iterator[Fact]:
    """The longest sentences of a document written in plain words, and the trade terms it does not explain."""
    sentences, terms = measured.long_sentences, measured.terms
    longest = [text if len(text) < 90 else text[:87] + "..." for text in sentences[:3]] if document.plain else []
    counted = [f"{term} ({count})" for term, count in terms]
    unexplained = "terms of the trade that the page does not put in plain words"
    for key, label, n, text, formula in (
        ("long", "longest sentences", len(sentences), "; ".join(longest), f"over {LONG_SENTENCE} words"),
        ("terms", "trade terms not explained", len(terms), ", ".join(counted), unexplained),
    ):
        if text:
            yield Fact(
                f"{key}.{document.name}",
                "reading",
                f"{label}, {document.title.lower()}",
                "words",
                None,
                n,
                keys=(f"templates/{document.name}.md",),
                text=text,
                formula=formula,
            )


def _foreign_facts(assessed: Assessed, lang: str) -> Iterator[Fact]:
    """The same for the documents of a language that the case has phrases for."""
    worded = wording(lang)
    formulas = worded.reading.formulas if worded.reading else ()
    for name, measured in in_language(assessed, lang).readings().items():
        title, keys = worded.documents[name].title.lower(), (f"templates/{lang}/{name}.md", f"{lang}.toml")
        for formula in formulas:
            yield Fact(
                f"{formula.id}.{name}.{lang}",
                "reading",
                f"{formula.label}, {title}",
                "ratio",
                measured.scores[formula.id],
                measured.n_sentences,
                None,
                keys=keys,
                verdict=measured.band if formula is formulas[0] else "",
                formula=str(formula),
                source=formula.source,
            )
