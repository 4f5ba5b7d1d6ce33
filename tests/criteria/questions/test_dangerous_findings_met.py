"""What `dangerous_findings_met` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE, ROWS, ask, changed, grounds

from docgen.criteria.payer import load
from docgen.criteria.run import blocking, verdicts
from docgen.documents.telling import answered
from docgen.packet.wording import wording

SPASM = {"id": "spasm_sudden", "says": "Spasms throw her forward.", "measure": "3 an hour"}
PRESSURE = {"id": "pressure_risk", "says": "Cannot shift weight.", "measure": "0 of 5 tries"}
FEATURE = "configuration.features.+"

RECORDS = Records(
    "dangerous_findings_met",
    met=[
        ("the whole case", []),
        (
            "a spasm and a stop for a helper",
            [("findings.+", SPASM), (FEATURE, {"id": "attendant_stop", "because": ["spasm_sudden"]})],
        ),
        ("a spasm that an item answers", [("findings.+", SPASM), ("configuration.items.0.because", ["spasm_sudden"])]),
    ],
    not_met=[
        ("a spasm that nothing meets", [("findings.+", SPASM)]),
        ("a spasm, and items alone requested", [("findings.+", SPASM), ("configuration.features", [])]),
        (
            "skin at risk and nothing for it",
            [
                ("configuration.features.3", GONE),
                ("configuration.items.4.because", []),
                ("configuration.items.5.features", []),
            ],
        ),
    ],
    cannot_tell=[
        ("no finding", [("findings", [])]),
        (
            "a spasm, and nothing requested yet",
            [("findings.+", SPASM), ("configuration.features", []), ("configuration.items", [])],
        ),
    ],
    does_not_apply=[
        (
            "nothing that can hurt",
            [
                ("findings.2", GONE),
                ("configuration.features.3", GONE),
                ("configuration.items.4.because", []),
                ("configuration.items.5.features", []),
            ],
        ),
    ],
    ready={
        "met": [],
        "not_met": [(("findings",), lambda findings: [*findings, PRESSURE])],
    },
    rests_on=("findings", "configuration"),
)

test_each_record_gets_its_answer = RECORDS.test()


def test_what_a_finding_of_the_record_contraindicates_is_offered_with_that_word_alone():
    alone = {"id": "alone_hours", "says": "Alone from ten to two.", "measure": "4 h"}
    impulsive = {"id": "impulsive", "says": "Drives before told.", "measure": "2 times"}
    clear = ask("dangerous_findings_met", grounds(changed(("findings.+", impulsive)), ROWS)).to_settle
    assert "Request attendant_stop" in clear and "contraindication" not in clear
    doubtful = ask("dangerous_findings_met", grounds(changed(("findings.+", impulsive), ("findings.+", alone)), ROWS))
    offered = doubtful.to_settle.partition(", or name")[0]
    assert "attendant_stop" not in offered
    assert "attendant_stop would answer it too, and time without caregiver is a contraindication" in doubtful.to_settle


def test_a_stop_that_a_helper_has_in_the_power_switch_is_not_asked_for_again():
    impulsive = {"id": "impulsive", "says": "Drives before told.", "measure": "2 times"}

    def offered(by: str) -> str:
        stop = {"power_off": "at the joystick", "power_off_by": by, "helper_stops_by": "power_switch"}
        case = changed(("findings.+", impulsive), ("configuration.stop", stop))
        return ask("dangerous_findings_met", grounds(case, ROWS)).to_settle

    assert "attendant_stop" not in offered("helper") and "attendant_stop" not in offered("both")
    assert "attendant_stop" in offered("driver")


def test_no_other_control_and_no_part_of_one_is_offered_for_what_the_requested_one_leaves_open():
    field_cut = {"id": "field_cut", "says": "Sees nothing on the left.", "measure": "by confrontation"}
    asked = [{"id": "mini_joystick", "because": []}]
    answer = ask(
        "dangerous_findings_met", grounds(changed(("findings.+", field_cut), ("configuration.features", asked)), ROWS)
    )
    assert "attendant_stop" in answer.to_settle
    assert not {word for word in ("joystick_position", "lateral_pad_reach") if word in answer.to_settle}


def test_it_holds_the_packet_whoever_pays_and_stays_in_the_table_of_the_letter():
    here, payer = grounds(changed(("findings.+", SPASM)), ROWS), load("charity_or_school", "")
    assert "dangerous_findings_met" in {v.criterion.id for v in blocking(verdicts(here, payer, payer.reviewed_on))}
    rows = [row for row in answered(here.case, here.fit, wording().words) if row["unmet"]]
    assert [row["findings"] for row in rows] == ["Spasms throw her forward (3 an hour)."]
    assert not [
        row for row in answered(grounds(changed()).case, grounds(changed()).fit, wording().words) if row["unmet"]
    ]
