"""The ten invented clients: four as short cases with their trial sheets here, six as the demo cases."""

from __future__ import annotations

import shutil
import tomllib
from functools import cache
from itertools import cycle
from pathlib import Path
from typing import Any

from docgen.packet.assess import Assessed, assess
from docgen.resources import folder

SHORT = Path(__file__).parent / "cases"
_COLUMNS = (
    "date,method,task,success,order,attempt,missed,unintended,contacts,release_s,distance_m,minutes,prompts_verbal,"
    "prompts_physical,fatigue_before,fatigue_after,tone_before,tone_after"
)
_CARDS = ("straight_10", "stop_request", "doorway", "park")


def write(name: str, to: Path, undated: bool = False) -> Path:
    """The folder of a short case, its rows written out from the blocks of its sheets.

    undated  with the blocks that have no day; they are left out otherwise
    """
    target = to / name
    target.mkdir()
    shutil.copy(SHORT / name / "case.toml", target)
    blocks = tomllib.loads((SHORT / name / "blocks.toml").read_text(encoding="utf-8"))["blocks"]
    rows = [row for block in blocks if undated or "date" in block for row in _rows(block)]
    (target / "trial.csv").write_text("\n".join([_COLUMNS, *rows, ""]), encoding="utf-8")
    return target


@cache
def _of_demo(name: str) -> Assessed:
    return assess(folder("cases") / name)


def assessed(name: str, to: Path) -> Assessed:
    """A client as assessed, whether short or a demo."""
    return assess(write(name, to)) if (SHORT / name).is_dir() else _of_demo(name)


def _rows(block: dict[str, Any]) -> list[str]:
    """A row an attempt; what was counted of the whole block stands in its first or last row."""
    last = len(block["success"]) - 1
    rows = []
    for at, (done, card) in enumerate(zip(block["success"], cycle(_CARDS))):  # noqa: B905 - the cards go round
        digits = [block[name][at] if name in block else "" for name in ("missed", "unintended", "contacts")]
        release = block["release_s"][at] if "release_s" in block else ""
        whole = [block.get("distance_m", ""), block.get("minutes", ""), *block["prompts"]] if at == last else [""] * 4
        scales = [
            block[name][end] if name in block and at == (0, last)[end] else ""
            for name in ("fatigue", "tone")
            for end in (0, 1)
        ]
        start = [block.get("date", ""), block["method"], card, done, block.get("order", ""), at + 1]
        rows.append(",".join(map(str, [*start, *digits, release, *whole, *scales])))
    return rows
