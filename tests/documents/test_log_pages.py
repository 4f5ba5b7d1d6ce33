"""The log in print: a page for each day's lines, one for who was shown what, one of pictures and pushing by hand."""

from __future__ import annotations

from datetime import date

import pypdfium2
import pytest
from support import ASSESSED, DEMOS

from docgen.packet.approval import Review
from docgen.packet.languages import in_language
from docgen.packet.render import render


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
