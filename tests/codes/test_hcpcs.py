"""Procedure codes as data: published sets, the days codes begin and end, nothing judged that is not known."""

from __future__ import annotations

from datetime import date

import pytest
from gathered import of_each

from docgen.codes import hcpcs
from docgen.fit.feature import features

# article A52504 (export of 2026-09-12), text read: which bases take E2377, and what each control includes
UPGRADABLE = {
    "K0835",
    "K0843",
    "K0848",
    "K0864",
    "K0868",
    "K0871",
    "K0877",
    "K0880",
    "K0884",
    "K0886",
    "K0890",
    "K0891",
}
NOT_UPGRADABLE = {"K0813", "K0816", "K0820", "K0823", "K0829", "K0831"}


@pytest.mark.parametrize(
    ("kind", "wanted"),
    [
        # electronics clarification of one contractor, list in its reprints of 2010 and 2011
        ("control", {"E2325", "E2327", "E2328", "E2329", "E2330", "E2312", "E2321", "E2373", "E2322"}),
        # joint contractor notice of 2025-03-13
        ("hardware", {"E1028", "E1032", "E1033", "E1034"}),
        # article A52504: one code for one seat motor, one for two or more
        ("connection", {"E2310", "E2311"}),
    ],
)
def test_the_codes_of_a_kind_are_those_published(kind, wanted):
    assert hcpcs.of_kind(kind) == wanted


@pytest.mark.parametrize(
    ("part", "wanted"),
    [
        # article A52504, text read
        ("stop_switch", {"E2321", "E2322", "E2325", "E2329", "E2330"}),
        ("direction_switch", {"E2322", "E2327", "E2329", "E2330"}),
        ("head_array", {"E2329", "E2330"}),
        ("swing_away_mounting", {"E2325"}),
    ],
)
def test_what_controls_include_is_what_the_article_says(part, wanted):
    assert {code.id for code in hcpcs.codes().values() if part in code.includes} == wanted


def test_half_of_the_controls_are_proportional_as_their_texts_say():
    # CMS code file of 2019 and list of 2025: the texts say proportional or not
    nature = {code.id: code.proportional for code in hcpcs.codes().values() if code.kind == "control"}
    assert {c for c, proportional in nature.items() if proportional} == {"E2312", "E2373", "E2327", "E2328"}
    assert {c for c, proportional in nature.items() if proportional is False} == {
        "E2321",
        "E2322",
        "E2325",
        "E2329",
        "E2330",
    }


def test_replacement_codes_are_those_the_article_names():
    # article A52504 and the texts of the codes
    assert {c.id for c in hcpcs.codes().values() if c.status == "for_repair"} == {"E2374", "E2375", "E2376", "E2378"}


@pytest.mark.parametrize(
    ("code", "last_out", "first_in"),
    [
        ("E1032", date(2025, 3, 31), date(2025, 4, 1)),  # joint contractor notice of 2025-03-13
        ("E1033", date(2025, 3, 31), date(2025, 4, 1)),
        ("E1034", date(2025, 3, 31), date(2025, 4, 1)),
        ("E2298", date(2024, 3, 31), date(2024, 4, 1)),  # article A52504
    ],
)
def test_a_code_begins_on_its_day(code, last_out, first_in):
    assert not hcpcs.code(code).in_use(last_out) and hcpcs.code(code).in_use(first_in)


def test_the_former_code_of_seat_elevation_ends_the_day_before_the_new_one_begins():
    # article A52504: from 2024-04-01
    assert hcpcs.code("E2300").in_use(date(2024, 3, 31)) and not hcpcs.code("E2300").in_use(date(2024, 4, 1))


@of_each(
    ("code", "motors"),
    [
        # texts of the codes; E1005 and E1012 by inference, E1010 must be stated
        ("E1002", 1),
        ("E1003", 1),
        ("E1004", 1),
        ("E1005", 2),
        ("E1006", 2),
        ("E1007", 2),
        ("E1008", 3),
        ("E1009", 0),
        ("E1010", None),
        ("E1012", 1),
        ("E2298", 1),
    ],
)
def test_a_seating_code_brings_its_motors(code, motors):
    assert hcpcs.code(code).motors == motors


@of_each(
    ("code", "group", "options", "captains", "weight_class", "heaviest", "upgradable", "authorization"),
    [
        # LCD L33789 revision 9, article A52504, authorization list of 2026-07-29, all read
        ("K0823", 2, "none", True, "standard", 300, False, True),
        ("K0829", 2, "none", True, "extra_heavy", None, False, True),
        ("K0836", 2, "single", True, "standard", 300, True, True),
        ("K0843", 2, "multiple", False, "heavy", 450, True, True),
        ("K0848", 3, "none", False, "standard", 300, True, True),
        ("K0856", 3, "single", False, "standard", 300, True, True),
        ("K0857", 3, "single", True, "standard", 300, True, True),
        ("K0861", 3, "multiple", False, "standard", 300, True, True),
        ("K0863", 3, "multiple", False, "very_heavy", 600, True, True),
        ("K0877", 4, None, False, "standard", 300, True, False),
        ("K0890", 5, "single", False, "pediatric", 125, True, False),
        ("K0891", 5, "multiple", False, "pediatric", 125, True, False),
    ],
)
def test_a_base_is_what_the_published_lists_say(
    code, group, options, captains, weight_class, heaviest, upgradable, authorization
):
    assert hcpcs.base(code) == hcpcs.Base(
        code, group, options, captains, weight_class, hcpcs.base(code).lightest_lb, heaviest, upgradable, authorization
    )


def test_bases_that_take_the_controller_are_those_of_the_article():
    upgradable = {one.id for one in hcpcs.bases().values() if one.upgradable}
    assert upgradable >= UPGRADABLE and not upgradable & NOT_UPGRADABLE
    assert len(upgradable) == 9 + 17 + 4 + 4 + 3 + 2  # K0835-43, K0848-64, K0868-71, K0877-80, K0884-86, K0890-91


@pytest.mark.parametrize("code", ["E9999", "K9999", "", None, "e2330"])
def test_a_code_that_is_not_in_the_list_is_not_judged(code):
    assert hcpcs.code(code) is None and hcpcs.base(code) is None


def test_every_code_named_by_another_has_the_form_of_a_code_and_every_feature_exists():
    for code in hcpcs.codes().values():
        named = {*code.contains, *code.conflicts_with, *(one for group in code.pairs_with for one in group)}
        assert all(len(one) == 5 and one[0] in "EK" and one[1:].isdigit() for one in named), code.id
        assert set(code.senses) <= set(features()), code.id
        assert code.known in ("read", "passage", "summary", "memory", "inference") and code.source


def test_conflicts_are_told_on_both_sides():
    for code in hcpcs.codes().values():
        for other in code.conflicts_with:
            assert code.id in hcpcs.code(other).conflicts_with
