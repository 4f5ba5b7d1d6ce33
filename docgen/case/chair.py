"""The chair that the control goes on: its codes, electronics, seat, sizes and braking."""

from datetime import date
from typing import Literal

from docgen.case import usual
from docgen.case.base import (
    Degrees,
    DiagnosisCode,
    Millimetres,
    Modifiers,
    Part,
    Seconds,
    Words,
    key,
)
from docgen.case.privacy import Privacy
from docgen.case.usual import Usual


class Chair(Part):
    """The chair the control goes on."""

    name: Words | None = key(Privacy.DEVICE, "chair in plain words", "a mid-wheel-drive power chair with power tilt")
    base_code: str | None = key(Privacy.ORDER, "procedure code of the base", "K0861", pattern=r"^[A-Z][0-9]{4}$")
    why: Words | None = key(
        Privacy.ORDER, "why this base, tied to this client", "Turns in the hall; its electronics accept the head array."
    )
    diagnosis_codes: tuple[DiagnosisCode, ...] = key(
        Privacy.BILLING, "codes of the diagnoses that the base answers", ["G14"], default=(), max_length=12
    )
    modifier: Modifiers | None = key(Privacy.ORDER, "claim modifiers of the base", "KX")
    payer_says: Words | None = key(
        Privacy.ORDER, "what the payer answered about the base, word for word", "APPROVED 1 EA"
    )
    payer_said_on: date | None = key(Privacy.ORDER, "date of the payer's answer about the base", date(2026, 5, 4))
    electronics_now: Words | None = key(
        Privacy.DEVICE,
        "electronics that the chair already there has, where a control alone is requested",
        "expandable controller of 2024 with one free port",
    )
    takes_input: bool | None = key(Privacy.DEVICE, "whether the electronics already there take another input", True)
    electronics_added: Words | None = key(
        Privacy.DEVICE,
        "what must be added to the electronics already there, or replaced; that nothing must, where that is so",
        "a harness for the pads; nothing is replaced",
    )
    blends_commands: bool | None = key(
        Privacy.DEVICE,
        "whether its electronics blend two commands of switches into one movement, or take one after the other",
        True,
    )
    brief: Words | None = key(
        Privacy.ORDER, "why this base, in a few words for the table of equipment", "Neurological; turns in the hall"
    )
    seat_actuators: int | None = key(
        Privacy.DEVICE, "motors that move the seat: tilt, recline, legs, elevation", 2, ge=0, le=12
    )
    seat_type: Literal["sling_or_solid", "captains"] | None = key(Privacy.DEVICE, "seat of the base", "sling_or_solid")
    seat_width_mm: float | None = key(
        Privacy.DEVICE, "width of the seat in mm", 410, gt=100, lt=1000, usual=Usual(200, 700, usual.CHAIRS)
    )
    seat_depth_mm: float | None = key(
        Privacy.DEVICE, "depth of the seat in mm", 430, gt=100, lt=1000, usual=Usual(180, 650, usual.CHAIRS)
    )
    back_height_mm: float | None = key(
        Privacy.DEVICE,
        "height of the back above the seat in mm",
        510,
        gt=100,
        lt=1200,
        usual=Usual(200, 900, usual.CHAIRS),
    )
    leg_mm: float | None = key(
        Privacy.DEVICE, "seat to footplate in mm", 400, gt=50, lt=800, usual=Usual(120, 600, usual.CHAIRS)
    )
    sizes_to: Literal["frame", "surface"] | None = key(
        Privacy.DEVICE,
        "what seat depth, back height and the way to the footplate are measured to: the bare pan and posts, or the "
        "cushion and back on them",
        "frame",
    )
    details: Words | None = key(
        Privacy.DEVICE,
        "what else is decided of the base: color, batteries, wheels, seat height, handles, charger port, gauge, horn",
        "Blue; seat pan 450 mm above the floor; solid tires; two push handles of one height.",
    )
    cushion: Words | None = key(
        Privacy.DEVICE, "cushion and back: new or taken over", "His own cushion and back will be reused."
    )
    cushion_reused: bool | None = key(
        Privacy.DEVICE, "whether cushion or back are reused from the chair in use now", True
    )
    back_hung: Words | None = key(
        Privacy.DEVICE,
        "how high above the pan a back of the client's own hangs, and on what",
        "Its lower edge is 90 mm above the pan; its hardware is on the posts.",
    )
    width_mm: float | None = key(
        Privacy.DEVICE, "overall width in mm", 640, gt=200, lt=1500, usual=Usual(480, 850, usual.CHAIRS)
    )
    length_mm: float | None = key(
        Privacy.DEVICE, "overall length in mm", 1100, gt=300, lt=2500, usual=Usual(600, 1500, usual.CHAIRS, bears=True)
    )
    turning_mm: float | None = key(
        Privacy.DEVICE, "turning diameter in mm", 1250, gt=300, lt=5000, usual=Usual(700, 2500, usual.CHAIRS)
    )
    most_tilt_deg: Degrees | None = key(
        Privacy.DEVICE,
        "furthest tilt of the seat in degrees, as its manufacturer states",
        50,
        usual=Usual(10, 65, usual.PRACTICE),
    )
    tilt_asked_deg: Degrees | None = key(
        Privacy.DEVICE,
        "furthest tilt of the seat that is asked for, in degrees",
        50,
        usual=Usual(10, 65, usual.PRACTICE),
    )
    climbs_mm: float | None = key(
        Privacy.DEVICE,
        "highest threshold it takes in mm, as its manufacturer states",
        50,
        ge=0,
        lt=300,
        usual=Usual(10, 150, usual.CHAIRS, or_none=True),
    )
    most_slope_percent: float | None = key(
        Privacy.DEVICE,
        "steepest slope it takes in percent, as its manufacturer states",
        10.5,
        ge=0,
        le=60,
        usual=Usual(5, 30, usual.PRACTICE),
    )
    axle_to_front_mm: float | None = key(
        Privacy.DEVICE,
        "drive axle to the foremost point in mm",
        540,
        ge=0,
        lt=2500,
        usual=Usual(100, 1300, usual.CHAIRS),
    )
    figures_from: Words | None = key(
        Privacy.DEVICE, "which chair its sizes and its braking were measured on", "the clinic's trial chair"
    )
    electronics_delay_s: Seconds | None = key(
        Privacy.DEVICE,
        "delay from input off to braking, measured, in s",
        0.15,
        usual=Usual(0.03, 0.8, usual.BRAKING, bears=True, or_none=True),
    )
    electronics_delay_how: Words | None = key(
        Privacy.DEVICE, "how that delay was measured", "from video, longest of ten stops"
    )
    deceleration_m_s2: float | None = key(
        Privacy.DEVICE,
        "deceleration in m/s2, measured on the chair",
        0.8,
        ge=0.01,
        lt=10,
        usual=Usual(0.25, 4, usual.BRAKING, bears=True),
    )
    braked_mm: Millimetres | None = key(
        Privacy.DEVICE,
        "longest stop measured on the level, from the input that ends to standing, in mm",
        700,
        usual=Usual(100, 8000, usual.PRACTICE, bears=True),
    )
    braked_from_m_s: float | None = key(
        Privacy.DEVICE,
        "speed from which that stop was measured, in m/s",
        0.9,
        ge=0.01,
        lt=5,
        usual=Usual(0.08, 2.8, usual.SPEED, bears=True),
    )
    braked_how: Words | None = key(
        Privacy.DEVICE,
        "how that stop was measured, by whom and when",
        "by the supplier's specialist on October 13, 2026",
    )
    turn_deceleration_deg_s2: float | None = key(
        Privacy.DEVICE,
        "how fast a turn slows, in degrees/s2",
        120,
        ge=0.1,
        lt=5000,
        usual=Usual(15, 1000, usual.PRACTICE, bears=True),
    )
    speed_step_m_s: float | None = key(
        Privacy.DEVICE,
        "smallest step of the speed setting in m/s",
        0.05,
        ge=0.001,
        lt=1,
        usual=Usual(0.01, 0.25, usual.PRACTICE, bears=True),
    )
