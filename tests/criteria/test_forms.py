"""The form of each kind of key, and the stand-ins with which a criterion is asked what it would say."""

from __future__ import annotations

from datetime import date

from gathered import of_each
from whole_case import changed, grounds

from docgen.criteria.forms import form, refers, stand_ins

CASE = grounds(changed()).case


def _key(path: str) -> tuple[str | int, ...]:
    return tuple(int(part) if part.isdigit() else part for part in path.split("."))


@of_each(
    ("path", "written"),
    [
        ("invented", "<true or false>"),
        ("request.requested_on", "<YYYY-MM-DD>"),
        ("request.kind", '<"new_chair", "control_only" or "replacement">'),
        ("client.height_mm", "<number: client's height in mm>"),
        ("request.months_needed", "<number: how many months the chair is needed>"),
        ("client.reads", '["<languages that the client reads, by tag, best first>"]'),
        (
            "configuration.programmable",
            '[<those that hold of "speed", "tremor_dampening", "acceleration", "braking", "throw" and "dead_zone">]',
        ),
        ("people.0.name", '"<full name>"'),
        ("trial.few_guard", '"<id of an entry of [[people]]>"'),
        ("supervision.0.chair_state", '<"off", "seat_only", "drives" or "in_bed">'),
        ("attendant.by", '"<id of an entry of [[people]]>"'),
        ("configuration.method", '"<id of an entry of [[trial.methods]]>"'),
        ("configuration.mounting.0.by", '"<id of an entry of [[people]]>"'),
        ("people.0.nme", "<value>"),
        ("nothing.of_this", "<value>"),
    ],
)
def test_a_key_is_told_by_how_it_is_written(path, written):
    shown = form(_key(path))
    assert shown == written or (path == "people.0.name" and shown.startswith('"<') and shown.endswith('>"'))


def test_a_step_of_training_is_told_by_the_words_of_the_steps():
    assert form(_key("supervision.0.after_stage")).startswith('<"ready", "touch", "stop_go"')


@of_each(
    ("path", "people"),
    [
        ("attendant.by", True),
        ("training.coach", True),
        ("supervision.0.who", True),
        ("supervision.0.by", False),  # who it is, in words
        ("configuration.method", False),
        ("people.0.name", False),
        ("delivery.signed_by", False),  # a choice of words, and no id
        ("people.0.nme", False),
    ],
)
def test_a_key_names_people_by_their_id_or_does_not(path, people):
    assert refers(_key(path)) is people


@of_each(
    ("path", "values"),
    [
        ("configuration.method", tuple(method.id for method in CASE.trial.methods)),
        ("attendant.by", tuple(person.id for person in CASE.people)),
        ("configuration.features.0.because", tuple((finding.id,) for finding in CASE.findings)),
        ("supervision.0.who", tuple((person.id,) for person in CASE.people)),
        ("configuration.features.0.with_base", (True,)),
        ("request.months_needed", (60, 240, 15)),  # the example, four times as many and a quarter
        ("people.0.nme", ()),
    ],
)
def test_stand_ins_are_ids_that_there_are_or_examples(path, values):
    assert stand_ins(CASE, _key(path)) == values


def test_a_day_stands_in_by_its_example_and_by_the_days_that_are_recorded_earliest_first():
    example, *recorded = stand_ins(CASE, ("dates", "delivered_on"))
    days = {getattr(CASE.dates, name) for name in type(CASE.dates).model_fields}
    assert isinstance(example, date) and recorded == sorted(day for day in days if day)


def test_a_list_of_choices_stands_in_by_all_of_them_and_codes_by_those_of_the_request():
    (chosen,) = stand_ins(CASE, ("order", "has"))
    assert chosen == ("client", "items", "quantity", "date", "practitioner", "signature")
    (codes,) = stand_ins(CASE, ("order", "codes"))
    items = [item.code for item in CASE.configuration.items if item.code]
    assert codes == (CASE.configuration.chair.base_code, *items)
    (step,) = stand_ins(CASE, ("supervision", 0, "after_stage"))
    assert isinstance(step, int)
