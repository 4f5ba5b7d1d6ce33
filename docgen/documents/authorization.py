"""Where prior authorization stands, in the same words on cover, order and lines.csv."""

from __future__ import annotations

from datetime import date
from typing import TypedDict

from docgen.case.model import Case
from docgen.documents.made_from import made_from
from docgen.documents.phrase import Words, day_in_words

MADE_FROM = {"authorized": made_from("authorization", "request.requested_on", decided_on="request.payer_said_on")}


class Authorized(TypedDict):
    """Where it stands.

    state  id of the state: a decision, or asked, asked_with, needed, not_needed, authorization_not_told
    says   the same in words, with the day of the request where it has one
    waits  whether nothing may be ordered before a decision
    asked_on    day of the request; None where none is recorded
    decided_on  day of the decision, or of the payer's word that none is needed; None where none is recorded
    """

    state: str
    says: str
    waits: bool
    asked_on: date | None
    decided_on: date | None


def authorized(case: Case, words: Words) -> Authorized:
    """As recorded: a request that has a day asks for the authorization that is needed."""
    authorization, state = case.authorization, _state(case)
    asked_on = authorization.requested_on or (case.request.requested_on if state == "asked_with" else None)
    says: str = (words["decision"] | words["authorization_states"])[state]
    return {
        "state": state,
        "says": says.format(day=day_in_words(asked_on, words)) if asked_on and "{day}" in says else says,
        "waits": state in ("asked", "asked_with", "needed"),
        "asked_on": asked_on,
        "decided_on": authorization.decided_on or (case.request.payer_said_on if state == "not_needed" else None),
    }


def _state(case: Case) -> str:
    authorization = case.authorization
    if authorization.decision:
        return authorization.decision
    if authorization.requested_on:
        return "asked"
    if authorization.needed is None:
        return "authorization_not_told"
    if not authorization.needed:
        return "not_needed"
    return "asked_with" if case.request.requested_on else "needed"
