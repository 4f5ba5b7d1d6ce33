"""All that the program prints is spelled as in the United States: templates, terms, words, and what commands say.

The pairs are those in which British and American dictionaries differ, from memory.
"""

from __future__ import annotations

import ast
import inspect
import re
import tomllib
from pathlib import Path

from gathered import of_each

import docgen
from docgen.resources import folder

ROOT = Path(docgen.__file__).parent
BRITISH = re.compile(
    r"\b(?:(?:kilo|centi|milli)?metres?|colou?red?ness|colours?|coloured|colouring|centres?|centred|centimetres?|"
    r"programmes?|licences?|greys?|tyres?|kerbs?|organis\w+|practis\w+|recognis\w+|stabilis\w+|immobilis\w+|"
    r"behaviours?|favours?|favourable|favourite|neighbours?|labours?|honours?|odours?|vapours?|harbours?|"
    r"paediatric\w*|orthopaedic\w*|anaesth\w+|oedema|haem\w+|diarrhoea|oesophag\w+|judgement|"
    r"travell\w+|labell\w+|modell\w+|cancell(?:ed|ing)|signall\w+|dialled|levell(?:ed|ing)|"
    r"defence|offence|analys(?:e|ed|es|ing)\b|catalys\w+|paralys(?:e|ed)|cheques?|storeys?|ploughs?|mould\w*|"
    r"aluminium|whilst|amongst|learnt|spelt|burnt|fulfil|enrol|skilful|sceptical|manoeuvr\w+|"
    r"authoris\w+|synchronis\w+|minimis\w+|maximis\w+|optimis\w+|summaris\w+|utilis\w+|emphasis(?:e|ed|ing)|apologis\w+|"
    r"prioritis\w+|customis\w+|individualis\w+|standardis\w+|initialis\w+|normalis\w+|realis(?:e|ed|ing)|"
    r"fibres?|litres?|theatres?|calibres?|sombre|meagre|lustre|draughts?|artefacts?|ageing|cosy|pyjamas?|"
    r"wardrobes?|lorry|lorries|torch(?:es)?|spanners?|trousers|nought)\b",
    re.IGNORECASE,
)
# in texts that a program reads and nobody prints: keys of a case stay as they are
KEYS = {"organisation", "organisations", "licence"}
NAMES = re.compile(r"CALL Centre|aria-labelledby")  # of a body, and of an attribute of HTML
READ = (
    "nobody",
    "compiled",
    "headings.toml",
    "headings.py",
)  # words that others write, in any spelling: none is printed
DATA = sorted(p for p in ROOT.rglob("*.toml") if not {*READ} & {*p.parts})
TEMPLATES = sorted(folder("templates").glob("en/*"))
CODE = sorted(p for p in ROOT.rglob("*.py") if not {*READ} & {*p.parts})


def _strings(value: object) -> list[str]:
    if isinstance(value, dict):
        return [text for entry in value.values() for text in _strings(entry)]
    if isinstance(value, list):
        return [text for entry in value for text in _strings(entry)]
    return [value] if isinstance(value, str) else []


def _british(text: str) -> set[str]:
    """British words of a text, but for the names of keys, which stand in dotted paths or in snake case."""
    words = re.sub(r"[\w.]*[._]\w[\w.]*|\{\w+\}", " ", NAMES.sub(" ", text))
    return {word.lower() for word in BRITISH.findall(words)} - KEYS


@of_each("word", ["metre", "Centre", "colours", "organised", "grey", "practise", "labelled", "kerb"])
def test_a_british_spelling_would_be_seen(word):
    assert _british(f"the {word} here")


@of_each("word", ["meter", "practice", "license", "gray", "label", "parameter", "diameter", "telemetry"])
def test_an_american_spelling_passes(word):
    assert not _british(f"the {word} here")


@of_each("path", DATA, ids=lambda p: str(p.relative_to(ROOT)))
def test_data_of_the_program_are_in_american_spelling(path):
    tables = tomllib.loads(path.read_text(encoding="utf-8"))
    if path.parent.name in ("findings", "features"):
        tables.pop("synonyms", None)  # what people say anywhere: looked for, and never shown
    texts = _strings(tables)
    assert not {(text, *found) for text in texts if (found := _british(text))}


@of_each("path", TEMPLATES, ids=lambda p: p.name)
def test_templates_are_in_american_spelling(path):
    body = re.sub(r"\{#.*?#\}", "", path.read_text(encoding="utf-8").rpartition("+++\n")[2], flags=re.S)
    printed = re.sub(r"\{\{.*?\}\}|\{%.*?%\}", " ", body) if path.suffix == ".md" else body
    lines = [line for line in printed.split("\n") if not line.lstrip().startswith("#") or path.suffix == ".md"]
    assert not {(line, *found) for line in lines if (found := _british(line.partition(" = ")[2] or line))}


def _printed(path: Path) -> list[str]:
    """Texts of a module that it may print: those with a space, and of a criterion its docstring, but no other one."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    docs = {
        id(node.body[0].value)
        for node in ast.walk(tree)
        if isinstance(node, (ast.Module, ast.ClassDef, ast.FunctionDef))
        and node.body
        and isinstance(node.body[0], ast.Expr)
        and not (isinstance(node, ast.Module) and "questions" in path.parts)
    }
    texts = [node for node in ast.walk(tree) if isinstance(node, ast.Constant) and isinstance(node.value, str)]
    return [node.value for node in texts if " " in node.value and id(node) not in docs]


@of_each("path", CODE, ids=lambda p: str(p.relative_to(ROOT)))
def test_what_code_may_print_is_in_american_spelling(path):
    assert not {(inspect.cleandoc(text), *found) for text in _printed(path) if (found := _british(text))}
