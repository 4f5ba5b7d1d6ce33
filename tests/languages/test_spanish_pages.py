"""The Spanish pages: nothing in English but what is marked so, gaps in Spanish, block for block the English ones."""

from __future__ import annotations

import re
import shutil
import tomllib
from html import unescape

import pypdfium2
from in_full import tables_in_full, text_in_full
from languages.spanish import assessed, guide, guide_tree, of, phrases, said, sheets
from languages.spanish_words import DEMOS, GUIDE, OURS, SAME, words
from support import DEMO_FOLDERS, assess, each_key_gone

from docgen.case.model import Case
from docgen.case.read import frozen
from docgen.packet.languages import in_language
from docgen.packet.trees import trees
from docgen.packet.wording import languages
from docgen.packet.wording import wording as wording_of

NOTICE = re.search(r"\[([^\[\]]*)\]\(lang:en\)", GUIDE["es"])[1].replace("**", "")
ON_DRAWINGS = set("abcdefg")  # letters of places on the chair
BEFORE, _, AFTER = wording_of("es").words["original"].partition("{text}")  # a text left in English stands between
MEANS = wording_of("es").words["original_means"]


def outside_passages(html):
    """The words of a page without those that its mark-up calls English."""
    return re.sub(r'<style.*?</style>|<span lang="en">.*?</span>|<[^>]*>', " ", html, flags=re.S)


def in_full(source, tmp_path):
    """A demo case with a phrase for each of its texts."""
    target = tmp_path / source.name
    shutil.copytree(source, target)
    (target / "es.toml").write_text(phrases(assess(source).file.case), encoding="utf-8")
    return assess(target)


@DEMOS
def test_a_spanish_guide_holds_only_spanish_words_besides_the_texts_and_names_of_the_case(source, tmp_path):
    one = in_full(source, tmp_path)
    foreign = sheets(one)
    assert not foreign.originals and not foreign.unused
    case = one.file.case
    names = words(
        " ".join(
            filter(
                None,
                [
                    case.client.name,
                    case.client.called,
                    *(person.name for person in case.people),
                    *(row.by for row in case.accepted),
                ],
            )
        )
    )
    html = unescape(" ".join(page.decode() for page in foreign.render(["html"]).values()))
    assert not words(outside_passages(html)) - OURS["es"] - names - {"frase"} - ON_DRAWINGS
    heard = " ".join(re.findall(r'(?:aria-label|title|alt)="([^"]*)"', html))
    assert not words(heard) - OURS["es"] - names - {"frase"} - ON_DRAWINGS


@DEMOS
def test_every_english_word_of_a_page_stands_in_a_passage_marked_as_english(source):
    """Cases with phrases and without, as they are. A drawing has no passages: there the sign before the words tells."""
    foreign = guide(assess(source))
    case, own = foreign.assessed.file.case, source / "es.toml"
    known = tomllib.loads(own.read_text(encoding="utf-8")).values() if own.is_file() else ()
    names = words(
        " ".join(
            [
                *(case.client.name, case.client.called),
                *(person.name for person in case.people if person.name),
                *(row.by for row in case.accepted),
                *known,
            ]
        )
    )
    html = re.sub(r"<svg.*?</svg>", " ", foreign.render(["html"])["guide.es.html"].decode(), flags=re.S)
    assert not words(outside_passages(unescape(html))) - OURS["es"] - names
    passages = [node.plain() for node in foreign.trees["guide"].walk() if node.kind == "passage"]
    passages.remove(NOTICE)
    originals = {text.removeprefix(BEFORE).removesuffix(AFTER).rstrip(". ") for text in foreign.originals}
    assert all(passage in originals or any(passage.rstrip(".") in text for text in originals) for passage in passages)
    text = foreign.trees["guide"].plain().replace(MEANS, "")
    assert len(passages) == text.count(BEFORE) == text.count(AFTER) and bool(passages) == bool(foreign.originals)


def test_the_notice_stands_on_the_card_in_both_languages():
    card = GUIDE["es"].partition("page:break")[0]
    assert "Debe revisarla un traductor calificado." in card and NOTICE in card.replace("**", "")
    assert NOTICE == "A qualified translator must review this."


@DEMOS
def test_the_texts_of_a_case_without_phrases_stand_as_written_and_marked(source, tmp_path):
    target = tmp_path / source.name
    shutil.copytree(source, target)
    (target / "es.toml").unlink(missing_ok=True)
    foreign = sheets(assess(target))
    stop = foreign.assessed.file.case.configuration.stop
    own = assess(source).file.case.configuration.stop
    for name in ("driver", "power_off", "freewheel"):
        assert getattr(stop, name) == f"[en inglés: «{getattr(own, name)}»]"
        assert getattr(stop, name) in foreign.originals
    assert stop.at_hand[0] == f"[en inglés: «{own.at_hand[0]}»]" and stop.at_hand[0] in foreign.originals
    assert all(text.startswith("[en inglés: «") and text.endswith("»]") for text in foreign.originals)
    text = said(foreign)
    assert f"A: [en inglés: «{own.at_hand[0]}»]" in text
    assert all(where.rpartition(":")[2].isdigit() for where in foreign.originals.values())
    for name, tree in foreign.trees.items():  # each sheet may be read alone
        text = tree.plain()
        assert text.count(MEANS) == 1 and text.index(MEANS) < text.index(f"{BEFORE}{first_english(tree)}"), name


def first_english(tree):
    """The first English text of a sheet that is no notice."""
    return next(node.plain() for node in tree.walk() if node.kind == "passage" and node.plain() != NOTICE)


def test_a_sheet_without_an_english_text_explains_no_mark():
    source = next(folder for folder in DEMO_FOLDERS if folder.name.startswith("saoirse"))
    for name, tree in in_language(assess(source), "es").trees.items():
        assert BEFORE not in tree.plain() and MEANS not in tree.plain(), name


def test_a_gap_says_in_spanish_what_is_missing():
    """Each key of the demo cases left out in turn: no gap is named in English."""
    import copy

    seen, left_out = set(), set()
    tables = ("client", "configuration", "cautions", "supervision", "transport", "taught", "people")
    for source in DEMO_FOLDERS[:2]:
        raw = tables_in_full(source)
        raw = {key: value for key, value in raw.items() if key in ("format", "id", *tables)}
        for path, changed in each_key_gone(copy.deepcopy(raw)):
            general = tuple(part for part in path if not isinstance(part, int))
            if general in left_out:
                continue
            left_out.add(general)
            try:
                one = of(Case.model_validate(frozen(changed)))
            except ValueError:
                continue  # a key that its table cannot do without
            gaps = {node.plain() for node in guide_tree(one).walk() if node.kind == "gap"}
            seen |= gaps
            assert all(gap.startswith(("sin anotar: ", "Sin anotar: ")) for gap in gaps), path  # it may open a sentence
            assert not [gap for gap in gaps if words(gap) - OURS["es"]], path
    assert len(seen) >= 12


def test_a_case_with_nothing_recorded_has_a_guide_of_gaps_in_spanish():
    text = said(sheets(assessed()))
    assert "sin anotar: dónde está el botón de paro" in text
    assert "sin anotar: quién debe estar cerca y cuándo puede alejarse" in text
    assert not words(text.replace(NOTICE, "")) & (OURS["en"] - SAME)


def shapes(blocks):
    """Kind and size of each block: what one language has and another must have too."""
    for block in blocks:
        rows = tuple(len(row.children) for row in block.children) if block.kind == "table" else ()
        n = len(block.children) if block.kind in ("list", "callout") else 0
        yield block.kind, block.attrs.get("name", "") or getattr(block, "name", ""), n, rows


@DEMOS
def test_each_spanish_sheet_has_block_for_block_what_the_english_one_has(source):
    """A block of a translation that lacks would be a caution that lacks; only who must review it stands there besides,
    in its head and, in the guide, at its end."""
    one = assess(source)
    english, spanish = trees(one, ["card", "guide", "log"]), sheets(one).trees
    for name, tree in english.items():
        blocks = [block for block in spanish[name].children if not block.plain().startswith("Sin revisar.")]
        assert len(blocks) == len(spanish[name].children) - 1
        extra = len(blocks) - len(tree.children)
        assert [*shapes(blocks[: len(tree.children)])] == [*shapes(tree.children)], name
        reviewed = ["heading", "callout", "signature"] if name == "guide" else []
        assert [block.kind for block in blocks[len(tree.children) :]] == reviewed and extra == len(reviewed)


def test_spanish_is_a_language_with_the_guide_and_the_emergency_page_alone():
    assert "es" in languages()
    assert tuple(wording_of("es").documents) == ("card", "guide", "emergency", "log")
    assert in_language(assess(DEMO_FOLDERS[0]), "es", ["letter"]).trees == {}


def test_the_spanish_guide_lets_nobody_ride_in_a_chair_of_which_a_point_is_open(demo):
    """Nobody could tell whether the chair is made for the bus; the English guide says the same."""
    source = demo("pilar-nakashima-holt")
    toml = text_in_full(source)
    assert toml.count('chair_labeled = "yes"') == 1
    open_point = toml.replace('chair_labeled = "yes"', 'chair_labeled = "unknown"')
    (source / "case.toml").write_text(open_point, encoding="utf-8")
    spanish = guide(assess(source)).trees["guide"].plain()
    english = trees(assess(source), ["guide"])["guide"].plain()
    assert "Todavía no se sabe si" in spanish and "viaja en la silla, de frente" not in spanish
    assert "sin anotar: si esta silla está hecha para viajar en ella" in spanish
    assert "It is open whether" in english and "rides in the chair" not in english


def test_the_spanish_guide_tells_range_weight_shift_and_whose_gap_it_is_as_the_english_one_does():
    source = next(folder for folder in DEMO_FOLDERS if folder.name.startswith("marisol"))
    spanish = " ".join(tree.plain() for tree in sheets(assess(source)).trees.values())
    english = " ".join(tree.plain() for tree in trees(assess(source), ["card", "guide"]).values())
    for here, there in (
        (
            "30 minutos: incline el asiento hasta que coincidan las dos marcas",
            "30 minutes: tilt the seat until the two marks at the seat meet",
        ),
        ("15 a 25 mm", "15 to 25 mm"),
        ("Un espacio fuera de su rango: que nadie maneje.", "A gap outside its range: do not drive."),
        ("no se maneja sin el terapeuta", "no driving without the therapist"),
    ):
        assert here in spanish and there in english
    assert "Cuenta cualquier diferencia" not in spanish and "Any difference" not in english


@DEMOS
def test_the_bar_that_checks_the_print_stands_on_the_page_of_the_gaps_that_it_checks(source):
    pdf = pypdfium2.PdfDocument(guide(assess(source)).render(["pdf"], large_print=False)["guide.es.pdf"])
    pages = [" ".join(page.get_textpage().get_text_range().split()) for page in pdf]
    bar = [at for at, text in enumerate(pages) if "Mida primero esta barra" in text]
    captions = [at for at, text in enumerate(pages) if "Tamaño real: blanco, cuerpo" in text]
    assert len(bar) == 1 and bar == captions
