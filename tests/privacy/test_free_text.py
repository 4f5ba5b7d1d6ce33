"""Free text of a copy: names however they are written, numbers, places, days; marker words in every field that
identifies."""

from __future__ import annotations

import json
import re
import unicodedata
from datetime import date, timedelta
from functools import cache

import pytest
from gathered import of_each
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import asdict, replace
from outputs import everything_said, plain
from support import DEMO_FOLDERS

from docgen.case.model import Case
from docgen.case.nobody.birth import Oldest, YearOnly
from docgen.case.nobody.copy import deidentified
from docgen.case.nobody.keys import weeks_apart
from docgen.case.read import read_case
from docgen.packet.assess import assess
from docgen.packet.teaching import _ordinary, teaching_copy
from docgen.packet.wording import wording
from docgen.packet.write import build

LABELS = wording().words["deidentified"]
PEOPLE = [
    {
        "id": "ot",
        "role": "evaluator",
        "name": "Zoë Brändström-O’Hara",
        "credential": "OTR/L",
        "license": "OT-55871",
        "organisation": "Quillfen Harbour Clinic",
        "phone": "(555) 010-4477",
        "email": "zoe.b@quillfen.example",
    },
    {"id": "aunt", "role": "caregiver", "name": "May Wenzelburg", "relation": "aunt"},
    {"id": "uncle", "role": "caregiver", "name": "Jakub Łasko-Vreeland", "relation": "uncle"},
]


@cache
def case(**client):
    tables = {
        "format": "docgen case 1",
        "id": "tamsin-vreeland-2019",
        "people": tuple(PEOPLE),
        "client": {"name": "Tamsin Ívarsdottir-Vreeland", "called": "Tam", "member_id": "QH-4471-88230", **client},
        "request": {"payer_name": "Quillfen State Plan"},
        "dates": {"written_on": date(2026, 4, 17)},
    }
    return Case.model_validate(tables)


def told(text, weeks=104, **client):
    """A text of the client as a copy has it."""
    return deidentified(
        case(**client).model_copy(update={"client": case(**client).client.model_copy(update={"day": text})}),
        "copy",
        weeks,
        LABELS,
        _ordinary(),
    ).case.client.day


@of_each(
    "text, copy",
    [
        ("Tam drives.", "Client A drives."),
        ("TAM DRIVES.", "Client A DRIVES."),
        ("Help tam to the table.", "Help Client A to the table."),
        ("Tam’s chair and Tam's bed", "Client A’s chair and Client A's bed"),
        ("Tamsin Ivarsdottir Vreeland", "Client A"),
        ("IVARSDOTTIR-VREELAND, Tamsin", "Client A"),
        ("Tamsin K. Ívarsdottir", "Client A"),
        ("T. I. V. was tired", "Client A was tired"),
        ("TIV was tired", "Client A was tired"),
        ("ask Zoe", "ask Person B"),
        ("ask O'Hara or brandstrom", "ask Person B or Person B"),
        ("Zo\u0065\u0308 came", "Person B came"),
        ("Dr. Z. Brändström-O’Hara", "Dr. Person B"),
        ("Jakub Lasko", "Person D"),
        ("She may go; May helps.", "She may go; Person C helps."),
        ("the Wenzelburgs", "the Person C"),
        ("at Quillfen Harbour Clinic", "at Clinic E"),
        ("from Quillfen on", "from Name G on"),
        ("in the clinic", "in the clinic"),
        ("tamsin-vreeland-2019", "[number]"),
        ("#tamsinívarsdottirvreeland", "#Client A"),
        ("He met Orla Fenwick there.", "He met Name G there."),
        ("walks as in Parkinson or Charcot-Marie-Tooth", "walks as in Parkinson or Charcot-Marie-Tooth"),
        ("The tamarind is ripe.", "The tamarind is ripe."),
        ("stamina of a Tampere", "stamina of a Name G"),
    ],
)
def test_a_name_goes_however_it_is_written(text, copy):
    assert told(text) == copy


def test_a_part_two_people_share_stands_for_neither():
    assert told("Vreeland came. Jakub Łasko-Vreeland came.") == "Name G came. Person D came."


@of_each(
    "text, copy",
    [
        ("Call (555) 010-4477.", "Call [number]."),
        ("Call 555 010 4477 or 555-0199.", "Call [number] or [phone]."),
        ("Call +44 20 7946 0958.", "Call [phone]."),
        ("Member QH 4471 88230; card 88230.", "Member [number]; card [number]."),
        ("OT 55871", "[number]"),
        ("a@b.example", "[email]"),
        ("see https://x.example/p?id=3.", "see [link]."),
        ("SSN 078-05-1120", "SSN [number]"),
        ("at 14 Pier Street, Unit 2b", "at [address]"),
        ("Ely, MN 55731", "Ely, [address]"),
        ("chair serial no. AX-40071", "chair serial no. [number]"),
        ("from 10.0.0.17", "from [link]"),
        ("She is 93 years old.", "She is 90 or more years old."),
        ("aged 91", "aged 90 or more"),
        ("ninety-two years old", "90 or more years old"),
        ("aged 89, moved 95 mm, 92 of 100 done", "aged 89, moved 95 mm, 92 of 100 done"),
        ("400-1200 mm, 4.5 kg, 9 of 10, 3/4", "400-1200 mm, 4.5 kg, 9 of 10, 3/4"),
        ("clear by 600-1000 mm at 0.4 m/s", "clear by 600-1000 mm at 0.4 m/s"),
        ("Top number on the cuff above 120.", "Top number on the cuff above 120."),
        ("The top number is above 120.", "The top number is above 120."),
        ("Her cuff is behind 120.", "Her cuff is behind [number]."),
    ],
)
def test_a_number_that_leads_to_someone_goes_and_a_measure_stays(text, copy):
    assert told(text) == copy


@of_each(
    "text, copy",
    [
        # 104 weeks are 728 days, two years less two or three days
        ("2026-03-03", "2028-02-29"),
        ("on 3 March 2026", "on 29 February 2028"),
        ("on March 3, 2026,", "on February 29, 2028,"),
        ("3/17/2026 and 17.03.2026", "3/14/2028 and 14.3.2028"),
        ("17/03/26", "14/3/28"),
        ("the 3rd of June", "the 31 of May"),
        ("3, 10 and 17 June 2026", "31 May, 7 and 14 June 2028"),
        ("since January 2023", "since January 2025"),
        ("since 2014.", "since 2016."),
        ("2014", "2016"),
        ("Mar 17", "Mar 14"),
        ("17 MARCH 2026", "14 MARCH 2028"),
        ("in December", "in December"),
        ("17 march 2026", "14 March 2028"),
        ("in 4 of 10 may be", "in 4 of 10 may be"),
        ("2026 mm wide, 2000 steps", "2026 mm wide, 2000 steps"),
        ("30 February 2026", "30 February 2028"),
        ("stops 7/10, 3/17", "stops 7/10, 3/17"),
    ],
)
def test_a_day_moves_in_the_form_it_is_written_in(text, copy):
    assert told(text) == copy


def test_a_moved_day_is_the_day_moved():
    assert told("2026-01-31", 60) == str(date(2026, 1, 31) + timedelta(weeks=60))


def test_a_kind_of_birth_date_for_those_over_89():
    copy = deidentified(case(born_on=date(1930, 1, 1)), "copy", 60, LABELS, ()).case
    young = deidentified(case(born_on=date(2016, 5, 1)), "copy", 60, LABELS, ()).case
    assert (
        isinstance(copy.client.born_on, Oldest)
        and type(young.client.born_on) is YearOnly
        and young.client.born_on == date(2018, 1, 1)
    )


def test_words_that_may_be_names_are_told():
    found = deidentified(
        case().model_copy(update={"client": case().client.model_copy(update={"day": "Orla came. She may help."})}),
        "copy",
        60,
        LABELS,
        _ordinary(),
    )
    assert set(found.doubtful) == {"Orla", "may"}


def test_ids_with_a_name_in_them_change_everywhere_alike_and_never_into_each_other():
    tables = case().model_dump(exclude_none=True)
    tables["trial"] = {
        "methods": (
            {"id": "tam_pads", "name": "pads"},
            {"id": "tamsin_pads", "name": "others"},
            {"id": "pads", "name": "third"},
        )
    }
    tables["configuration"] = {"method": "tamsin_pads"}
    copy = deidentified(Case.model_validate(tables), "copy", 60, LABELS, ()).case
    ids = [method.id for method in copy.trial.methods]
    assert (
        len(set(ids)) == 3
        and not any("tam" in one for one in ids)
        and copy.configuration.method == ids[1]
        and ids[2] == "pads"
    )


def test_the_weeks_move_no_day_onto_another():
    found = read_case(next(f for f in DEMO_FOLDERS if f.name == "saoirse-villalobos-ng")).case
    days = {row.date for row in (*found.records, *found.sessions)}
    weeks = weeks_apart(found, range(1, 300))
    assert weeks > 1 and not days & {day + timedelta(weeks=weeks) for day in days}


# ---- markers ------------------------------------------------------------------------------------------

_LETTERS = "bcdfghjklmnpqrstvwxzaeiouéüñøçŁš"
_PART = st.text(_LETTERS, min_size=4, max_size=9).map(
    lambda text: "Q" + text.casefold()
)  # Q before a consonant: no word of ours
_NAME = st.lists(_PART, min_size=2, max_size=3, unique=True)
_WRITTEN = {
    "as it is": lambda parts: " ".join(parts),
    "small": lambda parts: " ".join(parts).lower(),
    "capitals": lambda parts: "-".join(parts).upper(),
    "turned": lambda parts: f"{parts[-1]}, {parts[0]}",
    "first": lambda parts: parts[0],
    "last": lambda parts: f"{parts[-1]}’s",
    "joined": lambda parts: "".join(parts).lower(),
    "bare": lambda parts: "".join(
        c for c in unicodedata.normalize("NFKD", " ".join(parts)) if not unicodedata.combining(c)
    ),
}
_AROUND = st.sampled_from(
    [
        "{} sat still.",
        "We asked {} about it.",
        "({})",
        "the aide and {}; then lunch",
        "“{}”",
        "seen by {}/aide",
        "no pain\n{}\n",
    ]
)


def _traces(text, words):
    text = plain(text)
    return [word for word in words if re.search(rf"(?<![^\W\d_]){re.escape(plain(word))}(?![^\W\d_])", text)]


@settings(max_examples=60, deadline=None)
@given(
    names=st.lists(_NAME, min_size=4, max_size=4, unique_by=lambda parts: parts[0]),
    numbers=st.lists(st.integers(10**7, 10**9), min_size=5, max_size=5, unique=True),
    written=st.sampled_from(sorted(_WRITTEN)),
    around=_AROUND,
    weeks=st.integers(53, 260),
)
def test_no_marker_of_an_identifying_field_is_left_in_any_text(names, numbers, written, around, weeks):
    parts = [part for name in names for part in name]
    client, evaluator, clinic, payer = (" ".join(name) for name in names)
    inside = " ".join(around.format(_WRITTEN[written](name)) for name in names)
    inside += " " + " ".join(f"({number})" for number in numbers)
    tables = {
        "format": "docgen case 1",
        "id": "x",
        "client": {"name": client, "called": names[0][0], "member_id": str(numbers[0]), "day": inside, "lives": inside},
        "people": (
            {
                "id": "ot",
                "role": "evaluator",
                "name": evaluator,
                "license": str(numbers[1]),
                "organisation": clinic,
                "phone": str(numbers[2]),
                "email": f"{names[1][0]}@{names[2][0]}.example".replace("ł", "l"),
                "private_note": inside,
                "own_record": inside,
            },
        ),
        "request": {"payer_name": payer, "payer_says": inside},
        "authorization": {"tracking": str(numbers[3])},
        "denial": {"reference": str(numbers[4]), "reasons": ({"says": inside},)},
        "findings": ({"id": "young_driver", "says": inside, "measure": inside},),
        "trial": {"place": inside, "rows": f"{numbers[0]}.csv"},
        "training": {"zone": "America/Denver"},
        "dates": {"written_on": date(2026, 4, 17)},
    }
    copy = deidentified(Case.model_validate(tables), "copy", weeks, LABELS, _ordinary()).case
    text = json.dumps(copy.model_dump(mode="json"), ensure_ascii=False)
    assert not _traces(text, [*parts, *map(str, numbers), "Denver", client])
    assert "Client A" in text and "2026-04-17" not in text


@pytest.mark.parametrize("name", ["ilmari-okonjo-vale", "saoirse-villalobos-ng"])
def test_no_marker_is_left_in_any_byte_of_a_packet(name, tmp_path):
    """Marker words in every identifying field, and the same in every free text and every row."""
    true = assess(next(f for f in DEMO_FOLDERS if f.name == name))
    marks = [
        f"Zq{letters}"
        for letters in (
            "wabble",
            "grosk",
            "threndle",
            "pimbury",
            "vaxley",
            "drunst",
            "kelloway",
            "frennis",
            "holbrix",
            "ulverk",
            "yandle",
            "corrib",
        )
    ]
    kept = ("format", "id", "invented", "code", "base_code", "modifier", "codes", "questions", "payer", "zone", "rows")
    left = iter(range(10**6))

    def marked(part):
        changed = {}
        for key in type(part).model_fields:
            value = getattr(part, key)
            if hasattr(type(value), "model_fields"):
                changed[key] = marked(value)
            elif isinstance(value, tuple):
                changed[key] = tuple(marked(one) if hasattr(type(one), "model_fields") else one for one in value)
            elif isinstance(value, str) and " " in value and key not in kept:
                n = next(left)
                changed[key] = (
                    f"{value.rstrip('.')}, as {marks[n % len(marks)]} said at 555-0{100 + n % 90} on 9 October 2025."
                )
        return part.model_copy(update=changed)

    case_marked = marked(true.file.case)
    people = tuple(
        person.model_copy(update={"name": f"{marks[i]} {marks[i + 1]}"})
        for i, person in enumerate(true.file.case.people)
    )
    case_marked = case_marked.model_copy(
        update={
            "people": people,
            "client": case_marked.client.model_copy(update={"name": " ".join(marks[8:10]), "called": marks[8]}),
        }
    )
    note = lambda row: replace(row, note=f"with {marks[11].upper()}, 555-0123")  # noqa: E731
    case_marked = case_marked.with_records(tuple(map(note, true.file.case.records))).with_sessions(
        tuple(map(note, true.file.case.sessions))
    )
    copy = teaching_copy(replace(true, file=replace(true.file, case=case_marked)), wording(), tmp_path, 101)
    assert not _traces(
        json.dumps([asdict(row) for row in (*copy.file.case.records, *copy.file.case.sessions)], default=str), marks
    )
    build(copy, tmp_path)
    found = everything_said(tmp_path)
    assert next(left) > 60 and len(found) > 20
    for file, text in found.items():
        shown = plain(text)
        assert not [shown[max(0, at - 60) : at + 60] for mark in marks if (at := shown.find(plain(mark))) >= 0], file
        assert not re.search(r"555-0\d{3}|9 october 2025", shown), file


def test_keys_that_identify_are_removed_whole_whatever_stands_in_them():
    people = (
        {
            **PEOPLE[0],
            "license": "not granted so far",
            "phone": "ask at the desk",
            "email": "by letter alone",
            "private_note": "a word",
        },
    )
    tables = case(member_id="not known").model_dump(exclude_none=True) | {
        "people": people,
        "authorization": {"tracking": "word"},
        "denial": {"reference": "word"},
    }
    copy = deidentified(Case.model_validate(tables), "copy", 60, LABELS, ()).case
    person = copy.people[0]
    assert [person.license, person.phone, person.email, person.private_note] == ["removed", "removed", "removed", None]
    assert [copy.client.member_id, copy.authorization.tracking, copy.denial.reference] == ["removed"] * 3
    assert (copy.client.weight_kg, copy.people[0].relation, copy.client.born_on) == (None, None, None)
