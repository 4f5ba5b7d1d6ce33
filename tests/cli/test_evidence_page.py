"""The first page of `docgen evidence`: one page, in the order in which a reader must know it, each control a column."""

from __future__ import annotations

import pytest
from clients.made import assessed
from msgspec.structs import replace
from support import DEMO_FOLDERS, run

from docgen.console import evidence_page as page
from docgen.console.evidence import evidence_text
from docgen.console.evidence_page import LINES, controls, evidence_page, misses_text
from docgen.console.width import WIDTH
from docgen.criteria.contradictions import CONTRADICTIONS
from docgen.criteria.criterion import criteria
from docgen.library import evidence_in, evidence_of

ILMARI, MARISOL, ANSELM = (
    next(path for path in DEMO_FOLDERS if path.name.startswith(name)) for name in ("ilmari", "marisol", "anselm")
)
ORDER = ["CONTRADICTIONS", "STOPS", "DONE", "COLLISIONS", "HELP", "CHANGE", "LIMITS", "Every number with its rows"]
SHORT = ("tadeo-bramblecourt", "yewande-sollingcrest", "dunja-achterberg-rao", "koa-fennimore-diallo")


@pytest.fixture(scope="module")
def evidence(tmp_path_factory):
    """The evidence of a demo, or of a short client by its name, each once."""
    known = {}

    def of(source):
        if source not in known:
            short = isinstance(source, str)
            known[source] = (
                evidence_in(assessed(source, tmp_path_factory.mktemp("client"))) if short else evidence_of(source)
            )
        return known[source]

    return of


def flat(text):
    return " ".join(text.split())


@pytest.mark.parametrize("source", [*DEMO_FOLDERS, *SHORT], ids=str)
def test_it_is_one_page_in_the_order_of_what_matters(evidence, source):
    lines = evidence_page(evidence(source), "docgen evidence CASE").splitlines()
    assert len(lines) <= LINES and max(map(len, lines)) <= WIDTH
    starts = [next(at for at, line in enumerate(lines) if line.startswith(title)) for title in ORDER if title != "HELP"]
    assert starts == sorted(starts)
    assert not any(word in " ".join(lines).split() for word in ("None", "nan"))


def test_each_control_is_a_column_the_requested_one_first(evidence):
    made = evidence(ILMARI)
    assert [method.id for method in controls(made)] == ["head_pads", "hand_stick", "force_headrest"]
    lines = evidence_page(made, "").splitlines()
    row = next(line for line in lines if line.startswith("  made of asked"))
    heads = next(line for line in lines if "Proximity head array" in line and not line.startswith("  " * 12))
    assert [row.index(cell) for cell in ("10 of 11 (62 to 98%)", "1 of 4 (5 to 70%)", "1 of 2 (9 to 91%)")] == [
        heads.index(name) for name in ("Proximity head array", "Hand-operated standard", "Force-sensing headrest")
    ]


def test_each_missed_stop_of_each_control_has_its_cause(evidence):
    text = flat(evidence_page(evidence(MARISOL), ""))
    assert "missed, sip-and-puff, momentary, February 12, 2026 (release 1.6 s): she went on puffing" in text
    # two stops missed for the same reason are told together
    assert "February 5, 2026 (release 0.7 s) and February 5, 2026 (release 0.6 s): let go, then her head fell" in text
    assert (
        "chin-operated standard joystick, February 12, 2026 (release 1 s): a spasm after the word took her chin off"
        in text
    )
    asked = {fact.id: fact for fact in evidence(MARISOL).facts if fact.id.startswith("stop_request.")}
    missed = sum(fact.n - fact.k for fact in asked.values())
    told = " ".join(misses_text(evidence(MARISOL)))
    assert missed == told.count("(release ") == 5


def test_a_contradiction_comes_before_any_number(evidence):
    text = flat(evidence_page(evidence("tadeo-bramblecourt"), ""))
    (reason, *_) = evidence("tadeo-bramblecourt").contradictions
    assert "CONTRADICTIONS - " in text and reason.split(";")[0][:60] in text
    assert text.index(reason[:40]) < text.index("STOPS")
    assert "CONTRADICTIONS none that the program can see" in flat(evidence_page(evidence(ILMARI), ""))


def test_a_row_done_with_a_collision_is_told_and_both_counts_stand(demo):
    folder = demo(ILMARI.name)
    rows = (folder / "trial.csv").read_text(encoding="utf-8").splitlines()
    names = rows[0].split(",")
    at = next(
        n for n, row in enumerate(rows[1:], 1)
        if row.split(",")[names.index("method")] == "head_pads"
        and row.split(",")[names.index("success")] == "1" and row.split(",")[names.index("contacts")] == "0"
    )  # fmt: skip
    cells = rows[at].split(",")
    cells[names.index("contacts")] = "1"
    rows[at] = ",".join(cells)
    (folder / "trial.csv").write_text("\n".join([*rows, ""]), encoding="utf-8")
    text = flat(evidence_page(evidence_of(folder), ""))
    assert "37 of 46 by the strict rule" in text[: text.index("STOPS")]
    assert "all tasks 37 of 46" in text and "as written down 38 of 46" in text


def test_what_matters_least_gives_way_and_says_so(evidence, monkeypatch):
    whole = evidence_page(evidence(MARISOL), "")
    monkeypatch.setattr(page, "LINES", 50)
    short = evidence_page(evidence(MARISOL), "")
    assert len(short.splitlines()) <= 50 and "and more: --all" in short

    def block(text, first, last):
        return text[text.index(first) : text.index(last)]

    assert block(short, "CONTRADICTIONS", "DONE") == block(whole, "CONTRADICTIONS", "DONE")
    assert "all tasks" in short and "collisions per 328" in short and "Not shown" in short


def test_more_contradictions_and_controls_than_there_is_room_for_are_counted(evidence):
    made = evidence(ILMARI)
    many = replace(made, contradictions=tuple(f"The one side says {n}, the other {n + 1}." for n in range(9)))
    assert "and 5 more: docgen check" in evidence_page(many, "")
    methods = [made.case.trial.methods[0].model_copy(update={"id": f"m{n}", "name": f"control {n}"}) for n in range(9)]
    rows = tuple(replace(made.case.records[0], method=method.id) for method in methods)
    trial = made.case.trial.model_copy(update={"methods": tuple(methods)})
    case = made.case.model_copy(update={"trial": trial}).with_records(rows)
    lines = evidence_page(replace(made, case=case), "").splitlines()
    assert max(map(len, lines)) <= WIDTH and len(lines) <= LINES
    assert any(line.startswith("Not in these columns, see --all: control 5") for line in lines)


def test_all_holds_the_rows_as_ranges_and_what_the_page_holds(evidence):
    text = flat(evidence_text(evidence(MARISOL)))
    assert "rows 18-25, 34-43, 52-61" in text
    assert "missed, proximity head array, February 19, 2026 (release 0.6 s): let go" in text
    assert "Contradiction: " in flat(evidence_text(evidence("tadeo-bramblecourt")))


def test_the_command_prints_the_page_and_all_with_all():
    status, out, _ = run("evidence", ANSELM)
    assert status == 0 and out.startswith(f"{ANSELM.name}: what the record supports\nTried: 3 days")
    assert f"docgen evidence {ANSELM} --all" in flat(out)
    assert "Can the client drive with it?" in run("evidence", ANSELM, "--all")[1]


def test_each_contradiction_is_a_criterion():
    assert set(CONTRADICTIONS) <= set(criteria()) and len(set(CONTRADICTIONS)) == len(CONTRADICTIONS)


def test_done_is_told_by_no_rule_that_is_not_recorded(evidence):
    case = evidence(ILMARI).case
    tasks = tuple(task.model_copy(update={"rule": None}) for task in case.trial.tasks)
    bare = case.model_copy(update={"trial": case.trial.model_copy(update={"done_rule": None, "tasks": tasks})})
    assert page.done_means(case).startswith("by the rule of its task, ")
    assert page.done_means(bare).startswith("as written down (rule not recorded), ")
    rows = tuple(replace(row, prompts_physical=None, took_over=None) for row in bare.records)
    assert page.done_means(bare.with_records(rows)).endswith("help by hand not recorded")
