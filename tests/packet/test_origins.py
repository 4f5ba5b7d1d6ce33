"""A sentence is led back to the answers that change it, and to no others: held against changes of the file itself."""

from __future__ import annotations

import csv
import random
from functools import cache

import pytest
from changed import drawn, sentences_with
from support import ASSESSED, DEMO_FOLDERS, DEMOS

from docgen.case.keys import choices_in, table_at
from docgen.case.lines import dotted
from docgen.packet.origins import Origins
from docgen.packet.other_values import others, with_others
from docgen.packet.sentences import MARK, marked, sentences
from docgen.packet.trees import trees
from docgen.rendering.tree import Node


@cache
def _letter(name):
    return Origins(ASSESSED[name], "letter")


def _sentence(origins, words):
    return next(sentence for sentence in origins.sentences if words in sentence.text)


@pytest.mark.parametrize("name", ["bohdan-lacroix-mbeki", "saoirse-villalobos-ng"])  # the latter as it stood before
def test_a_sentence_of_a_letter_leads_to_the_answer_it_tells(name):
    letter = _letter(name)
    behind = letter.behind(_sentence(letter, "The home visit was on "))
    assert (behind.keys, behind.methods) == ((("dates", "home_visit_on"),), ())


def test_a_sentence_that_tells_several_answers_leads_to_each():
    letter = _letter("bohdan-lacroix-mbeki")
    chair = {f"configuration.chair.{key}" for key in ("width_mm", "turning_mm", "climbs_mm")}
    keys = letter.behind(_sentence(letter, " turns in ")).keys
    assert {dotted(path) for path in keys} - {"request.kind"} == chair


@pytest.mark.parametrize("name", DEMOS)
def test_a_number_of_each_letter_leads_to_the_rows_it_counts(name):
    """Counted from trial.csv by the csv module of Python, apart from docgen's own reading."""
    assessed = ASSESSED[name]
    case = assessed.file.case
    said = _sentence(_letter(name), "stopped on command in")
    number = assessed.evidence[next(fact for fact in said.facts if fact.startswith("stop_request."))]
    with (DEMO_FOLDERS[DEMOS.index(name)] / case.trial.rows).open(newline="") as file:
        rows = list(csv.DictReader(file))
    asked = {
        line: row
        for line, row in enumerate(rows, 2)
        if (row["method"], row["task"]) == (case.configuration.method, "stop_request")
    }
    assert list(number.rows) == list(asked)
    assert f"{sum(row['missed'] == '0' for row in asked.values())} of {len(asked)} attempts" in said.text


def test_what_is_behind_a_sentence_changes_it_in_the_file_and_nothing_else_does():
    """A sample drawn by a seed; other values than those that docgen tries, written into case.toml and read again."""
    rng = random.Random(20261129)
    letter, file = _letter("bohdan-lacroix-mbeki"), ASSESSED["bohdan-lacroix-mbeki"].file
    every = [answer.path for answer in others(file.case, file.lines) if table_at(answer.path[:-1])]
    all_texts = [sentence.text for sentence in letter.sentences]
    n_changed = n_stayed = 0
    for sentence in rng.sample([s for s in letter.sentences if s.facts or any(map(str.isdigit, s.text))], 2):
        behind = letter.behind(sentence)

        def as_often(path, text=sentence.text):
            value = drawn(file, path, rng)
            texts = None if value is None else sentences_with(file, path, value, "letter")
            return None if texts is None else texts.count(text) == all_texts.count(text)

        for path in [path for path in behind.keys if not _is_choice(file, path)][:3]:
            tries = {as_often(path) for _ in range(3)}
            assert False in tries or tries == {None}, (path, sentence.text)
            n_changed += False in tries
        untold = [path for path in every if path not in behind.keys and path not in behind.untried]
        for path in rng.sample(untold, 6):
            stays = as_often(path)
            assert stays is not False, (path, sentence.text)
            n_stayed += stays is True
    assert n_changed >= 2 and n_stayed >= 6


def _is_choice(file, path):
    """A word of a few, of which another may say the same in a sentence."""
    return bool(_choices(path))


def _choices(path):
    return choices_in(table_at(path[:-1]).model_fields[str(path[-1])].annotation)


@pytest.mark.parametrize("name", DEMOS)
def test_marks_change_no_word_and_each_leads_to_its_sentence(name):
    for tree in trees(ASSESSED[name], ("letter", "order")).values():
        with_marks = marked(tree)
        marks = [node for node in with_marks.walk() if node.kind == "fact" and node.name.startswith(MARK)]
        assert [mark.name.removeprefix(MARK) for mark in marks] == [sentence.id for sentence in sentences(tree)]
        assert len({mark.name for mark in marks}) == len(marks)
        assert _without(with_marks).plain() == tree.plain()


def _without(node):
    kept = [child for child in node.children if not (child.kind == "fact" and child.name.startswith(MARK))]
    return Node(node.kind, node.text, node.attrs, [_without(child) for child in kept])


def test_a_line_is_parted_where_a_sentence_ends():
    text = [Node("text", text="He drove 3. It stopped "), Node("strong", children=[Node("text", text="late. Twice")])]
    line = Node(
        "paragraph", children=[*text, Node("fact", attrs={"name": "x"}, children=[Node("text", text=" in 5.")])]
    )
    told = sentences(Node("document", children=[line]))
    assert [(s.text, s.facts) for s in told] == [("He drove 3.", ()), ("It stopped late.", ()), ("Twice in 5.", ("x",))]


@pytest.mark.parametrize("name", DEMOS)
def test_every_answer_of_a_demo_has_another_value_of_its_kind(name):
    file = ASSESSED[name].file
    for answer in others(file.case, file.lines):
        if answer.value is None:  # a key of one choice alone holds it or nothing
            assert _is_choice(file, answer.path) and len(_choices(answer.path)) == 1, answer.path
            continue
        changed = with_others(file.case, {answer.path: answer.value})
        assert (changed, changed.tried) != (file.case, file.case.tried), answer.path
