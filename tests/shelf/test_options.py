"""Which controls there are to choose from, and the page: its standard, its size, its reader, the command."""

from __future__ import annotations

import json
import tomllib
from pathlib import Path

import pypdfium2
import pytest
from canaries import every_word, keys_in
from choices import ANSELM, BOHDAN, ILMARI, MARISOL, PAGES, PILAR, ids_of, text_of
from support import DEMO_FOLDERS, run

from docgen.errors import UserError
from docgen.filling import options_files
from docgen.packet.options_page import options_context, options_page, options_tree
from docgen.shelf.client import client_of
from docgen.shelf.device import Shelf
from docgen.shelf.match import match
from docgen.shelf.options import FEWEST, MOST, OWN_SHELF, options, own_shelf
from docgen.shelf.read import SHIPPED, shipped_shelf

DEMOS = {path.name: path for path in DEMO_FOLDERS}
IPDAS = tomllib.loads(Path(__file__).with_name("ipdas.toml").read_text(encoding="utf-8"))


def test_which_controls_there_are_to_choose_from(given):
    assert ids_of(given(ANSELM)[2]) == ["hand_midline", "head_pads"]  # the joystick as delivered is ruled out
    assert ids_of(given(PILAR)[2]) == ["force_headrest", "head_pads"]
    assert ids_of(given(BOHDAN)[2]) == ["mini_stick", "finger_beams"]  # not yet weighed, so not ruled out
    # her head array stands in a layer of the shelf and was ruled out by her trial
    assert ids_of(given(MARISOL, "shelf")[2]) == ["breath_and_head_switches", "breath_tube"]
    assert ids_of(given(MARISOL)[2]) == ["sip_puff"]


def test_what_can_harm_without_an_answer_is_no_option_of_a_shelf(given):
    for name, source in PAGES:
        _, matched, made = given(name, source)
        stages = {option.judged.stage for option in made.options}
        assert matched.shelf.name == OWN_SHELF or stages == {"layered"}, name
        assert FEWEST <= len(made.options) <= MOST


@pytest.mark.parametrize(("name", "source"), PAGES)
@pytest.mark.parametrize("group", ["qualifying", "certification", "quality"])
def test_each_item_of_the_standard_stands_on_the_page_where_the_table_says(given, name, source, group):
    text = text_of(options_tree(*given(name, source)))
    missing = {item for item, words in IPDAS[group].items() if not any(each in text for each in words.split("|"))}
    assert missing == set()


def test_each_item_that_is_not_met_says_why():
    assert len(IPDAS["qualifying"]) == 6 and len(IPDAS["certification"]) == 7
    assert all(len(why.split()) >= 2 for group in ("not_met", "not_applicable") for why in IPDAS[group].values())


@pytest.mark.parametrize("name", [ANSELM, MARISOL, PILAR])
def test_its_reader_sees_no_more_than_is_needed_to_choose(name):
    """Written by hand: what the guide's readers may see of it, what was found and is wanted in the case's own words,
    what the trial counted and what was noted where a stop was missed, the chair now and one thing that is hard with it,
    the commands of what was tried, and the therapist's phone."""
    case, words = every_word(name)
    own = own_shelf(case.file.case)
    matched = match(client_of(case.file.case), own)
    context = options_context(case, matched, options(case.file.case, matched))
    may_tell = {"client.called", "people.name@evaluator", "people.name", "findings.says", "goals.says", "goals.levels"}
    may_tell |= {"trial.methods.name", "alternatives.name", "trial.methods.setup", "trial.place", "trial.tasks.name"}
    may_tell |= {"trial.tasks.rule", "trial.csv.note", "request.chair_now", "activities.name", "activities.says"}
    may_tell |= {"configuration.commands.input", "people.phone@evaluator", "people.answers@evaluator"}
    shown = keys_in(json.dumps(context, default=lambda gap: gap.words), words)
    assert {"client.called", "findings.says", "goals.says"} <= shown <= may_tell


def test_hostile_words_stand_as_they_are_written(given, tmp_path):
    hostile = "a | tube **bold** <b>x</b> [y](http://z) {{ 1 }}"
    shelf = shipped_shelf()
    device = shelf.devices["finger_stick"].model_copy(update={"name": hostile, "limits": (hostile,)})
    other = Shelf.model_validate(
        {**shelf.model_dump(exclude={"devices"}), "devices": {**shelf.devices, "finger_stick": device}}
    )
    (page,) = options_files(DEMOS[BOHDAN], other, tmp_path, ["html"])
    html = page.read_text(encoding="utf-8")
    assert html.count('<th scope="row">') > 10  # each row is named by its first cell
    assert html.count("| tube **bold** &lt;b&gt;x&lt;/b&gt; [y](http://z) {{ 1 }}") >= 2


@pytest.mark.parametrize(("name", "source"), PAGES)
def test_it_has_two_pages(given, name, source):
    assert _n_pages(*given(name, source)) == 2


def _n_pages(*made):
    (pdf,) = options_page(*made, ["pdf"]).values()
    document = pypdfium2.PdfDocument(pdf)
    try:
        return len(document)
    finally:
        document.close()


def test_every_head_of_a_table_has_a_word(given):
    """As axe-core asks (empty-table-header)."""
    tables = [node for node in options_tree(*given(PILAR)).walk() if node.kind == "table"]
    assert len(tables) == 3 and all(cell.plain() for table in tables for cell in table.children[0].children)


def test_each_control_has_as_wide_a_column(given):
    tree = options_tree(*given(BOHDAN))
    from docgen.arial import arial_width
    from docgen.rendering.columns import column_widths

    tables = [node for node in tree.walk() if node.kind == "table"]
    for table in tables:
        widths = column_widths(table, 500.0, lambda text, bold: arial_width(text, 12, bold), 2)
        assert len({round(width, 6) for width in widths[-2:]}) == 1 and sum(widths) <= 500.001


def test_four_controls_have_room_and_those_beyond_are_named(given):
    shelf = shipped_shelf()
    stick = shelf.devices["finger_stick"]
    names = ["a flat stick", "an even stick", "the long stick", "a round stick", "a tall stick"]
    devices = {f"stick_{at}": stick.model_copy(update={"id": f"stick_{at}", "name": n}) for at, n in enumerate(names)}
    many = Shelf.model_validate({**shelf.model_dump(exclude={"devices"}), "devices": devices})
    case, matched, made = given(BOHDAN, shelf=many)
    assert [option.name for option in made.options] == ["even stick", "flat stick", "long stick", "round stick"]
    assert made.more == ("tall stick",) and "Tall stick" in text_of(options_tree(case, matched, made))
    assert _n_pages(case, matched, made) == 2


def test_the_command_writes_the_page_or_says_what_is_lacking(tmp_path):
    status, out, _ = run("options", DEMOS[ANSELM], "--out", tmp_path, "--formats", "html")
    assert status == 0 and out.startswith("Wrote ") and (tmp_path / "options.html").is_file()
    status, _, err = run("options", DEMOS[ILMARI], "--out", tmp_path)
    assert status == 2 and "only 'proximity head array' to choose from" in err and "--shelf" in err
    status, _, err = run("options", DEMOS[ILMARI], "--shelf", SHIPPED, "--out", tmp_path)
    assert status == 2 and "only 'head array of proximity switches' to choose from in 'twelve invented controls'" in err
    (tmp_path / "options.html").write_text("ticked", encoding="utf-8")
    with pytest.raises(UserError, match="is there already"):
        options_files(DEMOS[ANSELM], None, tmp_path, ["html"])
    assert (tmp_path / "options.html").read_text(encoding="utf-8") == "ticked"
