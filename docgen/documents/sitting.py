"""How the client sits, the weight shift besides its numbers, and a seat that moves, as guide and plan tell them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TypedDict

from docgen.case.base import Part
from docgen.case.model import Case
from docgen.case.sitting import AfterMove, SeatCommand, Sitting
from docgen.case.tried import Method
from docgen.documents.emergency import cleared_by
from docgen.documents.made_from import made_from
from docgen.documents.measures import Words
from docgen.fit.match import Fit
from docgen.fit.seat import moves_by_drive, needs_seat, needs_shift

MADE_FROM = {
    "posture": made_from("sitting.pelvis", "configuration.seat_deg"),
    "shift": made_from(
        "weight_shift",
        rests="configuration.settings",
        stays="sitting.stays_chosen",
        clears=("emergency.restart_by", "people.name", "people.relation", "people.phone"),
    ),  # that the skin is at risk, whoever helps daily sees
    "seat": made_from("sitting"),  # which features a control has is seen on the chair
    "shift_clock": made_from("weight_shift.every_min"),
    "seat_trial": made_from("trial.methods"),
    "seat_commands": made_from("sitting.commands"),
}


_DAY_MIN = 24 * 60


class Posture(TypedDict):
    """How the client sits as measured; `recorded` whether any of it is. The angle is that of the seat in use."""

    recorded: bool
    pelvis: str | None
    trunk: str | None
    head: str | None
    belts: str | None
    marks: str | None
    effect: str
    seat_deg: float | None
    _labels: dict[str, str]


class Shift(TypedDict):
    """The weight shift besides its numbers.

    wanted    it was set, or a finding or condition calls for one
    recorded  any of it is, so that what is not stands out one by one
    own       the client does it
    rests     the control goes into rest by itself before the hold is over
    stays     whether the seat stays chosen until then; None where the control may rest and nobody recorded it
    ticked    a time of the log's boxes, as an example, and `due` the one after it; empty where nobody set how often
    clears    who must say, after an emergency, that driving may begin again, in this order
    """

    wanted: bool
    recorded: bool
    own: bool
    ticked: str
    due: str
    rests: bool
    stays: bool | None
    clears: tuple[str, ...]
    _labels: dict[str, str]


class ClockHour(TypedDict):
    """Times of a day at which a weight shift is due: the first one, the half of the day where it begins, and a box for
    each time until the next label."""

    half: str
    label: str
    boxes: tuple[str, ...]


class Seat(TypedDict):
    """A seat that moves: what the drive does meanwhile, and what comes before the next drive.

    moves      it moves at all
    by_drive   the drive control moves it
    needed     a weight shift or an emergency needs it, also of a chair that must stay off
    switch     a helper's switch that moves it, and where it is; empty where none is recorded
    """

    moves: bool
    by_drive: bool
    meanwhile: str | None
    stuck: str | None
    no_power: str
    while_off: str | None
    not_at_all: str | None
    needed: bool
    switch: str
    reached: str | None
    restart: str | None
    decides: str | None
    _labels: dict[str, str]


def sitting_tables(case: Case, fit: Fit, words: Words) -> dict[str, object]:
    """All tables of this module."""
    return {
        "posture": posture(case),
        "shift": shift(case, words),
        "seat": seat(case, fit),
        "shift_clock": tuple(shift_clock(case.weight_shift.every_min)),
        "seat_trial": seat_trial(case),
        "seat_commands": tuple(seat_commands(case)),
    }


def posture(case: Case) -> Posture:
    """How the client sits as measured."""
    sits = case.sitting
    return {
        "recorded": any((sits.pelvis, sits.trunk, sits.head, sits.belts, sits.marks)),
        "pelvis": sits.pelvis,
        "trunk": sits.trunk,
        "head": sits.head,
        "belts": sits.belts,
        "marks": sits.marks,
        "effect": sits.effect or "",
        "seat_deg": case.configuration.seat_deg,
        "_labels": _labels(Sitting) | {"seat_deg": "tilt of the seat for driving in degrees"},
    }


def shift(case: Case, words: Words) -> Shift:
    """The weight shift besides its numbers, which stand in the case's own table."""
    recorded = not case.weight_shift.is_empty
    own, hold_min, rests_s = case.weight_shift.starts == "driver", case.weight_shift.hold_min, standby_s(case)
    may_rest = own and hold_min is not None and rests_s is not None and rests_s < hold_min * 60
    stays = case.sitting.stays_chosen
    times = [time for hour in shift_clock(case.weight_shift.every_min) for time in hour["boxes"]]
    early_afternoon = len(times) * 7 // 12
    ticked, due = times[early_afternoon : early_afternoon + 2] if len(times) > 1 else ("", "")
    return {
        "wanted": recorded or (needs_shift(case) and not case.sitting.leans),
        "recorded": recorded,
        "own": own,
        "ticked": ticked,
        "due": due,
        "rests": may_rest and stays is False,
        "stays": stays if may_rest else True,
        "clears": cleared_by(case, words),
        "_labels": {"stays": Sitting.model_fields["stays_chosen"].description or ""},
    }


def shift_clock(every_min: float | None) -> Iterator[ClockHour]:
    """Every time of a whole day at which a shift is due where each keeps to the clock: whichever hours somebody sits,
    there is a box for each, and nobody has to add minutes. Times that come alike each hour share the hour's label."""
    if every_min is None or every_min < 1:
        return
    step_min = int(every_min)
    shared = 60 // step_min if 60 % step_min == 0 else 1
    half = ""
    for minute in range(0, _DAY_MIN, step_min * shared):
        before, half = half, "am" if minute < _DAY_MIN // 2 else "pm"
        times = tuple(_clock(minute + nth * step_min) for nth in range(shared))
        label = times[0].removesuffix(":00")
        yield {"half": half if half != before else "", "label": label, "boxes": times}


def _clock(minute: int) -> str:
    """A time of day by the clock with twelve hours, without its half: 130 is "2:10"."""
    return f"{(minute // 60 - 1) % 12 + 1}:{minute % 60:02d}"


def standby_s(case: Case) -> float | None:
    """After how many seconds without a signal the control rests by itself; None where no such time is recorded."""
    settings = case.configuration.settings
    return next((entry.timeout_s for entry in settings if entry.setting == "standby_timeout"), None)


def seat(case: Case, fit: Fit) -> Seat:
    """What a move of the seat asks of those around."""
    sits = case.sitting
    by_drive = moves_by_drive(case, fit)
    return {
        "moves": by_drive or not case.weight_shift.is_empty or not sits.after.is_empty,
        "by_drive": by_drive,
        "meanwhile": sits.drive_meanwhile,
        "stuck": sits.stuck,
        "no_power": sits.no_power or "",
        "while_off": sits.while_off,
        "not_at_all": sits.not_at_all,
        "needed": needs_seat(case),
        "switch": sits.seat_switch or "",
        "reached": sits.after.reached,
        "restart": sits.after.restart,
        "decides": sits.after.decides,
        "_labels": _labels(Sitting)
        | _labels(AfterMove)
        | {"meanwhile": Sitting.model_fields["drive_meanwhile"].description or ""},
    }


class SeatCommandTold(TypedDict):
    """A command that moves the seat; `any_of` it is one of several at this place, and `begins` the first of these."""

    moves: str
    input: str
    kept: str | None
    hear: str
    any_of: bool
    begins: bool
    _labels: dict[str, str]


def seat_commands(case: Case) -> Iterator[SeatCommandTold]:
    """The commands in their order; those that are alternatives of one another stand together."""
    was_any = False
    for command in case.sitting.commands:
        yield {
            "moves": command.moves,
            "input": command.input,
            "kept": command.kept,
            "hear": command.hear or "",
            "any_of": bool(command.any_of),
            "begins": bool(command.any_of) and not was_any,
            "_labels": {"kept": SeatCommand.model_fields["kept"].description or ""},
        }
        was_any = bool(command.any_of)


class SeatTrial(TypedDict):
    """The tilt of the seat in the trial of the requested control, in degrees."""

    deg: float | None
    _labels: dict[str, str]


def seat_trial(case: Case) -> SeatTrial:
    """The tilt of the seat in the trial of the requested control, in degrees."""
    method = case.requested_method
    label = Method.model_fields["seat_deg"].description or ""
    return {"deg": method.seat_deg if method else None, "_labels": {"deg": label}}


def _labels(model: type[Part]) -> dict[str, str]:
    return {name: field.description or name for name, field in model.model_fields.items()}
