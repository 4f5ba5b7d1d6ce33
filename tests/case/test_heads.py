"""What a sentence says to write stands in the form in which the case writes it, with the names of its entries."""

from __future__ import annotations

import pytest

from docgen.case.heads import as_written, with_names
from docgen.case.read import read_text
from docgen.errors import UserError

TEXT = """\
format = "docgen case 2"
id = "robin-example"
[findings]
hand_weak = "Weak."
[supervision]
"at home" = { level = "alone" }
"at school" = { level = "in_sight" }
[spaces.hall]
kind = "corridor"
[[goals]]
id = "table"
says = "Get to the table."
"""


@pytest.fixture
def file(tmp_path):
    (tmp_path / "robin-example").mkdir()
    (tmp_path / "robin-example" / "trial.csv").write_text("date,method,task,success\n", encoding="utf-8")
    return read_text(TEXT, tmp_path / "robin-example")


@pytest.mark.parametrize(
    ("says", "written"),
    [
        (
            'Add [[alternatives]] with kind = "scooter", ruled_out_by and reason.',
            "Add [alternatives.scooter] with ruled_out_by and reason.",
        ),
        ('Add [[people]] with role = "evaluator".', "Add [people.evaluator]."),
        ("Add [[activities]] with at_home = true and before.", "Add [activities.NAME] with at_home = true and before."),
        ('Add [[spaces]] with kind = "turning".', 'Add [spaces.NAME] with kind = "turning".'),
        ("Add [[activities]] with name, before and says.", "Add [activities.NAME] with before and says."),
        ("Add [[activities]] with id, name and before.", "Add [activities.NAME] with name and before."),
        ("Add [[supervision]] with place, level and by.", "Add [supervision.PLACE] with level and by."),
        ("Settle it in [[emergency.settled]] of K-07, with says.", "Settle it in [emergency.settled.K-07], with says."),
        ("Write [[emergency.steps]] of epilepsy.seizure.", 'Write [emergency.steps."epilepsy.seizure"].'),
        ("in [[conditions.answers]] of epilepsy: kind", "in [conditions.epilepsy.answers]: kind"),
        ("Add [[spaces]] for the bathroom with turning_mm.", "Add [spaces.NAME] for the bathroom with turning_mm."),
        ("Add [[goals]] with id and says.", "Add [[goals]] with id and says."),
    ],
)
def test_a_sentence_names_what_the_case_would_write(file, says, written):
    assert as_written(says, file.by_name) == written


@pytest.mark.parametrize(
    ("says", "where", "written"),
    [
        (
            "Fill in stands in [[supervision]].",
            [("supervision", 0), ("supervision", 1)],
            'Fill in stands in [supervision] "at home", "at school".',
        ),
        ("Fill in floor in [[spaces]].", [("spaces", 0, "floor")], "Fill in floor in [spaces.hall]."),
        ("Fill in measure in [[findings]].", [("findings", 0)], "Fill in measure in [findings] hand_weak."),
        ("Fill in floor in [[spaces]].", [("spaces",)], "Fill in floor in [spaces.NAME]."),
        ("turning_mm of a room in [[spaces]]", [("spaces", 0)], "turning_mm of a room in [spaces.NAME]"),
        ("Add [[spaces]] with floor.", [("spaces", 0)], "Add [spaces.NAME] with floor."),
    ],
)
def test_a_sentence_names_the_entries_that_it_is_about(file, says, where, written):
    assert with_names(says, file, where) == written


def test_what_stands_in_braces_is_not_told_to_be_opened_again_by_a_head(tmp_path):
    (tmp_path / "robin-example").mkdir()
    (tmp_path / "robin-example" / "trial.csv").write_text("date,method,task,success\n", encoding="utf-8")
    text = 'format = "docgen case 2"\nid = "robin-example"\n[conditions]\nepilepsy = { present = true }\n'
    file = read_text(text, tmp_path / "robin-example")
    says = "Answer, with by and on, in [[conditions.answers]] of epilepsy: kind."
    written = "[conditions] epilepsy = { ... }, within its braces as answers = { ... }"
    assert with_names(says, file, ()) == f"Answer, with by and on, in {written}: kind."
    # what is told can be written so, and a head below the braces cannot
    within = text.replace(
        "true }", 'true, answers = { kind = { says = "Falls.", by = "evaluator", on = 2026-03-03 } } }'
    )
    assert read_text(f"{within}[people]\nevaluator = {{}}\n", tmp_path / "robin-example").case.conditions[0].answers
    with pytest.raises(UserError):
        read_text(f'{text}[conditions.epilepsy.answers]\nkind = "x"\n', tmp_path / "robin-example")
    headed = text.replace("[conditions]\nepilepsy = { present = true }", "[conditions.epilepsy]\npresent = true")
    file = read_text(headed, tmp_path / "robin-example")
    assert with_names(says, file, ()) == "Answer, with by and on, in [conditions.epilepsy.answers]: kind."
