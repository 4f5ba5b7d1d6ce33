"""What the desk writes is what a hand would write, one key at a time, and never over somebody else's change."""

from __future__ import annotations

import json
import re

import pytest
from support import run

from docgen.case.base import Part
from docgen.case.model import Case
from docgen.case.read import read_case
from docgen.desk import history, kept
from docgen.desk.fields import field_at
from docgen.desk.shown import without_keys
from docgen.desk.topics import topics


def _answer(visitor, at, path, value, was):
    topic = next(topic.id for topic in topics() if path[0] in topic.parts)
    return visitor.post(f"{at}/{topic}/answer", path=json.dumps(path), value=value, was=was)


def test_every_part_of_a_case_stands_on_one_screen():
    on_screens = [part for topic in topics() for part in topic.parts]
    of_a_case = [name for name in Case.model_fields if name not in ("format", "id", "invented")]
    assert sorted(on_screens) == sorted(of_a_case)


@pytest.mark.parametrize("topic", [topic.id for topic in topics()])
def test_each_screen_shows_what_is_recorded(topic, visitor, at, case):
    page = visitor.get(f"{at}/{topic}")
    assert page.status == 200
    part = next(entry.parts[0] for entry in topics() if entry.id == topic)
    value = getattr(read_case(case).case, part)
    first = value if isinstance(value, Part) else value[0] if value else None
    texts = [text for text in dict(first or ()).values() if isinstance(text, str) and text.isalnum()]
    assert all(text in page.text for text in texts)
    assert str(case) not in page.text


def test_one_answer_changes_one_value_of_the_file_and_can_be_taken_back(visitor, at, case):
    before = (case / "case.toml").read_text()
    assert read_case(case).case.client.weight_kg == 81
    answer = _answer(visitor, at, ["client", "weight_kg"], "150 lb", "178.6 lb")
    assert (answer.status, answer.headers["location"]) == (303, f"{at}/who#client-weight_kg")
    assert (case / "case.toml").read_text() == before.replace("weight_kg = 81", 'weight_kg = "150 lb"')
    assert 'value="150 lb"' in visitor.get(f"{at}/who").text
    assert visitor.post(f"{at}/who/back").status == 303
    assert (case / "case.toml").read_text() == before
    assert (case / kept.FOLDER).stat().st_mode & 0o077 == 0


@pytest.mark.parametrize(
    ("path", "value", "says"),
    [
        (["client", "weight_kg"], "heavy", "is not a number of lb, or a measure such as"),
        (["client", "weight_kg"], "-4", "must be over 1 kg"),
        (["client", "born_on"], "03/04/2012", "is not one day"),
        (["client", "pronouns"], "xe", "not one of its values"),
        (["client", "no_such_key"], "x", "no such question"),
        (["trial", "methods", 0, "standard_stick"], "maybe", "is neither yes nor no"),
    ],
)
def test_what_is_no_answer_is_told_beside_its_question_and_not_written(path, value, says, visitor, at, case):
    before = (case / "case.toml").read_text()
    answer = _answer(visitor, at, path, value, "")
    assert answer.status in (409, 422)
    now = re.search(r'name="was" value="([^"]*)"', answer.text[answer.text.find(json.dumps(path[-1])) :])
    answer = _answer(visitor, at, path, value, {"weight_kg": "178.6 lb"}.get(path[-1], now and now[1] or ""))
    if answer.status == 409:  # the page that is shown then holds what stands in the case
        was = re.search(r"In the case now: (.*?)\.</p>", answer.text)[1]
        answer = _answer(visitor, at, path, value, was)
    assert answer.status == 422
    assert (case / "case.toml").read_text() == before
    assert path[-1] == "no_such_key" or says in answer.text.replace("&#39;", "'")


def test_a_change_made_elsewhere_is_shown_and_never_overwritten(visitor, at, case):
    text = (case / "case.toml").read_text()
    (case / "case.toml").write_text(text.replace("weight_kg = 81", "weight_kg = 71"))
    answer = _answer(visitor, at, ["client", "weight_kg"], "68 kg", "178.6 lb")
    assert answer.status == 409
    assert "changed elsewhere meanwhile" in answer.text and "In the case now: 156.5 lb." in answer.text
    assert read_case(case).case.client.weight_kg == 71
    # another key of the same file is another matter: both changes stand
    assert _answer(visitor, at, ["client", "called"], "Anse", read_case(case).case.client.called).status == 303
    assert (read_case(case).case.client.weight_kg, read_case(case).case.client.called) == (71, "Anse")


def test_the_same_answer_twice_is_one(visitor, at, case):
    assert [_answer(visitor, at, ["client", "weight_kg"], "68 kg", "178.6 lb").status for _ in range(2)] == [303, 303]
    assert history.count(case) == 1


def test_markup_in_every_field_stays_text(visitor, at, case):
    hostile = '<script>alert("1")</script>'
    assert _answer(visitor, at, ["client", "called"], hostile, read_case(case).case.client.called).status == 303
    assert read_case(case).case.client.called == hostile
    for topic in topics():
        page = visitor.get(f"{at}/{topic.id}").text
        assert "<script>alert" not in page
    assert "&lt;script&gt;" in visitor.get(f"{at}/who").text


def test_an_entry_is_added_and_taken_out(visitor, at, case):
    before = (case / "case.toml").read_text()
    n_cautions = len(read_case(case).case.cautions)
    path = json.dumps(["cautions"])
    added = visitor.post(f"{at}/safety/add", path=path, **{"key.about": "skin", "key.says": "Watch the cat."})
    assert added.status == 303
    assert read_case(case).case.cautions[-1].says == "Watch the cat."
    entry = json.dumps(["cautions", n_cautions])
    assert visitor.post(f"{at}/safety/remove", path=entry).status == 303
    assert (case / "case.toml").read_text().strip() == before.strip()


def test_an_entry_with_a_key_that_there_is_not_is_refused(visitor, at, case):
    before = (case / "case.toml").read_text()
    refused = visitor.post(f"{at}/safety/add", path=json.dumps(["cautions"]), **{"key.no_such_key": "x"})
    assert (refused.status, "The case has no such question." in refused.text) == (422, True)
    assert (case / "case.toml").read_text() == before


@pytest.mark.parametrize("screen", ["", "/who", "/search", "/report/fit", "/read", "/finish"])
def test_a_case_that_cannot_be_read_is_told_with_its_lines(visitor, at, case, screen):
    (case / "case.toml").write_text("id = ")
    page = visitor.get(f"{at}{screen}")
    assert page.status == 200
    assert "cannot be read as it stands" in page.text and "case.toml:1" in page.text


def test_the_last_twenty_changes_are_kept(visitor, at, case):
    was = "178.6 lb"
    for weight in range(50, 73):
        assert _answer(visitor, at, ["client", "weight_kg"], f"{weight} kg", was).status == 303
        was = f"{weight} kg"
    assert history.count(case) == history.MOST


def test_forget_takes_the_earlier_texts_away(visitor, at, case):
    _answer(visitor, at, ["client", "weight_kg"], "68 kg", "178.6 lb")
    status, told, _ = run("forget", case, "--out", case.parent / "out", "--yes")
    assert (status, ".desk in the case folder, with 2 files that the desk keeps" in told) == (0, True)
    assert not (case / kept.FOLDER).exists()


def test_approval_takes_every_document_opened_as_it_now_is(visitor, at, case):
    refused = visitor.post(f"{at}/approve", by="Jo Example, OTR/L")
    assert refused.status == 422
    assert "not opened as they now are" in refused.text
    finish = visitor.get(f"{at}/finish").text
    papers = re.findall(rf'href="({at}/paper/\w+)"', finish)
    assert len(papers) > 3
    opened = visitor.get(papers[0])
    assert opened.status == 200
    assert opened.headers["content-security-policy"].startswith("default-src 'none'")
    assert visitor.get(f"{at}/finish").text.count("<span>opened</span>") == 1
    _answer(visitor, at, ["client", "weight_kg"], "68 kg", "178.6 lb")
    assert visitor.get(f"{at}/finish").text.count("<span>opened</span>") == 0


def test_a_new_case_is_started_with_three_answers(visitor, case):
    page = visitor.get("/new")
    assert page.status == 200
    fields = {"id": "robin-example", "payer": "general", "kind": "new_chair", "control": "head_array"}
    started = visitor.post("/new", **fields)
    assert started.status == 303
    assert (case.parent / "robin-example" / "case.toml").is_file()
    assert visitor.get(started.headers["location"]).status == 200
    for wrong in ("../x", "A B", "robin-example"):
        assert visitor.post("/new", **{**fields, "id": wrong}).status == 422


def test_pasted_rows_are_looked_at_asked_about_and_written(visitor, at, case):
    head, first, *_ = (case / "trial.csv").read_text().splitlines()
    before = (case / "trial.csv").read_text()
    cells = dict(zip(head.split(","), first.split(","), strict=True))
    text = f"date\tcontrol\ttask\tdone\n{cells['date']}\t{cells['method']}\t{cells['task']}\tyes"
    looked = visitor.post(f"{at}/rows", text=text, mode="")
    assert looked.status == 200
    assert "1 row on 1 day for trial.csv" in looked.text and "Add them to the rows" in looked.text
    assert (case / "trial.csv").read_text() == before
    added = visitor.post(f"{at}/rows", text=text, mode="add")
    assert "Written: trial.csv" in added.text
    assert len((case / "trial.csv").read_text().splitlines()) == len(before.splitlines()) + 1
    asked = visitor.post(f"{at}/rows", text=text.replace(cells["task"], "the blue cone"), mode="add")
    assert 'name="map.' in asked.text and "Add them to the rows" not in asked.text
    for text in ("", "no table", "<script>alert(1)</script>\t2\n3\t4"):
        answer = visitor.post(f"{at}/rows", text=text, mode="add")
        assert answer.status in (200, 422) and "<script>alert" not in answer.text and "Written" not in answer.text


def test_a_sheet_sent_as_a_file_is_kept_until_it_is_written(visitor, at, case):
    before = (case / "trial.csv").read_text()
    head, first, *_ = before.splitlines()
    cells = dict(zip(head.split(","), first.split(","), strict=True))
    text = f"date;control;task;done\n{cells['date']};{cells['method']};{cells['task']};yes"
    looked = visitor.send(f"{at}/rows", {"sheet": ("../../trial log.csv", text.encode())}, mode="")
    assert "1 row on 1 day for trial.csv" in looked.text and 'name="kept" value="trial log.csv"' in looked.text
    kept_file = case / kept.FOLDER / "sheet" / "trial log.csv"
    assert kept_file.stat().st_mode & 0o077 == 0
    assert str(case) not in looked.text
    added = visitor.send(f"{at}/rows", {}, mode="add", kept="trial log.csv")
    assert "Written: trial.csv" in added.text
    assert len((case / "trial.csv").read_text().splitlines()) == len(before.splitlines()) + 1
    assert not kept_file.exists()
    assert visitor.send(f"{at}/rows", {}, mode="add", kept="../case.toml").status == 422


def test_a_question_of_an_entry_that_is_gone_is_told(visitor, at, case):
    before = (case / "case.toml").read_text()
    for answer in (
        _answer(visitor, at, ["people", 99, "name"], "Jo Example", ""),
        visitor.post(f"{at}/who/remove", path=json.dumps(["people", 99])),
    ):
        assert (answer.status, "not in the case any more" in answer.text) == (422, True)
    assert (case / "case.toml").read_text() == before


def test_a_folder_of_the_desk_that_is_a_link_is_not_written_to(visitor, at, case, tmp_path):
    (tmp_path / "elsewhere").mkdir()
    (case / kept.FOLDER).symlink_to(tmp_path / "elsewhere")
    assert _answer(visitor, at, ["client", "weight_kg"], "68 kg", "178.6 lb").status == 422
    assert [*(tmp_path / "elsewhere").iterdir()] == []
    assert run("forget", case, "--out", case.parent / "out", "--yes")[0] == 0
    assert (tmp_path / "elsewhere").is_dir() and not (case / kept.FOLDER).is_symlink()


@pytest.mark.parametrize("page", ["report/evidence", "report/fit", "finish", "rows"])
def test_each_other_screen_opens(page, visitor, at, case):
    assert visitor.get(f"{at}/{page}").status == 200
    assert visitor.get(f"{at}/report/nothing").status == 404


def test_the_counting_page_is_given_as_a_file(visitor, at):
    answer = visitor.get(f"{at}/count.html")
    assert answer.headers["content-disposition"] == 'attachment; filename="count.html"'
    assert answer.text.startswith("<!DOCTYPE html>")


@pytest.mark.parametrize("topic", [topic.id for topic in topics()])
def test_each_id_of_a_screen_stands_once(topic, visitor, at):
    ids = re.findall(r' id="([^"]+)"', visitor.get(f"{at}/{topic}").text)
    assert sorted(ids) == sorted(set(ids))


def test_the_state_of_a_case_stands_beside_each_screen(visitor, at, case):
    page = visitor.get(f"{at}/trial").text
    chart = re.search(rf'<img class="chart" src="({at}/chart/[0-9a-f]+)" alt="([^"]+)"', page)
    drawing = visitor.get(chart[1])
    assert drawing.headers["content-type"] == "image/svg+xml" and drawing.text.startswith("<svg ")
    successes = sum("head_pads" in row and row.split(",")[3] == "1" for row in (case / "trial.csv").read_text().split())
    assert f"proximity head array: {successes} of " in chart[2]
    assert "What contradicts itself" not in page
    shown = field_at(read_case(case), ("configuration", "chair", "turning_mm")).shown
    told = _answer(visitor, at, ["configuration", "chair", "turning_mm"], "400 mm", shown)
    assert told.status == 303, told.text
    page = visitor.get(f"{at}/trial").text
    assert "What contradicts itself" in page and chart[1] not in page  # another drawing, under another address


def test_what_is_missing_stands_worst_first(visitor, at):
    heads = re.findall(r"<summary>(To settle first|A reviewer may ask|Good practice) \(", visitor.get(at).text)
    assert heads == ["To settle first", "A reviewer may ask", "Good practice"]


def test_a_day_of_birth_of_any_year_is_taken(visitor, at, case):
    was = str(read_case(case).case.client.born_on)
    assert _answer(visitor, at, ["client", "born_on"], "1938-06-03", was).status == 303
    assert str(read_case(case).case.client.born_on) == "1938-06-03"
    assert "is not one day" in _answer(visitor, at, ["client", "born_on"], "1938-02-30", "1938-06-03").text


def test_feet_and_a_number_behind_them_are_a_height(visitor, at, case):
    shown = field_at(read_case(case), ("client", "height_mm")).shown
    assert _answer(visitor, at, ["client", "height_mm"], "5 ft 4", shown).status == 303
    assert read_case(case).case.client.height_mm == 1626  # 64 inches of 25.4 mm, in whole mm


@pytest.mark.parametrize(
    ("written", "shown"),
    [
        ("Name everyone under [[people]].", "Name everyone under “People” on the screen “Who”."),
        ("client.weight_kg is missing.", "“Client's weight” is missing."),
        ("spaces.kind is missing.", "“Kind of space” is missing."),
        ("Look at case.toml:3 and [[no_such_list]].", "Look at case.toml:3 and [[no_such_list]]."),
    ],
)
def test_a_mistake_names_a_question_and_a_screen_and_no_key(written, shown):
    assert without_keys(written) == shown


def test_who_can_answer_is_told_beside_each_screen_with_one_way_to_a_sheet(visitor, at):
    assert re.search(rf'Others can answer: <a href="{at}/finish#send">\w+ \d+', visitor.get(f"{at}/home").text)
