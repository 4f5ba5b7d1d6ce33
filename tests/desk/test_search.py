"""Findings and features are found by any words and added with what they call for; a change can be put back by name."""

from __future__ import annotations

import re

import pytest
from support import DEMO_FOLDERS

from docgen.case.read import read_case
from docgen.fit.feature import features
from docgen.fit.finding import vocabulary


@pytest.fixture
def source():
    return DEMO_FOLDERS[1]


def test_a_finding_is_found_by_words_and_added_with_what_was_found(visitor, at, case):
    page = visitor.post(f"{at}/search", words="knees fixed")
    assert page.status == 200
    found = re.findall(r'name="path" value="\[&#34;findings&#34;\]"><input [^>]*name="key.id" value="(\w+)"', page.text)
    assert found
    calling = [feature.name for feature in features().values() if found[0] in feature.called_for_by]
    block = page.text.partition(f'id="hit-{found[0]}"')[2].partition("</section>")[0]
    assert all(name in block.replace("&#39;", "'") for name in calling)
    keys = {"key.id": found[0], "key.says": "The left knee does not bend past 40 degrees."}
    assert visitor.post(f"{at}/body/add", path='["findings"]', **keys).status == 303
    assert read_case(case).case.findings[-1].id == found[0]
    assert "It is recorded." in visitor.post(f"{at}/search", words="knees fixed").text


def test_a_feature_is_found_with_what_calls_for_it(visitor, at, case):
    page = visitor.post(f"{at}/search", words="standby").text
    assert "Called for by: " in page and "Add: " in page


@pytest.mark.parametrize("words", ["", "zzzzqqq", "<script>alert(1)</script>", "x" * 5000])
def test_words_that_fit_nothing_add_nothing(words, visitor, at):
    page = visitor.post(f"{at}/search", words=words)
    assert page.status == 200 and "<script>alert" not in page.text


def test_an_entry_that_was_taken_out_is_put_back(visitor, at, case):
    before = (case / "case.toml").read_text()
    goal = read_case(case).case.goals[0]
    assert visitor.post(f"{at}/home/remove", path='["goals", 0]').status == 303
    page = visitor.get(f"{at}/home").text
    assert f"Last change: taken out: {goal.says[:60]}".rstrip(".") in page.replace("&#39;", "'")
    assert visitor.post(f"{at}/home/back").status == 303
    assert (case / "case.toml").read_text() == before
    assert "Last change" not in visitor.get(f"{at}/home").text


def test_who_else_can_answer_stands_at_a_question(visitor, at):
    assert re.search(
        r"\(the supplier can answer: see Build and approve for a sheet\)", visitor.get(f"{at}/choice").text
    )


@pytest.mark.parametrize("topic", ["who", "home"])
def test_what_is_missing_is_told_without_a_key_and_leads_to_each_field(topic, visitor, at):
    page = visitor.get(f"{at}/{topic}").text
    beside = page.partition('id="missing"')[2].partition("As it would print now")[0]
    beside = re.sub(r"<details><summary>In the file</summary>.*?</details>", "", beside, flags=re.S)
    assert not re.search(r"\[\[|>[^<]*\b[a-z]+_[a-z]+\b[^<]*<", beside)
    links = re.findall(rf'href="{at}/(\w+)#([\w-]+)">Fill in: ', beside)
    assert len(links) > 5
    pages = {name: visitor.get(f"{at}/{name}").text for name in {topic for topic, _ in links}}
    assert [link for link in links if f'id="{link[1]}"' not in pages[link[0]]] == []


def test_a_finding_that_no_word_names_is_added_in_own_words(visitor, at, case):
    assert '<option value="own">none of these' in visitor.get(f"{at}/body").text
    fields = {"key.id": "own", "key.says": "Her right knee moves out two inches against a pad."}
    added = visitor.post(f"{at}/body/add", path='["findings"]', **fields)
    assert added.status == 303, added.text.partition('id="trouble"')[2][:300]
    finding = read_case(case).case.findings[-1]
    assert (finding.own, finding.says) == (True, fields["key.says"])
    assert finding.id not in vocabulary()
