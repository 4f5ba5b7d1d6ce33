"""How long the desk lets its user wait, with 1, 20 and 500 cases in the folder: python tests/bench/desk.py [N ...]

Each figure is the median of several requests in this process, without a network: what one waits, and behind the stroke
what of it a core worked. The demo with the longest case.toml is answered, the others fill the folder. Start is a fresh
process up to its first page.
"""

from __future__ import annotations

import json
import platform
import resource
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
import urllib.request
from collections.abc import Callable
from http.cookiejar import CookieJar
from pathlib import Path

sys.path[:0] = [str(Path(__file__).parents[1]), str(Path(__file__).parents[1] / "desk")]

from asking import Visitor, address_of  # noqa: E402
from support import DEMO_FOLDERS, NOT_REVIEWED  # noqa: E402

_TIMES = 7
_LONGEST = max(DEMO_FOLDERS, key=lambda folder: (folder / "case.toml").stat().st_size)


def main(sizes: list[int]) -> None:
    """Print a line for each number of cases."""
    print(f"{platform.machine()}, Python {platform.python_version()}, longest case: {_LONGEST.name}")
    print(f"{'cases':>6} {'start s':>8} {'list ms':>10} {'screen ms':>10} {'save ms':>10} {'preview ms':>10} {'MB':>6}")
    for n in sizes:
        with tempfile.TemporaryDirectory() as place:
            print(f"{n:>6} {_times(_filled(Path(place), n))}", flush=True)


def _times(folder: Path) -> str:
    start_s = _start(folder)
    visitor = Visitor(folder).enter()
    caseload = _median(lambda: visitor.get("/"))
    at = address_of(visitor.get("/").text, _LONGEST.name)
    screen = _median(lambda: visitor.get(f"{at}/who"))
    save = _median(_save(visitor, at))
    preview = _median(lambda: visitor.get(f"{at}/page/letter"))
    peak_mb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    return f"{start_s:>8.2f} {caseload:>10} {screen:>10} {save:>10} {preview:>10} {peak_mb:>6.0f}"


def _filled(folder: Path, n: int) -> Path:
    shutil.copytree(_LONGEST, folder / _LONGEST.name, ignore=NOT_REVIEWED)
    for number in range(1, n):
        source = DEMO_FOLDERS[number % len(DEMO_FOLDERS)]
        target = folder / f"case-{number:04d}"
        shutil.copytree(source, target, ignore=shutil.ignore_patterns("approval.toml", "key.toml"))
        text = (target / "case.toml").read_text(encoding="utf-8")
        (target / "case.toml").write_text(text.replace(f'id = "{source.name}"', f'id = "{target.name}"'), "utf-8")
    return folder


def _median(ask: Callable[[], object]) -> str:
    """Milliseconds that an answer takes, and those of them in which a core worked for it: the rest others had."""
    spent = []
    for _ in range(_TIMES):
        begun = time.perf_counter(), time.process_time()
        ask()
        spent.append((time.perf_counter() - begun[0], time.process_time() - begun[1]))
    waited, worked = (statistics.median(times) * 1000 for times in zip(*spent, strict=True))
    return f"{waited:.0f}/{worked:.0f}"


def _save(visitor: Visitor, at: str) -> Callable[[], None]:
    """An answer that is sent, up to the screen with the new state; another one each time."""
    page = visitor.get(f"{at}/who").text
    known = [page.partition('id="client-weight_kg"')[2].partition('value="')[2].partition('"')[0]]

    def save() -> None:
        weight = f"{139 + len(known)}.5 lb"
        fields = {"path": json.dumps(["client", "weight_kg"]), "value": weight, "was": known[-1]}
        answer = visitor.post(f"{at}/who/answer", **fields)
        assert answer.status == 303, answer.text
        visitor.get(answer.headers["location"].partition("#")[0])
        known.append(weight)

    return save


def _start(folder: Path) -> float:
    """Seconds from the command to the first page."""
    begun = time.perf_counter()
    command = [sys.executable, "-m", "docgen", "desk", str(folder), "--no-browser"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as desk:
        try:
            assert desk.stdout is not None
            link = desk.stdout.readline().rpartition(" ")[2].strip()
            cookies = urllib.request.HTTPCookieProcessor(CookieJar())
            urllib.request.build_opener(urllib.request.ProxyHandler({}), cookies).open(link).read()
            return time.perf_counter() - begun
        finally:
            desk.terminate()


if __name__ == "__main__":
    main([int(word) for word in sys.argv[1:]] or [1, 20, 500])
