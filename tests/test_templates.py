"""Templates: no number of their own, no fact worded away, and every document survives any missing fact."""

from __future__ import annotations

import re
import tomllib
from dataclasses import replace

import pytest
from support import DEMO_FOLDERS, each_key_gone

from docgen.case.model import Case
from docgen.case.read import _frozen, read_case
from docgen.criteria.criterion import Grounds
from docgen.criteria.payer import load
from docgen.criteria.run import verdicts
from docgen.evidence.gather import evidence
from docgen.fit.match import fit
from docgen.packet import Assessed, asked_on, assess, trees
from docgen.resources import folder

TEMPLATES = sorted((folder("templates") / "en").glob("*.md"))


def _own_words(text: str) -> str:
    """What a template says itself: without front matter, tags, comments and the marks of numbered lists."""
    text = re.sub(r"\A\+\+\+\n.*?\+\+\+\n", "", text, flags=re.S)
    text = re.sub(r"\{%.*?%\}|\{\{.*?\}\}|\{#.*?#\}", "", text, flags=re.S)
    text = re.sub(r"^(> )?\d+\. ", "", text, flags=re.M).replace("per 100 m", "")  # a unit, not a number
    return re.sub(r"^\| \d (?=[A-Z])", "| ", text, flags=re.M)  # the names of the training stages


@pytest.mark.parametrize("path", TEMPLATES, ids=lambda p: p.name)
def test_a_template_prints_no_number_of_its_own(path):
    assert not re.findall(r"[^\n]*\d[^\n]*", _own_words(path.read_text(encoding="utf-8")))


@pytest.mark.parametrize("path", TEMPLATES, ids=lambda p: p.name)
def test_a_template_keeps_to_the_rules_of_the_dialect(path):
    text = path.read_text(encoding="utf-8")
    assert "~" not in "".join(re.findall(r"\{\{.*?\}\}", text))  # joins would escape as HTML
    assert not re.search(r"\w\*\*\{\{|\}\}\*\*\w", text)  # emphasis must not touch a word


@pytest.mark.parametrize("source", DEMO_FOLDERS, ids=lambda f: f.name)
def test_every_number_of_the_evidence_is_printed_as_the_evidence_has_it(source):
    """Each number a page takes from the evidence carries its id, and reads as the record says."""
    from docgen.documents.phrase import number
    from docgen.packet import language_words

    assessed = assess(source)
    seen = 0
    for tree in trees(assessed).values():
        for node in tree.walk():
            if node.kind == "fact":
                shown = number(assessed.evidence[node.name], language_words())
                assert node.plain() in (shown.short, shown.full, shown.bare, shown.aside)
                seen += 1
    assert seen > 10


def test_three_of_three_never_reads_as_certain(case_folder):
    toml = (
        'format = "docgen case 1"\nid = "small"\n[client]\nname = "R"\n[trial]\n'
        '[[trial.methods]]\nid = "pads"\nname = "pads"\n[[trial.tasks]]\nid = "halt"\nname = "stop"\nshows = "stop"\n'
        '[configuration]\nmethod = "pads"\n'
    )
    rows = "date,method,task,success\n" + "2026-03-03,pads,halt,1\n" * 3
    assessed = assess(case_folder(toml, rows))
    from docgen.packet import render
    from docgen.report import evidence_text

    text = "".join(tree.plain() for tree in trees(assessed).values()) + evidence_text(assessed)
    # 95% score interval of 3 of 3: 0.4385 to 1 (3 / (3 + z^2), Wilson 1927)
    assert "3 of 3 attempts with it (at least 44%)" in text
    assert "100%" not in text
    html = render(assessed, ["html"])["letter.html"].decode()
    assert "to 100%" not in html and ">100%<" in html  # the end of the figure's scale, and nothing else


BAD = re.compile(r"\bNone\b|\bnan\b|  |,\.|\.\.|\( ?\)| ,|Gap\(|, and\b,|:\.| \.(?!\d)")


@pytest.mark.parametrize("source", DEMO_FOLDERS[2:4], ids=lambda f: f.name)
def test_taking_any_one_fact_away_leaves_whole_sentences_or_a_gap(source):
    """Each optional key of a demo gone in turn: no stray word or mark is left on any page."""
    read = read_case(source)
    raw = tomllib.loads((source / "case.toml").read_text(encoding="utf-8"))
    payer = load("general", "")
    for path, changed in each_key_gone(raw):
        try:
            case = Case.model_validate(_frozen(changed)).with_records(read.case.records)
        except ValueError:
            continue  # a key its table cannot do without
        grounds = Grounds(case, evidence(case), fit(case, read.where))
        assessed = Assessed(replace(read, case=case), grounds.evidence, grounds, payer, verdicts(grounds, payer, asked_on(case, payer)))
        for name, tree in trees(assessed).items():
            for part in tree.walk():
                if part.kind in ("paragraph", "cell", "heading"):
                    assert not BAD.search(part.plain()), (path, name, part.plain())
                if part.kind in ("heading", "paragraph"):
                    assert part.plain().strip(), (path, name)
