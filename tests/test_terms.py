"""The table of terms: whole, each with its source; what an id was called before is refused with its new name."""

from __future__ import annotations

import ast
import re
import shutil
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest
from gathered import of_each
from in_full import text_in_full
from support import DEMO_FOLDERS, assess, run

import docgen.terms
from docgen.case.base import part_of
from docgen.case.model import Case
from docgen.case.read import read_case
from docgen.case.stage import STAGES, step_words
from docgen.console.features import feature_text
from docgen.errors import UserError
from docgen.fit import feature, finding
from docgen.fit.feature import features
from docgen.fit.finding import vocabulary
from docgen.fit.settings import drive_settings
from docgen.packet.trees import trees
from docgen.resources import folder
from docgen.terms import renamed, sources, terms

KINDS = ("features", "settings", "kinds", "findings", "headings", "labels")


@of_each("kind", KINDS)
def test_each_term_has_a_source_of_the_table(kind):
    for key, term in terms(kind).items():
        assert term.term and term.source, key
        assert set(term.source) <= set(sources()), key
        assert not term.read or not {"own", "common", "clinic"} & set(term.source), key


NAMES = {
    "features": {name: (feature.name, feature.plain) for name, feature in features().items()},
    "settings": {name: (setting.name, "") for name, setting in drive_settings().items()},
    "findings": {name: (finding.name, "") for name, finding in vocabulary().items()},
}
# where the file of a feature or finding says itself where its name is public
OWN_SOURCE = {
    name: known[name].term_source
    for known in (features(), vocabulary())
    for name in known
    if known[name].term_source is not None
}


@pytest.mark.parametrize("kind", NAMES)
def test_what_is_shown_is_the_term_of_the_table_or_says_its_source_beside_it(kind):
    table = {key: (term.term, term.guide) for key, term in terms(kind).items()}
    of_table, beside = set(table), set(NAMES[kind]) & set(OWN_SOURCE)
    assert not of_table - set(NAMES[kind]), "terms of nothing there is"
    assert not set(NAMES[kind]) - of_table - beside, "without a source, in terms.toml or beside the name"
    assert not of_table & beside, "with two sources, in terms.toml and beside the name"
    assert {key: NAMES[kind][key] for key in table} == table


def wrong_source(source: tuple[str, ...], read: bool) -> str:
    """What is wrong with a source said beside a name; empty where nothing is."""
    if unknown := [name for name in source if name not in sources() and len(name.split()) < 3]:
        return f"neither of [sources] in terms.toml nor a publication in words: {', '.join(unknown)}"
    return "read where there is nothing to read" if read and {"own", "common", "clinic"} & set(source) else ""


def test_a_source_beside_a_name_is_of_the_table_or_a_publication_in_words():
    wrong = {name: wrong_source(said.source, said.read) for name, said in OWN_SOURCE.items()}
    assert not {name: words for name, words in wrong.items() if words}
    assert wrong_source(("HB", "RESNA proceedings 2003, dead zone (abstract)"), True) == ""
    assert "terms.toml" in wrong_source(("HBX",), False) and "nothing to read" in wrong_source(("own",), True)


@pytest.mark.parametrize(
    ("folder_of", "read"),
    [("features", feature._features_in), ("findings", finding._meanings_in)],
    ids=("feature", "finding"),
)
def test_a_file_may_say_the_source_of_its_name(tmp_path, folder_of, read):
    text = min((Path(docgen.terms.__file__).parent / folder_of).glob("*.toml")).read_text(encoding="utf-8")
    for name, source in (("with", '"HB"'), ("without", "")):
        (tmp_path / name).mkdir()
        said = f"term_source = {{ source = [{source}], read = true }}\n"
        (tmp_path / name / "new.toml").write_text(said + text, encoding="utf-8")
    assert read(tmp_path / "with")["new"].term_source.source == ("HB",)
    with pytest.raises(UserError, match=r"term_source\.source"):
        read(tmp_path / "without")


def test_no_old_id_is_left_and_each_new_one_is_there():
    for kind, known in (("features", features()), ("settings", drive_settings())):
        assert not set(renamed(kind)) & set(known)
        assert set(renamed(kind).values()) <= set(known)


def _with_old(text: str, old: str, new: str) -> str:
    """A case with a feature put back to its old name; what may be programmed, and settings, have words in common."""
    other = re.compile(r"programmable|.*setting\b")
    lines = text.splitlines(keepends=True)
    return "".join(line if other.match(line) else line.replace(f'"{new}"', f'"{old}"') for line in lines)


CASE_TEXTS = {path: text_in_full(path) for path in DEMO_FOLDERS}


def _case(tmp_path, old, new):
    """A demo case with one feature put back to its old name, and the lines where it now stands."""
    source = next(path for path, text in CASE_TEXTS.items() if _with_old(text, old, new) != text)
    copy = tmp_path / source.name
    shutil.copytree(source, copy)
    text = _with_old(CASE_TEXTS[source], old, new)
    (copy / "case.toml").write_text(text, "utf-8")
    return copy, {n for n, line in enumerate(text.splitlines(), 1) if f'"{old}"' in line}


OF_DEMOS = [
    (old, new)
    for old, new in renamed("features").items()
    if any(_with_old(text, old, new) != text for text in CASE_TEXTS.values())
]


@pytest.mark.parametrize(("old", "new"), OF_DEMOS)
def test_an_old_feature_in_a_case_is_refused_with_its_new_name_and_its_line(tmp_path, old, new):
    copy, lines = _case(tmp_path, old, new)
    with pytest.raises(UserError) as refused:
        assess(copy)
    problems = refused.value.problems
    assert {problem.what for problem in problems} == {f"'{old}' is now '{new}'"}
    assert all(int(problem.where.rpartition("case.toml:")[2]) in lines for problem in problems)


_PART = '[[configuration.mounting]]\nid = "switch"\npart = "switch"\nsite = "hand"\n'
# where a word of a key that takes only some words stands in a case: its key, and the line that holds it
RENAMED_VALUES = {
    "behaviour": ("limits.kind", '[[limits]]\nkind = "{}"\nfound = false\n'),
    "tremor_damping": ("configuration.programmable", '[configuration]\nprogrammable = ["speed", "{}"]\n'),
    "lift": ("spaces.kind", '[[spaces]]\nid = "car"\nname = "elevator"\nkind = "{}"\n'),
    "first_finger": ("configuration.mounting.near", f'{_PART}near = "{{}}"\n'),
    "first_two_fingers": ("configuration.mounting.near", f'{_PART}near = "{{}}"\n'),
    "foot_plate": ("configuration.mounting.held_by", f'{_PART}held_by = "{{}}"\n'),
    "output": ("configuration.commands.does", '[[configuration.commands]]\ndoes = "{}"\ninput = "one press"\n'),
}


@pytest.mark.parametrize(("old", "new"), renamed("values").items())
def test_an_old_value_in_a_case_is_refused_with_its_new_name_and_its_line(case_folder, old, new):
    name, table = RENAMED_VALUES[old]
    before = (case_folder() / "case.toml").read_text("utf-8")
    with pytest.raises(UserError) as refused:
        read_case(case_folder(before + table.format(old)))
    (problem,) = refused.value.problems
    at = before.count("\n") + 1 + table.split("{}")[0].count("\n")
    assert problem.where.endswith(f"case.toml:{at}")
    assert (problem.what, problem.do) == (f"{name} is '{old}', which is now '{new}'", f"Write {new} in its place.")
    read_case(case_folder(before + table.format(new)))


@pytest.mark.parametrize(("old", "new"), renamed("keys").items())
def test_an_old_key_in_a_case_is_refused_with_its_new_name(case_folder, old, new):
    table, _, key = old.rpartition(".")
    keys = part_of(Case.model_fields[table].annotation).model_fields
    assert new in keys and key not in keys
    text = (case_folder() / "case.toml").read_text("utf-8")
    with pytest.raises(UserError, match=rf"unknown key '{key}'\. It is now '{new}': write {new} in its place\."):
        read_case(case_folder(f'{text}\n[[{table}]]\n{key} = "x"\n'))


def test_a_value_that_is_missing_is_asked_for():
    with pytest.raises(UserError, match="'reverse_access' lacks its value. Write one of reverse_access.timed_hold"):
        feature_text("reverse_access")


def test_the_command_names_the_new_id():
    status, _, err = run("features", "rear_side_pads")
    assert status == 2 and "'rear_side_pads' is now 'head_array'" in err


TEMPLATES = folder("templates") / "en"
WORDS = tomllib.loads((TEMPLATES / "words.toml").read_text(encoding="utf-8"))
SOURCE = {path.stem: path.read_text(encoding="utf-8") for path in TEMPLATES.glob("[!_]*.md")}


@of_each("place", terms("headings"))
def test_each_heading_is_the_term_of_the_table_and_none_is_what_it_was(place):
    document, _, what = place.partition(": ")
    term = terms("headings")[place]
    headings = re.findall(r"^##? (.*)$", SOURCE[document], re.M)
    if what == "title":
        assert f'title = "{term.term}"' in SOURCE[document] and f'title = "{term.was}"' not in SOURCE[document]
    else:
        assert term.term in headings and (not term.was or term.was not in headings)


@of_each("place", terms("labels"))
def test_each_label_is_the_term_of_the_table(place):
    table, _, key = place.partition(".")
    assert WORDS[table][key] == terms("labels")[place].term


def test_a_step_of_training_has_one_name_in_commands_and_on_pages():
    assert [step_words(number) for number in range(len(STAGES))] == WORDS["figures"]["ladder_names"]


# Phrases that a reader in the United States trips over, or that were ours alone: patterns of whole words.
OLD_PHRASES = r"""
Letter of justification|Attachment to the order|tick sheets?|Progress report after delivery|expected is nought
Index of evidence|What moving about is needed for|Simpler devices and controls|What is asked for, and why
Statement and signature|Call with a peer|pads on joints|stick without travel|mixed sensing|second rear sensor
rear and side pads asked|breath and pads together|sticks?|straws?|rest state|hoists?|basins?|the bath|wardrobes?|nought
set-up|back pad|head pads|(?:a|the) breath control|roll levers?|no financial tie|maker's|damping|smoothing (?:is|adds)
(?:in|of|about) (?:the|her|his) flat|ground-floor flat|flat (?:ground|lift|on)|way round|went round|without intent
round (?:a|the|her) \w+|contacts? (?:per|with a person|in the trial|on the (?:left|right))|no contact
(?:worse|better) so far|pelvic belt|midline, set again|counter of the chair|goes back (?:on delivery|to the supplier)
speaks? against|from film|standard joystick by (?:hand|chin)|light, short joystick|(?:control|features?) asked for
zero of (?:heights|depths|sides)|step of a programmer|is no part of|(?:its|chair's) maker
(?:report|sheet|table|file) tells|did \d+ of \d+|takes? \w+ for off|borne out|bears? (?:it|this) out
no signal drives it back|wheels are (?:off|on)
risk is this|works from, to|each part is held|less trial
Papers of the Request|blocking gaps? open|foot plates?|turning circle|working days?|drop-?out tolerance
(?:first|second) finger of|first two fingers|stump|national coverage decision
which specialist|certified specialist|supplier's specialist took|a belt of the chair is none
Facts of the Order|stop rules? met:|power seat function|papers are kept|switch off before
heel block|switch (?:for|of) a helper|helper's own stop|trousers?|fitted anew|door shut
stands (?:in|at) the (?:midline|way|wrong place|chin|foot)|carries (?:his|her|the) head
support walkers?|on the spot|lines to order|exception route|(?:knows|shown) the stop|moves? over|slow end of
seizures were asked about|found a limit in|the standard one accepts|by (?:good|bad) luck|lets go late|acts not meant
no move after|(?:ends the|gives no|with no|without a) signal|keeps? asking|head array box|roll under the skull
contractor's list|common ground of published|in lessons until|(?:operates|other than) a speech device|a rim|the rims?
does not carry (?:him|her|them)|I have no answer to this|faster the harder
"""
OLD = re.compile(rf"\b(?:{'|'.join(OLD_PHRASES.split(chr(10))[1:-1])})\b", re.I)


def _strings(node: object) -> Iterator[str]:
    """Every text of a TOML file, without ids and other words that stand for the program."""
    if isinstance(node, str):
        yield node
    elif isinstance(node, dict):
        for key, child in node.items():
            yield from _strings(child) if key not in {"was", "source", "citation", "kinds", "kind", "id"} else ()
    elif isinstance(node, list):
        for child in node:
            yield from _strings(child)


def _constants(source: str) -> Iterator[str]:
    """What a module can print: its texts of more than one word, without patterns, and docstrings but its own."""
    tree = ast.parse(source)
    documented = (ast.FunctionDef, ast.ClassDef, ast.AsyncFunctionDef)
    docstrings = {ast.get_docstring(node, clean=False) for node in ast.walk(tree) if isinstance(node, documented)}
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and " " in node.value:
            yield from () if node.value in docstrings or r"\b" in node.value else (node.value,)


PACKAGE = Path(docgen.terms.__file__).parent
NOT_SHOWN = {"codes", "spreadsheet"}  # descriptors of others, and headings that are understood
NOT_SHOWN_FILES = {"terms.toml", "everyday.toml"}  # terms with what they were; what people say, looked for only
SHOWN_FILES = [
    *(TEMPLATES.glob("*")),
    *(
        path
        for path in PACKAGE.rglob("*.toml")
        if path.parent.name not in NOT_SHOWN and path.name not in NOT_SHOWN_FILES
    ),
    *(path for path in PACKAGE.rglob("*.py") if path.parent.name != "nobody" and path.name != "readability.py"),
    *(path for source in DEMO_FOLDERS for path in source.glob("*.*") if path.suffix in {".toml", ".csv"}),
    folder("templates").parent / "README.md",
]


@of_each("path", SHOWN_FILES, ids=lambda path: f"{path.parent.name}/{path.name}")
def test_no_old_phrase_is_left_in_what_is_printed_or_shown(path):
    text = path.read_text(encoding="utf-8")
    if path.suffix == ".toml":
        tables = tomllib.loads(text)
        if path.parent.name in ("findings", "features"):
            tables.pop("synonyms", None)  # what people say: looked for, and never shown
        texts = list(_strings(tables))
    elif path.suffix == ".py":
        texts = list(_constants(text))
    else:
        texts = re.sub(r"\{[{%].*?[%}]\}|^has = .*$", "", text, flags=re.M).splitlines()
    assert not [line for line in texts if OLD.search(line)]


@of_each("kind", KINDS)
def test_no_term_of_the_table_is_an_old_phrase(kind):
    assert not [key for key, term in terms(kind).items() if OLD.search(term.term) or OLD.search(term.guide)]


# Words for professionals, which the guide says in other words.
PROFESSIONAL = (
    """
MRADL|ATP|LCMP|nonproportional|isometric|suboccipital|dead zone|proximity|proportional
sip-and-puff interface|drive inhibit
veer|tremor dampening|auditory feedback|latched drive|head array|attendant|EMG|posterior|programming|lateral
""".strip()
    .replace("\n", "|")
    .split("|")
)


@pytest.mark.parametrize("name", ["guide", "lesson"])
@pytest.mark.parametrize("source", DEMO_FOLDERS, ids=lambda path: path.name)
def test_no_professional_term_stands_in_a_page_for_helpers(source, name):
    text = trees(assess(source), [name])[name].plain()
    assert not [term for term in PROFESSIONAL if re.search(rf"\b{re.escape(term)}\b", text, re.I)]
