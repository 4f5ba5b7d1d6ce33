"""What `values_are_usual` says of each record."""

from __future__ import annotations

from datetime import date

from gathered import of_each
from records import Records
from whole_case import GONE, ROWS, WHOLE, ask, changed, grounds

BORN = ("client.born_on", date(2016, 11, 2))
LESSON = {"date": date(2026, 8, 10), "stage": 3, "task": "left", "success": True}
BY = {"by": "ot", "on": date(2026, 4, 2)}


def rows(**columns: object) -> list[dict[str, object]]:
    """The rows of the whole case with these columns on the first."""
    return [ROWS[0] | columns, *ROWS[1:]]


def confirmed(of: str, *values: object) -> tuple[str, object]:
    """A change that says who looked a value up again."""
    return ("confirmed", [{"of": of, "values": list(values), **BY}])


RECORDS = Records(
    "values_are_usual",
    met=[
        ("the whole case", []),
        ("245 kg, looked up", [("client.weight_kg", 245), BORN, confirmed("client.weight_kg", 245)]),
        ("a release, looked up", [confirmed("trial.release_s", 0.03)], rows(release_s=0.03)),
        ("200 kg on a base for that", [("client.weight_kg", 200), ("configuration.chair.base_code", "K0859")]),
        (
            "one value, looked up",
            [(key, GONE) for key in WHOLE if key not in ("format", "id", "client")]
            + [("client", {"name": "Robin Example", "weight_kg": 61})],
            [],
        ),
        ("a threshold that there is none of", [("spaces.0.threshold_mm", 0)]),
        (
            "four releases faster than anyone",
            [],
            [row | {"release_s": 0.16 if at < 4 else None} for at, row in enumerate(ROWS)],
        ),
        ("releases as fast as anyone", [], [row | {"release_s": 0.2} for row in ROWS]),
    ],
    not_met=[
        ("245 kg at nine years", [("client.weight_kg", 245), BORN]),
        ("another weight than the one looked up", [("client.weight_kg", 254), confirmed("client.weight_kg", 245)]),
        ("200 kg on a standard base", [("client.weight_kg", 200), ("client.height_mm", 1650)]),
        ("a deceleration of 8", [("configuration.chair.deceleration_m_s2", 8)]),
        ("a release of 0.03 s", [], rows(release_s=0.03)),
        ("releases of 0.03 s and 0.04 s", [], [*rows(release_s=0.04)[:1], ROWS[1] | {"release_s": 0.03}, *ROWS[2:]]),
        (
            "releases from 0.16 to 0.18 s",
            [],
            [row | {"release_s": 0.18 if at % 2 else 0.16} for at, row in enumerate(ROWS)],
        ),
        (
            "lessons with fast releases",
            [("sessions", [LESSON | {"release_s": seconds} for seconds in (0.16, 0.16, 0.17, 0.17, 0.19, None)])],
        ),
        ("more than the release looked up", [confirmed("trial.release_s", 0.04)], rows(release_s=0.03)),
        ("releases as fast as any may be", [], [row | {"release_s": 0.15} for row in ROWS]),
        ("half of the releases faster than anyone", [], [row | {"release_s": 0.16} for row in ROWS]),
        (
            "five releases faster than anyone",
            [],
            [row | {"release_s": 0.16 if at < 5 else None} for at, row in enumerate(ROWS)],
        ),
        (
            "releases faster than anyone, and one that cannot be",
            [],
            [row | {"release_s": 0.16 if at else 0.01} for at, row in enumerate(ROWS)],
        ),
        ("half of the releases faster than anyone by a hundredth", [], [row | {"release_s": 0.199} for row in ROWS]),
    ],
    cannot_tell=[
        ("nothing measured", [(key, GONE) for key in WHOLE if key not in ("format", "id")], []),
    ],
    rows_suffice=True,
)

test_each_record_gets_its_answer = RECORDS.test()


@of_each(
    ("changes", "columns", "named", "danger"),
    [
        ([("client.weight_kg", 245), BORN], {}, "ten times too large (24.5 kg)", True),
        ([("configuration.chair.deceleration_m_s2", 8)], {}, "ten times too large (0.8 m/s2)", True),
        ([], {"release_s": 0.04}, "ten times too small (0.4 s)", True),
        ([], {"release_s": 400}, "in milliseconds (0.4 s)", True),
        ([], {"minutes": 1200}, "in seconds (20 min)", False),
        ([("spaces.0.threshold_mm", 0.5)], {}, "in inches (12.7 mm)", False),
        ([("spaces.0.clear_ahead_mm", 47)], {}, "in inches (1194 mm)", True),
        ([("configuration.profiles.0.speed_m_s", 4)], {}, "in miles per hour (1.79 m/s)", True),
    ],
)
def test_the_slip_is_named_and_what_a_stop_or_a_load_rests_on_holds_the_packet(changes, columns, named, danger):
    answer = ask("values_are_usual", grounds(changed(*changes), rows(**columns)))
    assert (answer.status, answer.danger) == ("not_met", danger), answer.reason
    assert named in answer.reason
