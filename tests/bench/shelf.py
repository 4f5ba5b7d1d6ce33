"""How long a shelf of two hundred devices takes against each of a thousand clients, drawn by a seed.

    python tests/bench/shelf.py

At most 50 ms of processor time a client is what a caseload bears. Devices are made of the vocabulary at random, a tenth
of what each could have left unknown; each client has some of a hundred findings.
"""

from __future__ import annotations

import random
import statistics
import sys
import time

from docgen.fit.feature import features
from docgen.fit.finding import vocabulary
from docgen.shelf.client import client
from docgen.shelf.device import Device, Shelf
from docgen.shelf.match import match

_BASES = (
    ("stick_by_hand", ["hand"], ["proportional_control", "joystick_position"]),
    ("mini_stick", ["hand"], ["proportional_control", "mini_joystick"]),
    ("finger_switches", ["hand"], ["nonproportional_control", "finger_switch_array"]),
    ("stick_by_chin", ["chin"], ["proportional_control", "chin_site"]),
    ("breath_control", ["mouth"], ["nonproportional_control", "pneumatic_four_command"]),
    ("foot_control", ["foot"], ["proportional_control", "foot_site"]),
    ("head_control", ["head"], ["nonproportional_control", "head_array", "proximity_sensing"]),
    ("head_control", ["head"], ["nonproportional_control", "head_array", "contact_switch_sensing"]),
)


def shelf(n_devices: int, draw: random.Random) -> Shelf:
    """A shelf of that many devices."""
    besides = [name for name, feature in features().items() if feature.part != "control"]
    devices = {}
    for at in range(n_devices):
        kind, sites, drives = draw.choice(_BASES)
        stated: dict[str, list[str]] = {"has": [], "can_have": [], "has_not": [], "unknown": []}
        for name in besides:
            stated[draw.choices(list(stated), (2, 5, 2, 1))[0]].append(name)
        stated.pop("unknown")
        devices[f"d{at}"] = Device(id=f"d{at}", name=f"device {at}", kind=kind, sites=sites, drives=drives, **stated)
    return Shelf(format="docgen shelf 1", devices=devices)


def main(n_devices: int = 200, n_findings: int = 100, n_clients: int = 1000) -> None:
    """Print the median, the slowest and how many of the clients took longer than 50 ms."""
    draw = random.Random(20)
    known, words = features(), list(vocabulary())
    words += [f"own_{at}" for at in range(n_findings - len(words))]
    held, times = shelf(n_devices, draw), []
    for _ in range(n_clients):
        findings = tuple(draw.sample(words, draw.randint(3, 25)))
        begun = time.process_time()
        match(client(findings, known), held)
        times.append((time.process_time() - begun) * 1000)
    slow = sum(taken > 50 for taken in times)
    print(
        f"{n_devices} devices, {len(words)} findings, {n_clients} clients: median {statistics.median(times):.1f} ms, "
        f"slowest {max(times):.1f} ms, over 50 ms: {slow}"
    )


if __name__ == "__main__":
    main(*map(int, sys.argv[1:]))
