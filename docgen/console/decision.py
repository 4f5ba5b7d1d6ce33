"""A payer's decision as it is typed: what the words of a command leave open is asked at the terminal."""

from __future__ import annotations

import typer
from msgspec import Struct

from docgen.errors import Problem, UserError, brief
from docgen.request.decision import OUTCOMES


class Given(Struct):
    """The words given so far; empty where nothing is."""

    outcome: str
    on: str
    number: str
    valid_from: str
    valid_until: str
    deadline: str
    reasons: list[str]
    asks: list[str]


def ask_what_is_left(given: Given, only_needed: bool) -> None:
    """Fill in what is left open, for an outcome that has a place for it.

    only_needed  ask for nothing that a decision can do without
    """
    given.outcome = given.outcome or typer.prompt(f"What did the payer decide? [{' / '.join(OUTCOMES)}]", err=True)
    given.on = given.on or typer.prompt("On which day? (2026-03-31)", err=True)
    if only_needed:
        return
    given.number = given.number or _optional("Its number (empty for none)")
    if given.outcome in ("affirmed", "partly"):
        given.valid_until = given.valid_until or _optional("Last day of the authorization (2026-03-31; empty for none)")
    if given.outcome in ("partly", "not_affirmed"):
        given.reasons = given.reasons or _several("A reason, as the payer writes it")
        given.deadline = given.deadline or _optional("Last day for an appeal (2026-03-31; empty for none)")
    if given.outcome == "more_information":
        given.asks = given.asks or _several("What more the payer asks for")


def line_answered(words: str) -> tuple[str, str]:
    """The line and what the payer says of it, of ITEM=WORDS. Raises UserError."""
    name, sign, says = words.partition("=")
    if not sign or not says.strip():
        raise UserError([Problem("--line", f"'{brief(words)}' says nothing of a line", "Write it as ITEM=WORDS.")])
    return name.strip(), says.strip()


def _optional(question: str) -> str:
    return str(typer.prompt(question, default="", show_default=False, err=True)).strip()


def _several(question: str) -> list[str]:
    """Answers until an empty one."""
    answers: list[str] = []
    while words := _optional(f"{question} (empty to end)"):
        answers.append(words)
    return answers
