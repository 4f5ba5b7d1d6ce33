"""The codes offered are those that the files of the requested features name, on the day that counts, and none is
chosen."""

from __future__ import annotations

from datetime import date

import pytest
from whole_case import GONE, changed, grounds

from docgen.case.heads import as_written
from docgen.case.model import Case
from docgen.codes.hcpcs import codes
from docgen.console.fit_codes import code_lines
from docgen.criteria.offered import lines_to_write, offered
from docgen.fit.feature import features


def _asked(*ids: str, **changes: object) -> Case:
    wanted = [{"id": feature, "because": []} for feature in ids]
    at = ("configuration.features", wanted)
    return grounds(changed(at, ("configuration.items", []), *changes.items())).case


def test_each_code_of_a_feature_asked_for_is_offered_with_the_feature():
    offers = {offer.code.id: offer.features for offer in offered(_asked("head_array", "proximity_sensing"))}
    for code_id, behind in offers.items():
        assert all(code_id in features()[feature].codes for feature in behind)
    assert offers["E2330"] == ("head_array", "proximity_sensing")
    assert "E2329" not in offers, "it senses by pushed switches, which were not asked for"


def test_the_sentence_writes_a_line_that_the_case_takes():
    case = _asked("proximity_sensing")
    assert lines_to_write(case) == (
        "The requested features usually rest in E2330; a line may be its code alone: "
        'code = "E2330" in [[configuration.items]].'
    )
    assert 'code = "E2330" in [configuration.items.NAME].' in as_written(
        lines_to_write(case), [("configuration", "items")]
    )
    raw = changed(("configuration.items", [{"code": "E2330"}]), ("configuration.features", []))
    assert grounds(raw).case.configuration.items[0].code == "E2330"


@pytest.mark.parametrize(
    ("motors", "connections"), [(1, {"E2310"}), (2, {"E2311"}), (3, {"E2311"}), (GONE, {"E2310", "E2311"})]
)
def test_of_two_connections_that_for_the_seat_motors_known_is_offered(motors, connections):
    case = _asked("seat_functions_by_drive_input", **{"configuration.chair.seat_actuators": motors})
    assert {offer.code.id for offer in offered(case) if offer.code.kind == "connection"} == connections


def test_no_second_control_is_offered_where_one_is_on_the_order():
    keys = (("configuration.items", ["E2330"]), ("configuration.features", [{"id": "head_array"}]))
    case = grounds(changed(*keys)).case
    assert [offer.code.id for offer in offered(case) if offer.code.kind == "control"] == ["E2330"]
    assert "E2330" not in lines_to_write(case)  # it stands on the order


def test_what_comes_with_the_base_offers_no_code():
    raw = changed(
        ("configuration.features", [{"id": "proximity_sensing", "with_base": True}]), ("configuration.items", [])
    )
    case = grounds(raw).case
    assert offered(case) == () and not lines_to_write(case)


@pytest.mark.parametrize(("day", "in_use"), [(date(2025, 3, 31), False), (date(2025, 4, 1), True), (None, None)])
def test_a_code_is_judged_by_the_day_that_counts(day, in_use):
    dated = next(code for code in codes().values() if code.from_on == date(2025, 4, 1) and code.status == "in_use")
    feature = next(name for name, known in features().items() if dated.id in known.codes)
    case = _asked(feature, **{"request.requested_on": GONE if day is None else day, "dates.ordered_on": GONE})
    assert next(offer.in_use for offer in offered(case) if offer.code.id == dated.id) is in_use
    assert (dated.id in lines_to_write(case)) is (in_use is not False)


def test_fit_prints_each_with_how_well_it_is_known():
    lines = " ".join(" ".join(code_lines(_asked("proximity_sensing"))).split())
    assert "E2330" in lines and "Not on the order" in lines and "text was read" in lines
    assert list(code_lines(_asked("standby"))) == []
