"""Plausible random variations of the demos: other people, homes and chairs, none of them odd."""

from __future__ import annotations

import random
from datetime import timedelta
from functools import cache
from typing import Any

from msgspec.structs import replace
from support import DEMO_FOLDERS

from docgen.case.model import Case
from docgen.case.read import read_case
from docgen.criteria.criterion import Grounds
from docgen.evidence.gather import evidence
from docgen.fit.match import fit

QUESTIONS = ("values_are_usual", "values_agree", "years_fit")
_HOME = ("clear_width_mm", "threshold_mm", "wall_mm", "clear_ahead_mm", "turning_mm")


@cache
def _demo(number: int) -> Case:
    return read_case(DEMO_FOLDERS[number % len(DEMO_FOLDERS)]).case


def varied(seed: int) -> Grounds:
    """A demo, by the seed, in which every measure is another: the person as a whole larger or smaller and older or
    younger by up to a half year, each room, speed and time by itself up to a fifth, the days moved by weeks."""
    pick, case = random.Random(seed), _demo(seed)

    def near(value: Any, by: float = 0.2) -> Any:
        return None if value is None else round(value * pick.uniform(1 - by, 1 + by), 3)

    size, chair, client = pick.uniform(0.93, 1.07), case.configuration.chair, case.client
    client = client.model_copy(
        update={
            "height_mm": client.height_mm and round(client.height_mm * size),
            "weight_kg": client.weight_kg and round(client.weight_kg * size**2 * pick.uniform(0.9, 1.15), 1),
            "born_on": client.born_on and client.born_on + timedelta(days=pick.randrange(-180, 180)),
        }
    )
    chair = chair.model_copy(
        update={
            **{
                name: value and round(value * size)
                for name in ("seat_width_mm", "seat_depth_mm", "back_height_mm", "leg_mm")
                if (value := getattr(chair, name)) is not None
            },
            **{name: near(getattr(chair, name), 0.06) for name in ("width_mm", "length_mm", "turning_mm")},
            **{name: near(getattr(chair, name), 0.25) for name in ("electronics_delay_s", "deceleration_m_s2")},
        }
    )
    faster = pick.uniform(0.8, 1.25)  # the trial's chair, and with it every speed
    configuration = case.configuration.model_copy(
        update={
            "chair": chair,
            "profiles": tuple(
                p.model_copy(
                    update={
                        "speed_m_s": p.speed_m_s and round(p.speed_m_s * faster, 2),
                        "reverse_m_s": p.reverse_m_s and round(p.reverse_m_s * faster, 2),
                        "turn_deg_s": near(p.turn_deg_s),
                        "latch_timeout_s": near(p.latch_timeout_s),
                    }
                )
                for p in case.configuration.profiles
            ),
            "mounting": tuple(
                m.model_copy(
                    update={
                        "gap_mm": near(m.gap_mm),
                        "height_mm": m.height_mm and round(m.height_mm * size),
                        "angle_deg": m.angle_deg and max(-90, min(near(m.angle_deg), 90)),  # no further than sideways
                        "wide_mm": near(m.wide_mm),
                        "tall_mm": near(m.tall_mm),
                    }
                )
                for m in case.configuration.mounting
            ),
        }
    )
    methods = tuple(
        m.model_copy(update={"speed_m_s": m.speed_m_s and round(m.speed_m_s * faster, 2)}) for m in case.trial.methods
    )
    spaces = tuple(
        s.model_copy(
            update={
                **{name: near(getattr(s, name)) for name in _HOME},
                "slope_percent": near(s.slope_percent),
            }
        )
        for s in case.spaces
    )
    activities = tuple(
        a.model_copy(update={"minutes_before": near(a.minutes_before), "minutes_with": near(a.minutes_with)})
        for a in case.activities
    )
    weeks = timedelta(weeks=pick.randrange(0, 4))  # all lessons and attempts a little later
    rows = tuple(
        replace(
            row,
            date=row.date + weeks,
            release_s=near(row.release_s, 0.1),
            distance_m=near(row.distance_m),
            minutes=near(row.minutes),
        )
        for row in case.records
    )
    lessons = tuple(
        replace(row, date=row.date + weeks, release_s=near(row.release_s, 0.1), distance_m=near(row.distance_m))
        for row in case.sessions
    )
    changed = case.model_copy(
        update={
            "client": client,
            "configuration": configuration,
            "spaces": spaces,
            "activities": activities,
            "trial": case.trial.model_copy(update={"methods": methods}),
        }
    )
    changed = changed.with_records(rows).with_sessions(lessons)
    return Grounds(changed, evidence(changed), fit(changed, lambda *path: "case.toml:1"))
