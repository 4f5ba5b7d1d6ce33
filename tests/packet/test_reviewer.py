"""Who may be named as the reviewer of a packet, and on which days; a record that is a link is refused."""

from __future__ import annotations

import json
from datetime import date, timedelta

import pytest
from gathered import of_each
from support import run

from docgen.case.namesakes import name_words
from docgen.packet.assess import assess

READY = "ilmari-okonjo-vale"
BY = "Perpetua Lindqvist-Amadi, OTR/L"


def _approve(folder, by=BY, on=None):
    return run("approve", folder, "--by", by, *(["--on", str(on)] if on else []))


def _days_from_now(days):
    return str(date.today() + timedelta(days=days))  # asked in the test: a run may go over midnight


@pytest.mark.parametrize("on", ["1900-01-01", "1989-12-31", "2199-12-31", 3])
def test_a_day_on_which_nobody_reviewed_it_is_refused(on, demo):
    folder = demo(READY)
    on = _days_from_now(on) if isinstance(on, int) else on
    status, out, err = _approve(folder, on=on)
    assert (status, out) == (2, "") and err.startswith(
        f"--on: {on} cannot be the day of a review. It lies between 1990-01-01"
    )
    assert err.count("\n") == 1 and not (folder / "approval.toml").exists()


@pytest.mark.parametrize("on", ["1990-01-01", 1, None])
def test_days_from_1990_to_tomorrow_are_taken(on, demo):
    assert _approve(demo(READY), on=_days_from_now(on) if isinstance(on, int) else on)[0] == 0


# how the name of a case may be written by one who is not to be recognised
SPELLINGS = {
    "as it stands": lambda name: f"{name}, ATP",
    "capitals": lambda name: f"{name.upper()}, ATP",
    "more spaces": lambda name: f"  {name.replace(' ', '   ')} , ATP",
    "no-break space": lambda name: f"{name.replace(' ', chr(0xA0))}, ATP",
    "letter and mark apart": lambda name: f"{name.replace('o', 'o' + chr(0x301), 1)}, ATP",
    "wide letters": lambda name: (
        f"{''.join(chr(ord(c) + 0xFEE0) if c.isascii() and c.isalpha() else c for c in name)}, ATP"
    ),
    "something unseen in it": lambda name: f"{name[:2]}{chr(0x200B)}{name[2:]}, ATP",
    "credential before the comma": lambda name: f"{name} ATP, RESNA",
    "credential with dots": lambda name: f"{name} M.D., FAAN",
    "a title": lambda name: f"Dr. {name}, MD",
    "family name first": lambda name: f"{name.rpartition(' ')[2]}, {name.rpartition(' ')[0]}",
}


@pytest.mark.parametrize(
    ("role", "spelling"),
    [*(("supplier", spelling) for spelling in SPELLINGS), ("client", "a title"), ("client", "family name first")],
)
def test_neither_supplier_nor_client_reviews_it_however_the_name_is_spelled(role, spelling, demo):
    folder = demo(READY)
    case = assess(folder).file.case
    name = case.client.name if role == "client" else next(p.name for p in case.with_role(role) if p.name)
    status, out, err = _approve(folder, SPELLINGS[spelling](name))
    if "fonts cannot show" not in err:  # wide letters: refused before any name is compared
        assert f"is the {role} in this case" in err
    assert (status, out, err.count("\n")) == (2, "", 1) and not (folder / "approval.toml").exists()


def test_a_client_by_the_name_that_is_used_and_one_person_in_two_roles_are_refused(demo):
    folder = demo(READY)
    assert "is the client in this case" in _approve(folder, f"{assess(folder).file.case.client.called}, OT")[2]
    with (folder / "case.toml").open("a", encoding="utf-8") as text:
        text.write(f'\n[people.again]\nrole = "supplier"\nname = "{BY.upper()}"\n')
    status, out, _ = _approve(folder)
    assert status == 1 and "Roles that must differ are held by different people" in out


@of_each(
    "name, same",
    [
        ("Perpetua Lindqvist-Amadi", True),
        ("perpetua  lindqvist amadi", True),
        ("Perpetua Lindqvist\u2011Amadi", True),
        ("Perpetua Lindqvist-Amadi OTR/L", True),
        ("P. Lindqvist-Amadi", False),
        ("Perpetua Lindqvist", False),
        ("Perpetua Amadi-Lindqvist Smith", False),
    ],
)
def test_two_spellings_of_a_name_are_one_and_two_names_are_two(name, same):
    assert (name_words(name) == name_words("Perpetua Lindqvist-Amadi")) is same


def test_a_draft_that_was_changed_since_ends_with_the_status_of_a_draft_and_its_manifest_says_so(demo, tmp_path):
    folder, out = demo(READY), tmp_path / "out"
    asked = ("build", folder, "--out", out, "--only", "order", "--formats", "html")
    assert _approve(folder)[0] == 0 and run(*asked)[0] == 0
    manifest = out / READY / "manifest.json"
    assert json.loads(manifest.read_text(encoding="utf-8"))["verdict"] == "approved"
    text = (folder / "case.toml").read_text(encoding="utf-8")
    (folder / "case.toml").write_text(text.replace('"555-0142"', '"555-0143"', 1), encoding="utf-8")
    for words in (asked, asked, (*asked, "--force")):  # the second time unchanged
        status, told, _ = run(*words)
        assert status == 1 and "draft, reviewed by" in told
        assert json.loads(manifest.read_text(encoding="utf-8"))["verdict"] == "draft"


@pytest.mark.parametrize("to", ["a record elsewhere", "nothing", "itself"])
def test_a_record_that_is_a_link_out_of_the_case_is_refused(to, demo, tmp_path):
    folder = demo(READY)
    assert _approve(folder)[0] == 0
    record = folder / "approval.toml"
    record.rename(tmp_path / "elsewhere.toml")
    record.symlink_to({"a record elsewhere": tmp_path / "elsewhere.toml", "nothing": "gone", "itself": record}[to])
    for words in (["check", folder], ["build", folder, "--out", tmp_path / "out"]):
        status, out, err = run(*words)
        assert (status, out) == (2, "")
        assert err == f"{record}: is a link that leads out of the case folder. Put the file itself there.\n"


def test_a_folder_in_the_place_of_the_record_is_told(demo):
    folder = demo(READY)
    (folder / "approval.toml").mkdir()
    status, out, err = run("check", folder)
    assert (status, out) == (2, "") and err.startswith(f"{folder / 'approval.toml'}: cannot be read: Is a directory.")
