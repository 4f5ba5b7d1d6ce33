"""A build in a second language: files beside the English ones, phrases beside the case, who may see what."""

from __future__ import annotations

import io
import re
import shutil
import zipfile

import page
import pikepdf
import pypdfium2
import pytest
from documents.readers import beyond
from documents.test_audience import _choices, _marked, _toml
from in_full import tables_in_full, text_in_full
from languages.spanish import guide, said, sheets
from rendering.tagged import Tagged
from support import DEMO_FOLDERS, NOT_REVIEWED, assess, run

from docgen.errors import UserError
from docgen.figures.draw import drawings
from docgen.packet.languages import in_language
from docgen.packet.reading import reading_facts
from docgen.packet.render import render
from docgen.packet.translation import texts, translated
from docgen.packet.wording import wording
from docgen.rendering.formats import format_names, is_fixed_size

WITH_AND_WITHOUT_PHRASES = ("marisol-quenneville-tran", "anselm-kirawira-boone")
ONE_OF_EACH = pytest.mark.parametrize(
    "source", [f for f in DEMO_FOLDERS if f.name in WITH_AND_WITHOUT_PHRASES], ids=lambda f: f.name
)
DEMOS = pytest.mark.parametrize("source", DEMO_FOLDERS, ids=lambda f: f.name)
PHRASED = [source for source in DEMO_FOLDERS if (source / "es.toml").is_file()]
SOURCE = next(f for f in DEMO_FOLDERS if f.name == "pilar-nakashima-holt")
SHEETS = ("card", "guide", "log")  # what a case without an emergency page has in Spanish
FILES = {f"{sheet}.es.{suffix}" for sheet in SHEETS for suffix in format_names()} | {
    f"{sheet}_large.es.{suffix}" for sheet in SHEETS for suffix in format_names() if is_fixed_size(suffix)
}


@pytest.fixture
def case(tmp_path):
    """A demo case in a folder of its own, its phrases replaced by these."""

    def make(phrases=None):
        target = tmp_path / SOURCE.name
        shutil.copytree(SOURCE, target, ignore=NOT_REVIEWED)
        if phrases is None:
            (target / "es.toml").unlink()
        else:
            (target / "es.toml").write_text(phrases, encoding="utf-8")
        return target

    return make


# ---- files ----------------------------------------------------------------------------------------------


def test_the_guide_is_in_large_print_where_its_letters_cannot_be_made_larger():
    assert {
        "guide.es.html",
        "guide_large.es.docx",
        "guide_large.es.pdf",
    } <= FILES and "guide_large.es.html" not in FILES


def test_the_spanish_files_stand_beside_the_english_ones_which_stay_as_they_are(tmp_path):
    plain, both = tmp_path / "plain", tmp_path / "both"
    assert run("build", SOURCE, "--out", plain)[0] == run("build", SOURCE, "--out", both, "--lang", "es")[0]
    names = {path.name for path in (plain / SOURCE.name).iterdir()}
    assert {path.name for path in (both / SOURCE.name).iterdir()} == names | FILES
    for name in names - {"manifest.json"}:
        assert (plain / SOURCE.name / name).read_bytes() == (both / SOURCE.name / name).read_bytes(), name


def test_a_language_that_lacks_the_document_asked_for_makes_none(tmp_path):
    _, out, _ = run("build", SOURCE, "--out", tmp_path, "--lang", "es", "--only", "plan", "--formats", "html")
    assert "es: has none of these documents" in out
    assert not [path for path in (tmp_path / SOURCE.name).iterdir() if ".es." in path.name]


def test_a_language_that_there_is_not_is_refused(tmp_path):
    code, _, err = run("build", SOURCE, "--out", tmp_path, "--lang", "xx")
    assert code == 2 and "'xx' is not known" in err and not list(tmp_path.iterdir())


def test_a_copy_about_nobody_is_made_in_english_alone(tmp_path):
    code, _, err = run("build", SOURCE, "--out", tmp_path, "--lang", "es", "--deidentified", "--only", "guide")
    assert code == 2 and "in English alone" in err


@ONE_OF_EACH
def test_a_build_tells_what_is_left_in_the_original_and_how_easy_the_guide_is(source, tmp_path):
    _, out, _ = run("build", source, "--out", tmp_path, "--lang", "es", "--only", "guide", "--formats", "html")
    foreign = guide(assess(source))
    score = foreign.readings()["guide"]
    assert (
        f"es: guide, to be reviewed by a qualified translator before use; guide reads {score.band} (INFLESZ "
        f"{score.scores['inflesz']:.0f})"
    ) in out
    assert (f"es: {len(foreign.originals)} texts stand as in the case" in out) == bool(foreign.originals)


def test_the_language_is_marked_in_every_format():
    files = guide(assess(SOURCE)).render()
    assert set(files) == {file for file in FILES if file.startswith("guide")}
    assert '<html lang="es">' in files["guide.es.html"].decode()
    for name in ("guide.es.pdf", "guide_large.es.pdf"):
        assert str(pikepdf.open(io.BytesIO(files[name])).Root.Lang) == "es"
    with zipfile.ZipFile(io.BytesIO(files["guide.es.docx"])) as parts:
        assert '<w:lang w:val="es"' in parts.read("word/styles.xml").decode()
        assert "<dc:language>es</dc:language>" in parts.read("docProps/core.xml").decode()


def test_an_english_passage_is_marked_as_english_in_every_format(case):
    """WCAG 2.2, 3.1.2 Language of Parts; ISO 32000-1, 14.9.2; ECMA-376, 17.3.2.20."""
    files, kept = sheets(assess(case())).render(), "yellow knob on the push handle, right side"
    assert f'<span lang="en">{kept}</span>' in files["card.es.html"].decode()
    with zipfile.ZipFile(io.BytesIO(files["card.es.docx"])) as parts:
        marked = re.findall(
            r'<w:lang w:val="en"/></w:rPr><w:t xml:space="preserve">([^<]*)<', parts.read("word/document.xml").decode()
        )
    assert (
        kept in marked
        and "A qualified translator must review this." in marked
        and not any("inglés" in text for text in marked)
    )
    tagged = Tagged(files["card.es.pdf"])
    spans = [part for part in tagged.root.all("Span")]
    assert {str(part.entries.Lang) for part in spans} == {"en"}
    said = [" ".join(part.text().split()) for part in spans]
    assert kept in said and "A qualified translator must review this." in said
    assert page.validate_pdf_bytes(files["card.es.pdf"], profile="ua1").is_compliant


@ONE_OF_EACH
def test_each_spanish_page_says_that_it_is_not_reviewed(source):
    for file, pdf in sheets(assess(source)).render(["pdf"]).items():
        pages = [page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(pdf)]
        assert all("Borrador" in page and "sin revisar" in page for page in pages), file


@DEMOS
def test_the_head_of_each_sheet_says_that_a_qualified_translator_must_review_it(source):
    made = sheets(assess(source)).trees
    for name, tree in made.items():
        notice = (
            r"Sin revisar\. Debe revisarl[ao] un traductor calificado\. \(A qualified translator must review this\.\).*"
        )
        assert any(re.fullmatch(notice, block.plain()) for block in tree.children[:4]), name
    boxes = [node.plain() for node in made["guide"].children if node.kind == "callout"]
    assert boxes[-1].startswith("Un traductor calificado debe revisar esta guía antes de que se use.")


def test_the_review_of_the_english_packet_is_no_review_of_the_spanish_guide(tmp_path, monkeypatch):
    source = next(f for f in DEMO_FOLDERS if not assess(f).open)
    target = tmp_path / source.name
    shutil.copytree(source, target)
    one = assess(target)
    evaluator = next(iter(one.file.case.with_role("evaluator")))
    assert run("approve", target, "--by", f"{evaluator.name}, {evaluator.credential}", "--on", "2026-05-04")[0] == 0
    assert (
        run("build", target, "--out", tmp_path / "out", "--lang", "es", "--only", "guide", "--formats", "html")[0] == 0
    )
    folder = tmp_path / "out" / source.name
    assert "Reviewed by" in (folder / "guide.html").read_text(encoding="utf-8")
    spanish = (folder / "guide.es.html").read_text(encoding="utf-8")
    by = re.escape(f"{evaluator.name}, {evaluator.credential}")
    assert re.search(f"Solo inglés revisado: {by}, 4 de mayo de 2026", spanish)
    assert "Reviewed" not in spanish


# ---- phrases ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("source", PHRASED, ids=lambda f: f.name)
def test_a_demo_with_phrases_has_one_for_each_text_of_its_guide_and_none_too_many(source):
    foreign = guide(assess(source))
    assert not foreign.originals, [f"{where}: {text}" for text, where in foreign.originals.items()]
    assert not foreign.unused


def test_some_demo_has_phrases_and_some_has_none():
    assert PHRASED and len(PHRASED) < len(DEMO_FOLDERS)


def test_a_text_changed_in_the_case_loses_its_translation(case):
    target = case((SOURCE / "es.toml").read_text(encoding="utf-8"))
    toml = text_in_full(target)
    before = "yellow knob on the push handle, right side"
    (target / "case.toml").write_text(
        toml.replace(f'"{before}"', '"yellow knob on the LEFT push handle"'), encoding="utf-8"
    )
    foreign = sheets(assess(target))
    text = said(foreign)
    assert "[en inglés: «yellow knob on the LEFT push handle»]" in foreign.originals
    assert "botón rojo en la manija para empujar, lado derecho" not in text
    line = next(
        at
        for at, line in enumerate((target / "es.toml").read_text(encoding="utf-8").split("\n"), 1)
        if line.startswith(f'"{before}"')
    )
    assert foreign.unused == (f"{target / 'es.toml'}:{line}",)
    assert any(line.endswith("is for no text of the case") for line in foreign.remarks())


@pytest.mark.parametrize(
    "phrases, what",
    [
        ('"at home" = 3\n', "is no text in quotes"),
        ('"at home" = ""\n', "is empty"),
        ('"at home" = "en \u4e2d"\n', "which the page fonts cannot show"),
        ('"at home" = "en \\u202e casa"\n', "which no page can show"),
        ('[home]\nx = "y"\n', "is no text in quotes"),
        ('"at home" "en casa"\n', "not valid TOML"),
    ],
)
def test_a_broken_phrase_is_named_with_its_line(case, phrases, what):
    target = case(f"\n{phrases}")
    with pytest.raises(UserError) as failure:
        guide(assess(target))
    assert what in str(failure.value) and re.search(r"es\.toml:[23]\b", str(failure.value))


def test_phrases_that_lead_out_of_the_folder_are_refused(case, tmp_path):
    target = case()
    (tmp_path / "other.toml").write_text('"at home" = "en casa"\n', encoding="utf-8")
    (target / "es.toml").symlink_to(tmp_path / "other.toml")
    with pytest.raises(UserError, match="leads out of the case folder"):
        guide(assess(target))


def test_markup_in_a_phrase_is_text(case):
    hostile = "<b>x</b> **y** {{ z }} [u](fact:v) | w"
    html = guide(assess(case(f'"at home" = "{hostile}"\n'))).render(["html"])["guide.es.html"].decode()
    assert "&lt;b&gt;x&lt;/b&gt; **y** {{ z }} [u](fact:v) | w" in html


def test_names_numbers_and_codes_of_a_case_are_no_text_to_translate():
    for source in DEMO_FOLDERS:
        one = assess(source).file.case
        found = {text for _, text in texts(one)}
        keys = {("people" if path[0] == "people" else path[-2], path[-1]) for path, _ in texts(one) if len(path) > 1}
        assert not keys & {("client", "name"), ("client", "called"), ("people", "name"), ("people", "phone")}
        assert not {path[-1] for path, _ in texts(one)} & {"id", "does", "size_mm", "code", "level", "method"}
        assert not found.intersection([one.client.name, one.client.called, *(person.name for person in one.people)])
        assert {
            one.configuration.works,
            one.configuration.stop.stop_switch,
            *(m.part for m in one.configuration.mounting),
        } <= found


@DEMOS
def test_another_language_changes_the_words_of_a_drawing_and_nothing_else(source):
    """Parts, gaps and switches are drawn where they are in English."""
    one, worded = assess(source), wording("es")
    told = translated(one, worded).assessed
    names = worded.documents["guide"].figures
    english = drawings(one.file.case, one.evidence, wording().words["figures"], names)
    spanish = drawings(told.file.case, told.evidence, worded.words["figures"], names)
    assert set(english) == set(spanish)

    def drawn(scene):
        return [
            (type(shape).__name__, getattr(shape, "width", None), getattr(shape, "fill", None))
            for shape in scene.shapes
            if type(shape).__name__ != "Text"
        ]

    assert {name: drawn(scene) for name, scene in english.items()} == {
        name: drawn(scene) for name, scene in spanish.items()
    }


@DEMOS
def test_no_two_words_of_a_spanish_layout_lie_on_each_other(source):
    foreign = guide(assess(source))
    case, words = foreign.assessed.file.case, wording("es").words["figures"]
    scene = drawings(case, foreign.assessed.evidence, words, ["pad_layout"]).get("pad_layout")
    if scene is None:
        assert all(mount.gap_mm is None for mount in case.configuration.mounting)
        return
    boxes = []
    for shape in scene.shapes:
        if type(shape).__name__ == "Text":
            wide = 0.5 * shape.size * len(shape.text)
            left = shape.x - {"start": 0, "middle": wide / 2, "end": wide}[shape.anchor]
            boxes.append((left, shape.y - 0.7 * shape.size, left + wide, shape.y, shape.text))
    for at, (l1, t1, r1, b1, one) in enumerate(boxes):
        for l2, t2, r2, b2, other in boxes[at + 1 :]:
            assert min(r1, r2) <= max(l1, l2) or min(b1, b2) <= max(t1, t2), (one, other)


# ---- how easy, where the English grade stands ----------------------------------------------------------------


@ONE_OF_EACH
def test_the_score_stands_beside_the_english_grades_of_a_case_with_phrases(source):
    facts = {fact.id: fact for fact in reading_facts(assess(source))}
    assert ("inflesz.guide.es" in facts) == ("huerta.guide.es" in facts) == ((source / "es.toml").is_file())
    if "inflesz.guide.es" in facts:
        score = guide(assess(source)).readings()["guide"]
        fact = facts["inflesz.guide.es"]
        assert fact.value == score.scores["inflesz"] and fact.verdict == score.band
        assert f"INFLESZ {score.scores['inflesz']:.0f}, {score.band}" in run("evidence", source, "--all")[1]


# ---- who may see what -----------------------------------------------------------------------------------------


def test_the_spanish_guide_may_show_no_key_that_the_english_one_may_not():
    english, spanish = (wording(lang).documents["guide"] for lang in ("en", "es"))
    for table, keys in spanish.shows.items():
        assert set(keys) <= set(english.shows[table]), table
    assert spanish.figures == english.figures and spanish.reader == english.reader
    assert spanish.may_see == english.may_see


@DEMOS
def test_the_spanish_guide_never_shows_what_its_reader_must_not_see(source, tmp_path):
    target = tmp_path / source.name
    target.mkdir()
    found: dict[str, str] = {}
    data = _marked(tables_in_full(source), "", found, _choices())
    (target / "case.toml").write_text(_toml(data), encoding="utf-8")
    for rows in source.glob("*.csv"):
        (target / rows.name).write_bytes(rows.read_bytes())
    seen = {found[word] for word in re.findall(r"canary\d{4}", said(in_language(assess(target), "es")))}
    assert seen
    assert not beyond("guide", seen)


def test_an_english_build_makes_the_same_with_a_language_loaded():
    before = render(assess(SOURCE), ["html"], ["guide"])
    guide(assess(SOURCE)).render(["html"])
    assert render(assess(SOURCE), ["html"], ["guide"]) == before
