"""How hard each document of a case is to read, as facts."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.evidence.fact import Fact
from docgen.packet.assess import Assessed
from docgen.packet.languages import in_language
from docgen.packet.translation import has_phrases
from docgen.packet.trees import trees
from docgen.packet.wording import Wording, languages, wording
from docgen.rendering.readability import LONG_SENTENCE, READING_SOURCES, reading
from docgen.rendering.spanish import SOURCES


def reading_facts(assessed: Assessed, worded: Wording | None = None) -> tuple[Fact, ...]:
    """How hard each document of this case is to read, as facts: grade, SMOG, ease, sentences, trade terms."""
    worded = worded or wording()
    docs, words = worded.documents, worded.words
    found: list[Fact] = []
    for name, tree in trees(assessed, worded=worded).items():
        measured = reading(tree, words["plain"] if docs[name].plain else {})
        if measured is None:
            continue
        title, n = docs[name].title.lower(), measured.n_sentences
        for key, label, kind, value, formula in (
            (
                "grade",
                "school grade (Flesch-Kincaid)",
                "ratio",
                measured.grade,
                "0.39 words/sentence + 11.8 syllables/word - 15.59",
            ),
            ("smog", "school grade (SMOG)", "ratio", measured.smog, "1.0430 sqrt(30 long words / sentences) + 3.1291"),
            (
                "ease",
                "reading ease (Flesch)",
                "ratio",
                measured.ease,
                "206.835 - 1.015 words/sentence - 84.6 syllables/word",
            ),
            ("sentence_words", "words in a sentence", "ratio", measured.words_per_sentence, "words / sentences"),
            (
                "passive",
                "sentences in the passive",
                "proportion",
                measured.passive_share,
                "a form of be before a past participle",
            ),
            ("you", "sentences that speak to the reader", "proportion", measured.you_share, "you or your"),
        ):
            k = round(value * n) if kind == "proportion" else None
            found.append(
                Fact(
                    f"{key}.{name}",
                    "reading",
                    f"{label}, {title}",
                    kind,
                    value,
                    n,
                    k,
                    keys=(f"templates/{name}.md",),
                    formula=formula,
                    source=READING_SOURCES.get(key, "counted on the words a reader sees"),
                )
            )
        long, terms = measured.long_sentences, measured.terms
        for key, text in (
            ("long", "; ".join(s if len(s) < 90 else s[:87] + "..." for s in long[:3]) if docs[name].plain else ""),
            ("terms", ", ".join(f"{term} ({count})" for term, count in terms)),
        ):
            if text:
                label = "longest sentences" if key == "long" else "trade terms not explained"
                found.append(
                    Fact(
                        f"{key}.{name}",
                        "reading",
                        f"{label}, {title}",
                        "words",
                        None,
                        len(long) if key == "long" else len(terms),
                        keys=(f"templates/{name}.md",),
                        text=text,
                        formula=f"over {LONG_SENTENCE} words"
                        if key == "long"
                        else "terms of the trade that the page does not put in plain words",
                    )
                )
    return (
        *found,
        *(fact for lang in languages() if has_phrases(assessed, lang) for fact in _foreign_facts(assessed, lang)),
    )


def _foreign_facts(assessed: Assessed, lang: str) -> Iterator[Fact]:
    """The same for the documents of a language that the case has phrases for."""
    for name, one in in_language(assessed, lang).readings().items():
        title, keys = wording(lang).documents[name].title.lower(), (f"templates/{lang}/{name}.md", f"{lang}.toml")
        for key, label, value, formula in (
            ("inflesz", "perspicuity (Szigriszt Pazos)", one.inflesz, "206.835 - 62.3 syllables/word - words/sentence"),
            (
                "huerta",
                "reading ease (Fernández Huerta)",
                one.huerta,
                "206.84 - 60 syllables/word - 1.02 words/sentence",
            ),
        ):
            yield Fact(
                f"{key}.{name}.{lang}",
                "reading",
                f"{label}, {title}",
                "ratio",
                value,
                one.n_sentences,
                None,
                keys=keys,
                verdict=one.band if key == "inflesz" else "",
                formula=formula,
                source=SOURCES[key],
            )
