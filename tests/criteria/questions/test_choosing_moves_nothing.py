"""What `choosing_moves_nothing` says of each record."""

from __future__ import annotations

from datetime import date

from records import Records

TRIED = ("sitting.chosen_held_on", date(2026, 3, 6))


def commands(chooses, *moves):
    """The seat is chosen by one signal, and each of the others moves it while it is kept on."""
    chosen = {"moves": "seat is chosen", "input": chooses, "kept": "once"}
    held = [{"moves": "the back goes down", "input": signal, "kept": "held", "any_of": True} for signal in moves]
    return ("sitting.commands", [chosen, *held])


SAME = commands("a soft puff", "a hard puff", "A soft puff")

RECORDS = Records(
    "choosing_moves_nothing",
    met=[("one signal does both, and was tried", [SAME, ("sitting.chosen_held", "stays"), TRIED])],
    not_met=[("one signal does both, and the seat moves", [SAME, ("sitting.chosen_held", "moves"), TRIED])],
    cannot_tell=[
        ("one signal does both, and nobody tried it", [SAME]),
        ("one signal does both, and when it was tried is not said", [SAME, ("sitting.chosen_held", "stays")]),
    ],
    does_not_apply=[
        ("the whole case", []),
        ("another signal chooses", [commands("two short sips", "a hard puff", "a soft puff")]),
    ],
    ready={"does_not_apply": []},
    rests_on=(),
)

test_each_record_gets_its_answer = RECORDS.test()
