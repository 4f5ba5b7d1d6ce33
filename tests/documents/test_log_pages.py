"""The log in print: a page for each day's lines, one for who was shown what, one of pictures and pushing by hand."""

from __future__ import annotations

import re
from datetime import date

import pypdfium2
import pytest
from documents.safe_pages import words
from support import ASSESSED, DEMOS

from docgen.documents.sitting import shift_clock
from docgen.packet.approval import Review
from docgen.packet.languages import in_language
from docgen.packet.render import render
from docgen.packet.trees import trees
from docgen.packet.wording import wording


@pytest.mark.parametrize("name", DEMOS)
@pytest.mark.parametrize("reviewed", [False, True])
def test_a_printed_log_has_three_pages_each_with_its_status(name, reviewed):
    """Once reviewed, the head has a line more, which names whoever reviewed it."""
    one = ASSESSED[name]
    evaluator = next(iter(one.file.case.with_role("evaluator")))
    review = (
        Review(f"{evaluator.name}, {evaluator.credential}", date(2026, 9, 21), "docgen 0.3.0", ()) if reviewed else None
    )
    english = render(one, ["pdf"], ["log"], review=review)["log.pdf"]
    spanish = in_language(one, "es", ["log"]).render(["pdf"], review=review)["log.es.pdf"]
    for file, pictures in ((english, "In pictures"), (spanish, "En dibujos")):
        with pypdfium2.PdfDocument(file) as pdf:
            texts = [" ".join(page.get_textpage().get_text_range().split()) for page in pdf]
        assert len(texts) == 3 and pictures in texts[2]
        assert all("Draft" in text or "Borrador" in text or "evi" in text for text in texts)


@pytest.mark.parametrize("lang", ["en", "es"])
@pytest.mark.parametrize("name", DEMOS)
def test_each_box_of_the_log_leads_to_a_block_of_the_stop_test_on_the_card(name, lang):
    """A head named "step three" where the card asks for the own stop at step 4: the press of A was never asked for."""
    card, log = (words(ASSESSED[name], lang, paper) for paper in ("card", "log"))
    start, asks, blocks = {
        "en": (
            r"Stops on call \(Start, step (\w+)\)",
            "Ask for a stop.",
            r"(Stop switch|Stop bar|Stop knob|Power switch) \(([AB])\)",
        ),
        "es": (
            r"Paró al pedirlo \(Inicio, paso (\w+)\)",
            "Pida que pare.",
            r"(Botón|Barra|Perilla|Interruptor)[^()]*\(([AB])\)",
        ),
    }[lang]
    test = card[card.index({"en": "Start. See each try", "es": "Inicio. Vea cada intento"}[lang]) :]
    lists = [block for block in trees(ASSESSED[name], ["card"], wording(lang))["card"].children if block.kind == "list"]
    steps = next(block.children for block in lists if asks in block.plain())
    assert asks in steps[{"four": 4, "cuatro": 4}[re.search(start, log)[1]] - 1].plain()
    assert re.search(rf", {re.search(blocks, log)[2]}\b", test)
    own, off = {"en": ("Switch E", "F, then B"), "es": ("E:", "F, luego B")}[lang]
    head = log[: log.rindex({"en": "Skin, morning", "es": "Piel, mañana"}[lang])]
    for block, box in ((own, {"en": "Switch E", "es": "(A)E"}[lang]), (off, off)):
        assert (block in test) is (box in head), block


@pytest.mark.parametrize(
    ("every_min", "n_boxes", "at_two"),
    [(30, 48, ("2:00", "2:30")), (20, 72, ("2:00", "2:20", "2:40")), (120, 12, ("2:00",)), (45, 32, ("2:15",))],
)
def test_a_day_of_the_log_has_a_box_for_every_time_that_a_weight_shift_is_due(every_min, n_boxes, at_two):
    """Eight boxes stood for a day of shifts each half hour: the last ones had no place to be written down."""
    hours = tuple(shift_clock(every_min))
    afternoon = hours[[hour["half"] for hour in hours].index("pm") :]
    assert sum(len(hour["boxes"]) for hour in hours) == n_boxes
    assert [hour["half"] for hour in hours if hour["half"]] == ["am", "pm"]
    assert tuple(time for hour in afternoon for time in hour["boxes"] if time.startswith("2:")) == at_two


def test_how_often_is_not_guessed_where_nobody_set_it():
    assert tuple(shift_clock(None)) == ()


@pytest.mark.parametrize(("lang", "due"), [("en", "2:00 ticked, also if late: next at 2:30."), ("es", "Marcó 2:00")])
def test_the_time_of_the_next_shift_is_read_and_not_added_up(lang, due):
    log = words(ASSESSED["marisol-quenneville-tran"], lang, "log")
    assert due in log and log.count(" 11 __ __") == 4  # morning and evening of each of two days
    assert lang == "es" or "By the next box of the log (2:00 ticked: by 2:30)" in log
