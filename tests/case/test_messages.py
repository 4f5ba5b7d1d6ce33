"""What is said of each value that a key of a case cannot take: where it stands, what the key holds, and one form of it
that the key takes."""

from __future__ import annotations

import re
import tomllib
import typing
from collections.abc import Iterator
from datetime import date
from typing import Any

import pytest
from gathered import of_each
from pydantic import ValidationError

from docgen.case.base import Part, part_of
from docgen.case.mistakes import problem
from docgen.case.model import Case
from docgen.case.read import frozen as frozen
from docgen.case.toml import read_toml
from docgen.errors import UserError, did_you_mean

AT = "case.toml:7"
BAD = {
    "an empty text": "",
    "a text": "zz-Z wrong!",
    "a long text": "x" * 5000,
    "a whole number": 7,
    "far too little": -1e9,
    "far too much": 1e12,
    "no number": float("nan"),
    "true": True,
    "a day": date(2026, 3, 3),
    "a day that there is not": "2026-13-45",
    "a day of two readings": "03/04/2026",
    "a list": ["a b!"],
    "a list in a list": [[1]],
    "a table": {"a": 1},
}
PYTHON = re.compile(r"\b(?:valid|tuple|instance|None|True|False|str|int|dict|pattern)\b|it should")


def _keys(model: type[Part], path: tuple[str | int, ...] = ()) -> Iterator[tuple[str | int, ...]]:
    for name, field in model.model_fields.items():
        inner = part_of(field.annotation)
        if inner is None:
            yield (*path, name)
        else:
            yield from _keys(inner, (*path, name, 0) if typing.get_origin(field.annotation) is tuple else (*path, name))


KEYS = tuple(_keys(Case))


def _with(path: tuple[str | int, ...], value: Any) -> dict[str, Any]:
    raw: dict[str, Any] = {"format": "docgen case 1", "id": "small"}
    node: Any = raw
    for part, after in zip(path, path[1:], strict=False):
        node = node[part] if isinstance(part, int) else node.setdefault(part, [{}] if isinstance(after, int) else {})
    node[path[-1]] = value
    return raw


def _said(raw: dict[str, Any]) -> list[tuple[tuple[str | int, ...], str]]:
    """Path of each mistake, and what is said of it."""
    try:
        Case.model_validate(frozen(raw))
    except ValidationError as failure:
        errors = failure.errors(include_url=False)
        faulty = frozenset(tuple(error["loc"]) for error in errors)
        return [(tuple(error["loc"]), str(problem(error, lambda *path: AT, raw, faulty))) for error in errors]
    return []


@pytest.mark.parametrize("value", BAD.values(), ids=BAD)
def test_each_mistake_is_told_with_its_place_and_a_form_that_the_key_takes(value):
    faults, n_said = [], 0
    for path in KEYS:
        for at, message in _said(_with(path, value)):
            if at[: len(path)] != path:
                continue  # what else the entry lacks
            n_said += 1
            form = re.search(
                r"(?:Write it as|As elsewhere here): (\w+) = (.*?)(?:, or \1 = false)?\.(?: Allowed: .*)?$", message
            )
            two_days = re.search(r"Write it as (\w+) = (\S+), if that is meant", message)
            kinds = message.count("; ") >= 2 and path == ("request", "kind")
            right = form or two_days
            if (
                not message.startswith(f"{AT}: ")
                or PYTHON.search(message.replace(repr(value), ""))
                or right is None
                and not kinds
            ):
                faults.append(message)
            elif right is not None:
                written = tomllib.loads(f"{right[1]} = {right[2]}")[right[1]]
                still = [other for other, _ in _said(_with(path, written)) if other[: len(path)] == path]
                faults += [f"{message} -> {still}"] if right[1] != path[-1] or still else []
    assert n_said > 30 and faults == []


def test_the_example_is_one_of_the_same_file_where_there_is_one():
    raw = {
        "format": "docgen case 1",
        "id": "small",
        "follow_up": [
            {"after_weeks": 2, "what": "fit", "done_on": date(2026, 9, 1)},
            {"after_weeks": 6, "what": "fit", "done_on": "soon"},
        ],
    }
    [(_, message)] = _said(raw)
    assert message == (
        f"{AT}: follow_up.done_on is 'soon', which is not a date. It holds: date the visit or call was held. "
        "As elsewhere here: done_on = 2026-09-01."
    )


@pytest.mark.parametrize(
    "place", [{"place": "in the yard", "by": "an aunt"}, {"place": "in the yard", "by": "an aunt", "level": "near"}]
)
def test_no_level_of_another_place_is_offered(place):
    own_room = {"place": "own room", "by": "staff in the hall", "level": "on_call"}
    [(_, message)] = _said({"format": "docgen case 1", "id": "small", "supervision": [own_room, place]})
    assert 'level = "on_call"' not in message and "As elsewhere" not in message
    assert "Allowed: hands_on_stop (a hand on the stop), arms_length (within arm's reach), same_room" in message


def test_no_speed_of_another_profile_is_offered():
    profiles = [{"id": "in", "name": "in", "speed_m_s": 0.9}, {"id": "out", "name": "out", "speed_m_s": "slow"}]
    [(_, message)] = _said({"format": "docgen case 1", "id": "small", "configuration": {"profiles": profiles}})
    assert "0.9" not in message and "Write it as: speed_m_s = " in message


def test_yes_and_no_are_both_shown_for_neither_is_the_likelier_answer():
    limits = [{"kind": "vision", "found": False}, {"kind": "seizures", "found": "two"}]
    [(_, message)] = _said({"format": "docgen case 1", "id": "small", "limits": limits})
    assert message.endswith("Write it as: found = true, or found = false.")


def test_no_words_of_one_person_are_the_example_for_another():
    people = [{"id": "aunt", "role": "caregiver", "name": "Kin Example"}, {"id": "ot", "role": "evaluator", "name": 3}]
    [(_, message)] = _said({"format": "docgen case 1", "id": "small", "people": people})
    assert "Kin" not in message and 'Write it as: name = "Jo Example".' in message


@pytest.mark.parametrize(
    ("table", "key", "says"),
    [
        ("client", "turning_mm", "It is a key of [[spaces]] and [configuration.chair]."),
        ("client", "hight_mm", "Did you mean 'height_mm'? It holds: client's height in mm."),
    ],
)
def test_an_unknown_key_is_told_with_the_table_that_has_it(table, key, says):
    [(_, message)] = _said({"format": "docgen case 1", "id": "small", table: {key: 1}})
    assert message == f"{AT}: unknown key '{key}'. {says}"


def test_a_word_that_only_shares_letters_is_no_suggestion():
    assert "Did you mean" not in did_you_mean("assistance", ["distance_m", *map(str, range(30))])


def test_every_word_that_a_key_takes_is_named_to_the_last():
    raw = _with(("configuration", "stop", "power_off_site"), "in the middle of nowhere")
    [(_, message)] = _said(raw)
    assert message.endswith("head_left, head_right, knee_left, knee_right, behind_seat.")


def test_a_row_of_totals_is_told_as_one(case_folder):
    from docgen.case.read import read_case

    rows = "date,method,task,success\n2026-03-03,pads,door,1\nTotal,pads,door,1\n"
    with pytest.raises(UserError, match=r"trial.csv:3: date is 'Total', but the row is one of totals and no attempt"):
        read_case(case_folder(rows=rows))


def test_an_unknown_column_is_told_with_all_there_are_and_the_way_around(case_folder):
    from docgen.case.read import read_case

    rows = "date,method,task,success,assistance\n2026-03-03,pads,door,1,0\n"
    with pytest.raises(
        UserError, match=r"unknown column 'assistance'\. 'docgen rows CASE FILE' .* date, method, .*note\."
    ):
        read_case(case_folder(rows=rows))


def test_a_column_named_as_another_is_explained_is_told_as_that_one(case_folder):
    from docgen.case.read import read_case

    with pytest.raises(UserError, match=r"unknown column 'collisions'\. Did you mean 'contacts' \(collisions with"):
        read_case(case_folder(rows="date,method,task,success,collisions\n2026-03-03,pads,door,1,0\n"))


def test_an_unknown_payer_is_told_with_each_there_is_and_whom_it_is_for():
    from docgen.criteria.payer import load

    with pytest.raises(UserError) as told:
        load("medicaid", "case.toml:6")
    assert "medicaid_adult (" in str(told.value) and "medicaid_under_21 (" in str(told.value)
    assert "Did you mean" not in str(told.value)


@of_each(
    ("text", "line", "do"),
    [
        ("[people]\nevaluator = { name =, credential = 'x' }\n", 2, "A key has no value here"),
        ("[findings]\nhand_weak = [ , ]\n", 2, "A key has no value here"),
        ("[client]\nname =\n", 2, "A key has no value here"),
        ("[spaces]\nhall = { kind = 'corridor' floor = 'tile' }\n", 2, "Between the keys of an entry in braces"),
        ("[findings]\na = { says = 'x' }\na.visit = 'y'\n", 3, "put all of its keys in one place"),
        ("[findings]\na = 'x'\n[[findings]]\nid = 'b'\n", 3, "[findings] is begun above: write the entry there"),
        ("[findings]\na = 'x'\n[findings]\nb = 'y'\n", 3, "[findings] is begun above"),
    ],
)
def test_a_slip_in_the_form_of_an_entry_is_told_with_what_to_do(text, line, do):
    with pytest.raises(UserError) as refusal:
        read_toml(text, "case.toml")
    (problem,) = refusal.value.problems
    assert problem.where == f"case.toml:{line}" and do in problem.do


def test_a_list_without_names_shows_one_entry_and_a_length_of_time_is_no_until():
    place = {"place": "at home", "level": "alone"}
    raw = {"format": "docgen case 1", "id": "small", "supervision": [place | {"hours": "8 to 17"}]}
    [(_, message)] = _said(raw)
    assert message.endswith("Write it as: hours = [{ starts_at = 11:00:00, ends_at = 14:00:00 }].")
    for until in ("up to 2 hours", "an hour", "for 45 min", "30-40 minutes"):
        [(_, message)] = _said(raw | {"supervision": [place | {"until": until}]})
        assert "how long, not until when" in message and "longest_min" in message
    read = frozen({"format": "docgen case 2", "id": "small", "supervision": [place | {"until": "2 hours were driven"}]})
    assert read


@pytest.mark.parametrize(
    ("value", "last"), [("2014", "2014-12-31"), ("2014-12", "2014-12-31"), ("2016-02", "2016-02-29")]
)
def test_a_year_alone_is_a_day_by_which_something_was(value, last):
    raw = _with(("request", "chair_now_delivered_by"), value)
    [(_, message)] = _said(raw)
    assert f"Write its last day: chair_now_delivered_by = {last}." in message


def test_a_line_whose_code_is_on_no_list_is_asked_what_it_is():
    raw = {"format": "docgen case 1", "id": "small", "configuration": {"items": [{"id": "e9999", "code": "E9999"}]}}
    [(_, message)] = _said(raw)
    assert "E9999 is on no list of docgen's" in message and message.endswith('beside E9999: name = "...".')
    raw["configuration"]["items"] = [{"id": "tray"}]
    assert "is on no list" not in _said(raw)[0][1]
