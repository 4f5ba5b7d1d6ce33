"""A build killed at a random moment, many times: run by hand with `python tests/bench/kill.py [N]`; not part of the test run.

Each round builds one of two versions of a case in a fresh process and kills it with SIGKILL somewhere within the
time a whole build takes. After each kill every file must be, byte for byte, a file of one of the two versions; a
file changed by hand must be as it was left; and the next undisturbed build must make a whole packet without
taking any file for one changed by hand.
"""

from __future__ import annotations

import random
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from docgen.packet import build
from docgen.packet.assess import assess
from docgen.resources import folder

NAME = "ilmari-okonjo-vale"
MINE = b"my own words\n"
_WRITING_S = 0.03  # writing and renaming the files of one packet takes about so long


def _version(into: Path, phone: str) -> Path:
    """A copy of the demo case with another phone number, so that every file of it differs from the other version's."""
    case = Path(shutil.copytree(folder("cases") / NAME, into / NAME))
    toml = case / "case.toml"
    text = toml.read_text(encoding="utf-8").replace("Ilmari", f"Ilmari{phone}")
    toml.write_text(text, encoding="utf-8")
    return case


def _start(case: Path, out: Path) -> subprocess.Popen[bytes]:
    return subprocess.Popen(
        [sys.executable, "-m", "docgen", "build", str(case), "--out", str(out)],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )


def _killed(child: subprocess.Popen[bytes], after_s: float, begins: Path | None = None) -> bool:
    """Kill a build after so many seconds, counted from its first file if `begins` is to appear; whether it was still running."""
    while begins is not None and child.poll() is None and not begins.exists():
        pass  # the renames take less than a millisecond, so this waits without a pause
    try:
        if after_s:
            child.wait(after_s)
    except subprocess.TimeoutExpired:
        pass
    child.send_signal(signal.SIGKILL)
    child.wait()
    return child.returncode == -signal.SIGKILL


def main(rounds: int) -> None:
    rng = random.Random(6)
    with tempfile.TemporaryDirectory() as made:
        cases = [_version(Path(made) / f"v{at}", suffix) for at, suffix in enumerate(("", "s"))]
        whole: list[dict[str, bytes]] = []
        for at, case in enumerate(cases):
            build(assess(case), Path(made) / f"whole{at}")
            whole.append({p.name: p.read_bytes() for p in (Path(made) / f"whole{at}" / NAME).iterdir()})
        out = Path(made) / "out"
        spent_s = []
        for _ in range(3):
            start = time.perf_counter()
            _start(cases[0], out).wait()
            spent_s.append(time.perf_counter() - start)
        usual_s = min(spent_s)
        mine = out / NAME / "plan.docx"
        mine.write_bytes(MINE)
        killed = mixed = staged = 0
        for at in range(rounds):
            # a third of the kills fall anywhere, a third while files are written, a third while they are renamed
            begins = (None, out / NAME / ".building", out / NAME / ".building" / "manifest.json")[at % 3]
            after_s = (usual_s * rng.random(), rng.uniform(0, _WRITING_S), 0)[at % 3]
            killed += _killed(_start(cases[at // 3 % 2], out), after_s, begins)
            found = {p.name: p.read_bytes() for p in (out / NAME).iterdir() if p.is_file()}
            assert found.pop("plan.docx") == MINE, "a change by hand was lost"
            found.pop("manifest.json")
            versions = set()
            for name, data in found.items():
                own = name.replace(".new", "")
                kinds = {v for v in (0, 1) if whole[v][own] == data}
                assert kinds, f"round {at}: {name} is half written"
                versions |= kinds if len(kinds) == 1 else set()
            mixed += len(versions) > 1
            staged += (out / NAME / ".building").exists()
            if at % 10 == 9:
                _start(cases[0], out).wait()
                after = {p.name: p.read_bytes() for p in (out / NAME).iterdir()}
                assert set(after) == {*whole[0], "plan.new.docx"}, sorted(after)
                assert all(
                    after[name] == data for name, data in whole[0].items() if name not in ("plan.docx", "manifest.json")
                )
        print(
            f"{rounds} builds of {usual_s * 1000:.0f} ms, {killed} killed before their end: no file half written, no change by hand lost; "
            f"{staged} left work for the next build, {mixed} left files of two versions side by side, each whole"
        )


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 50)
