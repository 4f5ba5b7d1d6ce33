"""What `docgen find` prints: the words of a vocabulary that fit, each with its meaning and where it is written."""

from __future__ import annotations

import textwrap

from docgen.codes.icd10 import names, nearest_by_name
from docgen.console.width import WIDTH
from docgen.nearest import nearest
from docgen.vocabulary import vocabularies

_WRITTEN = {
    "finding": "[findings.NAME]",
    "feature": "[configuration.features.NAME]",
    "kind": "kind of [alternatives.NAME]",
    "setting": "setting of [[follow_up.changed]], changed_setting of sessions.csv",
    "condition": "[conditions.NAME]",
    "payer": "payer under [request]",
    "code": "code of [configuration.items.NAME]",
}
_DIAGNOSIS = (
    "diagnosis: [diagnoses.CODE], of which the practitioner chooses"  # thousands, so none is listed with the rest
)
_MOST = 5  # of each vocabulary


def found_text(words: str) -> str:
    """The nearest of each vocabulary to these words, or that there is none; the whole of one that they name."""
    if (whole := words.strip().lower().removesuffix("s")) in _WRITTEN:
        return vocabularies_text(whole)
    lines: list[str] = []
    for kind, entries in vocabularies().items():
        listed = nearest(words, entries, _MOST)
        if not listed:
            continue
        lines += ["", f"{kind}: {_WRITTEN[kind]}"] if lines else [f"{kind}: {_WRITTEN[kind]}"]
        for entry in listed:
            meaning = f"{entry.name}. {entry.meaning}" if entry.meaning else f"{entry.name}."
            lines += _entry(entry.id, meaning)
    if coded := nearest_by_name(words, _MOST):
        lines += ["", _DIAGNOSIS] if lines else [_DIAGNOSIS]
        lines += [line for code in coded for line in _entry(code, names()[code])]
    if not lines:
        of_one_kind = ", ".join(f"{kind}s" for kind in _WRITTEN)
        return (
            f"Nothing is near '{words}'. A finding without a word here is written with own = true. "
            f"All words: docgen find; those of one kind: docgen find with {of_one_kind}"
        )
    return "\n".join(lines)


def vocabularies_text(only: str = "") -> str:
    """Every word of every vocabulary, or of the one named."""
    lines: list[str] = []
    for kind, entries in vocabularies().items():
        if only and kind != only:
            continue
        lines += ["", f"{kind}: {_WRITTEN[kind]}"] if lines else [f"{kind}: {_WRITTEN[kind]}"]
        for entry in entries:
            lines += _entry(entry.id, entry.name)
    return "\n".join([*lines, "", "By any word: docgen find WORD"])


def _entry(name: str, words: str) -> list[str]:
    return textwrap.wrap(
        f"{name:<26}  {words}", WIDTH, initial_indent="  ", subsequent_indent=" " * 30, break_on_hyphens=False
    )
