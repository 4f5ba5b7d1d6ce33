"""No sentence of the one guide that there was is lost: each stands on card, booklet, log or emergency page, or the
table says what says it now. Both languages have the same blocks (tests/languages): so it holds of English alone."""

from __future__ import annotations

import re
import tomllib
from functools import cache
from pathlib import Path

from gathered import of_each

from docgen.packet.wording import wording
from docgen.resources import folder

TABLE = tomllib.loads((Path(__file__).parent / "guide_sentences.toml").read_text(encoding="utf-8"))
STANDS = [(name, sentence) for name, sentences in TABLE["stands"].items() for sentence in sentences]
# the order has what only a gauge of the supplier can measure
SHEETS = {"card", "guide", "log", "emergency", "_emergency", "_stop_test", "order"}


def bare(text: str) -> str:
    """Words alone, a value of the case as one sign."""
    return re.sub(r"[^\w…]+", " ", text.lower()).strip()


@cache
def words_of(name: str) -> str:
    """What a template says, in every case that it provides for: its tags are left out, each value is one sign."""
    text = (folder("templates") / "en" / f"{name}.md").read_text(encoding="utf-8")
    text = re.sub(r"\A\+\+\+\n.*?\+\+\+\n|\{#.*?#\}", "", text, flags=re.S)
    text = re.sub(r"\{\{.*?\}\}", "…", text, flags=re.S)
    text = re.sub(r"\{%-?.*?-?%\}", " ", text, flags=re.S)
    text = re.sub(r"!\[(.*?)\]\(.*?\)", r"\1", text)
    return bare(re.sub(r"^(> )?\[!\w+\]$|^ *\d\. ", "", text, flags=re.M))


def test_the_table_has_every_sentence_once_and_names_sheets_alone():
    sentences = [*(sentence for _, sentence in STANDS), *(row["was"] for row in TABLE["reworded"])]
    assert len(sentences) == len(set(sentences)) == 426
    assert {name for name, _ in STANDS} | {row["in"] for row in TABLE["reworded"]} <= SHEETS


@of_each("name, sentence", STANDS)
def test_a_sentence_stands_where_the_table_says(name, sentence):
    assert bare(sentence) in words_of(name)


@of_each("row", TABLE["reworded"])
def test_what_was_said_in_other_words_is_said_where_the_table_says(row):
    assert bare(row["now"]) in words_of(row["in"]), row["was"]


@of_each("table, keys", list(TABLE["shown"].items()))
def test_what_was_told_of_a_case_is_told_on_one_of_the_sheets(table, keys):
    documents = wording().documents
    told = {key for name in ("card", "guide", "log", "emergency") for key in documents[name].shows.get(table, ())}
    assert set(keys) <= told
