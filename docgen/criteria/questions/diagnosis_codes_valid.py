"""Each diagnosis code exists and is billable.

Asks: Whether each code is in the public list and has no codes below it.
Why a payer asks: A claim with a heading in place of a code, or with a code that does not exist, is returned.
What settles it: code of each entry of [[diagnoses]].
Source: ICD-10-CM, April 2026 release (public list; through the package simple-icd-10-cm 1.5.0).
"""

from __future__ import annotations

from collections.abc import Iterable

from docgen.case.who import Diagnosis
from docgen.codes import icd10
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.mend import Mend, NewEntry, fill_in
from docgen.criteria.sentences import counted, listed

HEADING = "order"
CLAIM = "Each diagnosis code exists and is billable"
SETTINGS: dict[str, object] = {}

_MOST_BELOW = 20  # codes below a heading that are named; of more, docgen find tells those that fit words


def answer(grounds: Grounds) -> Answer:
    diagnoses = grounds.case.diagnoses
    if not diagnoses:
        return cannot_tell(
            "No diagnosis is recorded.",
            ("diagnoses",),
            mend=Mend(
                "Add [[diagnoses]] with code <diagnosis code> and name.", add=(NewEntry("diagnoses", ("code", "name")),)
            ),
        )
    codes = [(("diagnoses", i, "code"), diagnosis.code) for i, diagnosis in enumerate(diagnoses)]
    written = [(at, code) for at, code in codes if code]
    if unknown := [(at, code) for at, code in written if not icd10.exists(code)]:
        return not_met(
            f"Not in the list of {icd10.RELEASE}: {listed(code for _, code in unknown)}.",
            *(at for at, _ in unknown),
            mend=fill_in({"code": "<the code of that list>"}),
            bare=f"Not in the list of {icd10.RELEASE}: {counted(len(unknown), 'code', 'codes')}.",
        )
    if headings := [(at, code) for at, code in written if not icd10.billable(code)]:
        return not_met(
            f"A heading with codes below it, and not billable: {listed(code for _, code in headings)}.",
            *(at for at, _ in headings),
            mend=fill_in(
                {"code": f"<the billable code below {headings[0][1]} that the clinician chooses>"},
                _below(headings[0][1]),
            ),
            bare=f"A heading with codes below it, and not billable: {counted(len(headings), 'code', 'codes')}.",
        )
    if bare := [at for at, code in codes if not code]:
        return cannot_tell(
            f"The code is not recorded for {len(bare)} of {counted(len(codes), 'diagnosis', 'diagnoses')}.",
            *bare,
            mend=fill_in({"code": "<diagnosis code>"}, f" in [[diagnoses]]{_offered(diagnoses)}"),
        )
    reason = f"{counted(len(codes), 'code is', 'codes are')} listed and billable"
    return met(f"{reason}: {listed(code for _, code in written)}.", ("diagnoses",), bare=f"{reason}.")


def _below(heading: str) -> str:
    """The billable codes below a heading, where they are few enough to be offered."""
    below = [code for code in icd10.names() if code.startswith(heading) and icd10.billable(code)]
    return f": {listed(below, 'or')}" if 0 < len(below) <= _MOST_BELOW else ""


def _offered(diagnoses: Iterable[Diagnosis]) -> str:
    """The codes whose names are nearest to each name without a code, for the practitioner to choose from."""
    offered = [
        f"nearest to '{diagnosis.name}': {listed((f'{code} ({icd10.names()[code]})' for code in nearest), 'or')}"
        for diagnosis in diagnoses
        if not diagnosis.code and (nearest := icd10.nearest_by_name(diagnosis.name, 3))
    ]
    return f", as the practitioner chooses; {'; '.join(offered)}" if offered else ""
