"""A template from anyone: what it may not do, each with its line, and that nothing in it runs for ever or fills the
memory."""

from __future__ import annotations

import tracemalloc

import pytest
from gathered import of_each
from hypothesis import given, settings
from hypothesis import strategies as st
from jinja2 import FunctionLoader
from mutate_files import SNIPPETS
from support import DEMO_FOLDERS

from docgen.documents.phrase import filters, missing
from docgen.documents.view import Shown
from docgen.errors import UserError
from docgen.packet.assess import assess
from docgen.packet.trees import trees
from docgen.packet.wording import language_words, overlaid
from docgen.rendering.template import TemplateProblem, environment, fill
from docgen.resources import folder

VIEW = {
    "client": Shown({"name": "Robin Example", "called": "Robin"}),
    "many": tuple(Shown({"says": "words " * 100}) for _ in range(200)),
}
WORDS = language_words()


def filled(text: str, **others: str) -> str:
    names = {"letter.md": text, **others}
    env = environment(
        FunctionLoader(lambda name: (names[name], name, None) if name in names else None),
        filters(WORDS),
        {"gap": missing(WORDS)},
    )
    return fill(env, "letter.md", VIEW)


def refused(text: str, **others: str) -> TemplateProblem:
    with pytest.raises(TemplateProblem) as caught:
        filled(text, **others)
    assert len(caught.value.what) < 300
    return caught.value


# each stands on the third line
HOSTILE = {
    "a class by a dot": ("{{ ''.__class__ }}", "unsafe"),
    "a class by an index": ("{{ client['__class__'] }}", ""),
    "a class of a view": ("{{ client.__class__.__mro__ }}", ""),
    "the values behind a view": ("{{ client._values }}", ""),
    "a class by a filter": ("{{ client|attr('__class__') }}", "No filter named 'attr'"),
    "a class by a mapped attribute": ("{{ [1]|map(attribute='__class__')|list|first }}", ""),
    "a format string": ("{{ '{0.__class__}'.format(client) }}", "can call nothing"),
    "a format string by a map": ("{{ '{0.__class__}'.format_map(client) }}", "can call nothing"),
    "a format string by a sign": ("{{ '%s' % client }}", "has no 'mod'"),
    "a format filter": ("{{ '%1000000000d'|format(1) }}", "No filter named 'format'"),
    "a method of a value": ("{{ client.name.upper() }}", "can call nothing"),
    "a method of a view": ("{{ client.__getitem__('name') }}", ""),
    "what a function belongs to": ("{{ gap.__globals__ }}", "unsafe"),
    "what a range belongs to": ("{{ range.__self__ }}", ""),
    "what the macro belongs to": ("{% macro m() %}x{% endmacro %}{{ m._environment }}", "unsafe"),
    "what the loop belongs to": ("{% for a in [1] %}{{ loop._iterable }}{% endfor %}", "unsafe"),
    "the template itself": ("{{ self._TemplateReference__context }}", ""),
    "the helpers of Jinja2": ("{{ cycler.__init__.__globals__ }}", "unsafe"),
    "the settings of an application": ("{{ config }}", "'config' is undefined"),
    "the environment of the system": ("{{ environ }}", "'environ' is undefined"),
    "a file": ("{% include '/etc/passwd' %}", "has no 'include'"),
    "a file above": ("{% from '../words.toml' import x %}", "../words.toml"),
    "a module": ("{% import 'os' as os %}", "has no 'import'"),
    "a parent": ("{% extends '/etc/passwd' %}", "has no 'extends'"),
    "a part from a name": ("{% from client.name import x %}", "Robin Example"),
    "a block": ("{% block x %}{% endblock %}", "has no 'block'"),
    "a join past the escape": ("{{ client.name ~ '*' }}", "has no 'concat'"),
    "a sum of texts": ("{{ client.name + '*' }}", "whole numbers alone"),
    "a text many times": ("{{ 'x' * 1000000000 }}", "has no 'mul'"),
    "a power of powers": ("{{ 10**10**10 }}", "has no 'pow'"),
    "a list many times": ("{{ [1] * 1000000000 }}", "has no 'mul'"),
    "a list of lists": ("{% set a = [client, client] %}", "plain words and numbers"),
    "a wide text": ("{{ 'a'|center(1000000000) }}", "No filter named 'center'"),
    "a wide batch": ("{{ [1]|batch(1000000000, 'x')|list }}", ""),
    "a long range": ("{% for a in range(1000000000) %}x{% endfor %}", "at most 1,000 numbers"),
    "a range of powers": ("{% for a in range(10**9) %}x{% endfor %}", "has no 'pow'"),
    "loops in loops": (
        (
            "{% for a in range(999) %}{% for b in range(999) %}{% for c in range(999) %}x{% endfor %}{% endfor "
            "%}{% endfor %}"
        ),
        "makes too much or never ends",
    ),
    "loops that print nothing": (
        (
            "{% for a in range(999) %}{% for b in range(999) %}{% for c in range(999) %}{% endfor %}{% endfor "
            "%}{% endfor %}"
        ),
        "makes too much or never ends",
    ),
    "loops over letters": (
        "{% for a in client.name %}" * 12 + "x" + "{% endfor %}" * 12,
        "makes too much or never ends",
    ),
    "a loop that calls itself": ("{% for a in [1] recursive %}{{ loop([1]) }}{% endfor %}", "has no 'recursive'"),
    "long words in loops": (
        "{% for a in many %}{% for b in many %}{{ b.says }}{% endfor %}{% endfor %}",
        "makes too much or never ends",
    ),
    "long words of its own in loops": (
        "{% for a in range(100) %}{% for b in range(100) %}" + "w" * 9000 + "{% endfor %}{% endfor %}",
        "makes too much or never ends",
    ),
    "a macro that calls itself": ("{% macro m() %}{{ m() }}{% endmacro %}{{ m() }}", "itself without end"),
    "a macro that calls itself twice, twelve deep": (
        "{% macro m(n) %}{% if n %}{{ m(n - 1) }}{{ m(n - 1) }}{% endif %}{% endmacro %}{{ m(40) }}",
        "makes too much or never ends",
    ),
    "a macro that doubles": (
        "".join(
            (
                f"{{% macro m{n} () %}}{{{{ m{n - 1}() if {n} else client.name }}}}{{{{ m{n - 1}() if {n} else 1 "
                "}}{% endmacro %}"
            )
            for n in range(40)
        )
        + "{{ m39() }}",
        "makes too much or never ends",
    ),
    "a captured text that doubles": ("{% set a %}{{ client.name }}{% endset %}", "has no 'assignblock'"),
    "a list of phrases that multiplies": (
        "{% set a = range(999)|map('plural', client.name, client.name)|listed %}"
        + "".join(f"{{% set a = range(999)|map('plural', a, a)|listed %}}{n}" for n in range(3))
        + "{{ a }}",
        "makes too much or never ends",
    ),
    "brackets in brackets": ("{{ " + "(" * 90 + "1" + " + 1)" * 90 + " }}", "nested too deep"),
    "brackets without end": ("{{ " + "(" * 5000 + " }}", "nested too deep"),
    "conditions in conditions": ("{% if client.name %}" * 60 + "x" + "{% endif %}" * 60, "nested too deep"),
    "a number of many digits": ("{{ " + "9" * 5000 + " }}", "too long"),
    "a number that is none": ("{{ 1.5 }}", "cannot print a float"),
    "a table of values": ("{{ client }}", "cannot print a Shown"),
    "nothing": ("{{ none }}", "cannot print a NoneType"),
    "a function": ("{{ range }}", "cannot print a function"),
    "many values at once": ("{{ gap(*many) }}", "one by one"),
    "words of the program": ("{{ client.name|word('full') }}", "no such entry"),
}


@of_each("name", HOSTILE)
def test_a_template_that_reaches_out_or_never_ends_is_refused_at_its_line(name):
    text, words = HOSTILE[name]
    problem = refused(f"first\n\n{text}\n")
    assert problem.name == "letter.md" and words in problem.what
    if "nested" not in words and words != "itself without end":
        assert problem.line == 3
    assert "Robin Example" not in problem.what or name == "a part from a name"


def test_parts_that_use_each_other_end():
    problem = refused(
        "{% from '_a.md' import x %}",
        **{"_a.md": "{% from '_b.md' import x %}", "_b.md": "{% from '_a.md' import x %}"},
    )
    assert "without end" in problem.what


@pytest.mark.parametrize(
    "name", ["a text many times", "long words of its own in loops", "a list of phrases that multiplies", "a wide batch"]
)
def test_what_a_template_asks_for_never_fills_the_memory(name):
    tracemalloc.start()
    refused(HOSTILE[name][0])
    most = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert most < 40_000_000


def test_each_template_starts_with_a_whole_allowance():
    half = "{% for a in range(150) %}{% for b in range(80) %}x{% endfor %}{% endfor %}"
    assert filled(half) == filled(half) == "x" * 12_000
    refused(half + half)


@settings(max_examples=150, deadline=None)
@given(
    st.lists(
        st.one_of(
            st.sampled_from(SNIPPETS),
            st.sampled_from(
                [
                    "{{",
                    "}}",
                    "{%",
                    "%}",
                    " for a in many ",
                    " if client ",
                    " endif ",
                    " endfor ",
                    "client.name",
                    "|",
                    "(",
                    ")",
                    "\n",
                ]
            ),
            st.text(max_size=10),
        ),
        max_size=8,
    )
    .map("".join)
    .map(lambda text: text.replace("\r", ""))
)
def test_any_template_gives_text_or_a_problem_with_its_line(text):
    try:
        made = filled(text)
    except TemplateProblem as problem:
        assert 1 <= problem.line <= text.count("\n") + 1
        return
    assert "<class" not in made and "object at 0x" not in made


@pytest.fixture
def overlay(tmp_path):
    """One of the program's templates, changed, in a folder of its own."""

    def changed(name: str, old: str, new: str):
        text = (folder("templates") / "en" / name).read_text(encoding="utf-8")
        assert old in text
        (tmp_path / name).write_text(text.replace(old, new, 1), encoding="utf-8")
        return tmp_path

    return changed


@pytest.mark.parametrize(
    "part, line, words",
    [
        ("{% macro x() %}\n{{ x() }}{% endmacro %}{{ x() }}", 2, "without end"),
        ("\n{{ " + "(" * 5000, 1, "nested too deep"),
        ("\n" + "{% for a in [1] %}" * 25 + "{% endfor %}" * 25, 1, "nested too deep"),
        ("\n{{ none }}{% macro x() %}{% endmacro %}", 2, "NoneType"),
        ("\n\n{# never closed", 3, "Missing end of comment"),
    ],
)
def test_what_is_wrong_in_a_part_is_told_of_the_part(part, line, words):
    problem = refused("{% from '_a.md' import x %}", **{"_a.md": part})
    assert (problem.name, problem.line) == ("_a.md", line) and words in problem.what


def test_markdown_outside_the_dialect_that_a_part_makes_is_told_of_the_part(overlay):
    place = overlay("_open.md", "{% macro own(", "{% macro own(")
    text = (place / "_open.md").read_text(encoding="utf-8").split("\n")
    at = next(at for at, line in enumerate(text) if line.startswith("{% macro own("))
    (place / "_open.md").write_text(
        "\n".join([*text[: at + 1], "", "A [word](file:///etc/passwd) of its own.", "", *text[at + 1 :]]),
        encoding="utf-8",
    )
    with pytest.raises(UserError) as caught:
        trees(assess(DEMO_FOLDERS[2]), worded=overlaid(place))
    assert f"{place / '_open.md'}:{at + 3}: made Markdown outside the dialect" in str(caught.value)


def test_an_overlay_cannot_change_which_cases_a_document_is_for(overlay):
    place = overlay("letter.md", "figures = ", 'needs = "denial"\nfigures = ')
    with pytest.raises(UserError) as caught:
        overlaid(place)
    line = _line_of(place / "letter.md", 'needs = "denial"')
    assert str(caught.value).startswith(f"{place / 'letter.md'}:{line}: the letter must keep its needs: 'none'")


def test_an_overlay_of_words_keeps_every_key_of_a_table_in_a_list(tmp_path):
    text = (folder("templates") / "en" / "words.toml").read_text(encoding="utf-8")
    first = text.index("[[stages]]")
    aim = text.index("coach = ", first)
    (tmp_path / "words.toml").write_text(text[:aim] + "# " + text[aim:], encoding="utf-8")
    with pytest.raises(UserError) as caught:
        overlaid(tmp_path)
    assert (
        len(caught.value.problems) == 1
        and "stages must hold" in str(caught.value)
        and f"words.toml:{text[:first].count(chr(10)) + 1}:" in str(caught.value)
    )


def _line_of(path, text: str) -> int:
    return path.read_text(encoding="utf-8").split("\n").index(text) + 1


@pytest.mark.parametrize(
    "name, asked",
    [
        ("guide.md", 'diagnoses = ["name"]'),
        ("guide.md", 'request = ["payer_name"]'),
        ("letter.md", 'taught = ["who"]'),
        ("order.md", 'findings = ["says"]'),
        ("cover.md", 'cautions = ["says"]'),
        ("plan.md", 'alternatives = ["reason"]'),
    ],
)
def test_an_overlay_that_asks_for_what_its_reader_may_not_see_fails_at_its_line(name, asked, overlay):
    place = overlay(name, "[shows]\n", f"[shows]\n{asked}\n")
    with pytest.raises(UserError) as caught:
        overlaid(place)
    problem = caught.value.problems[0]
    assert "must never show" in problem.what and problem.where == f"{place / name}:{_line_of(place / name, asked)}"


def test_an_overlay_that_names_what_its_front_matter_does_not_list_fails_at_its_line(overlay):
    case = next(path for path in folder("cases").iterdir() if (path / "case.toml").is_file())
    body = (folder("templates") / "en" / "guide.md").read_text(encoding="utf-8").split("+++\n")[2]
    place = overlay("guide.md", body, "{{ client.member_id }}\n" + body)
    with pytest.raises(UserError) as caught:
        trees(assess(case), worded=overlaid(place))
    assert f"guide.md:{_line_of(place / 'guide.md', '{{ client.member_id }}')}" in str(caught.value)
