"""What `dangerous_findings_met` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE, ROWS, changed, grounds

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


def test_it_holds_the_packet_whoever_pays_and_stays_in_the_table_of_the_letter():
    here, payer = grounds(changed(("findings.+", SPASM)), ROWS), load("charity_or_school", "")
    assert "dangerous_findings_met" in {v.criterion.id for v in blocking(verdicts(here, payer, payer.reviewed_on))}
    rows = [row for row in answered(here.case, here.fit, wording().words) if row["unmet"]]
    assert [row["findings"] for row in rows] == ["Spasms throw her forward (3 an hour)."]
    assert not [
        row for row in answered(grounds(changed()).case, grounds(changed()).fit, wording().words) if row["unmet"]
    ]
