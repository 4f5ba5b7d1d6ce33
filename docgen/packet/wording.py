"""The wording of a language: its documents, the parts they share and its fixed words.

A clinic's own wording is a folder that overlays it file by file. A template there replaces the one of its
name; of words.toml there, each key replaces that key. It is bound by all that binds the program's own.

A language may have some of the documents only. A word that it lacks is the English one, so that what no document
of it shows can still be laid out; an English word that reaches a page of it is marked there, as in a drawing whose
words it lacks, and the tests hold every page to that.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator, Mapping
from functools import cache
from pathlib import Path
from string import Formatter
from typing import Any

from jinja2 import FunctionLoader
from jinja2.sandbox import SandboxedEnvironment
from msgspec import Struct, field
from msgspec.structs import replace

import docgen
from docgen.case.files import text_of
from docgen.case.toml import read_toml
from docgen.documents.classes import classes_of_drawing, hidden
from docgen.documents.document import Document, documents, front_matter
from docgen.documents.phrase import filters, missing
from docgen.errors import Problem, UserError, did_you_mean
from docgen.figures.draw import figures
from docgen.private import private_folder, write_whole, writing
from docgen.rendering.compiled import CompiledLoader, python_of
from docgen.rendering.fonts import glyph_name, missing_glyphs
from docgen.rendering.labels import ENGLISH, Labels
from docgen.rendering.reading_ease import ReadingRule, reading_rule
from docgen.rendering.template import environment
from docgen.resources import folder
from docgen.shipped import FILE, tables_of
from docgen.shipped import python_of as python_of_tables

ENGLISH_TAG = "en"
_WORDS, _FEATURES, _READING = "words.toml", "features.toml", "reading.toml"
_MOST_BYTES = 200_000
_OPEN_TABLES = {"plain": str, "short_titles": str, "shown_in": list}  # to which a clinic may add, and of what


class Wording(Struct, frozen=True, eq=False):
    """All that the pages of a packet are worded with.

    documents  by name, in packet order
    parts      text of each template that documents share, by file name
    words      fixed words and patterns
    paths      file of each template, by file name
    lang       language tag
    labels     the few words a page carries beside its text
    features   id -> plain name and care step, in a language other than that of docgen/features
    reading    how easy its texts are to read; None for a language without a formula, and for English, which has its own
    locale     how days and measures are written, see in_locale
    """

    documents: Mapping[str, Document]
    parts: Mapping[str, str]
    words: Mapping[str, Any]
    paths: Mapping[str, Path]
    environment: SandboxedEnvironment
    lang: str = ENGLISH_TAG
    labels: Labels = ENGLISH
    features: Mapping[str, Mapping[str, str]] = field(default_factory=dict)
    reading: ReadingRule | None = None
    locale: str = "en_US"

    @property
    def sent(self) -> tuple[str, ...]:
        """Documents that go to the payer and the supplier.

        The others are written for the family and the coach, and hold what a payer has no need to see: they are
        enclosed only when asked for.
        """
        return tuple(name for name, document in self.documents.items() if document.sent)


def languages() -> tuple[str, ...]:
    """Tags of the languages besides English that there are documents in."""
    tags = (path.parent.name for path in sorted(folder("templates").glob(f"*/{_WORDS}")))
    return tuple(lang for lang in tags if lang != ENGLISH_TAG)


def wording(lang: str = ENGLISH_TAG) -> Wording:
    """The program's own wording of a language, the same object every time."""
    return _own_wording(lang)


@cache
def _own_wording(lang: str) -> Wording:
    root = folder("templates") / lang
    words = tables_of((root / _WORDS).read_text(encoding="utf-8"))
    templates = documents(root), {path.name: path for path in sorted(root.glob("_*.md"))}
    if lang == ENGLISH_TAG:
        return _wording(*templates, words, lang)
    labels = Labels(
        **words["page"],
        months=tuple(words["months"]),
        day_form=words["date"],
        direction=words.get("direction", ENGLISH.direction),
    )
    features = tables_of((root / _FEATURES).read_text(encoding="utf-8"))
    known = _under(wording().words, words) | {"figures": words_of_drawings(words)}
    rule = root / _READING
    reading = reading_rule(tables_of(rule.read_text(encoding="utf-8"))) if rule.is_file() else None
    return replace(_wording(*templates, known, lang), lang=lang, labels=labels, features=features, reading=reading)


@cache
def in_locale(worded: Wording, locale: str) -> Wording:
    """The wording with days and measures as a payer's locale has them: [locales.<locale>] of its words over the
    others."""
    if locale == worded.locale:
        return worded
    words = _under(worded.words, worded.words["locales"][locale])
    parts = {name: path for name, path in worded.paths.items() if name.startswith("_")}
    labels = replace(worded.labels, day_form=words["date"])
    there = _wording(worded.documents, parts, words)
    own = {"lang": worded.lang, "features": worded.features, "reading": worded.reading}
    return replace(there, labels=labels, locale=locale, **own)


def _under(english: Mapping[str, Any], words: Mapping[str, Any]) -> dict[str, Any]:
    """The words of a language, with the English one where it has none."""
    return dict(english) | {
        key: _under(english[key], value) if isinstance(value, Mapping) and key in english else value
        for key, value in words.items()
    }


def words_of_drawings(words: Mapping[str, Any]) -> dict[str, Any]:
    """The words of drawings in a language; for one that it lacks the English one, marked as the language marks a text
    left as it stands."""
    english = {key: text for module in figures().values() for key, text in getattr(module, "WORDS", {}).items()}
    english |= wording().words["figures"]

    def marked(text: str) -> str:
        """What holds no letter, such as the decimal sign, is no word."""
        shown: str = words["original"].replace("{text}", text)
        return shown if any(map(str.isalpha, text)) else text

    in_english = {
        key: [marked(word) for word in text] if isinstance(text, list) else marked(text)
        for key, text in english.items()
    }
    return {**in_english, **words.get("figures", {})}


def template_files(clinic: Path) -> list[str]:
    """Names of the files in a clinic's folder of templates, but for hidden ones and an editor's copies."""
    return sorted(p.name for p in clinic.iterdir() if not p.name.startswith(".") and not p.name.endswith("~"))


def overlaid(clinic: Path, lang: str = "en") -> Wording:
    """The wording of a language with a clinic's own files over it. Raises UserError with every mistake in them."""
    own = wording(lang)
    files = _own_templates(clinic, own)
    docs = {
        name: replace(document, sent=own.documents[name].sent) if document.sent is None else document
        for name, document in {**own.documents, **documents(clinic)}.items()
    }
    problems = [problem for document in docs.values() for problem in _figure_mistakes(document)]
    problems += [problem for name, document in docs.items() for problem in _overstepped(own.documents[name], document)]
    words = own.words
    if _WORDS in files:
        words, mistakes = _words_over(own.words, files[_WORDS])
        problems += mistakes
    problems += [problem for path in files.values() for problem in _letters_lacking(path)]
    if problems:
        raise UserError(problems)
    parts = {name: files.get(name, path) for name, path in own.paths.items() if name.startswith("_")}
    in_order = {document.name: document for document in sorted(docs.values(), key=lambda d: (d.order, d.name))}
    return _wording(in_order, parts, words, lang if words is own.words else "")


def _own_templates(clinic: Path, own: Wording) -> dict[str, Path]:
    """The files of a clinic's folder by name. Raises UserError when one of them is no template, or there is none."""
    names = [*(f"{name}.md" for name in own.documents), *own.parts, _WORDS]
    if not os.path.isdir(clinic):
        raise UserError(
            [Problem(str(clinic), "is no folder of templates", "Make one with 'docgen new --templates DIR'.")]
        )
    files = {name: clinic / name for name in template_files(clinic)}
    problems = [
        Problem(str(path), "is no template of a packet", did_you_mean(name, names))
        for name, path in files.items()
        if name not in names or not path.is_file()
    ]
    if problems or not files:
        raise UserError(
            problems or [Problem(str(clinic), "holds no template", "Copy some with 'docgen new --templates DIR'.")]
        )
    return files


def _overstepped(own: Document, clinic: Document) -> Iterator[Problem]:
    """What a clinic's front matter changes and may not: the cases a document is made for, whether it is sent, and what
    its reader may see."""
    for key in ("needs", "sent"):
        if (getattr(clinic, key) or None) != (getattr(own, key) or None):
            yield Problem(
                f"{clinic.path}:{_line(clinic.path, key)}",
                f"the {own.name} must keep its {key}: '{getattr(own, key) or 'none'}'",
                "Write it as in the program's own template.",
            )
    if beyond := hidden(clinic.may_see, own.may_see):
        yield Problem(
            f"{clinic.path}:{_line(clinic.path, 'may_see')}",
            f"the reader of the {own.name} may not see the class {beyond}",
            "Take it out of may_see.",
        )


def _letters_lacking(path: Path) -> Iterator[Problem]:
    """Letters of a clinic's own wording that the PDF cannot set: unlike a case, it can be worded otherwise."""
    for at, line in enumerate(text_of(path, str(path), 10**6).split("\n"), 1):
        if missing := missing_glyphs(line):
            yield Problem(
                f"{path}:{at}",
                f"holds {glyph_name(missing[0])}, which the page fonts cannot show",
                "Write it in Latin, Greek or Cyrillic letters.",
            )


def copy_out(target: Path, lang: str = "en") -> list[Path]:
    """Copy the program's own templates into a folder, to be changed there: the files made.

    Raises UserError when the folder holds anything.
    """
    own, root = wording(lang), folder("templates") / lang
    with writing(target):
        if target.exists() and (not target.is_dir() or any(target.iterdir())):
            raise UserError([Problem(str(target), "is not an empty folder", "Choose another; nothing was changed.")])
        private_folder(target)
        copied = []
        for name in [*(f"{name}.md" for name in own.documents), *own.parts, _WORDS]:
            write_whole(target / name, (root / name).read_bytes())
            copied.append(target / name)
    return copied


def language_words(lang: str = "en") -> Mapping[str, Any]:
    """Fixed words of a language."""
    return wording(lang).words


def document_names(lang: str = "en") -> tuple[str, ...]:
    """Names of the documents, in packet order."""
    return tuple(wording(lang).documents)


def write_python(target: Path) -> list[Path]:
    """Write the Python of the program's templates, a folder for each language, and of its tables: the files made."""
    files = [target / FILE]
    for lang in (ENGLISH_TAG, *languages()):
        own = wording(lang)
        (target / lang).mkdir()
        for name in own.paths:
            file = (target / lang / name).with_suffix(".py")
            file.write_text(python_of(own.environment, name), encoding="utf-8")
            files.append(file)
    files[0].write_text(python_of_tables(_tables()), encoding="utf-8")
    return files


def _tables() -> Iterator[str]:
    """Every text with tables that the program brings."""
    for path in sorted([*Path(docgen.__file__).parent.rglob("*.toml"), *folder("templates").rglob("*.toml")]):
        yield path.read_text(encoding="utf-8")
    for lang in (ENGLISH_TAG, *languages()):
        yield from (front_matter(document.path.read_text("utf-8")) for document in wording(lang).documents.values())


def _wording(
    docs: Mapping[str, Document], parts: Mapping[str, Path], words: Mapping[str, Any], compiled: str = ""
) -> Wording:
    """Wording of these templates; `compiled` is the language whose Python they may be taken from where their text is
    that of the program, empty for words of a clinic's own."""
    texts = {name: text_of(path, str(path), _MOST_BYTES) for name, path in parts.items()}
    paths = {f"{name}.md": document.path for name, document in docs.items()} | dict(parts)

    def source(name: str) -> tuple[str, str, None] | None:
        document = docs.get(name.removesuffix(".md"))
        text = document.body if document else texts.get(name)
        return None if text is None else (text, str(paths[name]), None)

    # a filter may have been worked out with the words of the language, so a clinic's words are never with its Python
    loader = CompiledLoader(source, folder("compiled") / compiled) if compiled else FunctionLoader(source)
    env = environment(loader, filters(words), {"gap": missing(words)})
    shared = {
        name: text for name, text in texts.items() if any(f'"{name}"' in document.body for document in docs.values())
    }
    return Wording(docs, shared, words, paths, env)


def _figure_mistakes(document: Document) -> Iterator[Problem]:
    """Drawings a front matter names that there are not, or that its reader may not see."""
    for name in document.figures:
        if name not in figures():
            line = _line(document.path, f'"{name}"')
            yield Problem(f"{document.path}:{line}", f"there is no drawing '{name}'", "Take it out of figures.")
        elif beyond := hidden(classes_of_drawing(name), document.may_see):
            line = _line(document.path, f'"{name}"')
            what = f"the {document.name} must never show the drawing {name}: its reader may not see the class {beyond}"
            yield Problem(f"{document.path}:{line}", what, "Take it out of figures.")


def _line(path: Path, text: str) -> int:
    lines = path.read_text(encoding="utf-8").split("\n")
    return next((at for at, line in enumerate(lines, 1) if text in line), 1)


def _words_over(own: Mapping[str, Any], path: Path) -> tuple[dict[str, Any], list[Problem]]:
    """The words with those of the file over them, and what is wrong with the file."""
    try:
        read = read_toml(text_of(path, str(path), _MOST_BYTES), str(path))
    except UserError as failure:
        return dict(own), [*failure.problems]
    return _merged(own, read.tables, (), read.where)


def _merged(
    own: Mapping[str, Any], clinic: Mapping[str, Any], above: tuple[str, ...], where: Callable[..., str]
) -> tuple[dict[str, Any], list[Problem]]:
    merged, problems = dict(own), []
    for key, value in clinic.items():
        place, name = where(*above, key), ".".join((*above, key))
        if above and _OPEN_TABLES.get(above[0]) is type(value):
            if isinstance(value, list) and not all(isinstance(text, str) for text in value):
                problems.append(Problem(place, f"{name} must hold texts only"))
            merged[key] = value
        elif key not in own:
            problems.append(Problem(place, f"unknown key '{name}'", did_you_mean(key, own)))
        elif isinstance(own[key], Mapping) and isinstance(value, Mapping):
            merged[key], more = _merged(own[key], value, (*above, key), where)
            problems += more
        elif wrong := _unlike(own[key], value):
            problems.append(Problem(place, f"{name} {wrong}"))
        else:
            merged[key] = value
    return merged, problems


def _unlike(own: Any, value: Any) -> str:
    """How a clinic's word is not of the kind of the one it replaces; empty when it is."""
    if type(value) is not type(own):
        return "is of another kind than the word it replaces"
    if isinstance(own, Mapping):
        if own.keys() != value.keys():
            return f"must hold {', '.join(own)}, and nothing else"
        return next((f"in {key} {wrong}" for key in own if (wrong := _unlike(own[key], value[key]))), "")
    if isinstance(own, list):
        if len(value) != len(own):
            return f"must hold {len(own)} entries, not {len(value)}"
        return next(
            (wrong for ours, replacing in zip(own, value, strict=True) if (wrong := _unlike(ours, replacing))), ""
        )
    if not isinstance(own, str):
        return ""
    allowed = _places(own)
    try:
        unknown = _places(value) - allowed
    except ValueError as failure:
        return f"is not a pattern: {failure}"
    shown = ", ".join(f"{{{name}}}" for name in sorted(allowed)) or "none"
    return f"asks for {{{min(unknown)}}}, which is not there; there are: {shown}" if unknown else ""


def _places(pattern: str) -> set[str]:
    """The places of a pattern that are filled in, with whatever form they are given."""
    return {
        f"{name}{f'!{turned}' if turned else ''}{f':{form}' if form else ''}"
        for _, name, form, turned in Formatter().parse(pattern)
        if name is not None
    }
