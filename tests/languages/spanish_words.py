"""The words of the program in English and in Spanish, and the words of a page."""

from __future__ import annotations

import re
import tomllib

import pytest
from support import DEMO_FOLDERS

from docgen.fit.feature import features
from docgen.resources import folder

TEMPLATES = folder("templates")
ENGLISH = tomllib.loads((TEMPLATES / "en" / "words.toml").read_text(encoding="utf-8"))
SPANISH = tomllib.loads((TEMPLATES / "es" / "words.toml").read_text(encoding="utf-8"))
STEPS = tomllib.loads((TEMPLATES / "es" / "features.toml").read_text(encoding="utf-8"))
PARTS = ("card.md", "guide.md", "log.md", "emergency.md", "_stop_test.md", "_seat.md")
GUIDE = {
    lang: "".join(
        re.sub(r"\A\+\+\+\n.*?\+\+\+\n", "", (TEMPLATES / lang / name).read_text(encoding="utf-8"), flags=re.S)
        for name in PARTS
    )
    for lang in ("en", "es")
}
FEATURES = features()
DEMOS = pytest.mark.parametrize("source", DEMO_FOLDERS, ids=lambda f: f.name)
SAME = set(
    "a aa b c cable cables control d de e extra f g m manual metal meter mm mmhg no plan real saliva sensor stop tape "
    "u use word joystick dime dimes nickel nickels pennies penny quarter".split()
)  # words of both languages, and the coins by the names that they have in the United States in both
WORD = re.compile(r"[^\W\d_]+")


def words(text):
    return {word.lower() for word in WORD.findall(text)}


def own_words(template):
    """What a template says itself: without front matter, tags, targets and the signs of its dialect."""
    text = re.sub(r"\A\+\+\+\n.*?\+\+\+\n", "", template, flags=re.S)
    text = re.sub(
        r"\[[^\[\]]*\]\(lang:\w+\)|\{%.*?%\}|\{\{.*?\}\}|\{#.*?#\}|\]\([a-z]+:[a-z_]*\)|\[![A-Z]+\]|^Table:",
        " ",
        text,
        flags=re.S | re.M,
    )
    quoted = re.findall(r"gap\([^)]*?, \"(.*?)\"\)|else %\}([^{]*)\{% endif", template)
    return text + " ".join(piece for pieces in quoted for piece in pieces)


def values(node):
    if isinstance(node, dict):
        for one in node.values():
            yield from values(one)
    elif isinstance(node, list):
        for one in node:
            yield from values(one)
    elif isinstance(node, str):
        yield re.sub(r"\{\w*\}", " ", node)


OURS = {
    "en": words(
        own_words(GUIDE["en"])
        + " "
        + " ".join(values(ENGLISH))
        + " "
        + " ".join(f"{f.plain} {f.name} {f.care}" for f in FEATURES.values())
    ),
    "es": words(own_words(GUIDE["es"]) + " " + " ".join([*values(SPANISH), *values(STEPS)])),
}
