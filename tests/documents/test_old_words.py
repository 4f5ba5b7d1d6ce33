"""Stop test, weight shift, hours alone, a ride, a tolerance: for each a record of which a page once said what could
hurt, with the words that may not come back and those that stand there instead, in both languages."""

from __future__ import annotations

import pytest
from made import assessed

from docgen.packet.trees import trees
from docgen.packet.wording import wording

ROBIN = {"called": "Robin", "pronouns": "she"}
PAD = {"id": "pad", "part": "rear pad", "site": "head_back", "gap_mm": 12}
STOP = {
    "stop_switch": "red box",
    "driver": "lets go",
    "power_off": "there",
    "after_stop": "waits",
    "set_back": "Turn it.",
}
RIDE = {
    "rides_in_chair": True,
    "vehicle": "a van",
    "trained": "An aunt",
    "chair_labeled": "unknown",
    "four_tie_downs": "yes",
    "own_belt": "yes",
    "head_support": "yes",
    "back_deg": 5.0,
    "control": "swung_away",
    "loose_parts": "The tray comes off.",
}
ALONE = {"place": "at home", "level": "alone", "chair_state": "rests", "calls_by": "by the chair's own phone"}
SHIFT = {
    "tilt_deg": 30,
    "hold_min": 2,
    "every_min": 40,
    "starts": "driver",
    "not_when": "After a meal.",
    "how": "By puff.",
}

# name: the record, words that may not come back, words that must stand there in this order; a language each
CASES = {
    # a switch that is dead passed: the chair was still when it was pressed, and nobody had asked for a drive
    "stop test": (
        {"configuration": {"stop": STOP}},
        {
            "en": (
                ("Press the stop switch. The chair must stand still",),
                (
                    "Do not drive.",
                    "It must move",
                    "Press the stop switch, A, while it moves",
                    "it must stay still",
                    "It must not start",
                ),
            ),
            "es": (
                ("Oprima el botón de paro. La silla debe estar quieta",),
                (
                    "No se maneja.",
                    "Debe moverse",
                    "Oprima el botón de paro, A, mientras se mueve",
                    "no debe moverse",
                    "No debe arrancar",
                ),
            ),
        },
    ),
    # it was the last thing taught, and no page said when it waits
    "weight shift": (
        {"weight_shift": SHIFT},
        {
            "en": (
                ("weight shift is taught last",),
                (
                    "own task, every 40 minutes: guide.",
                    "After a meal.",
                    "Shift the weight",
                    "After a meal.",
                ),
            ),
            "es": (
                ("se enseña al final",),
                (
                    "Cambio de peso cada 40 minutos, de",
                    "After a meal.",
                    "Cambie el peso",
                    "After a meal.",
                ),
            ),
        },
    ),
    # "she must not" stood for a safeguard, of a chair that a cough wakes and a call that needs it
    "alone": (
        {"supervision": (ALONE | {"call_needs_chair": True},)},
        {
            "en": (
                ("At home: yes", "must not drive then"),
                ("At home: no, not yet.", "First settle this:", "not recorded: "),
            ),
            "es": (
                ("At home: sí", "no debe manejar entonces"),
                ("At home: no, todavía no.", "Primero hay que acordar esto:", "sin anotar: "),
            ),
        },
    ),
    # whether the chair is made for it was not known, and the page had her ride in it
    "a ride": (
        {"transport": RIDE},
        {
            "en": (
                ("rides in the chair, facing the front",),
                ("In a van or carNot settled yet.", "Ask the therapist before the next ride.", "not recorded: "),
            ),
            "es": (
                ("viaja en la silla, de frente",),
                (
                    "En camioneta o carroFalta acordarlo.",
                    "Pregunte al terapeuta antes del próximo viaje.",
                    "sin anotar: ",
                ),
            ),
        },
    ),
    # any difference counted, and a helper who moved a pad by a hair did wrong where the therapist allowed it
    "a tolerance": (
        {"configuration": {"mounting": (PAD | {"gap_from_mm": 8, "gap_to_mm": 16},)}},
        {
            "en": (("ny difference that you can see",), ("8 to 16 mm", "A gap outside its range: do not drive.")),
            "es": (
                ("ualquier diferencia que se vea",),
                ("8 a 16 mm", "Un espacio fuera de su rango: que nadie maneje."),
            ),
        },
    ),
}


@pytest.mark.parametrize("lang", ["en", "es"])
@pytest.mark.parametrize("name", CASES)
def test_the_old_words_are_gone_and_the_new_stand_there_in_order(name, lang):
    record, told = CASES[name]
    gone, stand = told[lang]
    case = assessed(client=ROBIN, **record)
    made = trees(case, ["card", "guide"], wording(lang))
    text = " ".join(" ".join(tree.plain() for tree in made.values()).split())
    assert not [words for words in gone if words in text]
    at = 0
    for words in stand:
        assert words in text[at:], words
        at = text.index(words, at) + len(words)


def test_the_weight_shift_is_taught_before_any_driving():
    text = trees(assessed(client=ROBIN, weight_shift=SHIFT), ["plan"])["plan"].plain()
    assert text.index("before any driving: the weight shift") < text.index("end the session at once when")
