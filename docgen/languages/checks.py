"""What is wrong with one translated text: a tag, a number, a mark or a form of its own that it lost or made up."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator

from jinja2 import Environment, TemplateSyntaxError
from jinja2.lexer import TOKEN_NAME

_ENV = Environment()  # reads tags, renders nothing
TAG = re.compile(r"\{%.*?%\}|\{\{.*?\}\}|\{#.*?#\}")
_NUMBER = re.compile(r"\d+(?:[.,]\d+)*")
_PLACE = re.compile(r"\{[a-z_0-9]*(?:![rsa])?(?::[^}]*)?\}")
_LEAD = re.compile(r"\s*(?:>\s?)*(?:#+ |\d+\. |[-*] |\||\[!\w+\])?")
_PLURAL = re.compile(r"plural\(([^()]*)\)")
_FREE = re.compile(r"who\.\w+|called|lets_go")  # the client's name and what agrees with it: a language may say "she"
_WORDS_OF_TAGS = frozenset(
    "if elif else endif for in endfor set macro endmacro not and or is defined true false none loop from import"
    " recursive".split()
)


def faults(english: str, translation: str, known: frozenset[str], n_forms: int, line: bool = True) -> Iterator[str]:
    """What is wrong with a text in a language, each as the end of a sentence.

    known    names that the tags of its file may use
    n_forms  how many forms the language has for a number of things
    line     whether it is a line of a template; a word of a table may need a number of its own, such as a coin's name
    """
    if "{%" in english or "{{" in english or "{%" in translation or "{{" in translation:
        yield from _faults_of_tags(english, translation, known, n_forms)
    else:
        lost, new = _differ(_PLACE.findall(english), _PLACE.findall(translation))
        yield from (f"lacks {place}" for place in lost)
        yield from (f"has {place}, which the English has not" for place in new)
    lost, new = _differ(_numbers(english), _numbers(translation))
    yield from (f"lacks the number {number}" for number in lost)
    if line:
        yield from (f"has the number {number}, which the English has not" for number in new)
    if _LEAD.match(english)[0].split() != _LEAD.match(translation)[0].split():  # type: ignore[index]
        yield f"begins with '{_LEAD.match(translation)[0].strip()}' and not with '{_LEAD.match(english)[0].strip()}'"  # type: ignore[index]
    if english.startswith("|") and _cells(english) != _cells(translation):
        yield f"has {_cells(translation)} bars of a table and not {_cells(english)}"
    for mark in ("**", "](lang:"):
        if english.count(mark) and not translation.count(mark):
            yield f"lacks {mark}"


def names_in(text: str) -> frozenset[str]:
    """The names with their parts that tags ask for, such as `place.needs`; filters and words of the tags are none.

    Raises TemplateSyntaxError for tags that cannot be read.
    """
    return frozenset(_names(text))


def _faults_of_tags(english: str, translation: str, known: frozenset[str], n_forms: int) -> Iterator[str]:
    for begin, end in (("{{", "}}"), ("{%", "%}"), ("{#", "#}")):
        if translation.count(begin) != translation.count(end):
            yield f"has a tag that cannot be read: {begin} without {end}"
            return
    try:
        names = names_in(translation)
        opened = _opened(translation)
    except TemplateSyntaxError as failure:
        yield f"has a tag that cannot be read: {failure.message}"
        return
    yield from (f"lacks {{{{ {name} }}}}" for name in sorted(names_in(english) - names) if not _FREE.fullmatch(name))
    yield from (f"asks for {name}, which this file has not" for name in sorted(names - known))
    if opened != _opened(english):
        yield "opens or closes other tags than the English"
    for call in _PLURAL.findall(translation):
        n = len(re.findall(r"\"[^\"]*\"|'[^']*'", call))
        if n != n_forms:
            yield f"has {n} forms in plural(...), and the language has {n_forms}"


def _opened(text: str) -> Counter[str]:
    """Tags that stay open at the end of a line, and those that close one opened before."""
    stack: list[str] = []
    left: Counter[str] = Counter()
    for word in re.findall(r"\{%-?\s*(\w+)", text):
        if word in ("if", "for", "macro"):
            stack.append(word)
        elif word.startswith("end"):
            if stack and stack[-1] == word.removeprefix("end"):
                stack.pop()
            else:
                left[word] += 1
        elif word in ("else", "elif") and not stack:
            left[word] += 1
    return left + Counter(stack)


def _names(text: str) -> Iterator[str]:
    tokens = [token for token in _ENV.lexer.tokeniter(text, None) if token[1] != "whitespace"]
    at = 0
    while at < len(tokens):
        _, kind, value = tokens[at]
        before = tokens[at - 1][2] if at else ""
        if kind == TOKEN_NAME and before not in ("|", ".") and value not in _WORDS_OF_TAGS:
            parts = [value]
            while at + 2 < len(tokens) and tokens[at + 1][2] == "." and tokens[at + 2][1] == TOKEN_NAME:
                parts.append(tokens[at + 2][2])
                at += 2
            if not (at + 1 < len(tokens) and tokens[at + 1][2] in ("(", "=") and len(parts) == 1):
                yield ".".join(parts)
        at += 1


def _numbers(text: str) -> list[str]:
    return _NUMBER.findall(_LEAD.sub("", TAG.sub("", _PLACE.sub("", text)), count=1))


def _differ(english: list[str], translation: list[str]) -> tuple[list[str], list[str]]:
    """What of the first is missing in the second, and the other way round."""
    of_english, of_translation = Counter(english), Counter(translation)
    return sorted((of_english - of_translation).elements()), sorted((of_translation - of_english).elements())


def _cells(row: str) -> int:
    return TAG.sub("", row).count("|")
