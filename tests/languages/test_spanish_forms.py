"""Dates, numbers and plurals as the Unicode locale data has them, and how easy the Spanish guide is to read."""

from __future__ import annotations

import re
import shutil
from datetime import date
from types import SimpleNamespace

import pytest
from babel import Locale
from babel.dates import format_date
from babel.numbers import format_decimal
from gathered import of_each
from hypothesis import given
from hypothesis import strategies as st
from languages.spanish import guide
from support import DEMO_FOLDERS, assess

from docgen.case.mount import Mount
from docgen.documents.phrase import filters, number
from docgen.evidence.fact import Fact
from docgen.figures.draw import drawings
from docgen.figures.gap_gauge import gap_words
from docgen.packet.render import status_words
from docgen.packet.wording import wording
from docgen.rendering.readability import read_text, sentences
from docgen.units import gap_inches, in_mm_alone

ES = wording("es")
DEMOS = pytest.mark.parametrize("source", DEMO_FOLDERS, ids=lambda f: f.name)
# what Babel has from CLDR, the locale data of the Unicode Consortium, for Spanish of the United States; for Mexico it
# is the same
US, MEXICO = Locale("es", "US"), Locale("es", "MX")
LOCALES = of_each("locale", [US, MEXICO], ids=str)


@LOCALES
@given(on=st.dates(date(1900, 1, 1), date(2199, 12, 31)))
def test_a_day_is_written_as_the_locale_data_has_it(locale, on):
    assert ES.environment.filters["day"](on) == ES.labels.day(on) == format_date(on, "long", locale=locale)
    assert ES.environment.filters["day_of_year"](on) == format_date(on, "d 'de' MMMM", locale=locale)


def test_a_day_that_everyone_can_read():
    assert ES.environment.filters["day"](date(2026, 3, 3)) == "3 de marzo de 2026"


@LOCALES
@given(tenths=st.integers(1, 9999))
def test_millimetres_of_a_gap_are_written_as_the_locale_data_has_numbers(locale, tenths):
    mm = tenths / 10
    shown = f"{format_decimal(mm, locale=locale)} mm"
    both = shown if in_mm_alone(mm) else f"{gap_inches(mm)} pulg. ({shown})"
    assert gap_words(_gap_of(mm), ES.words["figures"]) == f"meta {shown}"  # beside a bar at true size
    assert ES.environment.filters["gap"](mm) == both


def _gap_of(mm):
    """A part with this gap and no range."""
    return Mount.model_construct(gap_mm=mm)


@pytest.mark.parametrize("locale", [Locale("es", "ES"), Locale("fr"), Locale("de"), Locale("pt", "BR")], ids=str)
def test_a_language_may_write_a_decimal_comma_everywhere(locale):
    sign = locale.number_symbols["latn"]["decimal"]
    assert sign == ","
    words = {**ES.words, "decimal": sign}
    changed = filters(words)
    assert changed["gap"](12.5).endswith(f"({format_decimal(12.5, locale=locale)} mm)")
    assert changed["measure"](12.5, "km") == f"{format_decimal(12.5, locale=locale)}\u00a0km"
    told = gap_words(_gap_of(12.5), {**words["figures"], "decimal": sign})
    assert told == f"meta {format_decimal(12.5, locale=locale)} mm"
    share = Fact("x", "reading", "x", "ratio", 2.54, 3, None)
    assert number(share, words).bare == format_decimal(2.5, locale=locale)
    source = next(f for f in DEMO_FOLDERS if f.name == "marisol-quenneville-tran")
    told = guide(assess(source)).assessed.file.case
    mounting = tuple(mount.model_copy(update={"gap_mm": 12.5}) for mount in told.configuration.mounting)
    told = told.model_copy(update={"configuration": told.configuration.model_copy(update={"mounting": mounting})})
    other = {**words["figures"], "decimal": sign}
    texts = [
        shape.text
        for scene in drawings(told, {}, other, ["pad_layout", "gap_gauge"]).values()
        for shape in scene.shapes
        if type(shape).__name__ == "Text"
    ]
    assert any("12,5 mm" in text.replace("\u00a0", " ") for text in texts) and not [
        text for text in texts if re.search(r"\d\.\d", text)
    ]


@given(st.integers(0, 999_999))
def test_one_and_many_part_where_the_locale_data_parts_them(n):
    # from a million on Spanish has a third form, "de": no count here goes so far
    one = US.plural_form(n) == "one"
    assert ES.environment.filters["plural"](n, "uno", "muchos") == ("uno" if one else "muchos")


def _open_point(n: int) -> SimpleNamespace:
    """A verdict that is open, with a reason of its own."""
    return SimpleNamespace(open=True, answer=SimpleNamespace(reason=f"Reason {n}.", to_settle=""))


@pytest.mark.parametrize("n", [1, 2, 21, 101])
def test_the_state_on_each_page_counts_in_spanish_and_says_that_the_translation_is_not_reviewed(n):
    said = status_words(SimpleNamespace(open=tuple(map(_open_point, range(n))), copy=None), ES)
    assert said.startswith("Borrador, traducción sin revisar: ")
    assert ("debe resolver 1 punto" if US.plural_form(n) == "one" else f"deben resolver {n} puntos") in said
    assert status_words(SimpleNamespace(open=(), copy=None), ES) == "Borrador: original y traducción sin revisar"


# ---- how easy it is to read --------------------------------------------------------------------------------


RULE = wording("es").reading
PERSPICUITY, READING_EASE = (formula.score for formula in RULE.formulas)


@pytest.fixture
def library():
    """textstat 0.7.8 in Spanish, and back in English."""
    import textstat

    textstat.set_lang("es")
    yield textstat
    textstat.set_lang("en_US")


@DEMOS
def test_the_spanish_guide_is_at_least_rather_easy(source):
    found = guide(assess(source)).readings()["guide"]
    assert found.scores["inflesz"] >= RULE.least == 65 and found.easy and found.band in ("bastante fácil", "muy fácil")
    assert found.n_words / found.n_sentences < 15
    assert not found.long_sentences


@DEMOS
def test_both_scores_are_those_of_a_general_library(source, library):
    pieces = read_text(guide(assess(source)).trees["guide"])
    found, text = RULE.reading(pieces), "\n".join(sentences(pieces))
    counts = library.lexicon_count(text), library.sentence_count(text), library.syllable_count(text)
    # the formulas on the library's own counts; the library rounds
    assert PERSPICUITY(*counts) == pytest.approx(library.szigriszt_pazos(text), abs=0.1)
    assert READING_EASE(*counts) == pytest.approx(library.fernandez_huerta(text), abs=0.1)
    # its syllables come from rules of hyphenation, which never part one vowel from an end: fewer, so it finds the text
    # easier
    assert 0 <= library.szigriszt_pazos(text) - found.scores["inflesz"] <= 8
    assert 0 <= library.fernandez_huerta(text) - found.scores["huerta"] <= 8


@of_each(
    "word, n",
    [
        # Real Academia Española, Ortografía 2010: diphthong, triphthong, hiatus, h, y, silent and spoken u; from memory
        ("aire", 2),
        ("ciudad", 2),
        ("cuídate", 3),
        ("construido", 3),
        ("guion", 1),
        ("truhan", 1),
        ("averiguáis", 4),
        ("Paraguay", 3),
        ("día", 2),
        ("raíz", 2),
        ("baúl", 2),
        ("caer", 2),
        ("aéreo", 4),
        ("línea", 3),
        ("poeta", 3),
        ("chiita", 3),
        ("leíamos", 4),
        ("prohibido", 3),
        ("ahora", 3),
        ("cohete", 3),
        ("búho", 2),
        ("desahucio", 3),
        ("muy", 1),
        ("playa", 2),
        ("y", 1),
        ("rey", 1),
        ("guerra", 2),
        ("queso", 2),
        ("pingüino", 3),
        ("agua", 2),
        ("vergüenza", 3),
        ("jesuita", 3),
        ("12", 1),
        ("apoyapiés", 4),
        ("a", 1),
    ],
)
def test_the_syllables_of_a_word_are_those_of_the_academy(word, n):
    assert RULE.syllables(word) == n


@given(st.text("bcdfglmnprstvz", min_size=1, max_size=3), st.lists(st.sampled_from("aeoáéó"), min_size=1, max_size=6))
def test_a_strong_vowel_is_always_a_syllable(consonants, vowels):
    assert RULE.syllables("".join(f"{consonants}{vowel}" for vowel in vowels)) == len(vowels)
    assert RULE.syllables("".join(vowels)) == len(vowels)


def test_the_formulas_at_values_worked_by_hand():
    assert PERSPICUITY(100, 10, 200) == pytest.approx(72.235) and PERSPICUITY(1, 1, 1) == pytest.approx(143.535)
    assert READING_EASE(100, 10, 200) == pytest.approx(76.64) and READING_EASE(1, 1, 1) == pytest.approx(145.82)


@of_each(
    "score, band",
    [
        (80.1, "muy fácil"),
        (79.9, "bastante fácil"),
        (65, "bastante fácil"),
        (64.9, "normal"),
        (54.9, "algo difícil"),
        (39.9, "muy difícil"),
    ],
)
def test_a_score_has_its_name_on_the_inflesz_scale(score, band):
    assert RULE.band(score) == band
    assert [least for least, _ in RULE.bands] == sorted((least for least, _ in RULE.bands), reverse=True)


def test_a_spanish_question_begins_a_sentence():
    assert sentences(["Pare. ¿Otra vez? Él llama. Ábrala."]) == ["Pare.", "¿Otra vez?", "Él llama.", "Ábrala."]


def test_text_left_in_its_original_is_not_measured(tmp_path):
    source = next(f for f in DEMO_FOLDERS if f.name == "marisol-quenneville-tran")
    shutil.copytree(source, tmp_path / source.name)
    (tmp_path / source.name / "es.toml").unlink()
    left, whole = guide(assess(tmp_path / source.name)), guide(assess(source))
    assert left.readings()["guide"].n_words < whole.readings()["guide"].n_words - 300
    assert not [piece for piece in read_text(left.trees["guide"]) if "[en inglés:" in piece]


def test_a_build_names_a_long_sentence_and_a_guide_that_is_hard_to_read(tmp_path):
    source = next(f for f in DEMO_FOLDERS if f.name == "pilar-nakashima-holt")
    target = tmp_path / source.name
    shutil.copytree(source, target)
    assert len(guide(assess(target)).remarks()) == 1
    long = "Configuración individualizada " * 12 + "correspondiente."
    phrases = re.sub(
        r'(?m)^("Each knee meets the front edge.*?" = ).*$',
        rf'\1"{long * 40}"',
        (source / "es.toml").read_text(encoding="utf-8"),
    )
    (target / "es.toml").write_text(phrases, encoding="utf-8")
    said = guide(assess(target)).remarks()
    assert re.search(r"guide reads muy difícil \(INFLESZ -?\d+, and 65 or more is wanted\)$", said[0])
    assert said[1].startswith(
        'es: guide has a sentence of more than 20 words; shorten it: "Configuración individualizada'
    )
