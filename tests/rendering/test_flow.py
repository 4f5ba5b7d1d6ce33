"""A paragraph is not parted from what it leads to: the rule, and that the two formats with pages follow it alike."""

from __future__ import annotations

import io

import docx
from gathered import of_each

from docgen.rendering.flow import leads_in
from docgen.rendering.formats import to_docx
from docgen.rendering.tree import parse

LED_INTO = {
    "list": "- one\n- two",
    "table": "| A |\n|:--|\n| b |",
    "callout": "> [!NOTE]\n> Read on.",
    "signature": "![Robin Example, OT](sign:)",
    "paragraph": "More words.",
}


@of_each("kind", LED_INTO)
@of_each("colon", [True, False])
def test_a_colon_holds_a_paragraph_to_what_it_leads_to_and_a_signature_needs_none(kind, colon, page):
    tree = parse(f"Words{':' if colon else '.'}\n\n{LED_INTO[kind]}")
    first, second = tree.children
    expected = kind == "signature" or (colon and kind != "paragraph")
    assert second.kind == kind and leads_in(first, second) == expected
    written = docx.Document(io.BytesIO(to_docx.render(tree, page, {}))).paragraphs[0]
    assert bool(written.paragraph_format.keep_with_next) == expected


def test_the_last_paragraph_leads_to_nothing():
    assert not leads_in(parse("Words:").children[0], None)
