"""The switch of a helper that stops the chair has one name wherever a family reads of it, in each language."""

from __future__ import annotations

import re
from itertools import product

from gathered import of_each
from support import ASSESSED

from docgen.packet.trees import trees
from docgen.packet.wording import language_words, wording

NAMES = {  # by what it is, a switch else
    "en": {"bar": "stop bar", "knob": "stop knob", "switch": "stop switch"},
    "es": {"bar": "barra de paro", "knob": "perilla de paro", "switch": "botón de paro"},
}
# a second switch and the driver's have names of their own
ANOTHER = re.compile(r"(the driver's|other|otro) (stop switch|botón de paro)", re.IGNORECASE)


@of_each("name, lang", list(product(ASSESSED, NAMES)))
def test_what_a_helper_presses_has_one_name_on_every_page(name, lang):
    case = ASSESSED[name].file.case
    names = NAMES[lang]
    own = names.get(case.configuration.stop.stop_looks or "", names["switch"])
    sheets = ["card", "guide", "log", *(["emergency"] if case.emergency.steps else [])]
    for sheet, tree in trees(ASSESSED[name], sheets, wording(lang)).items():
        told = ANOTHER.sub("", tree.plain()).lower()
        used = {said for said in names.values() if said in told}
        assert used == {own} or (sheet == "emergency" and not used), sheet


@of_each("lang", list(NAMES))
def test_the_drawings_name_it_as_the_pages_do(lang):
    drawn = language_words(lang)["figures"]
    assert {looks: drawn[f"stop_{looks}"].lower() for looks in NAMES[lang]} == NAMES[lang]
