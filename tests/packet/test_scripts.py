"""A client's name in its own script: whole in DOCX and HTML, in Latin letters in the PDF, and told before the build."""

from __future__ import annotations

import json
import re
import shutil
import unicodedata
import zipfile
from pathlib import Path

import pytest
from read_back import from_docx, from_html, from_pdf
from support import DEMO_FOLDERS, NOT_REVIEWED, run

SOURCE = next(folder for folder in DEMO_FOLDERS if folder.name == "ilmari-okonjo-vale")
LATIN = "Maryam Example"
# invented names, one for each way of writing; whether it runs from right to left
SCRIPTS = {
    "ar": ("مريم المثال", True),
    "fa": ("مریم نمونه‌پور", True),
    "hi": ("मरियम उदाहरण", False),
    "th": ("มาเรียม ตัวอย่าง", False),
    "zh-Hant": ("範例 瑪利", False),
    "ko": ("마리암 보기", False),
    "ru": ("Мария Пример", False),
}
SET = ("ru",)  # whose letters the typeface of the PDF has


def case_of(folder: Path, *lines: str) -> Path:
    """The ready demo for a client whose name is written by these lines."""
    case = folder / SOURCE.name
    shutil.copytree(SOURCE, case, ignore=NOT_REVIEWED)
    (case / "key.toml").unlink(missing_ok=True)
    toml = case / "case.toml"
    text = toml.read_text(encoding="utf-8")
    toml.write_text(re.sub(r"^name = .*", lambda _: "\n".join(lines), text, count=1, flags=re.M), encoding="utf-8")
    return case


@pytest.mark.parametrize("tag", SCRIPTS)
def test_a_name_is_read_back_in_logical_order_and_the_pdf_prints_what_it_can(tag, tmp_path):
    name, to_left = SCRIPTS[tag]
    case = case_of(tmp_path, f'name = "{LATIN}"', f'name_in_own_script = "{name}"', f'name_language = "{tag}"')
    checked = json.loads(run("check", case, "--json")[1])
    assert bool(checked["typeface"]) == (tag not in SET)
    assert all(name in line and "Latin letters" in line for line in checked["typeface"])
    status, _, errors = run("build", case, "--only", "cover", "--out", tmp_path / "out")
    assert status == 0, errors
    files = tmp_path / "out" / SOURCE.name
    both = unicodedata.normalize("NFC", f"{LATIN} ({name}), born")
    for words in (
        from_docx.words((files / "cover.docx").read_bytes()),
        from_html.words((files / "cover.html").read_bytes()),
    ):
        assert plain(both) in plain(words)
    printed = plain(from_pdf.words((files / "cover.pdf").read_bytes()))
    assert "[U+" not in printed
    expected = f"{LATIN} (in its own script in the Word file and the web page), born" if tag not in SET else both
    assert plain(expected) in printed
    markup = zipfile.ZipFile(files / "cover.docx").read("word/document.xml").decode()
    assert f'w:bidi="{tag}"' in markup and ("<w:rtl/>" in markup) == to_left
    assert f'<bdi dir="auto" lang="{tag}">' in (files / "cover.html").read_text(encoding="utf-8")


def plain(words: str | list[str]) -> str:
    """The words with one space between them."""
    return " ".join(words.split() if isinstance(words, str) else words)


def test_a_name_in_its_own_script_alone_is_built_all_the_same(tmp_path):
    """No Latin form: the PDF shows code points, the check says so and what would help, nothing is refused."""
    case = case_of(tmp_path, 'name = "مريم المثال"')
    told = json.loads(run("check", case, "--json")[1])["typeface"]
    assert len(told) == 6 and all("stands there as [U+06" in line for line in told)
    assert all("client.name_in_own_script" in line for line in told)
    status, _, errors = run("build", case, "--only", "guide", "--out", tmp_path / "out")
    assert status == 0 and "Traceback" not in errors
    html = (tmp_path / "out" / SOURCE.name / "guide.html").read_text(encoding="utf-8")
    assert "مريم المثال" in html


def test_a_copy_about_nobody_holds_the_name_in_no_script(tmp_path):
    name = "مريم المثال"
    case = case_of(tmp_path, f'name = "{LATIN}"', f'name_in_own_script = "{name}"', 'name_language = "ar"')
    toml = case / "case.toml"
    text = toml.read_text(encoding="utf-8").replace('day = """', f'day = """{name} is up at seven. ', 1)
    toml.write_text(text, encoding="utf-8")
    words = ("--only", "letter,cover", "--formats", "html", "--deidentified", "--out", tmp_path / "out")
    assert run("build", case, *words)[0] in (0, 1)
    pages = [path.read_text(encoding="utf-8") for path in (tmp_path / "out").rglob("*.html")]
    assert pages and not any(part in page for page in pages for part in (*name.split(), "Maryam"))
