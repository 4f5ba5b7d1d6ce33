"""The plain words of the page of options, from templates/en/options.toml."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cache
from typing import Any

from docgen.fit.feature import features
from docgen.resources import folder
from docgen.shipped import tables_of

_SHORT = 14  # words of a list in one sentence


@cache
def plain_words() -> Mapping[str, Any]:
    """The tables of templates/en/options.toml."""
    return tables_of((folder("templates") / "en" / "options.toml").read_text(encoding="utf-8"))


def good_words(name: str) -> str:
    """What is good about a feature."""
    feature = features()[name]
    return str(plain_words()["good"].get(name) or f"It has {feature.plain or feature.name}.")


def asked_words(names: Iterable[str]) -> str:
    """What nobody has said a control to have or not, as what to ask for, in short sentences: all of it."""
    words, known = plain_words()["ask"], features()
    sentences: list[list[str]] = []
    for text in dict.fromkeys(words.get(name) or known[name].plain or known[name].name for name in names):
        if sentences and len(" ".join([*sentences[-1], text]).split()) <= _SHORT:
            sentences[-1].append(text)
        else:
            sentences.append([text])
    return " ".join(f"{'Or' if at else 'Ask if it has'}: {', '.join(asked)}." for at, asked in enumerate(sentences))


def risk_words(risk: str) -> str:
    """A risk in words for a family."""
    for word, instead in plain_words()["instead"].items():
        risk = risk.replace(word, instead)
    return ended(risk)


def ended(text: str) -> str:
    """A text with a full stop."""
    return text if text.endswith((".", "!", "?")) else f"{text}."
