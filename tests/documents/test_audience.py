"""Who may see what: a case with a different word in every text, and the words that turn up in each document."""

from __future__ import annotations

import json
import re
from datetime import time
from pathlib import Path

import pytest
from documents.readers import NEVER, NEVER_ASKED, beyond
from in_full import tables_in_full
from msgspec.structs import replace
from support import DEMO_FOLDERS, assess

from docgen.case.supervision import HoursAlone
from docgen.packet.assess import assess_file
from docgen.packet.trees import trees
from docgen.packet.wording import document_names, wording
from docgen.resources import folder

KEPT = {
    "format",
    "id",
    "by",
    "who",
    "because",
    "method",
    "features",
    "profile",
    "rows",
    "coach",
    "substitute",
    "signed_by",
    "completed_by",
    "covers",
    "payer",
    "code",
    "base_code",
    "modifier",
    "zone",
    "questions",
    "emergency_number",
    "stage",
    "until_stage",
    "few_guard",
    "ask",
    "level",
    "row",
    "serves",
    "conflict",
    "restart_by",
    "reach_by",
    "seen_with",
    "worn_checked_by",
    "mount",
    "diagnosis_codes",
    "setting",
    "item",
}


def _marked(node, path, words, fixed):
    """The data with every free text replaced by a word of its own; `words` collects word -> path."""
    if isinstance(node, dict):
        role = f"@{node['role']}" if "role" in node else ""
        return {
            k: v if k in KEPT else _marked(v, f"{path}.{k}{role}".lstrip("."), words, fixed) for k, v in node.items()
        }
    if isinstance(node, list):
        return [_marked(v, path, words, fixed) for v in node]
    if isinstance(node, str) and node not in fixed:
        word = f"canary{len(words):04d}"
        words[word] = path
        return word
    return node


def _toml(node, path=()):
    """Enough TOML to write a case: tables, arrays of tables, plain values."""
    plain = {
        k: v
        for k, v in node.items()
        if not isinstance(v, dict) and not (isinstance(v, list) and v and isinstance(v[0], dict))
    }
    lines = [f"{k} = {_value(v)}" for k, v in plain.items()]
    for k, v in node.items():
        if isinstance(v, dict):
            lines += [f"[{'.'.join((*path, k))}]", _toml(v, (*path, k))]
        elif k not in plain:
            for one in v:
                lines += [f"[[{'.'.join((*path, k))}]]", _toml(one, (*path, k))]
    return "\n".join(lines)


def _value(value):
    if isinstance(value, list):
        return f"[{', '.join(map(str, map(_value, value)))}]"
    return json.dumps(value) if isinstance(value, (str, bool)) else value


def _choices() -> set[str]:
    from docgen.case.schema import schema

    found: set[str] = set()

    def walk(node):
        if isinstance(node, dict):
            found.update(v for v in node.get("enum", ()) if isinstance(v, str))
            found.update([node["const"]] if isinstance(node.get("const"), str) else ())
            for child in node.values():
                walk(child)
        elif isinstance(node, list):
            for child in node:
                walk(child)

    walk(schema())
    return found


@pytest.fixture(scope="module", params=[f.name for f in DEMO_FOLDERS])
def canaries(request, tmp_path_factory):
    """A demo case with every text replaced: what each document shows, and which key each word stands for."""
    source = folder("cases") / request.param
    target: Path = tmp_path_factory.mktemp("canary") / request.param
    target.mkdir()
    words: dict[str, str] = {}
    data = _marked(tables_in_full(source), "", words, _choices())
    (target / "case.toml").write_text(_toml(data), encoding="utf-8")
    for rows in source.glob("*.csv"):
        (target / rows.name).write_bytes(rows.read_bytes())
    return {name: tree.plain() for name, tree in trees(assess(target)).items()}, words


@pytest.mark.parametrize("name", NEVER)
def test_a_document_never_shows_what_its_reader_must_not_see(name, canaries):
    shown, words = canaries
    if name not in shown:
        assert wording().documents[name].needs  # this case has no sessions, or no denial
        return
    seen = {words[word] for word in re.findall(r"canary\d{4}", shown[name])}
    assert seen
    assert not beyond(name, seen)


def test_of_who_is_near_the_log_tells_the_place_and_how_the_chair_backs_out_there(canaries):
    shown, words = canaries
    seen = {words[word] for word in re.findall(r"canary\d{4}", shown["log"])}
    assert {key for key in seen if key.startswith("supervision")} <= {"supervision.place", "supervision.backs_out"}


@pytest.mark.parametrize("source", DEMO_FOLDERS, ids=lambda f: f.name)
def test_no_hours_alone_name_or_phone_of_who_is_near_stands_on_the_log(source):
    """Other people, calls, hours and acts of leaving at each place leave the log as it is."""
    file = assess(source).file
    other = {key: "Zelda Quist, 555-0199" for key in ("by", "calls_by", "no_answer", "if_stuck", "fire_plan", "driven")}
    alone = HoursAlone(days=("sunday",), starts_at=time(2, 15), ends_at=time(3, 45))
    changed = {**other, "hours": (alone,), "looks_in": (), "before_leaving": ("Zelda Quist leaves.",), "who": ()}
    places = tuple(place.model_copy(update=changed) for place in file.case.supervision)
    case = file.case.model_copy(update={"supervision": places})
    changed_log = trees(assess_file(replace(file, case=case)), ["log"])["log"]
    assert places and changed_log.plain() == trees(assess(source), ["log"])["log"].plain()


def test_every_document_has_a_list_of_what_its_reader_must_never_see():
    """One file a document, in tests/documents/readers; all other tests of readers look at the documents that have
    one."""
    assert {
        "without a list": set(document_names()) - set(NEVER),
        "of no document": set(NEVER) - set(document_names()),
    } == {
        "without a list": set(),
        "of no document": set(),
    }
    assert set(NEVER) == set(NEVER_ASKED) and all(NEVER.values()) and all(NEVER_ASKED.values())


@pytest.mark.parametrize("source", DEMO_FOLDERS, ids=lambda f: f.name)
def test_the_guide_holds_no_diagnosis_code_member_number_or_trial_statistic(source):
    assessed = assess(source)
    tree = trees(assessed, ["guide"])["guide"]
    text = tree.plain()
    case = assessed.file.case
    assert not [d.code for d in case.diagnoses if d.code and d.code in text]
    assert case.client.member_id is None or case.client.member_id not in text
    assert not [node for node in tree.walk() if node.kind == "fact"]


def test_an_unlisted_key_does_not_exist_for_a_template():
    from docgen.documents.view import project

    view = project({"client": {"name": "A", "secret": "B"}}, {"client": ("name",)}, "{label}")
    assert view["client"].name == "A"
    with pytest.raises(AttributeError):
        _ = view["client"].secret
    with pytest.raises(KeyError):
        _ = view["client"]["secret"]
