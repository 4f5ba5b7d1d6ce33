"""Every English text that the pages for family and aides need in a language, and those pages in its words.

A template is taken line by line: a line with words of a person's is one text, its tags in it; a line of tags alone
stays as it is. So a template in another language is the English one, line for line, and no sentence of it can be left
out. Of the tables of words, a language needs those that the first one beside English has.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from difflib import SequenceMatcher
from functools import cache
from pathlib import Path
from typing import Any

from msgspec import Struct

from docgen.case.mistakes import toml_of
from docgen.documents.document import front_matter
from docgen.fit.condition import conditions
from docgen.fit.feature import features
from docgen.languages.checks import TAG
from docgen.packet.wording import ENGLISH_TAG, wording, words_of_drawings
from docgen.rendering.labels import ENGLISH
from docgen.resources import folder
from docgen.shipped import tables_of

MODEL = "es"  # the language whose table shows which words a language needs
UNSIGNED = "**Not reviewed.** A qualified translator must review this page."
_IN_ENGLISH = "([**A qualified translator must review this.**](lang:en))"
_FENCE = "+++\n"
_WORDS, _FEATURES, _COUNT = "words.toml", "features.toml", "count.toml"
_CALLED_WITH_WORDS = re.compile(r'(?:gap\("[^"]*",\s*|plural\()"[^"]*[^\W\d_]')
_LITERAL_OF_WORDS = re.compile(r'"[^"]*[^\W\d_] [^"]*"')
_CODE_OF_A_LINK = re.compile(r"\]\([^)]*\)|\[!\w+\]")
_LETTER = re.compile(r"[^\W\d_]")

Translate = Callable[
    [str, str], str | None
]  # file and English text -> the text in the language; None while it has none


class Text(Struct, frozen=True):
    """One text to translate.

    file     the file of the language's folder that it is for
    place    its line there, or its key
    english  the text, with the tags of the template in it
    about    what whoever translates it has to know: the document, the heading above it
    """

    file: str
    place: str
    english: str
    about: str


class _Word(Struct, frozen=True):
    """A word of a table: its key there, as the path to it, and the English one, or a list of them."""

    path: tuple[str, ...]
    english: str | list[str]
    about: str


def texts() -> tuple[Text, ...]:
    """Every text of a language, in the order of its files."""
    return (*(text for name in _templates() for text in _of_template(name)), *_of_tables())


def pages_in(translate: Translate, before: Mapping[str, str] | None = None) -> dict[str, str]:
    """The files of a language by name; a template that has a text which is not translate is left out.

    before  what stands at the head of words.toml besides, such as the direction of its script
    """
    pages = {name: page for name in _templates() if (page := _template_in(name, translate)) is not None}
    words: dict[str, Any] = dict(before or {})
    for word in _words():
        _put(words, word.path, _in_words(word.english, _WORDS, translate))
    shown = {
        feature.id: {
            key: translation
            for key in ("plain", "care")
            if (translation := translate(_FEATURES, getattr(feature, key)))
        }
        for feature in features().values()
    }
    count: dict[str, Any] = {}
    for key, english in _count().items():
        _put(count, (key,), _in_words(english, _COUNT, translate))
    tables = {_WORDS: words, _FEATURES: {name: says for name, says in shown.items() if says}, _COUNT: count}
    return {**pages, **{file: _as_toml(table) for file, table in tables.items()}}


def translations_in(lang: str) -> dict[tuple[str, str], str]:
    """File and English text -> the text in a language that there is; nothing for one that there is not."""
    root = folder("templates") / lang
    if not (root / _WORDS).is_file():
        return {}
    translations = {pair: text for name in _templates() for pair, text in _translated_lines(root / name, name)}
    words = tables_of((root / _WORDS).read_text(encoding="utf-8"))
    for word in _words():
        own: Any = words
        for key in word.path:
            own = own.get(key, {})
        pairs = zip(_each(word.english), _each(own), strict=True) if own else ()
        translations |= {(_WORDS, english): text for english, text in pairs}
    shown = tables_of((root / _FEATURES).read_text(encoding="utf-8"))
    for feature in features().values():
        own = shown.get(feature.id, {})
        translations |= {(_FEATURES, getattr(feature, key)): own[key] for key in ("plain", "care") if key in own}
    count = tables_of((root / _COUNT).read_text(encoding="utf-8"))
    for key, english in _count().items():
        translations |= {(_COUNT, text): own for text, own in zip(_each(english), _each(count[key]), strict=True)}
    return translations


def english_templates() -> dict[str, str]:
    """The body of each English template that a language needs, by its file."""
    return {name: _body(name).rpartition(_FENCE)[2] for name in _templates()}


def lines_with_words(template: str) -> Iterator[tuple[int, str]]:
    """The lines of a template's body that hold words of a person's, each with its number."""
    above, _, body = template.rpartition(_FENCE)
    for number, line in enumerate(body.split("\n"), above.count("\n") + (2 if above else 1)):
        if has_words(line):
            yield number, line


def has_words(line: str) -> bool:
    """Whether a line of a template holds words, outside its tags or as a text in one of them; a comment has none."""
    code = re.sub(r"\{#.*?#\}", "", line)
    outside = _CODE_OF_A_LINK.sub("", TAG.sub("", code))
    return any(
        pattern.search(text)
        for pattern, text in ((_LETTER, outside), (_CALLED_WITH_WORDS, code), (_LITERAL_OF_WORDS, code))
    )


@cache
def _templates() -> tuple[str, ...]:
    """Files of the documents that are for family and aides, and of what they share."""
    english = wording(ENGLISH_TAG)
    names = [f"{name}.md" for name, document in english.documents.items() if document.large_print]
    parts = [part for part in english.paths if part.startswith("_") and any(f'"{part}"' in _body(n) for n in names)]
    return (*names, *parts)


@cache
def _body(name: str) -> str:
    return wording(ENGLISH_TAG).paths[name].read_text(encoding="utf-8")


def _of_template(name: str) -> Iterator[Text]:
    template = _body(name)
    title = name.removesuffix(".md").strip("_").replace("_", " ")
    if template.startswith(_FENCE):
        front = tables_of(front_matter(template))
        yield Text(name, "title", front["title"], f"{title}: its title")
        yield Text(name, "head", front["head"], f"{title}: at the head of each page")
        yield Text(name, "unsigned", UNSIGNED, "each page: until a translator has signed")
    heading = ""
    for number, line in lines_with_words(template):
        yield Text(name, str(number), line, f"{title}, under: {heading}" if heading else title)
        heading = line.lstrip("#").strip() if line.startswith("#") else heading


def _translated_lines(path: Path, name: str) -> Iterator[tuple[tuple[str, str], str]]:
    """Each English line of a template with the line that stands for it in another language."""
    own = path.read_text(encoding="utf-8")
    if own.startswith(_FENCE):
        english, front = tables_of(front_matter(_body(name))), tables_of(front_matter(own))
        yield from (((name, english[key]), front[key]) for key in ("title", "head"))
    for line, translation in paired_lines(_body(name), own):
        if has_words(line):
            yield (name, line), translation


def paired_lines(english: str, own: str) -> Iterator[tuple[str, str]]:
    """The lines of an English template's body, each with the one of another language's that stands in its place, by
    the tags and marks around them; lines that one of the two has alone are left out."""
    of_english, of_own = (text.rpartition(_FENCE)[2].split("\n") for text in (english, own))
    of_own = [line for line in of_own if "](lang:" not in line]  # the notice, which the English has not
    compared = SequenceMatcher(None, [*map(_skeleton, of_english)], [*map(_skeleton, of_own)], autojunk=False)
    for _, first, last, at, end in compared.get_opcodes():
        if last - first == end - at:
            yield from zip(of_english[first:last], of_own[at:end], strict=True)


def _skeleton(line: str) -> str:
    """The tags of a line without the words in them, and the mark at its head; alike in every language."""
    tags = "".join(re.sub(r'"[^"]*"', '""', tag) for tag in re.findall(r"\{%.*?%\}", line))
    return f"{line[:1] if line[:1] in '#|>-!' else bool(line.strip())}{tags}"


def _template_in(name: str, translate: Translate) -> str | None:
    """A template in the words of the language; None where one is missing."""
    template = _body(name)
    translations = {text.english: translate(name, text.english) for text in _of_template(name)}
    if None in translations.values():
        return None
    above, _, body = template.rpartition(_FENCE)
    lines = [str(translations.get(line, line)) for line in body.split("\n")]
    if not above:
        return "\n".join(lines)
    title = next(at for at, line in enumerate(lines) if line.startswith("# "))
    lines[title + 1 : title + 1] = ["", f"{translations[UNSIGNED]} {_IN_ENGLISH}"]
    front = [_front_in(line, translations, name, translate) for line in front_matter(template).strip("\n").split("\n")]
    return "\n".join(["+++", *(line for line in front if line is not None), "+++", *lines])


def _front_in(line: str, translations: Mapping[str, str | None], name: str, translate: Translate) -> str | None:
    """A line of the front matter: title and head in the language, the headings it jumps to as they stand there, and
    what only the README shows left out."""
    key = line.partition(" = ")[0]
    if key in ("about", "leaves_out"):
        return None
    if key in ("title", "head"):
        return f"{key} = {toml_of(translations[tables_of(line)[key]])}"
    if key == "jumps":
        return f"jumps = {toml_of([_jump_in(jump, name, translate) for jump in tables_of(line)[key]])}"
    return line


def _jump_in(jump: str, name: str, translate: Translate) -> str:
    """A heading that a page jumps to, "Heading" or "document: Heading", as it stands in the language."""
    document, colon, heading = jump.partition(": ")
    if not colon or f"{document}.md" not in _templates():
        document, heading = name.removesuffix(".md"), jump
    line = next(line for _, line in lines_with_words(_body(f"{document}.md")) if line.lstrip("# ") == heading)
    translation = (translate(f"{document}.md", line) or line).lstrip("# ")
    return f"{document}: {translation}" if heading != jump else translation


def _of_tables() -> Iterator[Text]:
    for word in _words():
        for text in _each(word.english):
            yield Text(_WORDS, ".".join(word.path), text, word.about)
    for feature in features().values():
        yield Text(_FEATURES, f"{feature.id}.plain", feature.plain, f"{feature.name}: its everyday name")
        yield Text(_FEATURES, f"{feature.id}.care", feature.care, f"{feature.name}: how it is cared for")
    for key, english in _count().items():
        for text in _each(english):
            yield Text(_COUNT, key, text, "the page that counts a trial on a phone")


@cache
def _words() -> tuple[_Word, ...]:
    """Words that a language needs, with the English ones: those that the model has, in its order."""
    model = tables_of((folder("templates") / MODEL / _WORDS).read_text(encoding="utf-8"))
    english = {**wording(ENGLISH_TAG).words, "page": {name: getattr(ENGLISH, name) for name in model["page"]}}
    english["figures"] = words_of_drawings({"original": "{text}"}) | english["figures"]
    english["emergency_labels"] = {
        f"{condition.id}.{question.id}": question.on_page or question.on_card
        for condition in conditions().values()
        for question in condition.asks
    }
    english["labels"] = {label: label for label in model["labels"]}
    english["original"] = "[in English: “{text}”]"
    english["original_means"] = "What stands in [in English: “ ”] is not translated: ask for help to read it first."
    return tuple(_wanted(model, english, ()))


def _wanted(model: Mapping[str, Any], english: Mapping[str, Any], above: tuple[str, ...]) -> Iterator[_Word]:
    for key, value in model.items():
        if isinstance(value, Mapping):
            yield from _wanted(value, english[key], (*above, key))
        elif isinstance(value, (str, list)):
            yield _Word((*above, key), english[key], f"a fixed word of the pages: {' '.join((*above, key))}")


@cache
def _count() -> Mapping[str, str | list[str]]:
    return tables_of((folder("templates") / ENGLISH_TAG / _COUNT).read_text(encoding="utf-8"))


def _each(english: str | list[str]) -> list[str]:
    return english if isinstance(english, list) else [english]


def _in_words(english: str | list[str], file: str, translate: Translate) -> str | list[str] | None:
    """A word in the language, or a list of them where it has each."""
    translation = [translate(file, text) for text in _each(english)]
    if None in translation:
        return None
    return [str(text) for text in translation] if isinstance(english, list) else translation[0]


def _put(table: dict[str, Any], path: tuple[str, ...], value: str | list[str] | None) -> None:
    if value is None:
        return
    for key in path[:-1]:
        table = table.setdefault(key, {})
    table[path[-1]] = value


def _as_toml(table: Mapping[str, Any]) -> str:
    """Tables of words as TOML, a line a word."""
    plain = [f"{toml_key(key)} = {toml_of(value)}" for key, value in table.items() if not isinstance(value, Mapping)]
    below = [
        f"\n[{toml_key(key)}]\n" + "\n".join(f"{toml_key(name)} = {toml_of(text)}" for name, text in value.items())
        for key, value in table.items()
        if isinstance(value, Mapping)
    ]
    return "\n".join([*plain, *below]) + "\n"


def toml_key(name: str) -> str:
    """A key as TOML writes it, in quotes where it holds more than letters, digits and signs."""
    return name if re.fullmatch(r"[A-Za-z0-9_-]+", name) else toml_of(name)
