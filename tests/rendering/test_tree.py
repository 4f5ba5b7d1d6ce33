"""Markdown of the dialect and the tree it stands for; cases are text files in pairs/."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from gathered import of_each
from hypothesis import given, settings
from hypothesis import strategies as st
from markdown_it import MarkdownIt
from trees import BLOCKS, INLINES

from docgen.rendering.dialect import _RULES, MOST_LEVELS, sections
from docgen.rendering.tree import DialectError, Node, outline, parse

_PAIR = re.compile(r"(?P<title>[^\n]+)\n\.\n(?P<markdown>.*?)\n\.\n(?P<expected>.*?)\n\.(?:\n|$)", re.DOTALL)


def _pairs() -> list:
    found = []
    for file in sorted(Path(__file__).with_name("pairs").glob("*.md")):
        text = file.read_text(encoding="utf-8")
        matches = list(_PAIR.finditer(text))
        # a pair with a slip in its dots would otherwise be left out in silence
        assert _PAIR.sub("", text).strip() == "", file.name
        found += [pytest.param(*match.groups()[1:], id=f"{file.stem}: {match['title']}") for match in matches]
    return found


@of_each(("markdown", "expected"), _pairs())
def test_markdown_becomes_this_tree_or_this_error(markdown, expected):
    try:
        seen = "\n".join(outline(block) for block in parse(markdown).children)
    except DialectError as error:
        seen = f"line {error.line}: {error}"
    assert seen == expected


# what may stand before a heading, and what a heading may stand in
_LINES = [
    *("# One", "## Two *of* it", "####### no heading", "#none", " # indented", "", "words", "    far in", "---"),
    *("- item", "  - below", "  # in an item", "1. first", "> quoted", "> # in a quote", "> [!NOTE]", ">", "> - item"),
    *(
        "| a | b |",
        "|---|---|",
        "| # c | d |",
        "Table: its caption",
        "![](page:break)",
        "[a]: /b",
        "```",
        "<p>",
        "- # x",
    ),
]


@given(st.text(st.sampled_from("ab \\*_[]()!#.:|-`<>&~\u00a0\u00e9\n"), max_size=60))
@settings(max_examples=400, deadline=None)
def test_a_line_of_words_alone_is_what_the_whole_parser_finds(markdown):
    assert _in_sections(markdown) == _whole(markdown)


@given(st.lists(st.sampled_from(_LINES), max_size=12))
@settings(max_examples=400, deadline=None)
def test_sections_read_apart_are_what_the_whole_parser_finds(lines):
    assert _in_sections("\n".join(lines)) == _whole("\n".join(lines))


def _in_sections(markdown):
    return [_told(token, above) for above, section in sections(markdown) for token in section]


def _whole(markdown):
    whole = MarkdownIt(
        "zero", {"html": False, "alerts": True, "tasklists": True, "maxNesting": 2 * MOST_LEVELS}
    ).enable(_RULES)
    whole.validateLink = lambda target: True
    return [_told(token) for token in whole.parse(markdown)]


def _told(token, above=0):
    """What the tree is made from, and its lines."""
    children = [_told(child) for child in token.children or ()]
    return token.type, token.level, token.content, token.attrs, [above + line for line in token.map or ()], children


def test_an_empty_document_has_no_blocks():
    assert outline(parse("")) == "document()"


def test_two_tables_in_a_row_stay_two():
    tables = parse("Table: one\n\n| a |\n|--|\n| b |\n\n| c |\n|--|\n| d |").children
    assert [table.caption for table in tables] == ["one", ""]


def test_a_list_may_begin_at_zero():
    assert parse("0. a").children[0].start == 0


def test_an_error_in_a_table_names_the_line_of_its_row():
    with pytest.raises(DialectError) as caught:
        parse("| a |\n|--|\n| b |\n| [c](zz:1) |")
    assert caught.value.line == 4


def test_every_kind_document_has_every_kind(every_kind):
    assert {node.kind for node in every_kind.walk()} == BLOCKS | INLINES


def test_plain_leaves_only_the_words(every_kind):
    paragraph = parse("*a* [b](fact:x) **[c](gap:y)** [d](#e)").children[0]
    assert paragraph.plain() == "a b c d"
    assert every_kind.plain() == "".join(node.text for node in every_kind.walk())


def test_a_missing_attribute_is_named():
    with pytest.raises(AttributeError, match="a text node has no level"):
        _ = Node("text").level


# every ASCII punctuation mark escaped, white space folded: how a template writes text it was given
_ESCAPED = re.compile(r"([!-/:-@\[-`{-~])")
_WORDS = (
    st.text(st.characters(exclude_categories=("Cc", "Cs", "Zl", "Zp", "Zs")), min_size=1)
    .map(lambda text: " ".join(text.split()))
    .filter(bool)
)
_FORMS = (
    "{}",
    "# {}",
    "- {}",
    "1. {}",
    "- [ ] {}",
    "> {}",
    "a **{}** b",
    "a *{}* b",
    "[{}](fact:x)",
    "| a |\n|--|\n| {} |",
    "![{}](fig:x)",
    "![{}](sign:)",
    "![{}](page:break)",
    "> [!NOTE]\n> {}",
)


@settings(max_examples=60, deadline=None)
@given(_WORDS, st.sampled_from(_FORMS))
def test_escaped_text_is_never_structure(text, form):
    source = _ESCAPED.sub(r"\\\1", text)
    filled, plain = parse(form.replace("{}", source)), parse(form.replace("{}", "x"))
    assert _shape(filled) == _shape(plain)
    assert [node.text for node in filled.walk() if node.kind == "text"] == [
        node.text if node.text != "x" else text for node in plain.walk() if node.kind == "text"
    ]


def _shape(node: Node) -> tuple:
    return (node.kind, *(_shape(child) for child in node.children))
