"""What the tests of the page to choose a control from look at: who has two controls, and what the page holds."""

from __future__ import annotations

from docgen.documents.options import control_rows
from docgen.documents.options_findings import (
    findings_shown,
)
from docgen.documents.options_matters import matters_rows

ANSELM, BOHDAN, PILAR, MARISOL, ILMARI = (
    "anselm-kirawira-boone",
    "bohdan-lacroix-mbeki",
    "pilar-nakashima-holt",
    "marisol-quenneville-tran",
    "ilmari-okonjo-vale",
)
TADEO, DUNJA = "tadeo-bramblecourt", "dunja-achterberg-rao"
# Every demo and client with two controls: of the case, or of the shelf that comes with the program.
PAGES = [(name, "own") for name in (ANSELM, BOHDAN, PILAR)]
PAGES += [(name, "shelf") for name in (BOHDAN, MARISOL, TADEO, DUNJA)]


def text_of(tree):
    return " ".join(" ".join(node.plain() for node in tree.walk() if node.kind in KINDS).split())


KINDS = ("heading", "paragraph", "cell")


def findings_of(made):
    case, matched, chosen = made
    return findings_shown(case.file.case, matched, chosen.options)


def controls_of(made):
    case, _, chosen = made
    return list(control_rows(case.file.case, chosen.options, findings_of(made).less_good))


def matters_of(made):
    case, matched, chosen = made
    return matters_rows(case.file.case, matched, chosen.options)


def ids_of(made):
    return [option.judged.device.id for option in made.options]
