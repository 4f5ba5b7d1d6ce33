"""The words of both languages: few spelled alike, each with the same places to fill, none of another chair."""

from __future__ import annotations

import re
from importlib import import_module
from string import Formatter

from gathered import of_each
from hypothesis import example, given, settings
from hypothesis import strategies as st
from languages.spanish import assessed, guide
from languages.spanish_words import DEMOS, ENGLISH, FEATURES, OURS, SAME, SPANISH, STEPS
from msgspec.structs import replace
from support import assess

from docgen.fit.condition import conditions
from docgen.packet.wording import _under
from docgen.packet.wording import wording as wording_of

OWN_TABLES = {"original", "original_means", "page", "labels"}  # of a language other than English alone


def patterns(node, path=()):
    """Key path -> text or list of a table of words."""
    for key, value in node.items():
        if isinstance(value, dict):
            yield from patterns(value, (*path, key))
        else:
            yield (*path, key), value


def places(pattern):
    return {name for _, name, _, _ in Formatter().parse(pattern) if name is not None}


def test_the_words_of_both_languages_are_the_few_that_are_spelled_alike():
    assert OURS["en"] & OURS["es"] <= SAME


ENGLISH_PATTERNS = dict(patterns(ENGLISH)) | {
    ("emergency_labels", f"{name}.{question.id}"): question.on_page or question.on_card
    for name, condition in conditions().items()
    for question in condition.asks
    if question.on_page or question.on_card
}


@of_each(
    "path, value",
    [(path, value) for path, value in patterns(SPANISH) if path[0] not in OWN_TABLES],
    ids=lambda v: ".".join(v) if isinstance(v, tuple) else "",
)
def test_a_spanish_word_stands_for_an_english_one_with_the_same_places_to_fill(path, value):
    english = ENGLISH_PATTERNS[path]
    assert type(value) is type(english)
    if isinstance(value, list):
        assert len(value) == len(english)
    else:
        assert places(value) == places(english)


@DEMOS
def test_each_english_word_that_a_spanish_guide_needs_has_a_spanish_one(source, monkeypatch):
    """Every word that Spanish lacks is put in as one that cannot be missed, and is on no page."""

    def lost(node):
        if isinstance(node, dict):
            return {key: lost(value) for key, value in node.items()}
        return [lost(one) for one in node] if isinstance(node, list) else "ENGLISH" if isinstance(node, str) else node

    from docgen.documents.phrase import filters, missing

    module = import_module("docgen.packet.languages")

    marked = _under(lost(ENGLISH), SPANISH)
    own = wording_of("es")
    other = replace(own, words=marked)
    monkeypatch.setattr(module, "wording", lambda lang: other)
    before = dict(own.environment.filters), dict(own.environment.globals)
    own.environment.filters |= filters(marked)
    own.environment.globals["gap"] = missing(marked)
    own.environment.cache.clear()
    try:
        one = module.in_language(assess(source), "es")
        pages = " ".join(page.decode() for page in one.render(["html"]).values())
    finally:
        own.environment.filters, own.environment.globals = before
        own.environment.cache.clear()
    assert "Pare la silla" in pages and "Guía diaria" in pages and "Registro" in pages
    assert "ENGLISH" not in pages


def test_each_name_and_care_step_in_spanish_is_of_a_feature_and_whole():
    assert set(STEPS) <= set(FEATURES)
    for name, step in STEPS.items():
        assert set(step) == {"plain", "care"}, name
        assert step["care"].endswith(".") and not step["plain"].endswith("."), name


def of_kind(kind):
    """Features that bring this into daily use."""
    return {name for name, feature in FEATURES.items() if kind in feature.kinds}


BREATH = of_kind("breath")
# words for a part -> features of which one must be asked for before the guide itself may say them
WORDS_OF = {
    r"\balmohadilla": of_kind("pads"),
    r"boquilla|\b[Ss]oplo|\b[Ss]orbo|\blabios|\btubo (?:no|está)|el tubo\b": BREATH,
    r"joystick": of_kind("stick"),
    r"cada mano|[Uu]n dedo|Ningún dedo": of_kind("fingers"),
    r"bisagra": of_kind("swing"),
    r"\b[Dd]escanso\b|\b[Aa]ctívela": of_kind("rest"),
    r"hace otra cosa|Regrese a manejar": of_kind("jobs"),
    r"\binclinad|Suba el asiento": of_kind("tilt"),
    r"seguir sola|marcha continua": {"latched_drive"},
    r"\bzapato": of_kind("shoe"),
    r"\bbarbilla\b|\bmejilla\b|\brodilla\b|\brayo|\blente\b|\bpantalla\b|\bmúsculo|\bsensor": set(),
}


@settings(max_examples=40, deadline=None)
@given(st.sets(st.sampled_from(sorted(FEATURES)), max_size=9), st.booleans())
@example(set(), False)
@example({"head_array", "proximity_sensing", "standby", "swing_away_mount"}, True)
@example({"pneumatic_four_command", "latched_drive", "stop_switch"}, False)
def test_the_spanish_guide_brings_the_care_of_each_feature_and_speaks_of_no_other(asked, marked):
    stop = {"driver": "p", "stop_switch": "q", "power_off": "r", "helper": "s", "freewheel": "t"}
    mounting = ({"id": "one", "part": "m", "site": "other", "at": "n", "gap_mm": 9, "mark": "o"},) if marked else ()
    one = assessed(
        client={"called": "Robin"},
        configuration={
            "works": "x",
            "swing": "y" if "swing_away_mount" in asked else None,
            "stop": stop,
            "features": tuple({"id": name, "because": ()} for name in sorted(asked)),
            "mounting": mounting,
        },
    )
    foreign = guide(one)
    text = foreign.trees["guide"].plain()
    for name in sorted(asked - STEPS.keys()):
        assert f"[en inglés: «{FEATURES[name].care.rstrip('.')}" in text, name
        text = text.replace(FEATURES[name].care, "")
    for name in STEPS:
        assert (STEPS[name]["care"] in text) == (name in asked), name
        plain = STEPS[name]["plain"]
        text = text.replace(STEPS[name]["care"], "").replace(f"{plain[:1].upper()}{plain[1:]}.", "")
    for said_of, owners in WORDS_OF.items():
        assert owners & asked or not re.search(said_of, text), (
            said_of,
            re.search(rf".{{30}}(?:{said_of}).{{30}}", text, re.S),
        )
    assert ("Revise cada marca" in text) == marked
    assert ("Solo Robin usa esta boquilla" in text) == bool(BREATH & asked)
    assert ("Esta silla tiene marcha continua" in text) == ("latched_drive" in asked)
    assert ("Use el descanso en cada parada" in text) == ("standby" in asked)
