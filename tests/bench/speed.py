"""Where the time goes, measured: run by hand with `python tests/bench/speed.py`; not part of the test run.

CPU time (user and system) of this process or of a child; medians over several runs, in one go.
"""

from __future__ import annotations

import resource
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from datetime import date, timedelta
from pathlib import Path

from docgen.case.record import Row
from docgen.console.check import check_report
from docgen.console.check_page import check_text
from docgen.evidence.gather import evidence
from docgen.packet.assess import assess
from docgen.packet.render import render
from docgen.resources import folder
from docgen.results import CaseCheck

CASE = folder("cases") / "saoirse-villalobos-ng"  # not approved: an approval is held against every page


def child(*words: str, runs: int = 9) -> float:
    """Median CPU milliseconds of a command in a fresh process."""
    spent = []
    for _ in range(runs):
        before = resource.getrusage(resource.RUSAGE_CHILDREN)
        subprocess.run([sys.executable, "-m", "docgen", *words], capture_output=True, check=False)
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        spent.append(after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime)
    return statistics.median(spent) * 1000


def here(function, runs: int = 9) -> float:
    """Median CPU milliseconds of a call in this process, after one to warm up."""
    function()
    spent = []
    for _ in range(runs):
        start = time.process_time()
        function()
        spent.append(time.process_time() - start)
    return statistics.median(spent) * 1000


def many_rows(n: int):
    """The demo case with n invented rows, for the evidence alone."""
    case = assess(CASE).file.case
    methods = [method.id for method in case.trial.methods]
    return case.with_records(
        tuple(
            Row(
                i + 2,
                date(2026, 1, 1) + timedelta(days=i // 1000),
                methods[i % len(methods)],
                case.trial.tasks[i % 4].id,
                i % 5 > 0,
                attempt=i,
                release_s=0.3 + i % 7 / 10,
                hold_s=0.2,
                contacts=i % 3 // 2,
                distance_m=2.0,
                unintended=0,
                minutes=0.2,
                seconds=5.0 + i % 4,
            )
            for i in range(n)
        )
    )


def resident_mb() -> float:
    """Memory of this process that is in use now."""
    pages = int(Path("/proc/self/statm").read_text(encoding="ascii").split()[1])
    return pages * resource.getpagesize() / 1e6


def many_cases(n: int) -> None:
    """n different case folders checked in this process: time of each against the first after warm-up, and memory."""
    demos = sorted(folder("cases").glob("*/case.toml"))
    today = date(2026, 11, 25)

    def check(path: Path) -> float:
        start = time.process_time()
        check_text(check_report(CaseCheck(assess(path), today)), brief=True)
        return time.process_time() - start

    with tempfile.TemporaryDirectory() as made:
        for place in range(n):
            demo = demos[place % len(demos)].parent
            copy = Path(shutil.copytree(demo, Path(made) / f"case-{place}"))
            text = (copy / "case.toml").read_text(encoding="utf-8")
            (copy / "case.toml").write_text(
                text.replace(f'id = "{demo.name}"', f'id = "{copy.name}"', 1), encoding="utf-8"
            )
        paths = [Path(made) / f"case-{place}" for place in range(n)]
        for path in paths[: len(demos)]:
            check(path)
        # a round is each demo once, so that rounds can be held against each other
        rounds, memory = [], []
        for place in range(0, n, len(demos)):
            rounds.append(sum(check(path) for path in paths[place : place + len(demos)]) / len(demos) * 1000)
            memory.append(resident_mb())
    tail = rounds[-20:]
    print(
        f"{n} cases checked in one process: first {rounds[0]:.1f} ms a case, median {statistics.median(rounds):.1f}, "
        f"last 100 cases {statistics.median(tail):.1f} ({statistics.median(tail) / rounds[0]:.2f} times the "
        f"first), slowest round {max(rounds):.1f}; "
        f"memory {memory[0]:.1f} MB after {len(demos)} cases, {memory[len(memory) // 2]:.1f} halfway, "
        f"{memory[-1]:.1f} at the end"
    )


def main() -> None:
    many_cases(1000)
    big, assessed = many_rows(50_000), assess(CASE)
    rows = [
        ("docgen --help, fresh process", child("--help")),
        ("docgen check, fresh process", child("check", str(CASE))),
        ("docgen check --all, fresh process", child("check", str(CASE), "--all")),
        ("docgen evidence --json, fresh process", child("evidence", str(CASE), "--json")),
        ("read and check, warm", here(lambda: assess(CASE))),
        ("all documents, all formats, warm", here(lambda: render(assessed))),
        *(
            (f"  {suffix} alone", here(lambda suffix=suffix: render(assessed, [suffix])))
            for suffix in ("docx", "pdf", "html")
        ),
        ("evidence of 50,000 rows", here(lambda: evidence(big), runs=3)),
    ]
    for name, spent in rows:
        print(f"{name:<40} {spent:9.1f} ms")
    print(f"{'peak memory':<40} {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:9.1f} MB")


if __name__ == "__main__":
    main()
