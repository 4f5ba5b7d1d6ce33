"""What `docgen fit CASE --shelf FILE` prints for people; `match_json.py` has it for programs."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.console.features import wrapped
from docgen.criteria.sentences import capital, listed
from docgen.documents.matched import (
    ApartRow,
    DeviceRow,
    apart_rows,
    device_rows,
    lender_rows,
)
from docgen.documents.matched_findings import beside_rows, finding_rows
from docgen.documents.matched_pairs import otherwise, pair_sentences, why_sentence
from docgen.documents.matched_seen import seen_words, trial_sentences
from docgen.errors import Problem, UserError, did_you_mean
from docgen.fit.finding import finding_name
from docgen.results import CaseMatch
from docgen.shelf.caseload import Caseload
from docgen.shelf.device import Shelf
from docgen.shelf.match import why
from docgen.shelf.offered import entry_of, offered

_APART = {
    "harm": "SET APART: CAN DO HARM, AND NOTHING RECORDED ANSWERS IT",
    "harm_unknown": "SET APART: WHETHER IT CAN DO HARM IS NOT KNOWN",
    "movement": "SET APART: NO MOVEMENT RECORDED THAT WOULD DRIVE IT",
}
_PLACES = {
    "leads": "FIRST, WHATEVER THE ANSWERS",
    "may_lead": "COULD BE FIRST, ONCE IT IS KNOWN",
    "not_first": "NOT FIRST",
}
_CAUTION = (
    "Held against the findings that are recorded, and no others. Simplest first within a group: the order of proof "
    "that a payer asks for, not better. Nothing is scored. Which to borrow is for the clinician to say."
)


def match_text(result: CaseMatch) -> str:
    """First what stands first, then what is set apart and why, what to ask, and every finding."""
    case, matched = result.case, result.match
    if not case.findings:
        return f"{case.id}: no finding is recorded, so no device can be held against it.\n\nThe words: docgen find"
    rows, apart = list(device_rows(case, matched, result.seen)), list(apart_rows(case, matched, result.seen))
    sections = [
        (_PLACES[place], [line for row in rows if row["place"] == place for line in _device(row)]) for place in _PLACES
    ]
    if not matched.may_lead:
        sections.insert(0, (_PLACES["leads"], wrapped("Nothing on this shelf.")))
    sections += [
        (_APART[stage], [line for row in apart if row["stage"] == stage for line in _apart(row)]) for stage in _APART
    ]
    sections += [
        ("ONE RATHER THAN ANOTHER", _lines(pair_sentences(matched, result.seen))),
        ("WHAT PARTS THEM", _lines(_concerns(result))),
        ("NEEDS THAT NOTHING ON THIS SHELF MEETS", _lines(capital(finding_name(f)) + "." for f in matched.open_needs)),
        ("TO ASK THE LENDER", _lines(_asked(result))),
        ("BESIDE ANY DEVICE", _lines(_beside(result))),
        ("EXPECTED AND SEEN", _lines(trial_sentences(result.match, result.seen, result.differs))),
        ("EACH FINDING", list(_findings(result))),
        ("ALTERNATIVES FOR THE LETTER, TO CONFIRM IN THE CASE", list(_offered(result))),
    ]
    lines = [f"{case.id}: {matched.shelf.name} against the findings", "", *wrapped(_CAUTION, 0, 0)]
    for title, body in sections:
        lines += ["", title, *body] if body else []
    return "\n".join(lines)


def why_text(result: CaseMatch, first: str, second: str) -> str:
    """Two devices held against each other. Raises UserError for one that the shelf does not hold."""
    devices = result.match.devices
    if wrong := [name for name in (first, second) if name not in devices]:
        raise UserError(
            Problem("--why", f"the shelf holds no device '{name}'", did_you_mean(name, devices)) for name in wrong
        )
    comparison = why(result.match, first, second)
    lines = wrapped(why_sentence(comparison, result.seen), 0)
    turned = why(result.match, second, first) if comparison.above in ("second", "seen_second") else comparison
    lines += wrapped(otherwise(turned), 0)
    for judged in (comparison.first, comparison.second):
        if words := seen_words(result.seen, judged.device.id):
            lines += wrapped(f"Seen: {words}.", 0)
    return "\n".join(lines)


def caseload_text(counts: Caseload, shelf: Shelf, unreadable: int) -> str:
    """How often each device stood first over a caseload, and which needs nothing met."""
    lines = [
        f"{shelf.name}, held against {counts.n} clients" + (f"; {unreadable} could not be read" if unreadable else "")
    ]
    width = max(len(name) for name in counts.devices)
    lines += ["", f"{'device':<{width}}  first  alone  could be  set apart for harm"]
    ordered = sorted(counts.devices.items(), key=lambda entry: (-entry[1].leads, -entry[1].may_lead))
    lines += [f"{name:<{width}}  {of.leads:>5}  {of.alone:>5}  {of.may_lead:>8}  {of.harm:>18}" for name, of in ordered]
    lines += ["", f"Nothing on the shelf could stand first: {counts.n_none} of {counts.n}."]
    if counts.open_needs:
        lines += ["", "Needs that nothing on the shelf meets"]
        lines += [f"  {capital(finding_name(finding))}: {n}" for finding, n in counts.open_needs.items()]
    return "\n".join(lines)


def _lines(sentences: Iterator[str]) -> list[str]:
    return [line for sentence in sentences for line in wrapped(sentence)]


def _device(row: DeviceRow) -> Iterator[str]:
    layer = f" (layer {row['layer']})" if row["layer"] and row["place"] == "not_first" else ""
    yield from wrapped(f"{row['id']}: {row['name']}{layer}")
    for label, words in (
        ("if known", row["ask"]),
        ("meets", row["meets"]),
        ("can do harm, and has an answer", row["guarded"]),
        ("against it", row["against"]),
        ("care", row["cautions"]),
        ("below", row["below"] if row["place"] == "not_first" else ""),
        ("seen", row["seen"]),
        ("note", row["limits"]),
        ("from", row["from_words"]),
    ):
        if words:
            yield from wrapped(f"{label}: {words}", 4)


def _apart(row: ApartRow) -> Iterator[str]:
    yield from wrapped(f"{row['id']}: {row['name']}. {row['why']}")
    if row["seen"]:
        yield from wrapped(f"seen: {row['seen']}", 4)


def _concerns(result: CaseMatch) -> Iterator[str]:
    for concern in result.match.parted_by():
        yield f"{capital(concern.name)}: {listed(map(finding_name, concern.findings))}."


def _asked(result: CaseMatch) -> Iterator[str]:
    for row in lender_rows(result.match):
        yield f"{capital(row['lent_by'])}, of {row['device']}: {row['asks']}?"


def _beside(result: CaseMatch) -> Iterator[str]:
    for row in beside_rows(result.match):
        adds = f" It can add {row['helps']}." if row["helps"] else ""
        alone = f"no device alone meets it.{adds} It does not replace " if row["alone"] else ""
        yield f"{row['finding']}: {alone}{row['takes']}."


def _findings(result: CaseMatch) -> Iterator[str]:
    for row in finding_rows(result.case, result.match, by_id=True):
        yield from wrapped(capital(row["finding"]))
        for standing in row["standings"]:
            yield from wrapped(standing, 4)


def _offered(result: CaseMatch) -> Iterator[str]:
    offers = list(offered(result.case, result.match, result.seen))
    if offers:
        yield from wrapped("Lines for case.toml. Each is a statement only once you have put in who judged it and when.")
    for offer in offers:
        yield ""
        yield from (f"    {line}" for line in entry_of(result.case, offer).splitlines())
