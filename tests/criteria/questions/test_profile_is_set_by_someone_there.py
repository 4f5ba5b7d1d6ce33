"""What `profile_is_set_by_someone_there` says of each record."""

from __future__ import annotations

from records import Records

SPACES = ("spaces", [{"id": name, "name": name, "kind": "corridor", "profile": name} for name in ("slow", "fast")])
HELPER = ("configuration.choose_by", "helper")


def alone(state: str) -> tuple[str, list[dict[str, str]]]:
    return ("supervision", [{"place": "at home", "level": "alone", "chair_state": state}])


RECORDS = Records(
    "profile_is_set_by_someone_there",
    met=[
        ("the driver changes it", [SPACES, ("configuration.choose_by", "driver"), alone("drives")]),
        ("a helper does, and nobody drives alone", [SPACES, HELPER, alone("off")]),
    ],
    not_met=[("only a helper does, and the client drives alone", [SPACES, HELPER, alone("drives")])],
    cannot_tell=[("no place is recorded", [("spaces", [])]), ("who changes it is not recorded", [SPACES])],
    does_not_apply=[("one profile for every place", [("spaces", SPACES[1][:1])])],
    ready={"does_not_apply": []},
    rests_on=("spaces",),
)

test_each_record_gets_its_answer = RECORDS.test()
