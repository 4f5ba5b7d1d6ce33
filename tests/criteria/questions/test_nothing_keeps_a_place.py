"""What `nothing_keeps_a_place` says of each record."""

from __future__ import annotations

from gathered import of_each
from records import Records
from whole_case import GONE, WHOLE, ask, changed, grounds

from docgen.case.placeholder import is_placeholder
from docgen.criteria.criterion import criteria

NO_ITEMS = [
    ("configuration.features", []),
    ("configuration.items", []),
    *((f"alternatives.{place}.by", GONE) for place in range(5)),
]

TEXTS = [
    *(f"client.{key}" for key in ("willing", "function")),
    *(f"request.{key}" for key in ("growth", "chair_now", "local_rules", "route")),
    *(f"configuration.stop.{key}" for key in ("driver", "power_off")),
]

RECORDS = Records(
    "nothing_keeps_a_place",
    met=[
        ("the whole case", []),
        ("a name and no more", [(name, GONE) for name in ("people", "findings")] + NO_ITEMS),
        ("one word that says something", [("client.communicates", "speech"), ("limits.3.says", "None.")]),
    ],
    not_met=[
        ("a power switch at x", [("configuration.stop.power_off", "x")]),
        ("a reason to be determined", [("alternatives.1.reason", "TBD")]),
        ("a name that is a question mark", [("configuration.items.0.name", "???")]),
        ("six texts that keep a place", [(key, "tbd") for key in TEXTS[:6]]),
        ("eight texts that keep a place", [(key, "tbd") for key in TEXTS]),
        ("two texts of one key", [(f"findings.{at}.says", "tbd") for at in range(2)]),
    ],
    cannot_tell=[
        ("nothing written", [(name, GONE) for name in ("client", "people", "findings")] + NO_ITEMS),
    ],
)

test_each_record_gets_its_answer = RECORDS.test()


@of_each(
    "text",
    ["x", "X", "tbd", "TBD.", "?", "...", "--", "n/a", "N.A.", "NA", "None yet", "to be determined", "x x x", "xxx"]
    + ["needed needed", "<one sentence>", "[name]", "(pending)", "lorem ipsum", "Same as above."],
)
def test_a_word_that_only_keeps_a_place_is_known(text):
    assert is_placeholder(text)


@of_each(
    "text", ["None.", "speech", "Na", "left", "No.", "tile", "unknown", "birth", "4 mm", "x 12 mm", "An aide", "Bo"]
)
def test_one_word_that_says_something_is_left_alone(text):
    assert not is_placeholder(text)


def test_a_placeholder_is_a_gap_wherever_it_stands_and_is_told_with_its_key():
    told = grounds(changed(("configuration.stop.power_off", "tbd"), ("people.0.license", "n/a")))
    assert told.case.configuration.stop.power_off is None and told.case.people[0].license is None
    answer = ask("nothing_keeps_a_place", told)
    assert set(answer.where) == {("configuration", "stop", "power_off"), ("people", 0, "license")}
    assert "configuration.stop.power_off" in answer.reason and "people.license" in answer.reason
    assert ask("others_can_stop_it", told).status == ask("evaluator_named", told).status == "cannot_tell"


def test_what_it_holds_is_held_under_any_payer():
    assert criteria()["nothing_keeps_a_place"].holds and criteria()["basics_recorded"].holds
    assert not grounds(WHOLE).case.placeholders
