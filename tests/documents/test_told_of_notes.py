"""What notes tell beside the rows, and findings that are no reason: each told once, where a reviewer looks for it."""

from __future__ import annotations

import re

import pytest
from made import rebuilt
from support import ASSESSED
from test_asked_of_a_chair import ILMARI, MARISOL, configured, page
from test_place_tables import row_of

from docgen.case.awaited import Awaited
from docgen.case.model import Case
from docgen.case.model import Case as CaseModel
from docgen.case.need import Finding
from docgen.case.paper import OutsideRecord
from docgen.case.short_form import written_out
from docgen.criteria.open_questions import not_answered
from docgen.documents.asked_told import condition_answers
from docgen.documents.control import control
from docgen.documents.phrase import inside
from docgen.documents.still_missing import _share_out
from docgen.documents.telling import answered, measured, said_once
from docgen.documents.told_besides import told_nowhere_else
from docgen.errors import UserError
from docgen.fit.match import fit
from docgen.packet.wording import language_words

WORDS = language_words()


def with_method(name: str, **changes):
    """A change of a case: one method of its trial."""

    def change(case: Case) -> Case:
        methods = tuple(m.model_copy(update=changes) if m.id == name else m for m in case.trial.methods)
        return case.model_copy(update={"trial": case.trial.model_copy(update={"methods": methods})})

    return change


def with_finding(**keys):
    return lambda case: case.model_copy(update={"findings": (*case.findings, Finding(**keys))})


def test_a_count_of_the_notes_stands_in_the_row_that_counts_otherwise():
    chosen = ASSESSED[ILMARI].file.case.configuration.method
    letter = page(ILMARI, "letter", with_method(chosen, notes_count="1 of 40", notes_stops="2 of 9"))
    assert "; in the notes 1 of 40" in letter
    assert "; in the notes 2 of 9." in letter, "beside the stops of the safety section"
    assert "the notes tell 1 of 40 attempts done where the rows count" in letter
    assert "which of the two holds is still to be looked up" in letter
    assert "in the notes" not in page(ILMARI, "letter", lambda case: case)


def test_why_a_stop_was_missed_by_the_notes_is_told_below_the_counts():
    other = "hand_stick"
    letter = page(ILMARI, "letter", with_method(other, notes_say="On March 10 he missed one stop, because he coughed."))
    assert "because he coughed." in letter.partition("Safety and Home Environment")[0]


def test_what_is_not_known_of_an_entry_stands_in_brackets_and_the_sentence_reads_on():
    def change(case: Case) -> Case:
        nobody = {"who": (), "by": None, "level": "never_alone"}
        places = tuple(place.model_copy(update=nobody) for place in case.supervision)
        report = OutsideRecord(author="Dr. Example", what="EMG")
        return case.model_copy(update={"supervision": places, "outside_records": (report,)})

    letter = page(ILMARI, "letter", change)
    assert "someone must be there (missing: who is near)" in letter
    assert "wrote this (missing: " in letter and "wrote this on missing" not in letter


def test_tries_apart_from_the_trial_are_told_with_what_was_done():
    def change(case: Case) -> Case:
        device = next(d for d in case.alternatives if not d.method)
        new = device.model_copy(update={"tries": 10, "tries_done": 0})
        return case.model_copy(update={"alternatives": tuple(new if d is device else d for d in case.alternatives)})

    letter = page(ILMARI, "letter", change)
    assert "ten times, and 0 of 10 were done; this is compared with no other count." in letter
    assert "was not kept" not in letter


def test_a_finding_that_nothing_else_tells_is_told_and_one_that_the_letter_tells_is_not():
    told = with_finding(id="left_foot_stiff", own=True, says="The left ankle barely bends.", measure="3 degrees")
    assert "The left ankle barely bends (3 degrees)." in page(ILMARI, "letter", told)
    function = ASSESSED[ILMARI].file.case.client.function or ""
    again = with_finding(id="again", own=True, says=function.split(". ")[0])
    case = again(ASSESSED[ILMARI].file.case)
    assert "again" not in told_nowhere_else(case, fit(case, lambda *path: ""))


def test_a_danger_is_told_after_the_finding_that_raises_it():
    case = with_finding(id="neck_restricted", says="Zygote quagmire waltz.")(ASSESSED[ILMARI].file.case)
    told = [" ".join(row["particular"]) for row in answered(case, fit(case, lambda *path: ""), WORDS)]
    [row] = [row for row in told if "Zygote" in row]
    assert row.startswith("Zygote quagmire waltz. What can go wrong with it:")


def test_a_measure_in_the_words_of_its_entry_is_not_told_again():
    case = ASSESSED[ILMARI].file.case
    entry = Finding(id="neck_pain", says="Her neck moves 20 degrees each way.", measure="20 degrees each way")
    assert measured(case, entry, entry.says, entry.measure, WORDS) == "Her neck moves 20 degrees each way."
    assert "(25 degrees)" in measured(case, entry, entry.says, "25 degrees", WORDS)


def test_a_month_keeps_its_capital_inside_a_sentence():
    assert inside("August 10 to 16") == "August 10 to 16" and inside("Monday mornings.") == "Monday mornings"
    assert inside("Counted twice.") == "counted twice"


def test_an_encounter_whose_form_is_not_recorded_is_no_face_to_face_one():
    def change(case: Case) -> Case:
        return case.model_copy(update={"encounter": case.encounter.model_copy(update={"mode": None})})

    assert "held the face-to-face mobility encounter" in page(ILMARI, "letter", lambda case: case)
    assert "held the face-to-face mobility encounter" not in page(ILMARI, "letter", change)


def test_the_power_switch_of_the_driver_is_told():
    change = configured(stop=lambda stop: stop.model_copy(update={"power_off": "egg switch", "power_off_by": "driver"}))
    assert "He reaches the power switch too (egg switch)." in page(ILMARI, "letter", change)


def test_a_measured_stop_is_told_before_what_is_missing_to_work_others_out():
    lacks = {"electronics_delay_s": None, "deceleration_m_s2": None, "braked_mm": 700, "braked_from_m_s": 0.89}
    letter = page(ILMARI, "letter", configured(chair=lambda chair: chair.model_copy(update=lacks)))
    assert "an electronics delay of missing" not in letter
    assert letter.index("When its stopping was measured") < letter.index("missing: delay before braking")


def test_several_doors_in_one_entry_have_their_widest_too(tmp_path):
    def widest(text: str) -> str:
        return re.sub(r"(clear_width_mm = 835)\n", r"\1\nwidest_mm = 1000\n", text, count=1)

    letter = rebuilt(tmp_path, ILMARI, ("letter",), case_toml=widest)["letter"].plain()
    assert re.search(r"32 3/4 in \(835 mm\) to [\d /]+ in \(1000 mm\),", letter)


def test_a_latch_that_was_tried_and_left_open_is_a_gap_beside_the_request():
    def change(case: Case) -> Case:
        features = tuple(f for f in case.configuration.features if f.id not in ("latched_drive", "momentary_drive"))
        profiles = tuple(p.model_copy(update={"latched": None}) for p in case.configuration.profiles)
        new = {"features": features, "profiles": profiles, "latched": None}
        return case.model_copy(update={"configuration": case.configuration.model_copy(update=new)})

    case = ASSESSED[MARISOL].file.case
    assert control(change(case), WORDS)["latch_open"] and not control(case, WORDS)["latch_open"]
    letter = page(ILMARI, "letter", lambda case: case)
    assert "tried with forward latched" not in letter


def test_tries_done_without_that_many_tries_are_refused(tmp_path):
    def more_done(text: str) -> str:
        return text.replace("[[alternatives]]", "[[alternatives]]\ntries = 3\ntries_done = 4", 1)

    with pytest.raises(UserError, match="tries_done of '.*' is 4, of 3 tries"):
        rebuilt(tmp_path, ILMARI, ("letter",), case_toml=more_done)


def test_a_stick_tried_is_a_standard_one_only_where_the_trial_says_so():
    def named(**method):
        raw = {"alternatives": [{"kind": "stick_by_chin", "method": "chin"}], "trial": {"methods": [method]}}
        return written_out(raw, CaseModel)["alternatives"][0]["name"]

    assert named(id="chin") == "a chin-operated joystick"
    assert named(id="chin", standard_stick=True) == "a chin-operated standard joystick"
    assert named(id="other") == "a chin-operated standard joystick"


def test_an_answer_that_no_sheet_prints_stands_in_the_plan():
    case = ASSESSED[ILMARI].file.case
    rows = list(condition_answers(case))
    assert ("How is the chair used on a bad day?", "He is pushed, the chair off.") in [
        (r["asks"], r["answer"]) for r in rows
    ]
    plan = page(ILMARI, "plan", lambda case: case)
    assert all(row["asks"] in plan for row in rows)


def test_when_somebody_is_there_is_told_of_who_has_no_hours_of_calls():
    def change(case: Case) -> Case:
        people = tuple(
            p.model_copy(update={"available": "at work from 8 to 17", "answers": None}) if p.role == "caregiver" else p
            for p in case.people
        )
        return case.model_copy(update={"people": people})

    assert "(at work from 8 to 17; " in page(ILMARI, "log", change)


def test_a_question_that_somebody_else_can_answer_is_not_the_therapists_own():
    def asked(**keys):
        entry = Awaited(id="bumps", what="what the column counts", of="therapist", **keys)
        return lambda case: case.model_copy(update={"awaited": (*case.awaited, entry)})

    letter = page(ILMARI, "letter", asked(whom="the supplier's student"))
    assert "what the column counts (by the supplier's student)" in letter
    assert "once I have settled what is mine to settle." in page(ILMARI, "letter", asked())


def test_a_question_to_somebody_outside_names_them_on_the_sheet_of_what_is_missing():
    entry = Awaited(id="bumps", what="what the column counts", of="therapist", whom="the supplier's student")
    [name] = not_answered([(0, entry)], holds=True).names
    assert name == "what the column counts (the supplier's student knows)"
    case = ASSESSED[ILMARI].file.case.model_copy(update={"awaited": (entry,)})
    _share_out(of_therapist := {"therapist": {}}, case, WORDS)
    assert list(of_therapist["therapist"]) == ["What the column counts (the supplier's student knows)"]


@pytest.mark.parametrize(
    ("says", "told"),
    [
        ("A recliner on loan; his wife pushes him.", "In use now: a recliner on loan; his wife pushes him."),
        ("He has a recliner on loan.", "In the Home He has a recliner on loan."),
    ],
)
def test_a_chair_named_alone_begins_no_sentence(says, told):
    def change(case: Case) -> Case:
        return case.model_copy(update={"request": case.request.model_copy(update={"chair_now": says})})

    assert told.removeprefix("In the Home ") in page(ILMARI, "letter", change)
    assert ("In use now" in told) == ("In use now" in page(ILMARI, "letter", change))


def test_a_few_words_of_a_place_follow_its_name():
    assert row_of(says="Roll-in.")["says"] == "A place: roll-in."
    assert row_of(says="There is no ramp.")["says"] == "There is no ramp."
    assert row_of()["says"] == ""


def test_a_widest_door_narrower_than_the_narrowest_is_refused(tmp_path):
    def widest(text: str) -> str:
        return re.sub(r"(clear_width_mm = 835)\n", r"\1\nwidest_mm = 700\n", text, count=1)

    with pytest.raises(UserError, match="widest_mm of '.*' is 700, and clear_width_mm is 835"):
        rebuilt(tmp_path, ILMARI, ("letter",), case_toml=widest)


def test_a_line_tells_words_that_two_of_its_findings_begin_with_once():
    first = Finding(id="seat_functions_needed", says="She cannot shift her weight.")
    second = Finding(id="pressure_risk", says="She cannot shift her weight, and sensation is reduced.")

    def told(*findings: Finding) -> list[str]:
        case = ASSESSED[ILMARI].file.case.model_copy(update={"findings": findings})
        return said_once(case, [finding.id for finding in findings])

    assert told(first, second) == ["pressure_risk"]
    measured_too = first.model_copy(update={"measure": "0 of 5 tries"})
    assert told(measured_too, second) == ["seat_functions_needed", "pressure_risk"]
