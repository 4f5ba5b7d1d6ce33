"""A sheet of questions for one reader, as DOCX, PDF and a page that works from a file and saves the answers."""

from __future__ import annotations

import base64
import hashlib
import json
import re
from collections.abc import Iterable
from itertools import groupby
from typing import Any

from msgspec.structs import replace

from docgen.case.answers import FORMAT
from docgen.case.model import Case
from docgen.case.respondents import respondents
from docgen.criteria.asked_questions import Question, questions_for
from docgen.packet.assess import Assessed
from docgen.packet.trees import template_tree
from docgen.rendering.formats import format_names, format_of
from docgen.rendering.labels import ENGLISH
from docgen.rendering.markup import escaped
from docgen.rendering.page import NO_DATE, Page

_UNDATED = replace(ENGLISH, day_form="\u00a0")  # whoever answers writes the day by hand


def answer_sheet(assessed: Assessed, respondent: str, formats: Iterable[str] = ()) -> dict[str, bytes]:
    """File name -> bytes of the sheet in each format; none when nothing is asked of this reader.

    A payer that is asked later has a sheet of its own, with what is asked of it by name: each payer sees its own.

    respondent  id of who is asked, one with classes that the sheet may show
    """
    questions = questions_for(respondent, assessed.file.case, assessed.verdicts)
    case, reader = assessed.file.case, respondents()[respondent].name
    files: dict[str, bytes] = {}
    for whom in dict.fromkeys(["", *(_other_payer(case, question) for question in questions)]):
        own = tuple(question for question in questions if _other_payer(case, question) == whom)
        stem = f"{respondent}-{re.sub('[^a-z0-9]+', '-', whom.lower())}".rstrip("-")
        if own:
            files |= _sheet(case, respondent, (reader if not whom else f"{reader} {whom}", stem), own, formats)
    return files


def _other_payer(case: Case, question: Question) -> str:
    """The payer asked later that a question names, and nobody else may read; "" for any other question."""
    later = case.request.later_payers and question.path[0] == "awaited" and case.awaited[int(question.path[1])]
    if not later or later.of != "payer" or not later.whom:
        return ""
    first, whom = (case.request.payer_name or "").lower(), later.whom.lower()
    return "" if first and (first in whom or whom in first) else later.whom


def _sheet(
    case: Case, respondent: str, names: tuple[str, str], questions: tuple[Question, ...], formats: Iterable[str]
) -> dict[str, bytes]:
    """One sheet. names: what its reader is called, and what its files are."""
    reader, stem = names
    called = case.client.called or case.client.name or "the client"
    evaluator = next(iter(case.with_role("evaluator")), None)
    asker = {"name": (evaluator and evaluator.name) or "the therapist", "phone": (evaluator and evaluator.phone) or ""}
    parts = [
        {"heading": heading[:1].upper() + heading[1:], "questions": [_shown(question) for question in group]}
        for heading, group in groupby(questions, key=lambda question: question.heading)
    ]
    title = f"Questions for the {reader} about {called}'s request"
    if respondent == "client":
        title = f"{called[:1].upper()}{called[1:]}: questions about your request"
    context = {"title": title, "called": called, "evaluator": asker, "parts": parts}
    page = Page(f"Questions for the {reader}", f"{called}, questions for the {reader}", NO_DATE)
    files: dict[str, bytes] = {}
    for suffix in tuple(formats) or format_names():
        if suffix == "html":
            files[f"ask-{stem}.html"] = _form_page(case.id, respondent, context, questions)
        else:
            tree = template_tree("_ask.md", context)
            files[f"ask-{stem}.{suffix}"] = format_of(suffix).render(tree, page, {}, labels=_UNDATED)
    return files


def _shown(question: Question) -> dict[str, str]:
    """A question as the sheet on paper prints it."""
    room = "(month, day, year)" if question.form == "date" else "  /  ".join(words for _, words in question.choices)
    return {"words": question.words, "room": room}


def _form_page(case_id: str, respondent: str, context: dict[str, Any], questions: tuple[Question, ...]) -> bytes:
    """The sheet as one file that asks nothing of any other machine: its answers are saved by the reader's browser."""
    numbered = iter(range(1, len(questions) + 1))
    fields = []
    for heading, group in groupby(questions, key=lambda question: question.heading):
        rows = "\n".join(_field(question, next(numbered)) for question in group)
        fields.append(f"<fieldset><legend>{escaped(heading[:1].upper() + heading[1:])}</legend>\n{rows}\n</fieldset>")
    title = context["title"]
    asker = context["evaluator"]
    to_whom = f"{asker['name']}, {asker['phone']}" if asker["phone"] else asker["name"]
    script = _SCRIPT.replace("HEAD", json.dumps({"format": FORMAT, "case": case_id, "for": respondent}))
    script = script.replace("NAME", json.dumps(f"answers-{case_id}-{respondent}.json")).replace("<", "\\u003c")
    digest = base64.b64encode(hashlib.sha256(script.encode()).digest()).decode()
    policy = f"default-src 'none'; style-src 'unsafe-inline'; script-src 'sha256-{digest}'; form-action 'none'"
    return f"""<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="{policy}">
<title>{escaped(title)}</title>
<style>{_STYLE}</style>
</head>
<body>
<main>
<h1>{escaped(title)}</h1>
<p>Please answer what you know, and leave the rest blank: a blank is better than a guess.
Then save the answers and give the file to {escaped(to_whom)}. Nothing is sent from this page.</p>
<form id="sheet">
{chr(10).join(fields)}
<p><label for="who">Answered by</label> <input id="who" name="who" autocomplete="name"></p>
<p><button type="submit">Save the answers as a file</button></p>
<p id="state" role="status"></p>
</form>
</main>
<script>{script}</script>
</body>
</html>
""".encode()


def _field(question: Question, number: int) -> str:
    name, label = f"q{number}", escaped(question.words)
    data = f'data-path="{escaped(json.dumps(question.path))}"'
    if question.form == "list" and question.choices:
        ticks = " ".join(
            f'<label><input type="checkbox" name="{name}" value="{escaped(value)}" {data}> {escaped(words)}</label>'
            for value, words in question.choices
        )
        return f'<div role="group" aria-label="{label}"><span>{label}</span> {ticks}</div>'
    if question.choices:
        options = "".join(
            f'<option value="{escaped(value)}">{escaped(words)}</option>' for value, words in question.choices
        )
        field = f'<select id="{name}" name="{name}" {data}><option value=""></option>{options}</select>'
    else:
        kind = {"date": 'type="date"', "number": 'inputmode="decimal"'}.get(question.form, "")
        field = f'<input id="{name}" name="{name}" {kind} {data}>'
    return f'<div><label for="{name}">{label}</label> {field}</div>'


_STYLE = """
body{font:100%/1.45 Arial,Helvetica,sans-serif;margin:0 auto;max-width:42rem;padding:1rem;color:#000;background:#fff}
fieldset{border:1px solid #555;margin:1rem 0;padding:.5rem 1rem}legend{font-weight:bold}
div{margin:.8rem 0}div>label:first-child,div>span{display:block}
input,select,button{font:inherit;padding:.45rem;max-width:100%;min-height:2.75rem}
input:not([type=checkbox]),select{width:100%}input[type=checkbox]{min-height:1.5rem;min-width:1.5rem}
button{border:2px solid #000;background:#fff;font-weight:bold;padding:.5rem 1rem}
"""
_SCRIPT = """
document.getElementById("sheet").addEventListener("submit", function (event) {
  event.preventDefault();
  const byPath = new Map();
  for (const field of document.querySelectorAll("[data-path]")) {
    const value = field.type === "checkbox" ? (field.checked ? field.value : "") : field.value.trim();
    if (!value) continue;
    const answer = byPath.get(field.dataset.path) ||
      {path: JSON.parse(field.dataset.path), values: []};
    answer.values.push(value);
    byPath.set(field.dataset.path, answer);
  }
  const content = Object.assign(HEAD, {by: document.getElementById("who").value.trim(), answers: [...byPath.values()]});
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([JSON.stringify(content, null, 1)], {type: "application/json"}));
  link.download = NAME;
  link.click();
  document.getElementById("state").textContent =
    byPath.size + " answers saved as " + link.download + ". Give that file back.";
});
"""
