"""A copy for teaching: no trace of who it is about in any byte of it, and the clinical record as it was.

What goes: the 18 identifiers of 45 CFR 164.514(b)(2)(i). Which words of a demo lead to its people stands here by hand.
"""

from __future__ import annotations

import re
from datetime import date, timedelta
from functools import cache
from pathlib import Path

import pytest
from gathered import of_each
from in_full import tables_in_full
from outputs import everything_said, plain
from support import DEMOS, SMALL, assess
from typer.testing import CliRunner

import docgen
from docgen.case.nobody.kinds import KINDS, no_legal_deidentification
from docgen.case.read import read_case
from docgen.cli import app
from docgen.criteria.payer import read_payer
from docgen.packet.approval import approve
from docgen.packet.recipe import Selection
from docgen.packet.teaching import teaching_copy
from docgen.packet.wording import wording
from docgen.packet.write import build
from docgen.resources import folder

WHOLE = "marisol-quenneville-tran"  # of which every file is made; of the others the pages in HTML
WEEKS = 101  # moves no day of a demo onto the day and month of another
# places, clinics, plans and schools of the demos, but for words that mean no place by themselves
PLACES = {
    "anselm-kirawira-boone": "lowmarsh saltings|fen road",
    "bohdan-lacroix-mbeki": "lantern glimmer|upper falls|glimmer falls",
    "ilmari-okonjo-vale": "kestrel shoal tern breakwater|kestrel bay",
    "marisol-quenneville-tran": "lisbrane highgate|spinal center",
    "pilar-nakashima-holt": "ferra lantern saltbush mesa|santa ferra",
    "saoirse-villalobos-ng": "fennick millrace weir|fennick mills",
}
MONTHS = "January February March April May June July August September October November December".split()
TELLS_NO_DEADLINE = re.compile(r"/(?:letter|order|guide)").search  # where no day stands that follows from others
ZONES = ("america/", "new_york", "chicago", "denver")


@cache
def raw(demo):
    return tables_in_full(folder("cases") / demo)


def identifying(demo):
    """Words and numbers of a demo that no copy may hold, from its file by hand."""
    case = raw(demo)
    names = [case["client"]["name"], case["client"]["called"], *(p["name"] for p in case["people"])]
    found = {part for name in names for part in re.split(r"[\s\-]", name) if len(part) > 2} | set(names) | {demo}
    found |= {p[key] for p in case["people"] for key in ("organisation", "license", "phone", "email") if key in p}
    found |= {case["client"]["member_id"], case["request"]["payer_name"]}
    found |= {
        value
        for table, key in (("authorization", "tracking"), ("denial", "reference"))
        if (value := case.get(table, {}).get(key))
    }
    words, _, phrases = PLACES[demo].partition("|")
    found |= {*words.split(), *phrases.split("|")}
    return sorted(found | {p["private_note"] for p in case["people"] if "private_note" in p})


def days(value):
    if isinstance(value, dict):
        for key, one in value.items():
            yield from days(one) if key != "born_on" else ()
    elif isinstance(value, list):
        for one in value:
            yield from days(one)
    elif isinstance(value, date):
        yield value


def every_day(demo):
    """Every day of a demo: of its file and of its rows."""
    rows = "".join(path.read_text(encoding="utf-8") for path in (folder("cases") / demo).glob("*.csv"))
    text = (folder("cases") / demo / "case.toml").read_text(encoding="utf-8")
    return {*days(raw(demo)), *(date.fromisoformat(day) for day in re.findall(r"\d{4}-\d\d-\d\d", rows + text))}


def printed(day):
    month = MONTHS[day.month - 1]
    return {
        day.isoformat(),
        f"{day:%Y%m%d}",
        f"{day.day} {month} {day.year}",
        f"{month} {day.day}, {day.year}",
        f"{day:%m/%d/%Y}",
        f"{day.day} {month[:3]} {day.year}",
    }


@cache
def copies(demo):
    return teaching_copy(assess(folder("cases") / demo), wording(), folder("cases"), WEEKS)


@pytest.fixture(scope="module")
def texts(tmp_path_factory):
    """Demo -> file -> all it says, each built once."""
    made = {}

    def of(demo):
        if demo not in made:
            out = tmp_path_factory.mktemp("out")
            build(copies(demo), out, *(() if demo == WHOLE else (Selection(("html",)),)))
            made[demo] = {name: plain(text) for name, text in everything_said(out).items()}
        return made[demo]

    return of


_plain = cache(plain)


def holds(text, word):
    word = _plain(word)
    return word in text and re.search(rf"(?<![a-z]){re.escape(word)}(?![a-z])", text) is not None


@pytest.mark.parametrize("demo", DEMOS)
def test_no_byte_of_a_copy_holds_what_leads_to_its_people(demo, texts):
    found, words = texts(demo), identifying(demo)
    assert len(found) > 8 and len(words) > 15 and all(len(text) > 200 for text in found.values())
    made = {name.rpartition(".")[2] for name in found}
    assert made >= ({"docx", "pdf", "html", "json"} if demo == WHOLE else {"html", "json"})
    assert not [(name, word) for name, text in found.items() for word in words if holds(text, word)]
    assert not [(name, zone) for name, text in found.items() for zone in ZONES if zone in text]


def test_the_packet_itself_holds_nearly_all_of_it(tmp_path):
    """The search finds what is there: the same words in the packet that is no copy."""
    demo = "ilmari-okonjo-vale"
    build(assess(folder("cases") / demo), tmp_path)
    found = {name: plain(text) for name, text in everything_said(tmp_path).items()}
    seen = {word for word in identifying(demo) for text in found.values() if holds(text, word)}
    unseen = {word for word in identifying(demo)} - seen
    assert unseen <= {
        "Hard of hearing on the left; speak to her right side.",
        "OT-20718",
        "ATP-55102",
        "Casimir Thornbury-Osei",
        "Tern Street School",
        "tern",
        "555-0119",
    }
    for suffix in ("docx", "pdf", "html"):
        assert holds(found[f"{demo}/letter.{suffix}"], "Okonjo") and holds(
            found[f"{demo}/letter.{suffix}"], "April 17, 2026"
        )


@pytest.mark.parametrize("demo", DEMOS)
def test_no_day_of_the_case_is_printed_in_any_form(demo, texts):
    true = every_day(demo)
    moved = {day + timedelta(weeks=WEEKS) for day in true}
    birth = raw(demo)["client"]["born_on"]
    forms = {form for day in {*true, birth} - moved for form in printed(day)}
    short = {form for day in true for form in _short(day)} - {form for day in moved for form in _short(day)}
    assert len(true) > 10 and len(short) > 6
    found = texts(demo)
    assert not [(name, form) for name, text in found.items() for form in _standing(text, forms)]
    assert not [
        (name, form) for name, text in found.items() if TELLS_NO_DEADLINE(name) for form in _standing(text, short)
    ]
    written = printed(raw(demo)["dates"]["written_on"] + timedelta(weeks=WEEKS))
    assert any(not written.isdisjoint(_long(text)) for text in found.values())


def _standing(text, forms):
    """Which of these forms of days stand in a text, and are no part of a longer number."""
    there = (form for form in map(str.casefold, forms) if form in text)
    return [form for form in there if re.search(rf"(?<!\d){re.escape(form)}(?!\d)", text)]


def _short(day):
    return f"{day.day} {MONTHS[day.month - 1]}", f"{MONTHS[day.month - 1]} {day.day}"


def _long(text):
    return {f"{month.capitalize()} {day}, {year}" for month, day, year in re.findall(r"([a-z]+) (\d+), (\d{4})", text)}


@of_each("demo", DEMOS)
def test_the_answers_and_the_numbers_are_those_of_the_case(demo):
    true, copy = assess(folder("cases") / demo), copies(demo)
    assert [(v.criterion.id, v.answer.status, v.severity) for v in copy.verdicts] == [
        (v.criterion.id, v.answer.status, v.severity) for v in true.verdicts
    ]
    assert [(f.kind, f.value, f.low, f.high, f.n, f.k, f.rows) for f in copy.evidence.values()] == [
        (f.kind, f.value, f.low, f.high, f.n, f.k, f.rows) for f in true.evidence.values()
    ]


@of_each("demo", DEMOS)
def test_days_keep_what_lies_between_them_and_the_age_stays(demo):
    true, copy = assess(folder("cases") / demo).file.case, copies(demo).file.case
    move = {
        getattr(copy.dates, key) - day for key in type(true.dates).model_fields if (day := getattr(true.dates, key))
    }
    move |= {new.date - old.date for old, new in zip(true.records, copy.records, strict=True)}
    assert move == {timedelta(weeks=WEEKS)}
    born, at = true.client.born_on, true.dates.written_on
    age = at.year - born.year - ((at.month, at.day) < (born.month, born.day))
    assert (copy.client.born_on.month, copy.client.born_on.day) == (
        1,
        1,
    ) and copy.dates.written_on.year - copy.client.born_on.year == age


@of_each("demo", DEMOS)
def test_one_person_has_one_name_throughout(demo):
    true, copy = assess(folder("cases") / demo).file.case, copies(demo).file.case
    names = {old.name: new.name for old, new in zip(true.people, copy.people, strict=True)}
    assert copy.client.name == copy.client.called == "Client A" and len(set(names.values())) == len(names)
    assert all(re.fullmatch(r"Person [A-Z]{1,2}", name) for name in names.values())
    assert "Client A" in (copy.client.function or "") or copy.client.called not in (true.client.function or "")


@of_each("demo", DEMOS)
def test_each_page_says_what_it_is_and_nobody_signs_it(demo, texts):
    for name, text in texts(demo).items():
        if name.endswith((".pdf", ".html", ".docx")) and not name.endswith("packet.pdf"):
            assert "de-identified copy for teaching" in text and "a person must read every page" in text, name
    assert (
        "not signed: a de-identified copy"
        in texts(demo)[next(name for name in texts(demo) if name.endswith("letter.html"))]
    )


def test_the_command_warns_and_writes_beside_the_packet_and_never_over_it(tmp_path, demo):
    source = demo("ilmari-okonjo-vale")
    run = CliRunner().invoke
    assert run(app, ["build", str(source), "--out", str(tmp_path / "out"), "--formats", "html"]).exit_code == 0
    before = {path: path.read_bytes() for path in (tmp_path / "out").rglob("*") if path.is_file()}
    for _ in range(2):
        done = run(app, ["build", str(source), "--out", str(tmp_path / "out"), "--formats", "html", "--deidentified"])
        assert (
            done.exit_code == 0
            and "free text needs a human eye" in done.stdout
            and "Words that may be names: " in done.stdout
        )
        assert not re.search(r"okonjo|kestrel|lindqvist", done.stdout, re.I)
        assert done.stdout.rstrip().splitlines()[-1].strip() == no_legal_deidentification()
    assert {path: path.read_bytes() for path in before} == before
    made = {path.name for path in (tmp_path / "out").iterdir()} - {source.name}
    assert len(made) == 2 and all(re.fullmatch(r"deidentified-\d{4}", name) for name in made)


def test_the_last_line_names_all_18_kinds_and_no_key_that_stays():
    """45 CFR 164.514(b)(2)(i)(A) to (R)."""
    said = no_legal_deidentification()
    assert "no legal de-identification" in said and "".join(kind.letter for kind in KINDS) == "ABCDEFGHIJKLMNOPQR"
    assert all(f"({kind.letter})" in said for kind in KINDS)
    kept = set()
    for demo in DEMOS:
        true, copy = assess(folder("cases") / demo).file.case, copies(demo).file.case
        for key in (key for kind in KINDS for key in kind.keys):
            before, after = _values(true, key), _values(copy, key)
            assert len(before) == len(after) and not set(before) & set(after), (demo, key)
            kept |= {key} if before else set()
    # tests/packet/test_scripts.py has the second, the test below those of a record
    in_no_demo = {"people.email", "client.name_in_own_script", "outside_records.author", "outside_records.organisation"}
    in_no_demo |= {"request.later_payers.payer_name", "request.later_payers.member_id"}
    assert {key for kind in KINDS for key in kind.keys} - kept <= in_no_demo, "no demo holds these"


def test_who_wrote_a_record_elsewhere_is_in_no_copy(demo, tmp_path):
    target = demo("ilmari-okonjo-vale")
    record = '\n[[outside_records]]\nwhat = "sleep study"\nauthor = "Wilhelmina Ostrander, MD"\n'
    record += 'organisation = "Zephyrine Hollow Hospital"\nsays = "Ostrander saw no pauses."\n'
    text = (target / "case.toml").read_text(encoding="utf-8")
    (target / "case.toml").write_text(text + record, encoding="utf-8")
    [copied] = teaching_copy(assess(target), wording(), tmp_path).file.case.outside_records
    assert copied.what == "sleep study" and copied.author and copied.organisation and copied.says
    assert not re.search("Wilhelmina|Ostrander|Zephyrine|Hollow", f"{copied.author}{copied.organisation}{copied.says}")


def _values(case, key):
    values = [case]
    for name in key.split("."):
        values = [getattr(value, name) for value in values]
        values = [part for value in values for part in (value if isinstance(value, tuple) else [value])]
        values = [value for value in values if value is not None]
    return values


def test_two_copies_are_moved_apart_by_numbers_nobody_kept(tmp_path, case_folder):
    source = assess(case_folder(f"{SMALL}\n[dates]\nwritten_on = 2026-04-17\n"))
    moves = {
        (teaching_copy(source, wording(), tmp_path).file.case.dates.written_on - source.file.case.dates.written_on).days
        for _ in range(12)
    }
    assert len(moves) > 3 and all(move % 7 == 0 and 53 * 7 <= move <= 260 * 7 for move in moves)


def test_an_approval_says_nothing_on_a_copy(tmp_path, demo):
    source = demo("ilmari-okonjo-vale")
    approve(assess(source), "Perpetua Lindqvist-Amadi, OTR/L", date(2026, 4, 18), wording())
    packet = build(teaching_copy(assess(source), wording(), tmp_path), tmp_path, Selection(("html",)))
    text = plain("".join(everything_said(packet.folder).values()))
    assert packet.review is None and not holds(text, "Lindqvist") and "reviewed by" not in text


def test_a_letterhead_and_a_copy_exclude_each_other(tmp_path, demo):
    done = CliRunner().invoke(
        app,
        [
            "build",
            str(demo("ilmari-okonjo-vale")),
            "--deidentified",
            "--letterhead",
            str(tmp_path),
            "--out",
            str(tmp_path / "out"),
        ],
    )
    assert done.exit_code == 2 and "leave out --letterhead" in done.stderr and not (tmp_path / "out").exists()


def test_a_name_in_a_clinics_own_template_stops_the_copy(tmp_path, demo):
    own = tmp_path / "own"
    own.mkdir()
    text = (folder("templates") / "en" / "guide.md").read_text(encoding="utf-8")
    (own / "guide.md").write_text(f"{text}\n\nAsk at the desk of Perpetua.\n", encoding="utf-8")
    done = CliRunner().invoke(
        app,
        [
            "build",
            str(demo("ilmari-okonjo-vale")),
            "--deidentified",
            "--templates",
            str(own),
            "--out",
            str(tmp_path / "out"),
        ],
    )
    assert (
        done.exit_code == 2
        and "guide.md:1: made a page that still holds 'perpetua'" in done.stderr
        and not (tmp_path / "out").exists()
    )


def test_rules_of_a_clinics_own_payer_lose_their_name(tmp_path, demo):
    own = tmp_path / "kestrel_bay.toml"
    text = (Path(docgen.__file__).parent / "payers" / "general.toml").read_text(encoding="utf-8")
    for key, value in (("id", "kestrel_bay"), ("name", "Kestrel Bay Children's Health Plan, rules of Dunlin County")):
        text = re.sub(rf"(?m)^{key} = .*$", f'{key} = "{value}"', text, count=1)
    own.write_text(text, encoding="utf-8")
    copy = teaching_copy(assess(demo("ilmari-okonjo-vale"), read_payer(own)), wording(), tmp_path)
    assert copy.payer.name == f"rules of {copy.file.case.request.payer_name}"
    packet = build(copy, tmp_path, Selection(("html",)))
    assert not re.search("kestrel|dunlin", plain("".join(everything_said(packet.folder).values())))


@pytest.mark.parametrize(
    "born, at, age, told",
    [
        (date(1937, 3, 3), date(2026, 3, 2), "88", None),
        (date(1936, 3, 3), date(2026, 3, 2), "89", None),
        (date(1936, 3, 2), date(2026, 3, 2), "90 or more", "90 or more years ago"),
        (date(1921, 1, 1), date(2026, 3, 2), "90 or more", "90 or more years ago"),
    ],
)
def test_an_age_over_89_is_told_as_90_or_more(born, at, age, told, case_folder, tmp_path):
    """45 CFR 164.514(b)(2)(i)(C): all ages over 89 and what tells them go into a single category of age 90 or older."""
    toml = (
        SMALL.replace('name = "Robin Example"', f'name = "Robin Example"\nborn_on = {born}')
        + f"\n[dates]\nwritten_on = {at}\n"
    )
    copy = teaching_copy(assess(case_folder(toml)), wording(), tmp_path, WEEKS)
    text = plain(everything_said(build(copy, tmp_path, Selection(("html",), ("letter",))).folder)["letter.html"])
    assert f"who is {age}" in text and ((f"dob {told}," in text) if told else re.search(r"dob \d{4},", text))


@of_each("demo", DEMOS)
def test_making_a_copy_changes_nothing_of_the_case(demo):
    """The case that copies are made of is still the one that a file says."""
    assert copies(demo).copy is not None
    true, afresh = assess(folder("cases") / demo), read_case(folder("cases") / demo).case
    assert (true.file.case.model_dump_json(), true.file.case.records, true.file.case.sessions) == (
        afresh.model_dump_json(),
        afresh.records,
        afresh.sessions,
    ) and true.copy is None


def test_the_rules_are_those_in_force_on_the_real_day(tmp_path):
    """A row that ends between the real day of the request and the moved one is asked all the same."""
    true = assess(folder("cases") / "ilmari-okonjo-vale")
    ends = true.payer.model_copy(
        update={
            "requirements": tuple(
                row.model_copy(update={"until_on": date(2026, 12, 31)}) for row in true.payer.requirements
            )
        }
    )
    true = assess(folder("cases") / "ilmari-okonjo-vale", ends)
    copy = teaching_copy(true, wording(), tmp_path, WEEKS)
    assert copy.file.case.request.requested_on > date(2026, 12, 31)
    assert [(v.requirement.id, v.bound) for v in copy.verdicts] == [
        (v.requirement.id, v.bound) for v in true.verdicts
    ] and any(v.bound for v in copy.verdicts)
