"""Everything a document could be shown, in tables: the case, and what follows from it.

Nothing here reaches a page by itself. A template's front matter names the tables and keys it may use,
and view.project leaves only those.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from typing import TYPE_CHECKING, Any

from docgen.case.model import Case
from docgen.case.privacy import Privacy
from docgen.case.who import Person
from docgen.codes.hcpcs import later_list
from docgen.criteria.asked_of import asked_of, keys_asked
from docgen.criteria.ordered import options_said_otherwise
from docgen.criteria.run import Verdict
from docgen.documents.appeal import appeal_tables
from docgen.documents.as_fitted import as_fitted, fitted_otherwise, settings_otherwise
from docgen.documents.asked_told import condition_answers
from docgen.documents.authorization import authorized
from docgen.documents.base_asked import after_order, base_asked
from docgen.documents.checklist import checklist
from docgen.documents.classed import Classed, each
from docgen.documents.classes import case_tables
from docgen.documents.control import control
from docgen.documents.daily_use import daily_use
from docgen.documents.drive_profiles import profile_steps, profiles
from docgen.documents.emergency import emergency_tables
from docgen.documents.features_and_items import feature_row, item_rows
from docgen.documents.follow_up import visits_planned
from docgen.documents.helper_rows import not_shown
from docgen.documents.lines import lines_alike, order_lines, unlined
from docgen.documents.made_from import classes_of_key, made_from, of_people
from docgen.documents.mounting import heights, mounting, zero
from docgen.documents.order_lines import boxes, fits_together
from docgen.documents.parameters import parameters, set_cautions, to_enter, unused_parameters
from docgen.documents.phrase import Words, number
from docgen.documents.places import places, rooms
from docgen.documents.progress import progress_tables
from docgen.documents.quoting import Quotations
from docgen.documents.readers import reader_rows
from docgen.documents.record_index import record_index
from docgen.documents.requested import coverage, requested
from docgen.documents.riding import ride
from docgen.documents.row_rule import reliable
from docgen.documents.said_besides import asked_besides
from docgen.documents.screening import attacks, screened
from docgen.documents.simpler_devices import signs, simpler_device
from docgen.documents.sitting import sitting_tables
from docgen.documents.slopes import slopes
from docgen.documents.stages import stage_name, step_aim
from docgen.documents.standard_parts import standard_parts
from docgen.documents.stop_tests import slope_stops, stop_tests
from docgen.documents.stopping_told import pressed, pressed_slower, slower, stopping_told
from docgen.documents.stops_elsewhere import release_told, wrong_profile
from docgen.documents.supervised import alone_hours, step_away, supervised
from docgen.documents.telling import answered
from docgen.documents.told_besides import reasons
from docgen.documents.training import training_tables
from docgen.documents.trial_table import (
    chosen_method,
    counted_by,
    done_told,
    method_row,
    tasks_apart,
    trial_ends,
    trial_places,
    trial_planned,
    trial_sessions,
    unfair,
)
from docgen.documents.who import who
from docgen.evidence.fact import Evidence, Fact
from docgen.fit.match import Fit
from docgen.rendering.template import Gap, Number

if TYPE_CHECKING:
    from docgen.documents.document import Document

MADE_FROM = {
    "evaluator": of_people("evaluator"),
    "practitioner": of_people("practitioner"),
    "supplier": of_people("supplier"),
    "caregivers": of_people("caregiver", "coach", "school"),
    "coach": of_people("coach"),
    "contacts": of_people("respiratory", "other", also=Privacy.CONTACT),
    "evidence": made_from("trial.methods"),  # each fact carries the classes of its own keys besides
    "answered": made_from("findings", "configuration.features"),
    "minutes_counted": made_from("activities.source"),
    "ordered": made_from("dates.ordered_on", unlined="diagnoses.code", code_list="request.requested_on"),
    "stage_names": made_from("training.stage"),
    "trial_days": made_from("trial.methods"),
    "trial_places": made_from("trial.methods", place="visits.place"),
    "seen": made_from(on="visits.on", of_trial="visits.on", supplier_on="visits.also"),
    "taught_people": made_from("taught", name="people.name"),
    "helpers": made_from("taught", name="people.name"),
    "session_totals": made_from("training.totals"),
    "base_named": made_from("configuration.chair.name", "configuration.chair.base_code"),
    "record_index": made_from("people.name", "findings", "alternatives"),
    "fits_together": made_from("configuration.items.code"),
    "answers": made_from("findings", "alternatives", "configuration.items.code"),
    "order_answers": made_from("configuration.items.code"),
    # of the packet, which fills them in
    "documents": made_from("request.payer"),
    "other_documents": made_from("request.payer"),
    "enclosed": made_from("request.payer"),
    "papers": made_from("request.payer", on="dates.ordered_on"),
    "packet": made_from("request.payer"),
}

# Families of facts that have one member per method, profile or space.
FAMILIES = (
    "success",
    "stop_request",
    "difference",
    "contacts",
    "person_contacts",
    "unintended",
    "missed",
    "days",
    "attempts",
    "prompts_verbal",
    "prompts_physical",
    "release",
    "release_slowest",
    "fatigue_rise",
    "tone_rise",
    "stopping",
    "safe_speed",
    "margin",
)


def everything(
    case: Case, evidence: Evidence, fit: Fit, verdicts: Sequence[Verdict], documents: Sequence[Document], words: Words
) -> dict[str, Any]:
    """Table name -> model, mapping or tuple of them."""
    quotes = Quotations(case)
    answers = tuple(_answer(case, verdict, quotes) for verdict in verdicts)

    def shown(fact: Fact | None) -> Number | Gap | None:
        return None if fact is None else number(fact, words)

    families = {name: {key: _classed(f, words) for key, f in evidence.family(name).items()} for name in FAMILIES}
    single = {f.id: _classed(f, words) for f in evidence.values() if "." not in f.id}
    lines = tuple(order_lines(case, verdicts, words))
    lesser = tuple(simpler_device(case, device, evidence, shown, words) for device in case.alternatives)
    tables = {name: getattr(case, name) for name in case_tables()}
    return (
        tables
        | training_tables(case, evidence, words)
        | progress_tables(case, evidence, words)
        | appeal_tables(case, evidence, verdicts, quotes, words)
        | emergency_tables(case, words)
        | sitting_tables(case, fit, words)
        | {
            "who": who(case, words),
            "base_named": {"by_code": options_said_otherwise(case)},
            "evaluator": _first(case, "evaluator"),
            "practitioner": _first(case, "practitioner"),
            "supplier": _first(case, "supplier"),
            "caregivers": tuple(p for p in case.people if p.role in ("caregiver", "coach", "school")),
            "contacts": tuple(
                p
                for p in case.people
                if p.role == "respiratory" or (p.role == "other" and p.phone and (p.call_for or p.id in case.on_call))
            ),
            "evidence": families | {"total": single},
            "features": tuple(feature_row(case, chosen) for chosen in fit.chosen),
            "answered": tuple(answered(case, fit, words)),
            "minutes_counted": tuple({"how": how} for how in dict.fromkeys(a.source for a in case.activities) if how),
            "items": tuple(item_rows(case, fit, verdicts, words)),
            "order_lines": lines,
            "base_asked": base_asked(case, words),
            "after_order": after_order(case, case),
            "lines_alike": lines_alike(lines),
            "standard_parts": tuple(standard_parts(case, words)),
            "control": control(case, words),
            "has": daily_use(case, fit),
            "counted_by": counted_by(case, evidence),
            "done_told": done_told(case),
            "trial_ends": trial_ends(case),
            "methods": tuple(method_row(case, method, evidence, shown, words) for method in case.trial.methods),
            "screened": tuple(screened(case, words)),
            "attacks": attacks(case, words),
            "requested": tuple(requested(case, fit, verdicts, words)),
            "coverage": {"says": coverage(case, verdicts)},
            "tasks_apart": tuple(tasks_apart(case)),
            "lesser": lesser,
            "signs": tuple(signs(lesser)),
            "chosen": chosen_method(case, evidence, shown, words),
            "ordered": {
                "on": case.dates.ordered_on if _ordered_by_practitioner(case) else None,
                "unlined": unlined(case),
                "code_list": later_list(on) if (on := case.request.requested_on) else None,
                "_labels": {"code_list": "day of the request"},
            },
            "stage_names": tuple(
                {
                    "number": n,
                    "name": stage_name(n, words),
                    "aim": step_aim(n, case, words),
                    "start": n == case.training.stage,
                }
                for n in _stages_named(case)
            ),
            "seen": {"on": _days_seen(case), "of_trial": _is_of_trial(case), "supplier_on": _days_of_supplier(case)},
            **asked_besides(case),
            "condition_answers": tuple(condition_answers(case)),
            "trial_days": {"on": tuple(sorted({row.date for row in case.tried})), "kept": _kept_of_trial(case, words)},
            "trial_places": tuple(trial_places(case)),
            "trial_sessions": tuple(trial_sessions(case, evidence, shown)),
            "places": tuple(places(case, evidence, words, shown)),
            "ride": ride(case, words),
            "as_fitted": as_fitted(case),
            "fitted_otherwise": tuple(fitted_otherwise(case)),
            "settings_otherwise": tuple(settings_otherwise(case, words)),
            "configuration": case.as_fitted.configuration,  # as the guide shows it; the order has a table of its own
            "rooms": tuple(rooms(case, evidence, words)),
            "stopping": stopping_told(case, evidence, words),
            "slower": tuple(slower(case, evidence)),
            "pressed": pressed(case, words),
            "pressed_slower": tuple(pressed_slower(case, words)),
            "mounting": tuple(mounting(case)),
            "boxes": tuple(boxes(case)),
            "heights": heights(case),
            "zero": zero(case),
            "authorized": authorized(case, words),
            "checklist": tuple(checklist(case, verdicts, words)),
            "parameters": tuple(parameters(case, words)),
            "to_enter": tuple(to_enter(case, words)),
            "stop_tests": tuple(stop_tests(case, evidence, shown)),
            "release_told": release_told(case, evidence.stopping),
            "wrong_profile": tuple(wrong_profile(evidence.stopping, words)),
            "slope_stops": tuple(slope_stops(case, evidence, shown)),
            "set_cautions": tuple(set_cautions(case)),
            "unused_parameters": tuple(unused_parameters(case, words)),
            "profiles": tuple(profiles(case, words)),
            "profile_steps": tuple(profile_steps(case, words)),
            "readers": tuple(reader_rows(case, words)),
            "visits_planned": visits_planned(case, words),
            "supervised": tuple(supervised(case, words)),
            "step_away": tuple(step_away(case, words)),
            "alone_hours": tuple(alone_hours(case, words)),
            "slopes": tuple(slopes(case, evidence.stopping)),
            "reliable": reliable(case),
            "unfair": tuple(unfair(case, evidence, words)),
            "trial_planned": trial_planned(case, words),
            "taught_people": tuple(_taught(case)),
            "helpers": tuple(_helpers(case)),
            "not_shown": tuple(not_shown(case, daily_use(case, fit), words)),
            "session_totals": tuple(_session_totals(case)),
            "coach": case.person(case.training.coach) or Person(id="coach", role="coach"),
            "record_index": tuple(record_index(case, reasons(case, fit), words)),
            "fits_together": tuple(fits_together(verdicts, quotes)),
            "answers": answers,
            # answers speak of anything in the case; a supplier is shown those about the order alone
            "order_answers": tuple(answer for answer in answers if answer["heading"] == "order"),
            "documents": tuple({"title": d.title, "reader": d.reader, "name": d.name} for d in documents),
        }
    )


def _classed(fact: Fact, words: Words) -> Classed:
    """A fact with the classes of its keys; a fact of rows alone is of the trial, as its table says."""
    keys = (key for key in fact.keys if not key.endswith(".csv"))
    return Classed(number(fact, words), each(frozenset[Privacy]().union(*map(classes_of_key, keys))))


def _first(case: Case, role: Any) -> Person:
    return next(iter(case.with_role(role)), Person(id=role, role=role))


def _stages_named(case: Case) -> list[int]:
    """Stages of the training plan that the letter speaks of: the first one, and those that supervision waits for."""
    waits = [place.until_stage for place in case.supervision]
    waits += [profile.until_stage for profile in case.configuration.profiles]
    named = {stage for stage in waits if stage is not None}
    return sorted(named if case.training.stage is None else named | {case.training.stage})


def _days_seen(case: Case) -> tuple[date, ...]:
    """Days up to the report on which the evaluator saw the client: visits, calls left out, the evaluator's own entries,
    and the days of the trial where no visits of the evaluator are recorded that would have been these; empty where
    they are none but the day of the report."""
    ids = {person.id for person in case.with_role("evaluator")}
    report = case.dates.evaluated_on
    calls = {visit.on for visit in case.visits if visit.is_call}
    days = {visit.on for visit in case.visits if visit.by in ids} or {row.date for row in case.tried}
    for entries in (case.limits, case.findings, case.alternatives):
        days |= {entry.on for entry in entries if entry.by in ids and entry.on is not None}
    seen = tuple(sorted(day for day in days - calls if report is None or day <= report))
    return () if seen == (report,) else seen


def _kept_of_trial(case: Case, words: Words) -> tuple[str, ...]:
    """What was written down of the trial, in words: its rows, its day totals, both or nothing."""
    kept = {"rows": case.records, "totals": case.totals}
    return tuple(words["trial_kept"][name] for name, there in kept.items() if there)


def _is_of_trial(case: Case) -> bool:
    """Whether one of the days on which the evaluator saw the client is known as a day of the trial alone: nothing that
    the evaluator found, screened or ruled out is of it."""
    ids = {person.id for person in case.with_role("evaluator")}
    days_found = {e.on for entries in (case.limits, case.findings, case.alternatives) for e in entries if e.by in ids}
    return bool({row.date for row in case.tried}.intersection(_days_seen(case)) - days_found)


def _days_of_supplier(case: Case) -> tuple[date, ...]:
    """Days on which the supplier saw the client in person: the one recorded, and visits that name them too."""
    ids = {person.id for person in case.with_role("supplier")}
    days = {visit.on for visit in case.visits if ids.intersection(visit.also) and not visit.is_call}
    return tuple(sorted(days | set(filter(None, [case.dates.supplier_assessed_on]))))


def _ordered_by_practitioner(case: Case) -> bool:
    return case.order.signed_by is not None and case.order.signed_by == _first(case, "practitioner").id


def _taught(case: Case) -> Any:
    for taught in case.taught:
        person = case.person(taught.who)
        name = person.name if person else None
        yield {
            "name": name or (person.relation if person else None),
            "what": taught.what,
            "on": taught.on,
            "_labels": {"name": "name of who was taught", "on": "date taught"},
        }


def _helpers(case: Case) -> Iterator[dict[str, Any]]:
    """What each person was shown, person by person in the order of the case; `begins` and `ends` mark the first and
    the last of a person."""
    rows = list(zip(case.taught, _taught(case), strict=True))
    for person in dict.fromkeys(taught.who for taught in case.taught):
        own = [row for taught, row in rows if taught.who == person]
        for at, row in enumerate(own):
            yield {**row, "begins": at == 0, "ends": at == len(own) - 1}


def _session_totals(case: Case) -> Iterator[dict[str, Any]]:
    """Training sessions of which only the sums are recorded, in order of their days."""
    for session in sorted(case.training.totals, key=lambda session: session.on):
        prompts = (session.prompts_verbal, session.prompts_physical)
        yield {
            **{key: getattr(session, key) for key in ("on", "task", "place", "tries", "done", "minutes")},
            "verbal": prompts[0],
            "physical": prompts[1],
            "who": session.by or "",
            "says": session.says or "",
            "_labels": {
                "place": f"where the session of {session.task} was",
                "tries": f"attempts of {session.task}",
                "done": f"successful attempts of {session.task}",
                "minutes": f"minutes of the session of {session.task}",
                "verbal": f"verbal prompts at {session.task}",
                "physical": f"physical prompts at {session.task}",
            },
        }


def _answer(case: Case, verdict: Verdict, quotes: Quotations) -> Mapping[str, Any]:
    requirement, criterion, answer = verdict.requirement, verdict.criterion, verdict.answer
    return {
        "id": requirement.id,
        "claim": criterion.claim,
        "heading": criterion.heading,
        "status": answer.status,
        "stands": answer.stands,
        "severity": verdict.severity,
        "reason": quotes.reason(verdict),
        "source": requirement.citation,
        "blocks": verdict.blocks,
        "asked_of": next(iter(asked_of(answer, case)), ""),
        "keys": keys_asked(answer),
        "limits": criterion.in_limits and answer.status == "not_met" and not verdict.blocks,
        "asked_by_payer": verdict.bound,
        "quiet": criterion.quiet and answer.status == "met",
    }
