"""The HTML: one file that needs nothing, says what it is, and keeps every word."""

from __future__ import annotations

import re
from html.parser import HTMLParser

import pytest
from gathered import of_each
from hypothesis import example, given, settings
from msgspec.structs import replace
from texts import HOSTILE, any_text
from trees import BLOCKS

from docgen.rendering.formats import to_html
from docgen.rendering.labels import Labels
from docgen.rendering.style import REGULAR
from docgen.rendering.tree import Node, parse
from docgen.scene import Scene

_VOID = {"meta", "input", "col", "hr", "br", "wbr", "link", "img"}


class _Page(HTMLParser):
    """Every element with its attributes, the words in it and the elements it stands in."""

    def __init__(self, html):
        super().__init__(convert_charrefs=True)
        self.elements, self.open, self.faults = [], [], []
        self.feed(html)
        self.close()

    def handle_starttag(self, tag, attrs):
        element = {"tag": tag, "attrs": dict(attrs), "words": "", "in": [outer["tag"] for outer in self.open]}
        self.elements.append(element)
        if tag not in _VOID:
            self.open.append(element)

    def handle_startendtag(self, tag, attrs):
        self.handle_starttag(tag, attrs)
        if tag not in _VOID:
            self.open.pop()

    def handle_endtag(self, tag):
        if not self.open or self.open.pop()["tag"] != tag:
            self.faults.append(tag)

    def handle_data(self, data):
        for element in self.open:
            element["words"] += data

    def all(self, tag):
        return [element for element in self.elements if element["tag"] == tag]


def _read(document, page, scenes=None, **options):
    document = parse(document) if isinstance(document, str) else document
    return _Page(to_html.render(document, page, scenes or {}, **options).decode())


@pytest.fixture(scope="module")
def html(page, scenes, every_kind_once):
    return to_html.render(every_kind_once, page, scenes).decode()


def test_every_element_is_closed_in_order(html):
    read = _Page(html)
    assert read.faults == []
    assert read.open == []


def test_the_page_says_what_it_is(html, page):
    read = _Page(html)
    assert html.startswith("<!DOCTYPE html>")
    assert read.all("html")[0]["attrs"]["lang"] == page.lang
    assert read.all("title")[0]["words"] == page.title
    metas = [element["attrs"] for element in read.all("meta")]
    assert {"charset": "utf-8"} in metas
    assert {"name": "viewport", "content": "width=device-width, initial-scale=1"} in metas
    assert {"name": "author", "content": page.author} in metas


def test_nothing_comes_from_outside(html):
    read = _Page(html)
    tags = {element["tag"] for element in read.elements}
    assert not tags & {"script", "link", "img", "iframe", "object", "embed", "base"}
    for element in read.elements:
        for name, value in element["attrs"].items():
            assert name not in ("src", "srcset", "data", "poster", "background", "action")
            assert not name.startswith("on")
            if "://" in (value or ""):
                assert (element["tag"], name) in {("a", "href"), ("svg", "xmlns")}
    sheet = read.all("style")[0]["words"]
    assert "url(" not in sheet
    assert "@import" not in sheet
    (policy,) = [meta["attrs"]["content"] for meta in read.all("meta") if "http-equiv" in meta["attrs"]]
    assert "default-src 'none'" in policy


def test_ids_are_unique_and_every_reference_finds_one(html):
    elements = _Page(html).elements
    ids = [element["attrs"]["id"] for element in elements if "id" in element["attrs"]]
    assert len(ids) == len(set(ids))
    for element in elements:
        for name in ("aria-labelledby", "aria-describedby"):
            if name in element["attrs"]:
                assert element["attrs"][name] in ids
        if element["attrs"].get("href", "").startswith("#"):
            assert element["attrs"]["href"][1:] in ids


def test_everything_stands_in_a_landmark(html):
    read = _Page(html)
    assert [len(read.all(tag)) for tag in ("header", "main", "h1")] == [1, 1, 1]
    direct = {element["tag"] for element in read.elements if element["in"][-1:] == ["body"]}
    assert direct == {"header", "main"}


def test_the_status_stands_on_top_and_only_when_there_is_one(page):
    top = _read("# a", page)
    assert [element["words"] for element in top.all("p")][:3] == [
        "Draft: 3 gaps open",
        "Robin Example, letter",
        "November 25, 2026",
    ]
    assert top.all("time")[0]["attrs"]["datetime"] == "2026-11-25"
    plain = _read("# a", replace(page, status="", author=""))
    assert not [element for element in plain.elements if element["attrs"].get("class") == "status"]
    assert not [meta for meta in plain.all("meta") if meta["attrs"].get("name") == "author"]


@pytest.mark.parametrize(("paper", "size"), [("letter", "letter"), ("a4", "A4")])
def test_paper_shows_head_date_status_and_page_numbers(page, paper, size):
    sheet = _read("a", replace(page, paper=paper)).all("style")[0]["words"]
    rule = sheet[sheet.index("@page{") :]
    assert f"size:{size};" in rule
    assert '@top-left{content:"Robin Example\\2c  letter"' in rule
    assert '@top-center{content:"Draft\\3a  3 gaps open"' in rule
    assert '@top-right{content:"November 25\\2c  2026"' in rule
    assert 'counter(page) " of " counter(pages)' in rule


def _luminance(hexed):
    parts = [int(hexed[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def test_text_and_ground_differ_enough():
    # Source: WCAG 2.2, 1.4.3 and the definition of relative luminance; 4.5 to 1 for ordinary text
    darkest_ground = _luminance("#" + f"{round(REGULAR.gap_fill * 255):02x}" * 3)
    lightest_text = _luminance("#" + f"{round(REGULAR.furniture.shade * 255):02x}" * 3)
    assert (1.05) / (lightest_text + 0.05) >= 4.5
    assert (darkest_ground + 0.05) / 0.05 >= 4.5
    # Check: black on white is 21 to 1 by definition
    assert (_luminance("#ffffff") + 0.05) / (_luminance("#000000") + 0.05) == pytest.approx(21)


# blocks


def test_lists_keep_their_order_and_start(page):
    read = _read("7. a\n   - b\n8. c\n\nx\n\n1. d", page)
    assert [element["attrs"] for element in read.all("ol")] == [{"start": "7"}, {}]
    assert [element["in"][-3:] for element in read.all("li")] == [
        ["body", "main", "ol"],
        ["ol", "li", "ul"],
        ["body", "main", "ol"],
        ["body", "main", "ol"],
    ]


def test_a_tick_box_is_named_by_its_words(page):
    read = _read("- [ ] **open**\n- [x] done", page)
    boxes = [element["attrs"] for element in read.all("input")]
    assert ["checked" in box for box in boxes] == [False, True]
    names = {element["attrs"]["id"]: element["words"] for element in read.all("span")}
    assert [names[box["aria-labelledby"]] for box in boxes] == ["open", "done"]


def test_a_table_scrolls_in_a_region_of_its_own(page):
    read = _read("Table: t\n\n| a | b | c |\n|--|--:|:-:|\n| 1 | 2 | 3 |\n\nx\n\n| d |\n|--|\n| e |", page)
    first, second = [element["attrs"] for element in read.all("div")]
    (caption,) = read.all("caption")
    assert caption["words"] == "Table 1. t"
    assert (first["tabindex"], first["role"]) == ("0", "region")
    assert first["aria-labelledby"] == caption["attrs"]["id"]
    assert (second["tabindex"], second["role"], second["aria-label"]) == ("0", "group", "d")
    assert [cell["attrs"] for cell in read.all("th")] == [
        {"scope": "col"},
        {"scope": "col", "class": "right"},
        {"scope": "col", "class": "center"},
        {"scope": "col"},
    ]
    assert [cell["attrs"].get("class") for cell in read.all("td")] == [None, "right", "center", None]
    assert {cell["in"][-2] for cell in read.all("th")} == {"thead"}


def test_a_cell_with_a_very_long_word_may_break_it(page):
    read = _read(f"| a |\n|--|\n| {'x' * 31} |\n| {'x' * 30} |", page)
    assert [cell["attrs"].get("class") for cell in read.all("td")] == ["long", None]


def test_a_table_that_fills_the_line_shares_it_out(page):
    read = _read("| a | b |\n|--|--|\n| c | " + "word " * 80 + "|", page)
    shares = [float(re.fullmatch(r"width:([\d.]+)%", col["attrs"]["style"])[1]) for col in read.all("col")]
    assert sum(shares) == pytest.approx(100, abs=0.2)
    assert shares[1] > shares[0]


@pytest.mark.parametrize("tone", ["note", "important", "warning", "caution"])
def test_a_call_out_is_a_note_named_by_its_tone(page, tone):
    (box,) = _read(f"> [!{tone.upper()}]\n> a", page).all("div")
    assert box["attrs"] == {"class": f"callout {tone}", "role": "note", "aria-label": tone.capitalize()}
    sheet = _read("a", page).all("style")[0]["words"]
    assert f".{tone}{{border-inline-start-width:{REGULAR.callout_bar[tone]}pt}}" in sheet


def test_the_same_figure_twice_has_two_names(page, scenes):
    read = _read("![a *b*](fig:pads)\n\n![](fig:pads)", page, scenes)
    assert [caption["words"] for caption in read.all("figcaption")] == ["Figure 1. a b"]
    titles = [title for title in read.all("title") if "svg" in title["in"]]
    assert [title["words"] for title in titles] == [scenes["pads"].alt] * 2
    assert len({title["attrs"]["id"] for title in titles}) == 2
    assert all(image["attrs"]["role"] == "img" for image in read.all("svg"))


def test_signature_page_break_and_rule(page):
    read = _read("![Ada Sample](sign:)\n\n![](page:break)\n\n---", page)
    boxes = [(box["attrs"]["class"], box["words"]) for box in read.all("div")]
    assert boxes == [("signature", "Ada SampleDate"), ("page-break", "")]
    assert len(read.all("hr")) == 1


def test_the_words_of_the_renderer_can_be_replaced(page, scenes):
    labels = Labels(
        date="Datum",
        page="Seite",
        of="von",
        figure="Abbildung",
        note="Hinweis",
        months=("x",) * 10 + ("November", "x"),
        day_form="{day}. {month} {year}",
    )
    read = _read("![a](fig:pads)\n\n![b](sign:)\n\n> c", page, scenes, labels=labels)
    assert read.all("figcaption")[0]["words"] == "Abbildung 1. a"
    assert read.all("time")[0]["words"] == "25. November 2026"
    assert [box["attrs"].get("aria-label") for box in read.all("div")][-1] == "Hinweis"
    assert 'content:"Seite " counter(page) " von "' in read.all("style")[0]["words"]


# words of a line


def test_facts_and_gaps_carry_their_names(page):
    read = _read("[32 of 38](fact:success.head) [not recorded: weight](gap:client.weight_kg) **c** *d*", page)
    (fact,), (gap,) = read.all("span"), read.all("mark")
    assert (fact["attrs"], fact["words"]) == ({"data-fact": "success.head"}, "32 of 38")
    assert (gap["attrs"], gap["words"]) == ({"class": "gap", "data-gap": "client.weight_kg"}, "not recorded: weight")
    assert (read.all("strong")[0]["words"], read.all("em")[0]["words"]) == ("c", "d")


@of_each(
    ("target", "live"),
    [
        ("https://example.org/?a=1&b=\"<'", True),
        ("http://example.org", True),
        ("mailto:a@example.org", True),
        ("tel:+15550100", True),
        ("#far-away", True),
        ("#nowhere", False),
        ("javascript:alert(1)", False),
        (" javascript:alert(1)", False),
        ("JAVASCRIPT:alert(1)", False),
        ("data:text/html,x", False),
        ("file:///etc", False),
        ("other.html", False),
        ("//example.org", False),
        ("", False),
    ],
)
def test_only_addresses_and_places_of_the_page_become_links(page, target, live):
    link = Node("link", attrs={"target": target}, children=[Node("text", text="a")])
    heading = Node("heading", attrs={"level": 2}, children=[Node("text", text="Far away")])
    read = _read(Node("document", children=[heading, Node("paragraph", children=[link])]), page)
    assert [element["attrs"] for element in read.all("a")] == ([{"href": target}] if live else [])
    assert [element["words"] for element in read.all("p")][-1] == "a"


def _in_every_place(text):
    words = [Node("text", text=text)]
    row = Node("row", attrs={"header": False, "role": ""}, children=[Node("cell", children=words)])
    item = Node("item", attrs={"checked": True}, children=[Node("paragraph", children=words)])
    return Node(
        "document",
        children=[
            Node("heading", attrs={"level": 2}, children=words),
            Node("paragraph", children=[Node("fact", attrs={"name": text}, children=words)]),
            Node("list", attrs={"ordered": False, "start": 1}, children=[item]),
            Node("table", attrs={"caption": "", "aligns": ("left",)}, children=[row]),
            Node("figure", attrs={"name": "x"}),
            Node("signature", children=[Node("gap", attrs={"name": text}, children=words)]),
        ],
    )


@settings(max_examples=80, deadline=None)
@given(any_text("\t\n\r"))
@example(HOSTILE)
def test_any_text_survives_in_every_place(page, text):
    scenes = {"x": Scene(10, 10, text, ())}
    changed = replace(page, title=text, running_head=text, status=text, author=text)
    read = _read(_in_every_place(text), changed, scenes)
    assert read.faults == []
    # a table that fills the line also states its column widths
    assert {element["tag"] for element in read.elements} - {"col", "colgroup", "bdi"} == {
        "html",
        "head",
        "meta",
        "title",
        "style",
        "body",
        "header",
        "p",
        "time",
        "main",
        "h2",
        "span",
        "ul",
        "li",
        "input",
        "div",
        "table",
        "tbody",
        "tr",
        "td",
        "figure",
        "svg",
        "mark",
    }
    for tag in ("h2", "td", "mark", "title"):
        assert {element["words"] for element in read.all(tag)} == {text}
    assert [element["words"] for element in read.all("p")][:2] == [text, text]
    assert [element["words"] for element in read.all("span")] == [text, text]
    assert read.all("span")[0]["attrs"]["data-fact"] == read.all("mark")[0]["attrs"]["data-gap"] == text


@settings(max_examples=60, deadline=None)
@given(any_text("\t\n\r"))
@example(HOSTILE)
def test_no_text_can_leave_the_style_sheet(page, text):
    sheet = _read("a", replace(page, running_head=text, status=text)).all("style")[0]["words"]
    strings = re.findall(r'content:"((?:[^"\\]|\\[0-9a-f]+ )*)"', sheet)
    decoded = [re.sub(r"\\([0-9a-f]+) ", lambda found: chr(int(found[1], 16)), string) for string in strings]
    assert text in decoded
    assert sheet.count("{") == sheet.count("}")


# what is refused


@of_each("char", ["\x00", "\x07", "\x1b", "\x7f", "\ud800", "\ufffe"])
def test_a_character_no_page_can_show_is_refused_by_its_code_point(page, char):
    with pytest.raises(ValueError, match=f"U\\+{ord(char):04X}"):
        _read(_in_every_place(f"a{char}b"), page, {"x": Scene(1, 1, "a", ())})


@of_each("kind", sorted(BLOCKS & {"document", "item", "row", "cell"}) + ["text", "marquee"])
def test_a_kind_that_cannot_stand_among_blocks_is_refused(page, kind):
    with pytest.raises(ValueError, match=kind):
        _read(Node("document", children=[Node(kind)]), page)


def test_an_unknown_kind_in_a_line_is_refused(page):
    with pytest.raises(ValueError, match="blink"):
        _read(Node("document", children=[Node("paragraph", children=[Node("blink")])]), page)


def test_a_missing_drawing_is_named(page, scenes):
    with pytest.raises(ValueError, match="'elsewhere'.*pads"):
        _read("![a](fig:elsewhere)", page, scenes)
