"""People, visits, controls and steps are picked by the words a person knows them by; the case holds their ids."""

from __future__ import annotations

import json
import re

import pytest
from support import DEMO_FOLDERS

from docgen.case.keys import choices_in, keys_at
from docgen.case.read import read_case
from docgen.desk.fields import field_at
from docgen.desk.picked import picks_at
from docgen.desk.topics import topic_of


def _answer(visitor, at, path, value, was):
    return visitor.post(f"{at}/{topic_of(path).id}/answer", path=json.dumps(path), value=value, was=was)


@pytest.mark.parametrize("folder", DEMO_FOLDERS, ids=lambda folder: folder.name)
def test_whatever_a_demo_names_is_among_what_can_be_picked(folder, every_key):
    file, n_picked = read_case(folder), 0
    case = file.case
    for path, _ in every_key(case):
        field = field_at(file, path)
        picks = picks_at(path)
        if picks and field.kind in ("choice", "choices") and not choices_in(keys_at(path[:-1])[path[-1]].annotation):
            n_picked += 1
            known = {choice for choice, _ in picks.choices(case, path)}
            assert set(filter(None, field.shown.split("\n"))) <= known or picks.is_open, path
            assert not any("_" in words for _, words in field.choices), path
    assert n_picked > 20


def test_a_person_is_picked_by_name(visitor, at, case):
    person = read_case(case).case.people[0]
    form = visitor.get(f"{at}/safety").text.partition('id="supervision-0-who"')[2].partition("</form>")[0]
    people = {p.id: p.name or p.relation for p in read_case(case).case.people}
    for id_, name in people.items():
        assert f'value="{id_}"' in form and name in form
    before = "\n".join(read_case(case).case.supervision[0].who)
    assert _answer(visitor, at, ["supervision", 0, "who"], [*before.split("\n"), person.id], before).status == 303
    assert read_case(case).case.supervision[0].who == (*filter(None, before.split("\n")), person.id)


def test_a_step_of_training_is_picked_by_its_words(visitor, at, case):
    page = visitor.get(f"{at}/living").text
    chosen = re.search(r'id="training-stage".*?<option value="(\w+)" selected>([^<]+)<', page, re.S)
    assert _answer(visitor, at, ["training", "stage"], "corners", chosen[1]).status == 303
    assert 'stage = "corners"' in (case / "case.toml").read_text()
    assert read_case(case).case.training.stage == 4


def test_ticked_answers_keep_their_order(visitor, at, case):
    first, second = (person.id for person in read_case(case).case.people[:2])
    before = "\n".join(read_case(case).case.supervision[0].who)
    assert _answer(visitor, at, ["supervision", 0, "who"], [second], before).status == 303
    assert (
        _answer(visitor, at, ["supervision", 0, "who"], [first, second], second).status == 303
    )  # as the page has them
    assert read_case(case).case.supervision[0].who == (second, first)


def test_another_day_of_a_visit_is_that_of_all_that_name_it(visitor, at, case):
    visit = read_case(case).case.visits[0]
    assert _answer(visitor, at, ["visits", 0, "on"], "2026-01-12", str(visit.on)).status == 303
    assert {str(entry.on) for entry in read_case(case).case.alternatives if entry.visit == visit.id} == {"2026-01-12"}


@pytest.mark.parametrize(
    ("sent", "written"),
    [("14:30", "14:30:00"), ("2 pm", "14:00:00"), ("12:15 am", "00:15:00"), ("12 p.m.", "12:00:00")],
)
def test_a_time_of_day_is_taken_as_a_clock_shows_it(sent, written, visitor, at, case):
    path = json.dumps(["supervision", 0, "hours"])
    fields = {"key.starts_at": "13:05", "key.ends_at": sent}
    assert visitor.post(f"{at}/safety/add", path=path, **fields).status == 303
    hours = read_case(case).case.supervision[0].hours[-1]
    assert (hours.starts_at.isoformat(), hours.ends_at.isoformat()) == ("13:05:00", written)
    page = visitor.get(f"{at}/safety").text
    assert re.search(r'value="13:05" type="time"', page)


@pytest.mark.parametrize("sent", ["25:00", "14", "13 pm", "noon", "10:61"])
def test_what_is_no_time_of_day_is_told(sent, visitor, at, case):
    before = (case / "case.toml").read_text()
    fields = {"key.starts_at": "13:05", "key.ends_at": sent}
    answer = visitor.post(f"{at}/safety/add", path=json.dumps(["supervision", 0, "hours"]), **fields)
    assert (answer.status, "is not a time of day" in answer.text) == (422, True)
    assert (case / "case.toml").read_text() == before


def test_several_days_are_days_in_the_case(visitor, at, case):
    assert _answer(visitor, at, ["training", "taken_on"], "2026-04-01\nApril 8, 2026", "").status == 303
    assert [str(day) for day in read_case(case).case.training.taken_on] == ["2026-04-01", "2026-04-08"]
    assert "taken_on = [2026-04-01, 2026-04-08]" in (case / "case.toml").read_text()


@pytest.mark.parametrize(
    ("path", "choice", "words"),
    [
        (("trial", "methods", 0, "features"), "head_array", "head array"),
        (("configuration", "items", 0, "diagnosis_codes"), None, ""),
        (("request", "payer"), "medicaid_adult", "Medicaid"),
        (("emergency", "calls", 0, "who"), None, ""),
        (("training", "zone"), "America/Chicago", "America/Chicago"),
        (("confirmed", 0, "of"), "client.weight_kg", "client's weight"),
        (("supervision", 0, "covers"), "real_day", "drive through a part of the day"),
    ],
)
def test_no_id_is_typed(path, choice, words, case):
    file = read_case(case)
    field = field_at(file, path)
    assert field.kind in ("choice", "choices")
    assert choice is None or words in dict(field.choices)[choice]
    assert field.of_list or field.choices


def test_where_nothing_can_be_picked_yet_the_way_to_it_is_shown(visitor, at, case):
    assert visitor.post("/new", id="robin", payer="general", kind="new_chair", control="head_array").status == 303
    robin = re.search(r'href="(/case/[0-9a-f]+)">robin</a>', visitor.get("/").text)[1]
    assert f'Nothing to choose from yet: <a href="{robin}/trial#trial-methods">' in visitor.get(f"{robin}/choice").text


def test_what_holds_where_nothing_is_answered_is_told(visitor, at, case):
    form = visitor.get(f"{at}/who").text.partition('id="request-payer"')[2].partition("</select>")[0]
    assert re.search(r'<option value="">\w[^<]+, unless another is chosen', form)


def test_what_is_ticked_of_a_long_list_stands_first_in_its_order(visitor, at, case):
    field = field_at(read_case(case), ("trial", "methods", 0, "features"))
    form = visitor.get(f"{at}/trial").text.partition('id="trial-methods-0-features"')[2].partition("</form>")[0]
    ticked, _, others = form.partition('<details class="others">')
    assert re.findall(r'value="([a-z_.]+)" checked', ticked) == [id_ for id_, _ in field.ticked]
    assert "checked" not in others and others.count('type="checkbox"') == len(field.choices) - len(field.ticked)
