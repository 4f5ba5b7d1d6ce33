"""A packet folder belongs to one case, and nothing stands in it with a stamp that is not its own."""

from __future__ import annotations

import json
import shutil
from datetime import date

import docx
import pytest
from docx.shared import Pt
from in_full import text_in_full
from support import SMALL, SMALL_ROWS, run

from docgen.case.key import FILE, read_key, settle_key
from docgen.errors import UserError
from docgen.packet.approval import approve
from docgen.packet.assess import assess
from docgen.packet.letterhead import read_letterhead
from docgen.packet.manifest import read_manifest
from docgen.packet.recipe import Selection
from docgen.packet.wording import wording
from docgen.packet.write import build

READY = "ilmari-okonjo-vale"
BY = "Perpetua Lindqvist-Amadi, OTR/L"
ON = date(2026, 11, 20)


@pytest.fixture
def two(tmp_path):
    """Two people with one id, each in a place of their own, and a folder for packets."""
    for site, name in (("north", "Ada Example"), ("south", "Bo Sample")):
        folder = tmp_path / site / "small"
        folder.mkdir(parents=True)
        (folder / "case.toml").write_text(SMALL.replace("Robin Example", name), encoding="utf-8")
        (folder / "trial.csv").write_text(SMALL_ROWS, encoding="utf-8")
    return tmp_path / "north" / "small", tmp_path / "south" / "small", tmp_path / "out"


def on_disk(folder):
    return {path.name: path.read_bytes() for path in sorted(folder.iterdir())}


def names(folder):
    return {path.name for path in folder.iterdir()}


def entries(folder):
    return json.loads((folder / "manifest.json").read_text(encoding="utf-8"))


def edit(path, before, after):
    text = path.read_text(encoding="utf-8")
    assert before in text
    path.write_text(text.replace(before, after), encoding="utf-8")


HTML = ("--formats", "html", "--only")


def test_equal_ids_in_one_run_are_refused_with_both_paths_before_anything_is_written(two):
    ada, bo, out = two
    status, told, err = run("build", ada.parent, bo.parent, "--out", out, *HTML, "guide")
    assert (status, told) == (2, "") and err.count("\n") == 1
    assert str(ada) in err and str(bo) in err and "has the same id as" in err
    assert not out.exists() and names(ada) == names(bo) == {"case.toml", "trial.csv"}


def test_the_same_folder_named_twice_is_no_second_person(two):
    ada, _, out = two
    assert run("build", ada, ada.parent, "--out", out, *HTML, "guide")[0] == 1


@pytest.mark.parametrize("lost", ["nothing", "manifest.json"])
@pytest.mark.parametrize("suffix", ["docx", "html", "pdf"])
def test_another_case_never_builds_into_the_folder_of_a_packet(suffix, lost, two):
    ada, bo, out = two
    words = ("--out", out, "--formats", suffix, "--only", "guide,letter")
    assert run("build", ada, *words)[0] == 1
    (out / "small" / lost).unlink(missing_ok=True)
    before = on_disk(out / "small")
    status, told, err = run("build", bo, *words[:-1], "letter")
    assert (status, told) == (2, "") and str(bo) in err and str(out / "small") in err
    assert on_disk(out / "small") == before
    assert run("build", ada, *words)[0] == 1  # her own case still may
    assert read_manifest(out / "small").key == read_key(ada).key


def test_the_key_is_random_and_in_the_manifest_alone(two):
    ada, bo, out = two
    keys = set()
    for case in (ada, bo):
        run("build", case, "--out", out / case.parent.name, "--formats", "html")
        key = read_key(case).key
        keys.add(key)
        for name, data in on_disk(out / case.parent.name / "small").items():
            assert (key.encode() in data) == (name == "manifest.json"), name
    assert len(keys) == 2


def test_a_copy_about_nobody_holds_no_key_and_no_mark(two):
    ada, _, out = two
    run("build", ada, "--out", out, "--formats", "docx,html,pdf")
    run("build", ada, "--out", out, "--formats", "docx,html,pdf", "--deidentified")
    (copy,) = (folder for folder in out.iterdir() if folder.name != "small")
    manifest = read_manifest(copy)
    assert (manifest.key, {entry.content for entry in manifest.files.values()}) == ("", {""})
    from docgen.case.key import mark_of
    from docgen.packet.belonging import marks

    assert marks(copy, names(copy)) == set() and marks(out / "small", names(out / "small"))
    for secret in (read_key(ada).key, mark_of(read_key(ada).key)):
        assert not any(secret.encode() in data for data in on_disk(copy).values())


def test_a_copied_folder_with_another_id_gets_a_key_of_its_own_and_says_so(two):
    ada, _, out = two
    run("build", ada, "--out", out, *HTML, "guide")
    copied = shutil.copytree(ada, ada.parent / "second")
    edit(copied / "case.toml", 'id = "small"', 'id = "second"')
    told = run("build", copied, "--out", out, *HTML, "guide")[1]
    assert "was written for 'small'; 'second' has a key of its own now" in told
    assert read_key(ada).key != read_key(copied).key
    assert "key of its own" not in run("build", copied, "--out", out, *HTML, "guide")[1]


def test_a_copied_folder_with_another_client_is_refused_and_a_corrected_name_is_not(two):
    ada, bo, out = two
    run("build", ada, "--out", out, *HTML, "guide")
    key = read_key(ada).key
    edit(ada / "case.toml", "Ada Example", "Ada Exemple")
    assert run("build", ada, "--out", out, *HTML, "guide")[0] == 1 and read_key(ada).key == key
    shutil.copy(ada / FILE, bo / FILE)
    before = on_disk(out / "small")
    status, _, err = run("build", bo, "--out", out, *HTML, "guide")
    assert status == 2 and f"{bo / FILE}: was written for a client of another name" in err
    assert on_disk(out / "small") == before
    (bo / FILE).unlink()
    assert "though it has the same id" in run("build", bo, "--out", out, *HTML, "guide")[2]


def test_a_key_file_changes_no_approval_and_lets_an_unchanged_packet_be(demo, tmp_path):
    case = demo(READY)
    (case / FILE).unlink()
    approve(assess(case), BY, ON, wording())
    words = ("build", case, "--out", tmp_path / "out", *HTML, "guide")
    first, second = run(*words), run(*words)
    assert f"reviewed by {BY}" in first[1] and "changed since" not in first[1]
    assert ": unchanged, " in second[1] and second[0] == 0


def test_a_case_that_cannot_be_read_gets_no_key(two):
    ada, _, out = two
    (ada / "case.toml").write_text("id = ", encoding="utf-8")
    assert run("build", ada, "--out", out)[0] == 2 and not (ada / FILE).exists()


def test_a_case_that_cannot_keep_its_key_is_told_so_once_and_one_that_has_it_is_built(two, monkeypatch):
    ada, bo, out = two
    settle_key(bo)

    def read_only(path, data):
        raise OSError(30, "Read-only file system")

    monkeypatch.setattr("docgen.case.key.write_whole", read_only)
    status, _, err = run("build", ada, "--out", out, *HTML, "guide")
    assert (status, err.count("\n")) == (2, 1) and "key.toml: cannot be written: Read-only file system" in err
    assert run("build", bo, "--out", out, *HTML, "guide")[0] == 1


@pytest.mark.parametrize(
    "text", ["", "key = 3", "[" * 5000, 'format = "docgen key 1"\nkey = "../x"\ncase = "a"\nclient = []\n']
)
def test_a_broken_key_is_one_sentence(text, two):
    ada, _, out = two
    (ada / FILE).write_text(text, encoding="utf-8")
    status, told, err = run("build", ada, "--out", out, *HTML, "guide")
    assert (status, told, err.count("\n")) == (2, "", 1) and f"{ada / FILE}:1: is not as docgen wrote it" in err
    assert run("check", ada)[0] == 1  # looking needs no key


def test_a_manifest_of_the_first_format_is_taken_over(two):
    """One with names and digests alone: pages nobody changed are replaced, a changed one stays."""
    ada, _, out = two
    run("build", ada, "--out", out, *HTML, "guide,letter,plan")
    folder = out / "small"
    told = entries(folder)
    first = {"format": "docgen manifest 1", "case": "small", "verdict": "draft"}
    first["files"] = [{"name": one["name"], "sha256": one["sha256"]} for one in told["files"]]
    (folder / "manifest.json").write_text(json.dumps(first), encoding="utf-8")
    (folder / "letter.html").write_text("mine", encoding="utf-8")
    status, said, _ = run("build", ada, "--out", out, *HTML, "guide,letter")
    assert status == 1 and "letter.html was changed by hand and is left as it is" in said
    assert names(folder) == {"guide.html", "letter.html", "letter.new.html", "manifest.json"}
    assert "plan.html" in said and read_manifest(folder).key == read_key(ada).key
    assert "unchanged" in run("build", ada, "--out", out, *HTML, "guide,letter")[1]


def _approved(case):
    approve(assess(case), BY, ON, wording())


def test_an_approved_packet_rebuilt_in_part_holds_no_older_page(demo, tmp_path):
    case, out = demo(READY), tmp_path / "out"
    folder = out / READY
    _approved(case)
    assert run("build", case, "--out", out, "--formats", "html,pdf")[0] == 0
    before = names(folder)
    assert {"guide.html", "guide.pdf", "packet.pdf", "training.ics"} <= before
    assert {one["verdict"] for one in entries(folder)["files"]} == {"approved"}
    (folder / "plan.html").write_text("my own plan", encoding="utf-8")
    edit(case / "case.toml", '"555-0142"', '"555-0143"')
    _approved(case)
    status, told, _ = run("build", case, "--out", out, "--formats", "html", "--only", "letter")
    assert status == 0
    assert names(folder) == {"letter.html", "plan.outdated.html", "manifest.json"}
    assert (folder / "plan.outdated.html").read_text(encoding="utf-8") == "my own plan"
    for name in before - {"letter.html", "plan.html", "manifest.json"}:
        assert name in told
    assert "plan.html was changed by hand and is of earlier content; it is kept as plan.outdated.html" in told
    manifest = entries(folder)
    assert [(one["name"], one["verdict"], one["review"]) for one in manifest["files"]] == [
        ("letter.html", "approved", f"reviewed by {BY} on 2026-11-20")
    ]
    assert manifest["set_aside"] == {"plan.html": "plan.outdated.html"}
    # of the same content the rest is built beside it
    assert run("build", case, "--out", out, "--formats", "html", "--only", "guide")[0] == 0
    assert {one["name"] for one in entries(folder)["files"]} == {"letter.html", "guide.html"}


@pytest.mark.parametrize("changed", [False, True])
def test_a_language_dropped_leaves_no_page_of_older_content_and_none_is_called_approved(changed, demo, tmp_path):
    case, out = demo(READY), tmp_path / "out"
    folder = out / READY
    _approved(case)
    assert run("build", case, "--out", out, *HTML, "guide", "--lang", "es")[0] == 0
    verdicts = {one["name"]: one["verdict"] for one in entries(folder)["files"]}
    assert verdicts == {"guide.html": "approved", "guide.es.html": "ready"}
    if changed:
        edit(case / "case.toml", '"555-0142"', '"555-0143"')
    status, told, _ = run("build", case, "--out", out, *HTML, "guide")
    verdicts = {one["name"]: one["verdict"] for one in entries(folder)["files"]}
    if changed:
        assert verdicts.keys() == {"guide.html"} and verdicts["guide.html"] != "approved"
        assert not (folder / "guide.es.html").exists() and "guide.es.html" in told
    else:
        assert verdicts == {"guide.html": "approved", "guide.es.html": "ready"} and "removed" not in told


def test_a_phrase_changed_is_another_content(demo, tmp_path):
    case, out = demo(READY), tmp_path / "out"
    run("build", case, "--out", out, *HTML, "guide", "--lang", "es")
    (case / "es.toml").write_text('"at home" = "en casa"\n', encoding="utf-8")
    run("build", case, "--out", out, *HTML, "guide")
    assert names(out / READY) == {"guide.html", "manifest.json"}


def test_a_denial_withdrawn_takes_its_appeal_with_it(demo, tmp_path):
    case, out = demo("marisol-quenneville-tran"), tmp_path / "out"
    folder = out / case.name
    run("build", case, "--out", out, "--formats", "html")
    assert (folder / "appeal.html").exists()
    text = text_in_full(case)
    (case / "case.toml").write_text(_without_denial(text), encoding="utf-8")
    told = run("build", case, "--out", out, "--formats", "html")[1]
    assert not (folder / "appeal.html").exists() and "appeal.html" in told
    assert "appeal.html" not in {one["name"] for one in entries(folder)["files"]}
    assert entries(folder)["removed"] == ["appeal.html"]


def _without_denial(text):
    """The case without the tables of its denial."""
    kept, inside = [], False
    for line in text.split("\n"):
        if line.startswith("["):
            inside = line.strip("[]").split(".")[0].strip() == "denial"
        if not inside:
            kept.append(line)
    assert len(kept) < len(text.split("\n"))
    return "\n".join(kept)


def test_a_letterhead_is_part_of_what_is_approved(demo, tmp_path):
    case = demo(READY)
    own = tmp_path / "own"
    own.mkdir()
    (own / "letterhead.toml").write_text('name = "Clinic one"\n', encoding="utf-8")
    words = ("build", case, "--out", tmp_path / "out", *HTML, "letter", "--letterhead", own)
    assert run("approve", case, "--by", BY, "--on", ON, "--letterhead", own)[0] == 0
    assert "changed since" not in run(*words)[1]
    assert "nothing has changed since" in " ".join(run("check", case)[1].split())
    (own / "letterhead.toml").write_text('name = "Clinic two"\n', encoding="utf-8")
    assert "changed since: letterhead" in run(*words)[1]
    assert "changed since: letterhead" in run(*words[:-2])[1]


def test_a_letterhead_is_known_by_what_it_puts_on_a_page(tmp_path):
    (tmp_path / "letterhead.toml").write_text('name = "Clinic"\n', encoding="utf-8")
    first = read_letterhead(tmp_path)
    (tmp_path / "letterhead.toml").write_text('# a remark\nname  =  "Clinic"\n', encoding="utf-8")
    assert read_letterhead(tmp_path).digest == first.digest
    (tmp_path / "letterhead.toml").write_text('name = "Clinic"\nphone = "555-0100"\n', encoding="utf-8")
    assert read_letterhead(tmp_path).digest != first.digest


def test_a_letterhead_for_word_is_known_by_what_it_holds(tmp_path):
    digests = []
    for size in (11, 11, 12):
        document = docx.Document()
        document.styles["Normal"].font.size = Pt(size)
        document.sections[0].header.paragraphs[0].text = "Clinic"
        document.save(tmp_path / "letterhead.docx")
        digests.append(read_letterhead(tmp_path).digest)
    assert digests[0] == digests[1] != digests[2]


@pytest.mark.parametrize("own", ["prescription.pdf", "letter sent in May.docx", "letter.outdated.docx", "guide.txt"])
def test_what_someone_else_put_there_is_never_touched(own, two):
    ada, _, out = two
    run("build", ada, "--out", out, "--formats", "docx", "--only", "letter,guide")
    folder = out / "small"
    shutil.copy(folder / "letter.docx", folder / own)
    before = (folder / own).read_bytes()
    edit(ada / "trial.csv", ",0\n", ",1\n")
    (folder / "manifest.json").unlink()
    run("build", ada, "--out", out, "--formats", "docx", "--only", "guide")
    assert (folder / own).read_bytes() == before
    assert names(folder) == {own, "guide.docx", "guide_large.docx", "manifest.json"}


def test_a_build_in_python_belongs_to_its_case_too(two):
    ada, bo, out = two
    build(assess(ada), out, Selection(("html",), ("guide",)))
    assert read_manifest(out / "small").key == read_key(ada).key
    with pytest.raises(UserError, match="is not the case whose packet stands in"):
        build(assess(bo), out, Selection(("html",), ("guide",)))
