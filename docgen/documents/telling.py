"""What the record says as the letter tells it: each entry with its measure and day, each finding once."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from typing import Protocol, TypedDict

from docgen.case.model import Case
from docgen.case.need import Finding
from docgen.case.who import Person
from docgen.documents.phrase import Words, joined, short_day
from docgen.documents.supervised import supervised
from docgen.documents.told_besides import told_nowhere_else, words_in
from docgen.fit.finding import can_hurt
from docgen.fit.match import Chosen, Fit
from docgen.grammar import with_verb


class Entry(Protocol):
    """An entry of the record: who wrote it, and when."""

    by: str | None
    on: date | None


def measured(case: Case, entry: Entry, says: str, measure: str | None, words: Words) -> str:
    """What an entry says; in brackets its measure and day, and who wrote it where that is not the evaluator. A measure
    that tells days of its own has no other beside them, which would seem to be of its last part; one whose words all
    stand in what the entry says is not told again."""
    if measure and words_in(measure) <= words_in(says):
        measure = None
    author = other_author(case, entry.by)
    tells_days = re.search(rf"\b(?:{'|'.join(words['months'])}) \d", measure or "")
    day = short_day(entry.on, case.dates.written_on, words) if entry.on and not tells_days else None
    source = ", ".join(filter(None, [author.name if author else None, day]))
    inside = "; ".join(filter(None, [measure.rstrip(". ") if measure else None, source]))
    return f"{says.rstrip('. ')} ({inside})." if inside else f"{says.rstrip('. ')}."


def other_author(case: Case, by: str | None) -> Person | None:
    """Who wrote an entry, where that is not the evaluator, whose letter tells it."""
    person = case.person(by)
    return None if person is None or person.role == "evaluator" else person


def finding_sentences(case: Case, finding_ids: Iterable[str], words: Words) -> tuple[str, ...]:
    """Each finding as one sentence."""
    findings = (f for wanted in finding_ids for f in case.findings if f.id == wanted)
    return tuple(_as_told(case, f, words) for f in findings)


def said_once(case: Case, finding_ids: Sequence[str]) -> list[str]:
    """These findings without one whose very words begin another of them of the same day, where it has no measure."""
    by_id = {f.id: f for f in case.findings if f.id in finding_ids}

    def is_in_another(name: str) -> bool:
        finding = by_id[name]
        words = finding.says.rstrip(". ")
        return finding.measure is None and any(
            other.id != name
            and other.on == finding.on
            and other.by == finding.by
            and other.says.startswith(f"{words},")
            for other in by_id.values()
        )

    return [name for name in finding_ids if name not in by_id or not is_in_another(name)]


def _as_told(case: Case, finding: Finding, words: Words) -> str:
    """A finding as one sentence; one of the therapist's own is marked as that."""
    sentence = measured(case, finding, finding.says, finding.measure, words)
    return f"{sentence} {words['own_finding']}" if finding.own else sentence


class AnsweredRow(TypedDict):
    """Findings and what answers them.

    findings  one text, or the reason that features have elsewhere; empty where neither is told
    says      of each feature its note or how it works, then each risk, then what makes up for a risk
    particular  the same without what could stand in anyone's letter: how a feature works
    open      whether a risk has nothing that makes up for it
    unmet     whether nothing requested meets a finding that can hurt; any other that stands alone is told as it is
    lacks_finding, lacks_answer  what to ask for where no finding is told, or a risk is open
    """

    findings: str
    features: tuple[str, ...]
    says: tuple[str, ...]
    particular: tuple[str, ...]
    open: bool
    unmet: bool
    lacks_finding: str
    lacks_answer: str


def _risks_and_answers(case: Case, together: list[Chosen], untold: set[str], words: Words) -> Iterator[str]:
    """Each risk of these features, after the finding that raises it where that is untold, which it is no more then; at
    the end what mitigates it."""
    for against in (risk for chosen in together for risk in chosen.at_odds):
        if against.finding in untold:
            untold.remove(against.finding)
            yield from finding_sentences(case, [against.finding], words)
        yield words["the_risk"].format(risk=against.risk)
    yield from (chosen.answer for chosen in together if chosen.answer)


def _reason_elsewhere(case: Case, fit: Fit, together: list[Chosen], words: Words) -> str:
    """The reason of features that lies in who is near or in the control, where no finding is given for them: of what
    serves another's hand who is near by the record, and where."""
    if not fit.reason_elsewhere.issuperset(chosen.feature.id for chosen in together):
        return ""
    return " ".join(
        _whoever_is_near(case, words) if chosen.feature.for_whoever_is_near else chosen.feature.justified(case)
        for chosen in together
    )


def _whoever_is_near(case: Case, words: Words) -> str:
    """Who stays near enough to step in, place by place; empty where no place says it."""
    watched = {place.place for place in case.supervision if place.is_near}
    level = {place.place: place.level for place in case.supervision}
    near = [row for row in supervised(case, words) if row["who"] and row["place"] in watched and row["released"]]
    return " ".join(
        words["is_in_room" if level[row["place"]] == "same_room" else "is_near"].format(
            place=row["place"][:1].upper() + row["place"][1:], who=with_verb(str(row["who"]), "is")
        )
        for row in near
        if not row["after"]
    )


def _danger_elsewhere(fit: Fit, findings: list[str], together: list[Chosen], words: Words) -> Iterator[str]:
    """That a reason of these features is a danger of another one asked for, which is told as its danger too."""
    others = [
        chosen.feature.name
        for chosen in fit.chosen
        if chosen not in together and not chosen.answer and any(risk.finding in findings for risk in chosen.at_odds)
    ]
    if others:
        names = joined([chosen.feature.name for chosen in together], words)
        yield words["danger_elsewhere"].format(others=joined(others, words), names=names)


def answered(case: Case, fit: Fit, words: Words) -> Iterator[AnsweredRow]:
    """Findings, each told once, with the features that answer them.

    What a row says of each feature is the therapist's own note on it; without one, how it works.
    """
    untold = set(told_nowhere_else(case, fit))
    for new, together in _features_by_finding(case, fit):
        yield _row_of_features(case, fit, new, together, untold, words)
    for finding in (*fit.left_open, *(f.id for f in case.findings if f.id in untold)):
        yield {
            "findings": " ".join(finding_sentences(case, [finding], words)),
            "features": (),
            "says": (),
            "particular": (),
            "open": False,
            "unmet": finding in fit.left_open and can_hurt(finding),
            "lacks_finding": "",
            "lacks_answer": "",
        }


def _features_by_finding(case: Case, fit: Fit) -> list[tuple[list[str], list[Chosen]]]:
    """Findings that are told for the first time, with the features that answer them: a feature with nothing new to tell
    joins the row that told its first finding."""
    rows: list[tuple[list[str], list[Chosen]]] = []
    row_of: dict[str, int] = {}
    known = {finding.id for finding in case.findings}
    for chosen in fit.chosen:
        because = [finding for finding in chosen.because if finding in known]
        new = [finding for finding in because if finding not in row_of]
        if new or not because:
            row_of.update(dict.fromkeys(new, len(rows)))
            rows.append((new, [chosen]))
        else:
            rows[row_of[because[0]]][1].append(chosen)
    return rows


def _row_of_features(
    case: Case, fit: Fit, new: list[str], together: list[Chosen], untold: set[str], words: Words
) -> AnsweredRow:
    """One row of findings told for the first time and the features that answer them."""
    risks = tuple(_risks_and_answers(case, together, untold, words))
    names = [chosen.feature.name for chosen in together]
    risky = [chosen.feature.name for chosen in together if chosen.at_odds and not chosen.answer]
    return {
        "findings": " ".join([*finding_sentences(case, new, words), *_danger_elsewhere(fit, new, together, words)])
        or _reason_elsewhere(case, fit, together, words),
        "features": tuple(names),
        "says": (
            *(
                chosen.note or chosen.feature.justified(case)
                for chosen in together
                if chosen.note or not chosen.feature.for_whoever_is_near
            ),
            *risks,
        ),
        "particular": (*(chosen.note for chosen in together if chosen.note), *risks),
        "open": bool(risky),
        "unmet": False,
        "lacks_finding": (
            f"who is near to use the {joined(names, words)}"
            if all(chosen.feature.for_whoever_is_near for chosen in together)
            else f"a finding that calls for {joined(names, words)}"
        ),
        "lacks_answer": f"what mitigates what can go wrong with {joined(risky, words)}",
    }
