"""The requested control was shown often enough, or a ground says why not, who guards and until when.

Asks: Whether there are at least ten attempts with it over two days and five stops on command; where there are fewer,
    the therapist's ground, who guards the driver meanwhile, and until when.
Why a payer asks: Two attempts show nothing, whoever the driver is.
What settles it: More rows, or few_why, few_guard and few_until under [trial].
Source: US national coverage determination 280.3, question 4 (consistent and safe operation, judged for each device);
    the floors are common practice, no source.
"""

from __future__ import annotations

from collections.abc import Sequence

from docgen.case.model import Case
from docgen.case.totals import Tried
from docgen.criteria.attendant import caregiver_drives
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.forms import form
from docgen.criteria.mend import Mend
from docgen.criteria.sentences import counted, listed
from docgen.evidence.blocks import lines, n_attempts, total_lines
from docgen.evidence.stops import beside_rows, stops_on_request

HEADING = "record"
CLAIM = "The requested control was shown often enough"
SHOWN_IN = ("letter: Equipment Trial and Results",)
DANGER = True
SETTINGS = {"least_attempts": 10, "least_days": 2, "least_stops": 5}
_WORDS = {"few_why": "why more was not possible", "few_guard": "who guards meanwhile", "few_until": "until when"}


def answer(grounds: Grounds, least_attempts: int, least_days: int, least_stops: int) -> Answer:
    case, asked = grounds.case, grounds.case.configuration.method
    if caregiver_drives(case):
        return does_not_apply("A caregiver drives.", ("attendant", "drives"))
    rows = [row for row in case.tried if row.method == asked]
    if not rows:
        return cannot_tell(
            "No attempt with the requested control is recorded.",
            ("configuration", "method"),
            ("trial", "rows"),
            mend=Mend("Fill in configuration.method, and add its rows.", fill=("configuration.method",)),
        )
    beside = beside_rows(case.requested_method) if case.requested_method else ()
    n_stops = stops_on_request(case, [*rows, *beside]).n_asked
    seen = (n_attempts(rows), len({row.date for row in rows}), n_stops)
    counts = (
        f"{counted(seen[0], 'attempt', 'attempts')} on {counted(seen[1], 'day', 'days')} and "
        f"{counted(seen[2], 'stop', 'stops')} on command with the requested control"
    )
    if all(number >= floor for number, floor in zip(seen, (least_attempts, least_days, least_stops), strict=True)):
        return met(f"{counts}.", ("trial", "rows"))
    counts += f"; {least_attempts} on {least_days} days and {least_stops} stops are required"
    return _too_few(case, rows, counts)


def _too_few(case: Case, rows: Sequence[Tried], counts: str) -> Answer:
    """Met where ground, guard and end are all recorded; else not met. `counts` tells what was shown, and the floors."""
    trial = case.trial
    missing = [key for key in _WORDS if getattr(trial, key) is None]
    if not missing:
        guard = case.person(trial.few_guard)
        who = (guard.relation or guard.name if guard else None) or trial.few_guard
        return met(
            f"{counts}. The ground for fewer: {str(trial.few_why).rstrip('.')}; "
            f"{who} guards, until {str(trial.few_until).rstrip('.')}.",
            *(("trial", key) for key in _WORDS),
            bare=f"{counts}; the ground for fewer is recorded.",
        )
    keys = listed(f"{key} = {form(('trial', key))}" for key in missing)
    return not_met(
        f"{counts}, and nothing says {listed((_WORDS[key] for key in missing), 'or')}.",
        ("trial",),
        rows=lines(rows),
        totals=total_lines(rows),
        mend=Mend(
            f"Add rows, or fill in {keys} under [trial].",
            fill=tuple(f"trial.{key}" for key in missing),
            work=True,
        ),
    )
