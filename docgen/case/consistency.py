"""What must agree within a case: ids once each, names that point to something, settings that a profile can have."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import Any

from docgen.case.confirmed import confirmable
from docgen.case.consistency_of_rows import of_rows, of_sessions, of_totals
from docgen.case.consistency_of_settings import of_changes, of_settings
from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.case.stage import TASKS
from docgen.case.totals import contradictions
from docgen.errors import Problem, brief, did_you_mean

Where = Callable[..., str]

_LISTS = (
    "conditions",
    "people",
    "visits",
    "findings",
    "activities",
    "goals",
    "spaces",
    "alternatives",
    "trial.methods",
    "trial.tasks",
    "configuration.features",
    "configuration.items",
    "configuration.mounting",
    "configuration.profiles",
    "photos",
)

_LISTS_BY = (
    "limits",
    "findings",
    "activities",
    "spaces",
    "alternatives",
    "configuration.mounting",
    "follow_up",
    "visits",
    "confirmed",
    "fitted",
    "fitted_settings",
)
_OF_VISITS = ("limits", "findings", "activities", "spaces", "alternatives", "configuration.mounting", "taught")


def inconsistencies(
    case: Case,
    where: Where,
    row_where: Callable[[int], str],
    total_where: Callable[[int], str],
    session_where: Callable[[int], str],
) -> list[Problem]:
    """Every contradiction between parts of the case that no payer rule is needed to see."""
    return [
        *_double_ids(case, where),
        *_dangling(case, where),
        *_parts_and_diagnoses(case, where),
        *_allowed_ranges(case, where),
        *of_settings(case, where),
        *_stops_beside_rows(case, where),
        *_tries_done(case, where),
        *_widest(case, where),
        *of_rows(case.records, row_where),
        *contradictions(case, total_where, row_where),
        *of_totals(case.totals, total_where),
        *of_sessions(case.sessions, session_where),
        *of_changes(case, where, session_where),
    ]


def _list(case: Case, name: str) -> tuple[Any, ...]:
    node: Any = case
    for part in name.split("."):
        node = getattr(node, part)
    return tuple(node)


def _double_ids(case: Case, where: Where) -> Iterator[Problem]:
    for name in _LISTS:
        seen: dict[str, int] = {}
        for index, part in enumerate(_list(case, name)):
            if part.id in seen:
                first = where(*name.split("."), seen[part.id], "id")
                yield Problem(
                    where(*name.split("."), index, "id"),
                    f"the id '{part.id}' is used twice in [[{name}]]",
                    f"It stands first at {first}; give each its own.",
                )
            seen.setdefault(part.id, index)


def _dangling(case: Case, where: Where) -> Iterator[Problem]:
    """Names that point to no entry, key or place of training."""
    ids = {name: [part.id for part in _list(case, name)] for name in _LISTS}
    for path, value, target in references(case):
        for entry in (value,) if isinstance(value, str) else value or ():
            if entry not in ids[target]:
                near = did_you_mean(entry, ids[target])
                no_one = " or give a phone here, of nobody of the case," if path[:2] == ("emergency", "calls") else ""
                do = (
                    f"{near}{' Or add' if near else 'Add'} [[{target}]] of {entry},{no_one} or take '{entry}' out here."
                )
                yield Problem(where(*path), f"'{entry}' is not an id in [[{target}]]", do)
    yield from (*_confirmed_keys(case, where), *_supervised_places(case, where))


Reference = tuple[KeyPath, str | Iterable[str] | None, str]  # where ids stand, the ids, the list they are of


def references(case: Case) -> Iterator[Reference]:
    """Every key of the case that names entries of a list by their ids."""
    for people in (_entries_by, _people_of_training, _people_of_papers, _emergency_people):
        for path, person in people(case):
            yield path, person, "people"
    for name in _OF_VISITS:
        for index, part in enumerate(_list(case, name)):
            yield (*name.split("."), index, "visit"), part.visit, "visits"
    yield ("help_a_day", "visit"), case.help_a_day.visit, "visits"
    for index, space in enumerate(case.spaces):
        yield ("spaces", index, "profile"), space.profile, "configuration.profiles"
    for index, alternative in enumerate(case.alternatives):
        yield ("alternatives", index, "method"), alternative.method, "trial.methods"
    for index, finding in enumerate(case.findings):
        yield ("findings", index, "seen_with"), finding.seen_with, "alternatives"
    for index, fitted in enumerate(case.fitted):
        yield ("fitted", index, "mount"), fitted.mount, "configuration.mounting"
    for index, photo in enumerate(case.photos):
        for at, arrow in enumerate(photo.arrows):
            yield ("photos", index, "arrows", at, "part"), arrow.part, "configuration.mounting"
    for index, entry in enumerate(case.fitted_settings):
        yield ("fitted_settings", index, "profile"), entry.profile, "configuration.profiles"
    yield from _references_of_configuration(case)


Naming = tuple[KeyPath, str | tuple[str, ...] | None]  # where people are named, and their ids


def _entries_by(case: Case) -> Iterator[Naming]:
    """Who wrote each entry of the record."""
    for name in _LISTS_BY:
        for index, part in enumerate(_list(case, name)):
            yield (*name.split("."), index, "by"), part.by


def _people_of_training(case: Case) -> Iterator[Naming]:
    """Who was taught, coaches, is near, and has which hours of the week."""
    for name in ("taught", "to_teach"):
        yield from (((name, index, "who"), entry.who) for index, entry in enumerate(getattr(case, name)))
    for name in ("coach", "substitute"):
        yield ("training", name), getattr(case.training, name)
    for index, place in enumerate(case.supervision):
        yield ("supervision", index, "who"), place.who
        yield ("supervision", index, "reach_by"), place.reach_by
        for at, visit in enumerate(place.looks_in):
            yield ("supervision", index, "looks_in", at, "who"), visit.who
    for index, hours in enumerate(case.training.week):
        yield ("training", "week", index, "who"), hours.who


def _people_of_papers(case: Case) -> Iterator[Naming]:
    """Who signed, saw, examined, denied, counted or checked where the record has one such entry alone."""
    yield ("denial", "by"), case.denial.by
    yield ("trial", "few_guard"), case.trial.few_guard
    yield ("trial", "plan", "guard"), case.trial.plan.guard
    yield from ((("order", name), getattr(case.order, name)) for name in ("signed_by", "completed_by"))
    yield from ((("visits", index, "also"), visit.also) for index, visit in enumerate(case.visits))
    yield ("encounter", "by"), case.encounter.by
    yield ("weight_shift", "by"), case.weight_shift.by
    yield ("attendant", "by"), case.attendant.by
    yield ("help_a_day", "by"), case.help_a_day.by
    yield ("configuration", "worn_checked_by"), case.configuration.worn_checked_by
    yield ("configuration", "stop", "held_press_by"), case.configuration.stop.held_press_by
    for index, sheet in enumerate(case.sheets.handed_out):
        yield ("sheets", "handed_out", index, "who"), sheet.who


def _references_of_configuration(case: Case) -> Iterator[Reference]:
    """What features, lines and standard parts of the order rest on."""
    configuration = case.configuration
    yield ("configuration", "method"), configuration.method, "trial.methods"
    for index, feature in enumerate(configuration.features):
        yield ("configuration", "features", index, "because"), feature.because, "findings"
    for index, item in enumerate(configuration.items):
        yield ("configuration", "items", index, "because"), item.because, "findings"
        yield ("configuration", "items", index, "features"), item.features, "configuration.features"
    for index, standard in enumerate(configuration.standard_parts):
        yield ("configuration", "standard_parts", index, "item"), standard.item, "configuration.items"
    for index, mount in enumerate(configuration.mounting):
        yield ("configuration", "mounting", index, "item"), mount.item, "configuration.items"


def _confirmed_keys(case: Case, where: Where) -> Iterator[Problem]:
    """Confirmed values of keys that are not measured."""
    for index, entry in enumerate(case.confirmed):
        if entry.of not in confirmable():
            yield Problem(
                where("confirmed", index, "of"),
                f"'{entry.of}' is not a measured key or column",
                did_you_mean(entry.of, confirmable()),
            )


def _supervised_places(case: Case, where: Where) -> Iterator[Problem]:
    """Arrangements of supervision for what is no place, and for later alone."""
    trained = [*(space.id for space in case.spaces), *TASKS]
    for index, place in enumerate(case.supervision):
        for covered in place.covers:
            if covered not in trained:
                yield Problem(
                    where("supervision", index, "covers"),
                    f"'{covered}' is no place in [[spaces]] and no task of training",
                    did_you_mean(covered, trained),
                )
    first = {place.place for place in case.supervision if not place.is_later}
    for index, place in enumerate(case.supervision):
        if place.is_later and place.place not in first:
            yield Problem(
                where("supervision", index, "after_stage"),
                f"'{brief(place.place)}' has an arrangement for later and none that holds before",
                f'Add a [[supervision]] with place = "{brief(place.place)}" and no after_stage.',
            )


def _emergency_people(case: Case) -> Iterator[Naming]:
    """Key path and ids of everyone whom conditions and the emergency page name."""
    for at, condition in enumerate(case.conditions):
        yield ("conditions", at, "by"), condition.by
        for index, answer in enumerate(condition.answers):
            yield ("conditions", at, "answers", index, "by"), answer.by
            yield ("conditions", at, "answers", index, "who"), answer.who
    emergency = case.emergency
    for name in ("signs", "steps", "numbers", "settled"):
        for index, entry in enumerate(getattr(emergency, name)):
            yield ("emergency", name, index, "by"), entry.by
    for index, call in enumerate(emergency.calls):
        yield ("emergency", "calls", index, "who"), call.who
    yield ("emergency", "restart_by"), emergency.restart_by


def _parts_and_diagnoses(case: Case, where: Where) -> Iterator[Problem]:
    """Lines that answer a diagnosis which the case does not hold, and standard parts given twice."""
    codes = [diagnosis.code for diagnosis in case.diagnoses if diagnosis.code]
    lines: list[tuple[KeyPath, tuple[str, ...]]] = [
        (("configuration", "chair", "diagnosis_codes"), case.configuration.chair.diagnosis_codes)
    ]
    lines += [
        (("configuration", "items", at, "diagnosis_codes"), item.diagnosis_codes)
        for at, item in enumerate(case.configuration.items)
    ]
    for path, answered in lines:
        for code in answered:
            if code not in codes:
                yield Problem(
                    where(*path), f"'{code}' is the code of no entry of [[diagnoses]]", did_you_mean(code, codes)
                )
    seen: set[tuple[str, str | None]] = set()
    for at, standard in enumerate(case.configuration.standard_parts):
        place = ("configuration", "standard_parts", at)
        if (standard.part, standard.name) in seen:
            yield Problem(where(*place, "part"), f"the part '{standard.part}' is there twice", "Leave one of them.")
        if standard.item is not None and standard.comes != "line":
            yield Problem(
                where(*place, "item"), "an item is named, but the part comes by no line", 'Write comes = "line".'
            )
        seen.add((standard.part, standard.name))


_RANGES = (("gap_mm", "gap_from_mm", "gap_to_mm"), ("angle_deg", "angle_from_deg", "angle_to_deg"))
_RANGE_KEYS = {"allowed": "gap_from_mm", "allowed_angle": "angle_from_deg"}


def _allowed_ranges(case: Case, where: Where) -> Iterator[Problem]:
    """A gap or angle outside the range in which its part works, a range upside down, a measure that is there and is
    not."""
    for at, mount in enumerate(case.configuration.mounting):
        place = ("configuration", "mounting", at)
        for key, low_key, high_key in _RANGES:
            value, low, high = getattr(mount, key), getattr(mount, low_key), getattr(mount, high_key)
            if low is not None and high is not None and low > high:
                yield Problem(where(*place, low_key), f"{low_key} is {low:g}, {high_key} {high:g}", "Swap them.")
            elif value is not None and not (value if low is None else low) <= value <= (
                value if high is None else high
            ):
                bounds = {low_key: low, high_key: high}
                allowed = ", ".join(f"{name} {bound:g}" for name, bound in bounds.items() if bound is not None)
                yield Problem(
                    where(*place, key),
                    f"{key} of the {mount.part} is {value:g}, outside the range in which it works ({allowed})",
                    f"Measure again, or correct {low_key} and {high_key}.",
                )
        for index, lacks in enumerate(mount.not_applicable):
            if getattr(mount, _RANGE_KEYS.get(lacks.of, lacks.of)) is not None:
                yield Problem(
                    where(*place, "not_applicable", index, "of"),
                    f"{lacks.of} of the {mount.part} is recorded, and said not to apply",
                    "Leave one of them out.",
                )


def _tries_done(case: Case, where: Where) -> Iterator[Problem]:
    """Tries done of a device that were made apart from the rows, and of how many."""
    for at, device in enumerate(case.alternatives):
        if device.tries_done is not None and device.tries_done > (device.tries or 0):
            says = f"tries_done of '{device.id}' is {device.tries_done}, of {device.tries or 'no'} tries"
            yield Problem(where("alternatives", at, "tries_done"), says, "Write in tries how many there were.")


def _widest(case: Case, where: Where) -> Iterator[Problem]:
    """Several doors in one entry, whose widest is narrower than their narrowest."""
    for at, space in enumerate(case.spaces):
        if space.widest_mm is not None and space.widest_mm < (space.clear_width_mm or 0):
            says = f"widest_mm of '{space.id}' is {space.widest_mm:g}, and clear_width_mm is {space.clear_width_mm:g}"
            yield Problem(where("spaces", at, "widest_mm"), says, "Write the narrowest in clear_width_mm.")


def _stops_beside_rows(case: Case, where: Where) -> Iterator[Problem]:
    """Stops of a method that are counted beside its rows: how many, and of how many."""
    for at, method in enumerate(case.trial.methods):
        counts = {name: getattr(method, name) for name in ("stops_asked", "stops_made")}
        place = where("trial", "methods", at)
        blank = [name for name, count in counts.items() if count is None]
        if 0 < len(blank) < len(counts):
            yield Problem(place, f"{' and '.join(blank)} of '{method.id}' is blank", f"Fill in {' and '.join(blank)}.")
        elif method.stops_asked is not None and (method.stops_made or 0) > method.stops_asked:
            says = f"{method.stops_made} stops made of {method.stops_asked} asked for with '{method.id}'"
            yield Problem(place, says, "Correct one of the two.")
