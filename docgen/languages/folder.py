"""The folder of a language: begun with a PO file of every text, and made into pages from what comes back."""

from __future__ import annotations

import re
from pathlib import Path

from msgspec import Struct

from docgen.errors import Problem, UserError, brief
from docgen.languages.catalog import Translated, po_of, read_po
from docgen.languages.checks import faults, names_in
from docgen.languages.texts import Text, english_templates, pages_in, texts, translations_in
from docgen.private import private_folder, write_whole, writing

_TAG = re.compile(r"[a-z]{2,3}(?:-[A-Z][a-z]{3})?(?:-(?:[A-Z]{2}|\d{3}))?")  # BCP 47: language, script, region
_RIGHT_TO_LEFT = frozenset("ar arc ckb dv fa he ks ku nqo ps sd syr ug ur yi".split())
_RIGHT_TO_LEFT_SCRIPTS = frozenset("Arab Hebr Syrc Thaa Nkoo Adlm Rohg".split())


class Taken(Struct, frozen=True):
    """What was made of a PO file.

    files      written, by path
    n_translated     texts that are translated
    n_texts    texts in all
    left_out   page -> how many of its texts are not translated yet
    signed_by  who signed as translator; "" for nobody
    """

    files: tuple[Path, ...]
    n_translated: int
    n_texts: int
    left_out: dict[str, int]
    signed_by: str


def start_language(tag: str, parent: Path = Path()) -> Path:
    """Begin the folder of a language with a PO file of every text; the file made. Of a language that there is already,
    the file holds its translations too.

    Raises UserError for what is no tag of a language, when the folder is there, and when Babel is not installed.
    """
    if not _TAG.fullmatch(tag):
        what = f"'{brief(tag)}' is no tag of a language"
        raise UserError([Problem("--language", what, "Write it as BCP 47 has it, such as pl, pt-BR or zh-Hant.")])
    folder = parent / tag
    if folder.exists() or folder.is_symlink():
        raise UserError([Problem(str(folder), "is already there", "Choose another place; nothing was changed.")])
    data = po_of(tag, texts(), translations_in(tag))
    with writing(folder):
        private_folder(folder)
        write_whole(folder / f"{tag}.po", data)
    return folder / f"{tag}.po"


def take_language(folder: Path) -> Taken:
    """Make the pages of a language from the PO file in its folder. A page with a text that is not translated is not
    made, for half of a page is no page.

    Raises UserError with every text that lost a tag, a number or a mark, and writes nothing then.
    """
    tag = folder.name
    path = folder / f"{tag}.po"
    if not path.is_file():
        raise UserError([Problem(str(folder), f"holds no {tag}.po", "Begin one with 'docgen new --language TAG'.")])
    read, wanted_texts = read_po(path), texts()
    if problems := [*_problems(path, read, wanted_texts)]:
        raise UserError(problems)

    def translate(file: str, english: str) -> str | None:
        return read.translation.get((file, english))

    pages = pages_in(translate, {"plural_forms": read.plural_forms, "direction": direction_of(tag)})
    written = []
    for name, text in pages.items():
        with writing(folder / name):
            write_whole(folder / name, text.encode())
        written.append(folder / name)
    lacking: dict[str, int] = {}
    for wanted in wanted_texts:
        if translate(wanted.file, wanted.english) is None:
            lacking[wanted.file] = lacking.get(wanted.file, 0) + 1
    n_lacking = sum(lacking.values())
    return Taken(tuple(written), len(wanted_texts) - n_lacking, len(wanted_texts), lacking, read.signed_by)


def direction_of(tag: str) -> str:
    """Which way the script of a language runs: "rtl" or "ltr". Source: Unicode CLDR, script metadata; from memory."""
    language, *others = tag.split("-")
    script = next((part for part in others if len(part) == 4), "")
    runs_left = script in _RIGHT_TO_LEFT_SCRIPTS or (not script and language in _RIGHT_TO_LEFT)
    return "rtl" if runs_left else "ltr"


def _problems(path: Path, read: Translated, wanted_texts: tuple[Text, ...]) -> list[Problem]:
    known = {name: names_in(text) for name, text in english_templates().items()}
    by_text = {}
    for text in wanted_texts:
        key = (text.file, text.english)
        if translation := read.translation.get(key):
            names, line = known.get(text.file, frozenset()), text.file.endswith(".md")
            for fault in faults(text.english, translation, names, read.n_forms, line):
                by_text[key, fault] = Problem(f"{path}:{read.lines[key]}", f"the translation {fault}")
    return list(by_text.values())
