"""Any text of a case appears word for word in every format, whatever characters it holds."""

from __future__ import annotations

import json
import re
import zipfile

import pypdfium2
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from read_back import reader_of
from support import DEMO_FOLDERS, assess, run

from docgen.packet.render import render
from docgen.rendering.fonts import missing_glyphs
from docgen.rendering.formats import format_names

SOURCE = next(f for f in DEMO_FOLDERS if f.name == "ilmari-okonjo-vale")
NASTY = [
    "*stars* and _lines_",
    "a | b | c",
    "`code`",
    "<script>alert(1)</script>",
    "{{ client.member_id }}",
    "{% raw %}",
    "# 4 pad",
    "1. foot",
    "- dash",
    "+ plus",
    "> quote",
    "[!CAUTION] x",
    "---",
    "===",
    "![x](fig:pad_layout)",
    "[x](fact:y)",
    "&amp; &lt;",
    "https://example.org/?a=1&b=2",
    "back\\slash",
    "Table: no",
    "~~no~~",
    "| :-- |",
    "a\tb",
    "tail\\",
    "¿qué? ≥ 5 µm — “x”",
    "Ω Ж ế",
    "{# no #}",
    "%}",
    "$x^2$",
    "\u00a0edge",
    "a" * 300,
    "(x)",
    "'single' \"double\"",
    "line one\nline two",
    "[ ] box",
    "[x] box",
]


def _squeezed(text: str) -> str:
    """Without white space and hyphens: lines and cells break where they must."""
    return re.sub(r"[\s\u00ad\ufffe\u0002-]+", "", text)


def _with(text: str):
    """The demo case with one text in a paragraph, a cell, a list, bold and a heading."""
    assessed = assess(SOURCE)
    case = assessed.file.case
    client = case.client.model_copy(update={"function": text, "called": text})
    items = tuple(item.model_copy(update={"why": text}) for item in case.configuration.items)
    mounting = tuple(mount.model_copy(update={"at": text}) for mount in case.configuration.mounting)
    configuration = case.configuration.model_copy(update={"items": items, "mounting": mounting})
    changed = case.model_copy(update={"client": client, "configuration": configuration})
    from msgspec.structs import replace

    return replace(assessed, file=replace(assessed.file, case=changed), grounds=replace(assessed.grounds, case=changed))


def _times(text: str) -> dict[str, int]:
    """How often the text must stand in the letter: as prose, in each item's cell, as a name and as a heading."""
    return {"letter": 1 + len(assess(SOURCE).file.case.configuration.items) + 2}


def _check(text: str) -> None:
    files = render(_with(text), format_names(), ["letter"])
    wanted = _squeezed(re.sub(r"[^\S\u00a0]+", " ", text))
    for suffix in format_names():
        found = _squeezed("".join(reader_of(suffix).words(files[f"letter.{suffix}"])))
        assert found.count(wanted) >= _times(text)["letter"], suffix


@pytest.mark.parametrize("text", NASTY)
def test_text_with_meaning_elsewhere_is_only_text_here(text):
    _check(text)


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(
    st.text(
        st.characters(codec="utf-8", exclude_categories=("C", "Zl", "Zp", "Mn", "Me", "Mc")), min_size=1, max_size=40
    )
)
def test_any_text_the_fonts_can_show_survives_in_every_format(text):
    from docgen.case.base import clean_text

    try:
        text = clean_text(text)
    except ValueError:
        return
    if missing_glyphs(text) or not _squeezed(text):
        return
    _check(text)


def test_what_the_pdf_cannot_set_holds_nothing_up_and_is_told_with_its_line_before_and_after(demo, tmp_path):
    folder = demo("ilmari-okonjo-vale")
    toml = folder / "case.toml"
    text = toml.read_text(encoding="utf-8").replace('lives = "in a', 'lives = "\u6f22\u5b57 \U0001f600\ufe0f in a')
    toml.write_text(text, encoding="utf-8")
    line = next(at for at, one in enumerate(text.split("\n"), 1) if "\u6f22" in one)
    told = [
        f"{toml}:{line}: the PDF's typeface lacks {named}; DOCX and HTML hold it"
        for named in (
            "'\u6f22' U+6F22 CJK UNIFIED IDEOGRAPH-6F22, which stands there as [U+6F22]",
            "'\u5b57' U+5B57 CJK UNIFIED IDEOGRAPH-5B57, which stands there as [U+5B57]",
            "'\U0001f600' U+1F600 GRINNING FACE, which stands there as [U+1F600]",
        )
    ]
    status, page, _ = run("check", folder, "--all")
    shown = " ".join(page.split())
    assert status == 0 and "LETTERS THE PDF CANNOT SET" in page and all(" ".join(one.split()) in shown for one in told)
    assert "The PDF cannot set: 3 letters; see --all." in " ".join(run("check", folder)[1].split())
    assert json.loads(run("check", folder, "--json")[1])["typeface"] == told
    status, said, _ = run("build", folder, "--out", tmp_path, "--only", "letter")
    assert status == 0 and [one.strip() for one in said.splitlines() if "typeface" in one] == told
    packet = tmp_path / folder.name
    assert "\u6f22\u5b57 \U0001f600\ufe0f in a" in (packet / "letter.html").read_text(encoding="utf-8")
    assert "\u6f22\u5b57" in zipfile.ZipFile(packet / "letter.docx").read("word/document.xml").decode()
    with pypdfium2.PdfDocument(packet / "letter.pdf") as pdf:
        assert "[U+6F22 U+5B57] [U+1F600] in a" in " ".join(
            " ".join(page.get_textpage().get_text_range() for page in pdf).split()
        )


def test_what_the_pdf_can_set_is_not_spoken_of(demo):
    folder = demo("ilmari-okonjo-vale")
    assert (
        "CANNOT SET" not in run("check", folder)[1] and json.loads(run("check", folder, "--json")[1])["typeface"] == []
    )
