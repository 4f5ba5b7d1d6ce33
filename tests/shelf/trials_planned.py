"""What the tests of a planned trial look at: the clients, and what page and sheets say."""

from __future__ import annotations

import re

import pypdfium2

from docgen.packet.trial_page import trial_page
from docgen.recording_sheet import trial_sheets

MARISOL, ILMARI, SAOIRSE = "marisol-quenneville-tran", "ilmari-okonjo-vale", "saoirse-villalobos-ng"
TWO_VISITS = {"methods": ("sip_puff", "head_pads"), "visits": 2, "visit_minutes": 75.0}


def page(result, suffix="html"):
    (data,) = trial_page(result.compared.assessed, result.compared.match, result.plan, [suffix]).values()
    return data


def text_of(result):
    text = re.sub(r"<[^>]+>", " ", page(result).decode("utf-8"))
    return " ".join(re.sub(r"&#x27;|&#39;", "'", text).split())


def sheet_texts(result):
    pdf = pypdfium2.PdfDocument(trial_sheets(result.case, result.plan))
    return [sheet.get_textpage().get_text_range() for sheet in pdf]
