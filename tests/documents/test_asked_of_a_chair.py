"""What a technician or reviewer asks of a chair is told, and what the record lacks of it is a gap: mounts that move,
parts that a helper uses, commands and settings of the seat, the chair in use, the skin, the rules of the payer."""

from __future__ import annotations

import pytest
from msgspec.structs import replace
from support import ASSESSED

from docgen.case.model import Case
from docgen.case.who import Visit
from docgen.documents.parameters import settings
from docgen.documents.places import places
from docgen.fit.settings import drive_settings
from docgen.packet.trees import trees
from docgen.packet.wording import language_words

MARISOL, ILMARI, SAOIRSE = "marisol-quenneville-tran", "ilmari-okonjo-vale", "saoirse-villalobos-ng"
WORDS = language_words()


def page(name: str, document: str, change=lambda case: case) -> str:
    """The words of a document of a demo after a change of its case."""
    made = ASSESSED[name]
    case = change(made.file.case)
    with_case = replace(made, file=replace(made.file, case=case), grounds=replace(made.grounds, case=case))
    return " ".join(trees(with_case, [document])[document].plain().split())


def configured(**entries):
    """A change of the configuration: entries of its tables, made from those there are."""

    def change(case: Case) -> Case:
        now = case.configuration
        new = {name: make(getattr(now, name)) for name, make in entries.items()}
        return case.model_copy(update={"configuration": now.model_copy(update=new)})

    return change


def each(**update):
    """Every entry of a table with other values."""
    return lambda entries: tuple(entry.model_copy(update=update) for entry in entries)


def test_how_far_a_mount_swings_is_told_where_one_swings():
    mounts = ASSESSED[MARISOL].file.case.configuration.mounting
    assert sum(mount.swings is not None for mount in mounts) == 1
    assert "swings to the left: a bit more than a quarter turn; a lever without a tool holds it out and in" in page(
        MARISOL, "order"
    )
    lacking = page(MARISOL, "order", configured(mounting=each(swing=None)))
    assert lacking.count("swings to the left: not recorded: how far it swings") == 1
    assert "swings to" not in page(MARISOL, "order", configured(mounting=each(swings=None, swing=None)))


@pytest.mark.parametrize("part", ["helper_stop", "drive_lock", "seat_switch", "profile_switch", "display", "headrest"])
def test_how_a_part_that_a_technician_places_is_mounted_is_told_or_asked(part):
    of_part = next(row for row in ASSESSED[MARISOL].file.case.configuration.standard_parts if row.part == part)
    assert of_part.mounted and f"Mounted: {of_part.mounted}." in page(MARISOL, "order")
    assert page(MARISOL, "order").count("Mounted:") == 7  # and the phone, of which it is told but never asked
    lacking = page(MARISOL, "order", configured(standard_parts=each(mounted=None)))
    assert lacking.count("Mounted: not recorded: how it is mounted") == 6


def test_the_stop_of_a_helper_that_a_feature_asks_for_has_its_mounting_too():
    without = configured(standard_parts=lambda parts: tuple(part for part in parts if part.part != "helper_stop"))
    text = page(ILMARI, "order", without)
    assert "Attendant stop switch" in text and text.count("Mounted: not recorded: how it is mounted") == 1


@pytest.mark.parametrize(
    ("kept", "said"),
    [("held", "kept up while the seat moves"), ("once", "not kept up while the seat moves"), (None, "not recorded: ")],
)
def test_a_command_of_the_seat_says_whether_it_is_kept_up(kept, said):
    def change(case: Case) -> Case:
        commands = each(kept=kept)(case.sitting.commands)
        return case.model_copy(update={"sitting": case.sitting.model_copy(update={"commands": commands})})

    assert f"Seat: the seat goes backa hard puff, {said}" in page(MARISOL, "order", change)


@pytest.mark.parametrize(
    ("items", "shift", "lacking"),
    [
        (("E1007",), {}, {"recline_limit", "recline_speed"}),
        (("E1002",), {}, set()),  # tilt alone
        ((), {"recline_deg": 120}, {"recline_limit", "recline_speed"}),
        (("E1002",), {"tilt_deg": 35}, {"seat_stop"}),
    ],
)
def test_a_seat_that_reclines_or_shifts_weight_has_settings_of_its_own(items, shift, lacking):
    configuration = {
        "chair": {"seat_actuators": 2},
        "items": [{"id": f"item{at}", "name": "seat", "code": code} for at, code in enumerate(items)],
    }
    tables = {"format": "docgen case 1", "id": "robin", "configuration": configuration, "weight_shift": shift}
    case = Case.model_validate(tables, strict=False)
    ids = {setting.name: name for name, setting in drive_settings().items()}
    asked = {ids[row["name"]] for row in settings(case, WORDS) if row["name"] in ids and row["value"] is None}
    of_recline = {"recline_stop"} if "recline_limit" in lacking else set()
    assert asked & {"recline_limit", "recline_stop", "recline_speed", "seat_stop"} == lacking | of_recline


def test_the_delay_of_the_electronics_says_how_it_was_measured():
    assert "video, longest of ten stops; no parameter" in page(ILMARI, "order")

    def change(case: Case) -> Case:
        chair = case.configuration.chair.model_copy(update={"electronics_delay_how": None})
        return configured(chair=lambda _: chair)(case)

    assert "not recorded: how it was measured" in page(ILMARI, "order", change)


def test_the_tilt_for_driving_is_told_in_degrees_from_level():
    assert "Back to seat, then and when measured: 95 degrees." in page(ILMARI, "order").replace("\xa0", " ")
    assert "Tilt of the seat for driving, from level: 5 degrees." in " ".join(page(ILMARI, "order").split("\xa0"))


@pytest.mark.parametrize("name", [MARISOL, ILMARI, SAOIRSE])
def test_the_letter_tells_age_state_and_source_of_the_chair_in_use_or_marks_them(name):
    history = ASSESSED[name].file.case.request.chair_now_history
    assert history and history in page(name, "letter")

    def change(case: Case) -> Case:
        return case.model_copy(update={"request": case.request.model_copy(update={"chair_now_history": None})})

    missing = "missing: age, source, state of repair and hours on the meter of the chair in use now"
    if ASSESSED[name].file.case.request.chair_now_owned is False:
        missing = "missing: state of repair of the chair in use now, which is on loan"
    assert missing in page(name, "letter", change).lower()


@pytest.mark.parametrize(("name", "asked"), [(ILMARI, True), (SAOIRSE, True), (MARISOL, False)])
def test_why_no_weight_is_shifted_by_the_seat_is_told_or_marked(name, asked):
    """Where a finding says that the skin is at risk, the weight shift is told instead."""

    def change(case: Case) -> Case:
        return case.model_copy(update={"limits": tuple(limit for limit in case.limits if limit.kind != "skin")})

    assert ("no power tilt is requested" in page(name, "letter")) is asked
    assert ("missing: skin, feeling and weight shift as seated" in page(name, "letter", change).lower()) is asked


def test_letter_and_cover_tell_the_rules_that_were_looked_up_for_the_payer():
    rules = ASSESSED[MARISOL].file.case.request.local_rules
    assert rules and rules in page(MARISOL, "letter") and rules in page(MARISOL, "cover")


def test_the_place_with_the_least_room_is_in_the_letter_wherever_it_is():
    shown = list(
        places(ASSESSED[MARISOL].file.case, ASSESSED[MARISOL].evidence, language_words("en"), lambda fact: fact)
    )
    [tightest] = [place for place in shown if place["tightest"]]
    assert tightest["name"] == "elevator of the building"
    assert "The elevator of the building has" in page(MARISOL, "letter")
    assert "The chair stops within the space available" in page(MARISOL, "cover")


def test_the_cover_says_who_signed_each_paper():
    text = page(MARISOL, "cover")
    assert "Written order, complete and signed: Lorcan Adeyemi-Holt, MD" in text
    assert "Report of the specialty evaluation: Theodora Wexcombe-Nair, OTR/L" in text
    assert "Statement of no financial relationship, signed: Theodora Wexcombe-Nair, OTR/L" in text
    assert "ATP saw the client in person: Ignatius Farrow-Celik, ATP" in text


def test_the_places_of_the_trial_are_those_of_its_visits_where_it_names_none():
    def change(case: Case, known: int = 6) -> Case:
        days = sorted({row.date for row in case.tried})
        places = ["the corridor of the clinic"] * 2 + ["her home"] * 4
        visits = tuple(
            Visit(id=f"v{at}", on=day, place=place if at < known else None)
            for at, (day, place) in enumerate(zip(days, places, strict=True))
        )
        return case.model_copy(update={"visits": visits, "trial": case.trial.model_copy(update={"place": None})})

    assert (
        "on February 5 and 12, 2026 in the corridor of the clinic, and on February 19 and 26 and March 3 and 6, 2026 "
        "in her home."
    ) in page(MARISOL, "letter", change)
    assert "and on March 6, 2026 (missing: where it was held then)" in page(
        MARISOL, "letter", lambda case: change(case, known=5)
    )
    assert "in her home. Attempts" not in page(MARISOL, "letter", lambda case: change(case, known=5))
