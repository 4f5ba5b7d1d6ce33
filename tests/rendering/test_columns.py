"""Column widths, and the numbers and anchors every format shares."""

from __future__ import annotations

import pytest
from gathered import of_each
from hypothesis import given, settings
from hypothesis import strategies as st
from reportlab.pdfbase.pdfmetrics import stringWidth

from docgen.arial import arial_width
from docgen.rendering.columns import column_widths
from docgen.rendering.labels import Labels
from docgen.rendering.numbering import anchors, numbered
from docgen.rendering.tree import Node, parse


def _table(*rows):
    cells = ([Node("cell", children=[Node("text", text=text)]) for text in row] for row in rows)
    return Node("table", children=[Node("row", attrs={"header": False, "role": ""}, children=row) for row in cells])


def _one_per_character(text, bold):
    return float(len(text))


def test_a_small_table_is_as_wide_as_its_words():
    assert column_widths(_table(("ab", "c"), ("a", "cdef")), 100, _one_per_character, 1) == [4, 6]


def test_a_table_that_nearly_fills_the_line_is_drawn_out_to_it():
    assert sum(column_widths(_table(("a" * 40, "b" * 30)), 100, _one_per_character)) == pytest.approx(100)


def test_the_long_note_gives_way_not_the_short_words():
    widths = column_widths(_table(("two words", "note " * 60)), 100, _one_per_character)
    assert widths[0] >= 5
    assert sum(widths) == pytest.approx(100)


def _lines(widths, rows):
    """Lines of the table as these widths break its words."""

    def broken(text, width):
        n_lines, used = 1, 0
        for word in map(len, text.split()):
            n_lines, used = (
                (n_lines + 1, word) if used and used + 1 + word > width else (n_lines, used + word + bool(used))
            )
        return n_lines

    return sum(max(broken(text, width) for text, width in zip(row, widths, strict=True)) for row in rows)


def test_columns_give_way_to_each_other_until_the_rows_take_the_fewest_lines():
    rows = [("a long name " * 3, "note " * 6), ("short", "note " * 30), ("short", "note " * 30)]
    shared, closest = (column_widths(_table(*rows), 100, _one_per_character, closest=on) for on in (False, True))
    assert sum(closest) == pytest.approx(sum(shared)) == pytest.approx(100)
    assert _lines(closest, rows) < _lines(shared, rows)
    assert closest[0] >= 5  # its longest word


def test_a_column_to_write_in_gives_nothing_up():
    rows = [("As fitted here", "note " * 30), ("", "note " * 30), ("", "note " * 30)]
    shared, closest = (column_widths(_table(*rows), 60, _one_per_character, closest=on) for on in (False, True))
    assert closest[0] >= shared[0]


def test_a_word_wider_than_the_line_is_squeezed_and_the_rest_is_not():
    assert column_widths(_table(("x" * 500, "short", "also")), 100, _one_per_character) == [91, 5, 4]


def test_a_table_without_rows_has_no_columns():
    assert column_widths(Node("table"), 100, _one_per_character) == []


_ROWS = st.integers(1, 6).flatmap(
    lambda n: st.lists(st.lists(st.text("ab ", max_size=80), min_size=n, max_size=n), min_size=1, max_size=5)
)


@settings(max_examples=80, deadline=None)
@given(_ROWS, st.floats(30, 500), st.floats(0, 4))
def test_columns_fit_the_line_and_hold_their_longest_word_if_that_is_possible(rows, room, padding):
    widths = column_widths(_table(*rows), room, _one_per_character, padding)
    longest = [
        max(max(map(len, text.split()), default=1) for text in column) + 2 * padding
        for column in zip(*rows, strict=True)
    ]
    assert sum(widths) <= room + 1e-6
    assert min(widths) > 0
    if sum(longest) <= room:
        assert all(width >= least - 1e-6 for width, least in zip(widths, longest, strict=True))


@of_each("bold", [False, True])
@of_each(
    "text",
    [
        "The quick brown fox jumps over the lazy dog",
        "14 of 16 (0.88), 5 mm",
        "Doorway 81 cm",
        "WMAmi",
        "HEAD ARRAY, LEFT",
        "rate/100 m: 4.8",
        "well again after a rest of ten minutes",
    ],
)
def test_widths_are_near_those_of_the_metrics_reportlab_ships(text, bold):
    # Check: reportlab's copy of the standard Helvetica and Helvetica-Bold metrics
    exact = stringWidth(text, "Helvetica-Bold" if bold else "Helvetica", 9.5)
    assert arial_width(text, 9.5, bold) == pytest.approx(exact, rel=0.06)


def test_figures_and_tables_count_apart_and_only_with_a_caption():
    table = "| a |\n|--|\n\n"
    document = parse(f"![a](fig:x)\n\nTable: t\n\n{table}![](fig:x)\n\n> ![b](fig:y)\n\n{table}")
    numbers = numbered(document)
    counted = (node for node in document.walk() if node.kind in ("figure", "table"))
    named = [(node.kind, numbers.get(id(node))) for node in counted]
    assert named == [
        ("figure", "Figure 1"),
        ("table", "Table 1"),
        ("figure", None),
        ("figure", "Figure 2"),
        ("table", None),
    ]


def test_another_language_brings_its_own_words():
    document = parse("![a](fig:x)")
    assert list(numbered(document, labels=Labels(figure="Abbildung")).values()) == ["Abbildung 1"]


def test_anchors_are_the_words_and_never_the_same_twice():
    document = parse("# What was tried?\n\n## What was tried\n\n## Łódź 2\n\n## ---\n\n## What was tried 2")
    assert list(anchors(document).values()) == [
        "what-was-tried",
        "what-was-tried-2",
        "łódź-2",
        "section",
        "what-was-tried-2-2",
    ]
