"""Privacy: a case with a word of its own in every text, and what each document may tell of it; demo people are
invented."""

from __future__ import annotations

from functools import cache

import pytest
from canaries import every_word, keys_in
from documents.readers import MAY_TELL, PUBLISHED_ERRORS
from gathered import of_each
from in_full import tables_in_full
from support import DEMO_FOLDERS, assess
from whole_case import _frozen

from docgen.case.model import Case
from docgen.case.privacy import Privacy
from docgen.criteria.criterion import Grounds
from docgen.criteria.payer import load
from docgen.criteria.run import verdicts
from docgen.documents.document import documents
from docgen.evidence.gather import evidence
from docgen.fit.match import fit
from docgen.packet.assess import asked_on
from docgen.packet.trees import trees
from docgen.packet.wording import document_names
from docgen.resources import folder

# Which tables of a case each document may tell from, after 45 CFR 164.502(b)(1), no more than the purpose needs:
# identity, need, trial and codes for the payer; equipment, set-up, care and contacts for the family; skills and risks
# for the coach; identity, sizes, codes, mounting, settings and limits of safety for the supplier. The split by document
# is ours. It stands with the other lists of each document in tests/documents/readers.


@cache
def shown(demo: str) -> tuple[dict[str, set[str]], frozenset[str]]:
    """Document -> keys whose words it shows; and every key that holds a word."""
    assessed, words = every_word(demo)
    keys = {word: key.partition("@")[0] for word, key in words.items()}
    return {name: keys_in(tree.plain(), keys) for name, tree in trees(assessed).items()}, frozenset(keys.values())


DEMOS = [path.name for path in DEMO_FOLDERS]
NEEDED = {name for name, document in documents(folder("templates") / "en").items() if document.needs}


@pytest.mark.parametrize("demo", DEMOS)
def test_every_text_of_a_case_holds_a_word(demo):
    keys = shown(demo)[1]
    assert (
        len(keys) > 80
        and {
            "client.member_id",
            "people.private_note",
            "client.day",
            "diagnoses.name",
            "limits.says",
            "request.payer_says",
        }
        <= keys
    )


@of_each("demo", DEMOS)
@of_each("name", MAY_TELL)
def test_no_document_shows_what_its_reader_does_not_need(demo, name):
    seen = shown(demo)[0].get(name)  # None where this case does not call for it
    beyond = {key for key in seen or () if not any(key == one or key.startswith(f"{one}.") for one in MAY_TELL[name])}
    assert seen != set() and not beyond and (seen or name in NEEDED)


@of_each("demo", DEMOS)
@of_each("name", PUBLISHED_ERRORS)
def test_the_published_errors_of_privacy_cannot_happen(demo, name):
    seen = shown(demo)[0].get(name, set())
    assert not {key for key in seen for never in PUBLISHED_ERRORS[name] if key == never or key.startswith(f"{never}.")}


def test_each_document_names_its_reader_and_what_it_may_show():
    # 45 CFR 164.514(d): a routine disclosure follows a standard protocol; the front matter of a document is one
    found = documents(folder("templates") / "en")
    assert set(found) == set(document_names()) >= set(MAY_TELL) == set(PUBLISHED_ERRORS)
    assert all(Privacy.PRIVATE not in document.may_see for document in found.values())
    for document in found.values():
        assert document.reader and document.shows and all(keys for keys in document.shows.values())


@of_each("demo", DEMOS)
def test_no_document_at_all_shows_a_private_note(demo):
    assert not [name for name, seen in shown(demo)[0].items() if "people.private_note" in seen]


@of_each("demo", DEMO_FOLDERS, ids=lambda f: f.name)
def test_every_demo_person_is_invented(demo):
    assert assess(demo).file.case.invented is True


def test_a_diagnosis_that_seldom_bears_is_queried_and_not_named_on_a_page():
    source = folder("cases") / "ilmari-okonjo-vale"
    made = assess(source, load("medicare_part_b", ""))
    more = {"code": "L20.9", "name": "atopic dermatitis", "since": "2019", "course": "stable"}
    raw = tables_in_full(source)
    raw["diagnoses"].append(more)
    case = Case.model_validate(_frozen(raw)).with_records(made.file.case.records)
    here = Grounds(case, evidence(case), fit(case, made.file.where))
    found = next(
        v for v in verdicts(here, made.payer, asked_on(case, made.payer)) if v.criterion.id == "told_only_what_bears"
    )
    assert (
        found.answer.status == "not_met"
        and found.requirement.severity == "query"
        and ("diagnoses", len(raw["diagnoses"]) - 1) in found.answer.where
    )
    assert (
        "dermatitis" not in found.answer.reason + found.answer.to_settle
        and "L20" not in found.answer.reason + found.answer.to_settle
    )
