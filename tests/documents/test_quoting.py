"""A reason carries the classes of what it quotes: who may not see them reads it without the quotation, or the bare
claim."""

from __future__ import annotations

import pytest
from canaries import every_word
from gathered import of_each
from msgspec.structs import replace
from support import DEMOS, assess

from docgen.case.model import Case
from docgen.case.privacy import Privacy
from docgen.criteria.criterion import Answer
from docgen.documents.quoting import Quotations
from docgen.packet.trees import trees
from docgen.packet.wording import wording
from docgen.resources import folder

CASE = Case.model_validate(
    {
        "format": "docgen case 1",
        "id": "small",
        "client": {"name": "Robin Example", "lives": "in the old mill", "wants_it": False},
        "diagnoses": ({"code": "G80.3", "name": "athetoid palsy", "group": "neurological"},),
        "people": (
            {"id": "ot", "role": "evaluator", "name": "Jo Example"},
            {"id": "gran", "role": "caregiver", "relation": "grandmother", "email": "gran@example.org"},
        ),
        "supervision": ({"place": "at home", "level": "same_room", "by": "grandmother"},),
        "denial": {"reasons": ({"says": "Not safe.", "questions": ("stops_on_request",)},)},
    }
)
QUOTES = Quotations(CASE)
VERDICT = assess(folder("cases") / DEMOS[0]).verdicts[0]


def needed(sentence: str) -> list[set[str]]:
    return [set(map(str, need)) for need in QUOTES.needs(sentence)]


@of_each(
    "sentence, needs",
    [
        ("Nothing is recorded.", []),
        ("1 code is listed and billable: G80.3.", [{"billing"}]),
        ("Athetoid Palsy is recorded", [{"diagnosis"}]),
        ("athetoid_palsy", [{"diagnosis"}]),
        ("Athetoid movements", []),  # no more than a word of it
        ("She lives in the old mill.", [{"narrative"}]),
        ("Jo Example signed the statement.", [{"office"}]),
        ("Write to gran@example.org.", [{"contact"}]),
        ("Taught: Grandmother.", [{"circle", "supervision"}]),  # shown to whoever may see either key
        ("grandmother and athetoid palsy", [{"circle", "supervision"}, {"diagnosis"}]),
        ("10 stops on command were made.", []),  # an id of the program's own criteria
        ("In the same room, neurological.", []),  # choices are words of the program
    ],
)
def test_texts_of_the_case_are_found_in_a_sentence_by_their_words(sentence, needs):
    assert needed(sentence) == needs


def test_the_longest_text_is_the_one_that_is_quoted():
    raw = CASE.model_copy(update={"client": CASE.client.model_copy(update={"lives": "at home in the mill"})})
    assert Quotations(raw).needs("Near at home in the mill.") == (frozenset([Privacy.NARRATIVE]),)


def _reason(may_see: set[Privacy], **answer: object) -> object:
    verdict = replace(VERDICT, answer=replace(Answer("met", ""), **answer))
    return QUOTES.reason(verdict).shown_to(may_see)


def test_who_may_not_see_what_a_reason_quotes_reads_it_bare_or_the_claim():
    told = {"reason": "1 code: G80.3.", "bare": "1 code."}
    assert _reason({Privacy.BILLING}, **told) == "1 code: G80.3."
    assert _reason(set(), **told) == "1 code."
    assert _reason(set(), reason="1 code: G80.3.") == f"{VERDICT.criterion.claim}."
    assert _reason(set(), reason="1 code: G80.3.", bare="Athetoid palsy.") == f"{VERDICT.criterion.claim}."


@of_each(
    "path, privacy",
    [
        (("diagnoses", 0, "group"), Privacy.DIAGNOSIS),
        (("client", "wants_it"), Privacy.NARRATIVE),
        (("diagnoses", 0, "course"), None),  # not recorded
        (("diagnoses", 0, "name"), None),  # a text is found where it is quoted
        (("diagnoses", 7, "group"), None),
        (("diagnoses",), None),
        (("client", "nothing"), None),
    ],
)
def test_a_choice_a_number_or_a_day_that_an_answer_rests_on_is_told_by_it(path, privacy):
    shown = _reason(set(), reason="It is so.", where=(path,))
    assert shown == ("It is so." if privacy is None else f"{VERDICT.criterion.claim}.")
    assert _reason({privacy or Privacy.NAME}, reason="It is so.", where=(path,)) == "It is so."


@pytest.mark.parametrize("demo", DEMOS)
def test_the_cover_shows_no_diagnosis_code_and_nobody_who_was_taught(demo):
    assessed = assess(folder("cases") / demo)
    case, cover = assessed.file.case, trees(assessed, ["cover"])["cover"].plain()
    hidden = [one.code for one in case.diagnoses if one.code] + [
        text
        for person in case.people
        if person.role in ("caregiver", "coach")
        for text in (person.relation, person.name)
        if text
    ]
    assert hidden
    assert not [text for text in hidden if text in cover]


@of_each("demo", DEMOS)
@of_each("name", ["cover", "appeal", "order"])
def test_a_reason_without_its_quotation_quotes_nothing_its_readers_may_not_see(name, demo):
    assessed, _ = every_word(demo)
    quotes, may_see = Quotations(assessed.file.case), wording().documents[name].may_see
    bare = [verdict.answer.bare for verdict in assessed.verdicts if verdict.answer.bare]
    assert bare
    assert not [text for text in bare if not all(need & may_see for need in quotes.needs(text))]
