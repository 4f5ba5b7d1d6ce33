"""What `docgen find` prints: the words of a vocabulary that fit, each with its meaning and where it is written."""

from __future__ import annotations

import re
import textwrap

from docgen.codes.icd10 import names, nearest_by_name
from docgen.console.width import WIDTH
from docgen.nearest import Entry, how_near, nearest
from docgen.vocabulary import columns, keys_of_case, vocabularies

_WRITTEN = {
    "finding": "[findings.NAME]",
    "feature": (
        "[configuration.features.NAME], a NAME with a dot in quotes; one that drives the chair is named by docgen new "
        "--control too"
    ),
    "kind": "kind of [alternatives.NAME]",
    "setting": "setting of [[follow_up.changed]], changed_setting of sessions.csv",
    "condition": "[conditions.NAME]",
    "payer": "payer under [request]",
    "code": "code of [configuration.items.NAME]",
}
_PROCEDURE = re.compile(r"[A-Z]\d{4}")
_KEY = "of case.toml, below the head of its table or in an entry of that list"
_BESIDE_CASE = "of a file of rows beside case.toml, or such a file"
# thousands, so none is listed with the rest
_DIAGNOSIS = 'diagnosis: [diagnoses.CODE], of which the practitioner chooses; until then [diagnoses] "its name" = {}'
_MOST = 5  # of each vocabulary
_BESIDE = 0.35  # of the best fit: a vocabulary that fits less is left out
_SURE = 2.5  # how well a key must fit, of which there are a thousand: every word that was asked, by and large

_NAMED = 5.0  # how well a column must fit: by its own name, or by what people call its file


def found_text(words: str) -> str:
    """The nearest of each vocabulary to these words, or that there is none; the whole of one that they name."""
    if (whole := words.strip().lower().removesuffix("s")) in _WRITTEN:
        return vocabularies_text(whole)
    if _PROCEDURE.fullmatch(words.strip().upper()):
        return _of_one_code(words.strip().upper())
    lines: list[str] = []
    for kind, listed in _nearest_of_each(words):
        head = f"{kind}: {_WRITTEN.get(kind, _BESIDE_CASE if kind == 'column' else _KEY)}"
        lines += ["", head] if lines else [head]
        for entry in listed:
            name = f"{entry.name[:1].upper()}{entry.name[1:]}" if kind in ("key", "column") else entry.name
            meaning = f"{name}. {entry.meaning}" if entry.meaning else f"{name}."
            lines += _entry(entry.id, meaning)
    if coded := nearest_by_name(words, _MOST):
        lines += ["", _DIAGNOSIS] if lines else [_DIAGNOSIS]
        lines += [line for code in coded for line in _entry(code, names()[code])]
    if not lines:
        of_one_kind = ", ".join(f"{kind}s" for kind in _WRITTEN)
        return (
            f"Nothing is near '{words}'. A finding without a word here is written with own = true. "
            f"All words: docgen find; those of one kind: docgen find features, or in its place one of {of_one_kind}"
        )
    return "\n".join(lines)


def _of_one_code(code: str) -> str:
    """A procedure code with what it is; of one that is on no list here, what to do, and no other in its place."""
    entry = next((entry for entry in vocabularies()["code"] if entry.id == code), None)
    if entry is None:
        return (
            f"{code} is on no list of docgen's: what it is and whether it is in use is the supplier's to say. It may "
            f'stand in a case, {code} = {{ name = "<what it is>" }} under [configuration.items], with the question '
            f'under [awaited]: line = {{ supplier = "whether {code} is the code of ..." }}. By words: docgen find WORD.'
        )
    return "\n".join([f"code: {_WRITTEN['code']}", *_entry(code, f"{entry.name}. {entry.meaning}")])


def _nearest_of_each(words: str) -> list[tuple[str, list[Entry]]]:
    """Each vocabulary with what of it is nearest to these words, the one that fits best first."""
    by_kind = {kind: nearest(words, entries, _MOST) for kind, entries in vocabularies().items()}
    by_kind["key"] = [key for key in nearest(words, keys_of_case(), _MOST) if how_near(words, key) >= _SURE]
    by_kind["column"] = [column for column in nearest(words, columns(), _MOST) if how_near(words, column) >= _NAMED]
    # one and the same fit in the order of the vocabularies
    fit = {kind: max((how_near(words, entry) for entry in listed), default=0.0) for kind, listed in by_kind.items()}
    best = max(fit.values())
    # beside what fits in whole, what a single word or a likeness brings would only lead astray
    ranked = sorted((kind for kind in by_kind if by_kind[kind] and fit[kind] >= best * _BESIDE), key=lambda k: -fit[k])
    return [(kind, by_kind[kind]) for kind in ranked]


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
