"""A clinic's own wording: laid over file by file, bound by the same rules, every mistake with its file and line."""

from __future__ import annotations

import re

import pytest
from support import DEMO_FOLDERS, run

from docgen.errors import UserError
from docgen.packet.assess import assess
from docgen.packet.trees import trees
from docgen.packet.wording import copy_out, document_names, overlaid, wording
from docgen.rendering.tree import outline
from docgen.resources import folder

CASE = next(f for f in DEMO_FOLDERS if f.name == "ilmari-okonjo-vale")


@pytest.fixture(scope="module")
def assessed():
    return assess(CASE)


@pytest.fixture
def clinic(tmp_path):
    """A folder of a clinic's templates: files given as text, or as a change of the program's own."""

    def make(**files):
        target = tmp_path / "clinic"
        target.mkdir(exist_ok=True)
        for name, text in files.items():
            name = {"words": "words.toml", "shared": "_open.md"}.get(name, f"{name}.md")
            if callable(text):
                before = (folder("templates") / "en" / name).read_text(encoding="utf-8")
                text = text(before)
                assert text != before
            (target / name).write_text(text, encoding="utf-8")
        return target

    return make


def _line(path, text):
    return next(at for at, line in enumerate(path.read_text(encoding="utf-8").split("\n"), 1) if text in line)


def test_each_language_has_one_wording_however_it_is_asked_for():
    """Templates are compiled once, and tests/conftest.py knows the program's own words by the object."""
    assert wording() is wording("en") is wording(lang="en") and wording("es") is wording(lang="es")


def test_only_the_files_that_are_there_replace(clinic, assessed):
    own = trees(assessed)
    made = trees(assessed, worded=overlaid(clinic(plan=lambda s: s + "\nAsk the clinic.\n")))
    assert {name for name in own if outline(own[name]) != outline(made[name])} == {"plan"}
    assert made["plan"].plain().endswith("Ask the clinic.")


def test_a_word_and_a_shared_part_replace_theirs_alone(clinic, assessed):
    made = overlaid(
        clinic(
            words='unsigned = "Not yet"\n[plain]\n"gimbal" = "hinge"\n',
            shared=lambda s: s.replace("To settle", "Settle"),
        )
    )
    own = wording()
    assert made.words["unsigned"] == "Not yet" and made.words["units"] == own.words["units"]
    assert made.words["plain"] == {**own.words["plain"], "gimbal": "hinge"}
    assert "Settle before" in made.parts["_open.md"] and made.documents == own.documents


def test_templates_copied_out_and_laid_over_change_nothing(tmp_path, assessed):
    copy_out(tmp_path / "own")
    made = trees(assessed, worded=overlaid(tmp_path / "own"))
    own = trees(assessed)
    assert {n: outline(t) for n, t in made.items()} == {n: outline(t) for n, t in own.items()}
    assert tuple(made) == tuple(own)


def test_new_copies_the_templates_out_once(tmp_path):
    target = tmp_path / "own"
    status, out, _ = run("new", "--templates", target)
    assert status == 0 and str(target) in out
    assert {p.name for p in target.iterdir()} == {
        *(f"{n}.md" for n in document_names()),
        "_later.md",
        "_name.md",
        "_open.md",
        "_seat.md",
        "_stop_test.md",
        "words.toml",
    }
    before = {p.name: p.read_bytes() for p in target.iterdir()}
    status, out, err = run("new", "--templates", target)
    assert (status, out) == (2, "") and "is not an empty folder" in err
    assert {p.name: p.read_bytes() for p in target.iterdir()} == before


@pytest.mark.parametrize("words", [["new"], ["new", "robin-example", "--templates", "own"]])
def test_new_makes_a_case_or_copies_templates_and_not_both(words, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    status, _, err = run(*words)
    assert status == 2 and "one of the two" in err and not list(tmp_path.iterdir())


def test_build_check_and_approve_take_them(clinic, demo, tmp_path):
    case, own = demo(CASE.name), clinic(letter=lambda s: s.rstrip("\n") + "\n\nWritten as this clinic writes.\n")
    assert (
        run("approve", case, "--by", "Perpetua Lindqvist-Amadi, OTR/L", "--on", "2026-11-20", "--templates", own)[0]
        == 0
    )
    assert "nothing has changed" in run("check", case, "--templates", own)[1]
    assert "changed since: letter wording." in " ".join(run("check", case)[1].split())
    status, out, _ = run(
        "build", case, "--templates", own, "--out", tmp_path / "out", "--formats", "html", "--only", "letter"
    )
    page = (tmp_path / "out" / CASE.name / "letter.html").read_text(encoding="utf-8")
    assert (
        status == 0
        and "reviewed by Perpetua Lindqvist-Amadi, OTR/L" in out
        and "Written as this clinic writes." in page
    )
    assert (
        "changed since: letter wording"
        in run("build", case, "--out", tmp_path / "out", "--formats", "html", "--only", "letter")[1]
    )


@pytest.mark.parametrize(
    "name, told",
    [
        ("leter.md", "Did you mean 'letter.md'?"),
        ("word.toml", "Did you mean 'words.toml'?"),
        ("_clipboard.md", "is no template of a packet"),
    ],
)
def test_a_file_that_replaces_nothing_is_an_error(name, told, tmp_path):
    (tmp_path / name).write_text("x", encoding="utf-8")
    with pytest.raises(UserError) as failure:
        overlaid(tmp_path)
    assert (
        len(failure.value.problems) == 1
        and str(failure.value).startswith(f"{tmp_path / name}: ")
        and told in str(failure.value)
    )


@pytest.mark.parametrize(
    "make, told",
    [
        (lambda p: None, "is no folder of templates"),
        (lambda p: p.mkdir(), "holds no template"),
        (lambda p: (p / "letter.md").mkdir(parents=True), "is no template of a packet"),
    ],
)
def test_a_folder_without_templates_is_an_error(make, told, tmp_path):
    make(tmp_path / "own")
    status, out, err = run("build", CASE, "--templates", tmp_path / "own", "--out", tmp_path / "out")
    assert (status, out, err.count("\n")) == (2, "", 1) and told in err and not (tmp_path / "out").exists()


def test_hidden_files_and_back_up_copies_are_left_alone(clinic):
    own = clinic(plan=lambda s: s + "\nMore.\n")
    (own / ".DS_Store").write_bytes(b"\0")
    (own / "letter.md~").write_bytes(b"\xff")
    assert overlaid(own).documents["plan"].body.endswith("More.\n")


# a change of the letter, what is said, and the words of the line it must name
_MISTAKES = [
    (
        lambda s: s.replace("[shows]\n", '[shows]\ncautions = ["about", "says"]\n', 1),
        "must never show cautions.about",
        "cautions =",
    ),
    (
        lambda s: s.replace("[shows]\n", '[shows]\ncaregivers = ["name", "phone"]\n', 1),
        "must never show caregivers.phone",
        "caregivers =",
    ),
    (lambda s: s.replace("[shows]\n", '[shows]\nfamily = ["name"]\n', 1), "there is no table 'family'", "family ="),
    (
        lambda s: s.replace("[shows]\n", '[shows]\nattendant = ["nmae"]\n', 1),
        "there is no key 'nmae' in 'attendant'",
        "attendant =",
    ),
    (lambda s: s.replace("[shows]\n", "[shows]\nattendant = 3\n", 1), "is no list of names", "attendant ="),
    (lambda s: s.replace("[shows]\n", "[shows]\nattendant = [\n", 1), "not valid TOML", None),
    (lambda s: s.replace('title = "', 'tilte = "', 1), "Did you mean 'title'?", "tilte ="),
    (
        lambda s: s.replace("plain = false", 'plain = "no"', 1),
        "'plain' in its front matter is not true or false",
        "plain =",
    ),
    (
        lambda s: re.sub(r"figures = \[.*?\]", 'figures = ["pad_lay"]', s, count=1),
        "there is no drawing 'pad_lay'",
        "pad_lay",
    ),
    (
        lambda s: re.sub(r"figures = \[.*?\]", 'figures = ["scene"]', s, count=1),
        "there is no drawing 'scene'",
        '"scene"',
    ),
    (lambda s: s.replace("+++\n", "", 1), "has no front matter", None),
    (lambda s: s + "\nHer number is {{ client.weigth_kg }}.\n", "has no attribute 'weigth_kg'", "weigth_kg"),
    (lambda s: s + "\n{{ cautions }}\n", "'cautions' is undefined", "{{ cautions }}"),
    (lambda s: s + "\n{{ client.__class__ }}\n", "unsafe", "__class__"),
    (lambda s: s + "\n{{ client.name|safe }}\n", "No filter named 'safe'", "|safe"),
    (lambda s: s + "\n{% if client.name %}\n", "Unexpected end of template", None),
    (lambda s: s + "\n{% macro a() %}{{ a() }}{% endmacro %}\n{{ a() }}\n", "uses itself without end", None),
    (lambda s: s + "\n![x](http://elsewhere.example/a.png) \n", "an image must be fig:", "elsewhere"),
    (
        lambda s: s + "\nSee [this](file:///etc/passwd).\n",
        "a link must be fact:, gap:, lang: or a web address",
        "passwd",
    ),
    (lambda s: s + "\n<script>alert(1)</script>\u3042\n", "HIRAGANA LETTER A", "<script>"),
]


@pytest.mark.parametrize("change, told, words", _MISTAKES)
def test_a_mistake_in_a_template_is_told_with_its_own_file_and_line(change, told, words, clinic, tmp_path):
    own = clinic(letter=change)
    status, out, err = run("build", CASE, "--templates", own, "--out", tmp_path / "out", "--only", "letter")
    assert (status, out) == (2, "") and told in err and "Traceback" not in err
    place = re.match(rf"{re.escape(str(own / 'letter.md'))}:(\d+): ", err)
    assert place, err
    if words:
        assert int(place[1]) == _line(own / "letter.md", words)
    assert not (tmp_path / "out").exists()


def test_a_mistake_in_a_shared_part_is_told_with_that_part(clinic, demo):
    own = clinic(shared=lambda s: s.replace("words|sentence", "wrods|sentence"))
    with pytest.raises(UserError) as failure:  # the therapist's own words stand in the letter of this case
        trees(assess(CASE), ["letter"], overlaid(own))
    assert str(failure.value).startswith(f"{own / '_open.md'}:{_line(own / '_open.md', 'wrods')}: ")


@pytest.mark.parametrize(
    "text, told",
    [
        ('unsinged = "x"', ":1: unknown key 'unsinged'. Did you mean 'unsigned'?"),
        ('[pronoun.she]\nsubjekt = "x"', ":2: unknown key 'pronoun.she.subjekt'. Did you mean 'subject'?"),
        ("\nunsigned = 3", ":2: unsigned is of another kind"),
        ('months = ["a", "b"]', ":1: months must hold 12 entries, not 2"),
        (
            'date = "{dya} {month} {year}"',
            ":1: date asks for {dya}, which is not there; there are: {day}, {month}, {year}",
        ),
        ('date = "{day.__class__}"', ":1: date asks for {day.__class__}"),
        ('date = "{day:>9999999}"', ":1: date asks for {day:>9999999}"),
        ('draft_many = "{n"', ":1: draft_many is not a pattern"),
        ('short = "x"', ":1: short is of another kind"),
        ("[plain]\nx = 1", ":2: unknown key 'plain.x'"),
        ("[shown_in]\norder = [7]", ":2: shown_in.order must hold texts only"),
        ("a = ", ":1: is not valid TOML"),
    ],
)
def test_a_mistake_in_the_words_is_told_with_its_line(text, told, clinic):
    own = clinic(words=text)
    with pytest.raises(UserError) as failure:
        overlaid(own)
    assert len(failure.value.problems) == 1 and f"{own / 'words.toml'}{told}" in str(failure.value)


def test_every_mistake_is_told_at_once(clinic):
    own = clinic(
        words='a = "x"\nb = "y"', letter=lambda s: re.sub(r"figures = \[.*?\]", 'figures = ["x", "y"]', s, count=1)
    )
    with pytest.raises(UserError) as failure:
        overlaid(own)
    assert len(failure.value.problems) == 4
