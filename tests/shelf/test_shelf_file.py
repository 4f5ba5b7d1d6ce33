"""A shelf as read from a file or a folder: each mistake with its file and line, and what is unknown stays so."""

from __future__ import annotations

import pytest

from docgen.errors import UserError
from docgen.shelf.read import SHIPPED, read_shelf, shipped_shelf

STICK = """format = "docgen shelf 1"
with_any = ["stop_switch"]
with_none = ["breakaway_mount"]

[devices.stick]
name = "a joystick by hand"
kind = "stick_by_hand"
sites = ["hand"]
drives = ["proportional_control"]
has = ["swing_away_mount"]
"""


def problems(path):
    with pytest.raises(UserError) as told:
        read_shelf(path)
    return [str(problem) for problem in told.value.problems]


@pytest.fixture
def write(tmp_path):
    def written(text, name="shelf.toml"):
        path = tmp_path / name
        path.write_bytes(text if isinstance(text, bytes) else text.encode())
        return path

    return written


@pytest.mark.parametrize(
    ("old", "new", "line", "says"),
    [
        ("swing_away_mount", "swing_away_mounts", 10, "unknown feature 'swing_away_mounts'. Did you mean"),
        ("proportional_control", "compact_stick", 9, "compact_joystick"),
        ('"stop_switch"', '"foot_site"', 2, "'foot_site' is what drives a device"),
        ('"breakaway_mount"', '"stop_switch"', 3, "'stop_switch' stands in with_any too"),
        ('["swing_away_mount"]', '["standby"]\nhas_not = ["standby"]', 11, "stands in has and in has_not"),
        ('["swing_away_mount"]', '["foot_site"]', 10, "'foot_site' does not belong in has. It belongs in drives"),
        ('["proportional_control"]', '["standby"]', 9, "'standby' does not belong in drives"),
        ('["proportional_control"]', '["chin_site"]', 9, "'chin_site' is driven by chin, the device by hand"),
        ('control"]', 'control", "nonproportional_control"]', 9, "not both proportional_control and nonprop"),
        ('sites = ["hand"]', 'sites = ["foot"]', 7, "a stick_by_hand is driven by hand, the device by foot"),
        ('sites = ["hand"]', 'sites = ["ear"]', 8, "is 'ear'"),
        ('sites = ["hand"]\n', "", 5, "sites is missing"),
        ('"stick_by_hand"', '"magic"', 7, "is 'magic'"),
        ('"swing_away_mount"', '"latched_drive"', 10, "'latched_drive' goes with"),
        ("has = [", 'force = 3\nhas = [', 10, "unknown key 'force'. Did you mean 'force_g'?"),
        ("has = [", "force_g = -3\nhas = [", 10, "force_g is -3"),
        ("has = [", "force_g = nan\nhas = [", 10, "force_g is nan"),
        ("has = [", 'program = ["speeed"]\nhas = [', 10, "unknown setting 'speeed'"),
        ("has = [", 'answers = { seizures = "x" }\nhas = [', 10, "unknown finding 'seizures'"),
        ("has = [", 'id = "x"\nhas = [', 10, "unknown key 'id'"),
        ("has = [", 'limits = ["\\u202eback"]\nhas = [', 10, "U+202E"),
        ("has = [", 'codes = ["E23"]\nhas = [', 10, "is 'E23'"),
        ("[devices.stick]", '[devices."Stick A"]', 5, "'Stick A' is no id"),
        ('format = "docgen shelf 1"', 'format = "docgen shelf 9"', 1, "is 'docgen shelf 9'"),
        ("[devices.stick]", "[device.stick]", 5, "unknown key 'device'. Did you mean 'devices'?"),
        ("has = [", "has = [[", 11, "not valid TOML"),
        (STICK, "", 1, "format is missing"),
        (STICK, 'format = "docgen shelf 1"\ndevices = 3\n', 2, "devices is 3"),
        (STICK, 'format = "docgen shelf 1"\n[devices]\nstick = 3\n', 3, "'stick' is no table"),
    ],
)  # fmt: skip
def test_each_mistake_is_told_with_its_line(write, old, new, line, says):
    assert old in STICK
    path = write(STICK.replace(old, new, 1))
    told = problems(path)
    assert any(text.startswith(f"{path}:{line}: ") and says in text for text in told), told


def test_pads_that_take_no_force_have_none(write):
    pads = STICK.replace('"stick_by_hand"', '"head_control"').replace('["hand"]', '["head"]')
    pads = pads.replace('["proportional_control"]', '["head_array", "proximity_sensing"]\nforce_g = 40')
    assert "'proximity_sensing' takes no force, and 40 g are given" in problems(write(pads))[0]


def test_a_file_of_five_megabytes_is_not_read(write):
    path = write(b"#" * 5_000_000)
    assert problems(path) == [f"{path}:1: is 5,000,000 bytes, more than the 1,000,000 allowed. Is this the right file?"]


@pytest.mark.parametrize(
    "data", [b"\xff\xfe\x00", b"name = '\x1b[2J'", b"\x00", b"a." * 40 + b"b = 1", b"x = " + b"9" * 9000]
)
def test_hostile_text_is_refused_in_a_sentence(write, data):
    path = write(data)
    assert all(text.startswith(str(path)) and "\x1b" not in text for text in problems(path))


def test_a_missing_file_and_an_empty_folder_are_told(tmp_path):
    assert problems(tmp_path / "none.toml") == [f"{tmp_path / 'none.toml'}: there is no such file. Check the name."]
    assert problems(tmp_path) == [f"{tmp_path}: holds no shelf. Put a .toml file of devices into it."]


def test_a_folder_is_one_shelf_of_all_its_files(write, tmp_path):
    write(STICK, "a.toml")
    write(STICK.replace("devices.stick", "devices.other").replace('["stop_switch"]', "[]"), "b.toml")
    shelf = read_shelf(tmp_path)
    assert list(shelf.devices) == ["stick", "other"]
    assert "stop_switch" in shelf.stands["stick"].optional
    assert "stop_switch" in shelf.stands["other"].unknown  # each file speaks for its own devices


def test_a_device_in_two_files_is_told(write, tmp_path):
    write(STICK, "a.toml")
    write(STICK, "b.toml")
    assert problems(tmp_path) == [
        f"{tmp_path / 'b.toml'}: the device 'stick' stands in a.toml too. Give it another id."
    ]


def test_what_is_not_stated_is_unknown_and_what_cannot_be_is_not(write):
    stands = read_shelf(write(STICK)).stands["stick"]
    assert {"standby", "mode_switch", "forearm_support"} <= {*stands.unknown}
    assert not {"breakaway_mount", "stop_switch", "latched_drive", "suboccipital_support"} & {*stands.unknown}
    assert stands.always == {"proportional_control", "swing_away_mount"}


def test_a_shelf_of_twelve_comes_with_the_program_half_of_it_for_the_head():
    shelf = shipped_shelf()
    assert len(shelf.devices) == 12
    assert sum("head" in device.sites for device in shelf.devices.values()) == 6
    assert {site for device in shelf.devices.values() for site in device.sites} == {
        "hand",
        "head",
        "chin",
        "mouth",
        "foot",
    }


def test_the_names_on_the_shipped_shelf_are_plain_words():
    """Small letters and no digits: nothing that could be somebody's name for a thing they sell."""
    shelf = shipped_shelf()
    for device in shelf.devices.values():
        assert device.name == device.name.lower() and not any(letter.isdigit() for letter in device.name)
    assert "invented" in SHIPPED.read_text(encoding="utf-8").splitlines()[0]


def test_an_entry_may_differ_from_what_its_shelf_says_of_all(write):
    text = STICK + 'has_not = ["stop_switch"]\ncan_have = ["breakaway_mount"]\n'
    stands = read_shelf(write(text)).stands["stick"]
    assert "stop_switch" not in stands.optional and "breakaway_mount" in stands.optional
    assert not {"stop_switch", "breakaway_mount"} & {*stands.unknown}
