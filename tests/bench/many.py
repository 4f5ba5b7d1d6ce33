"""Many cases by one process and by two, in one table: run by hand with `python tests/bench/many.py [SIZE[:JOBS]...]`;
not part of the test run.

Every build is a fresh `docgen build` of that many different case folders, the demo cases in turn with an id of their
own. Memory is the most that a process ever held at once, as the system counts it, looked up every tenth of a second.
1,000 cases take about a quarter of an hour each time and 3 GB of disk under the folder for temporary files; 1000:2 has
them built by two processes alone, to be held against the rate of one at the largest size that one has built.
"""

from __future__ import annotations

import resource
import shutil
import subprocess
import sys
import tempfile
import time
from dataclasses import dataclass
from pathlib import Path

from docgen.resources import folder

SIZES, JOBS = (1, 10, 100, 1000), (1, 2)
_LOOK_S = 0.1
_FEW = 10  # cases that memory is held against


@dataclass(frozen=True)
class Run:
    """One build: seconds by the clock and of processors, and the most memory of the first process and of a worker."""

    wall_s: float
    cpu_s: float
    parent_mb: float
    worker_mb: float
    n_workers: int


def case_folders(n: int, into: Path) -> None:
    """n different case folders: the demo cases in turn, each with an id of its own."""
    demos = sorted(path.parent for path in folder("cases").glob("*/case.toml"))
    for place in range(n):
        demo = demos[place % len(demos)]
        copy = Path(shutil.copytree(demo, into / f"case-{place:04}"))
        text = (copy / "case.toml").read_text(encoding="utf-8")
        (copy / "case.toml").write_text(text.replace(f'id = "{demo.name}"', f'id = "{copy.name}"', 1), encoding="utf-8")


def measured(cases: Path, out: Path, n: int, jobs: int) -> Run:
    """One build, which must have made every packet that there is a case for."""
    before, start = resource.getrusage(resource.RUSAGE_CHILDREN), time.perf_counter()
    peaks: dict[int, float] = {}
    with tempfile.TemporaryFile("w+") as said:  # a pipe that nobody reads fills up and holds the build
        with subprocess.Popen(
            [sys.executable, "-m", "docgen", "build", str(cases), "--out", str(out), "--jobs", str(jobs)], stdout=said
        ) as child:
            while child.poll() is None:
                peaks |= {pid: peak for pid in [child.pid, *_children(child.pid)] if (peak := _peak_mb(pid))}
                time.sleep(_LOOK_S)
        said.seek(0)
        told = said.read()
    wall_s, after = time.perf_counter() - start, resource.getrusage(resource.RUSAGE_CHILDREN)
    if child.returncode not in (0, 1) or len(list(out.glob("*/manifest.json"))) != n:
        raise SystemExit(f"the build of {n} cases by {jobs} ended with {child.returncode}\n{told[-2000:]}")
    workers = [peak for pid, peak in peaks.items() if pid != child.pid and peak > 30]  # what watches the pipes is small
    cpu_s = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    return Run(wall_s, cpu_s, peaks.get(child.pid, 0), max(workers, default=0), len(workers))


def _children(pid: int) -> list[int]:
    """Processes that a process has started and that still run."""
    found: list[int] = []
    for task in Path(f"/proc/{pid}/task").glob("*/children"):
        try:
            found += map(int, task.read_text(encoding="ascii").split())
        except OSError:
            continue
    return found


def _peak_mb(pid: int) -> float:
    """The most memory a process has held so far; 0 once it has ended."""
    try:
        lines = Path(f"/proc/{pid}/status").read_text(encoding="utf-8").splitlines()
    except OSError:
        return 0
    return next((int(line.split()[1]) / 1024 for line in lines if line.startswith("VmHWM:")), 0)


def main(asked: dict[int, tuple[int, ...]]) -> None:
    print(
        f"{'cases':>6} {'jobs':>4} {'wall s':>8} {'CPU s':>8} {'cases/s':>8} {'CPU ms each':>11} "
        f"{'parent MB':>9} {'worker MB':>9} {'workers':>7} {'again s':>8}"
    )
    runs: dict[tuple[int, int], Run] = {}
    for n, all_jobs in asked.items():
        with tempfile.TemporaryDirectory() as made:
            case_folders(n, Path(made) / "cases")
            for jobs in all_jobs:
                out = Path(made) / f"out-{jobs}"
                run = runs[n, jobs] = measured(Path(made) / "cases", out, n, jobs)
                again = measured(Path(made) / "cases", out, n, jobs)  # nothing has changed
                shutil.rmtree(out)
                print(
                    f"{n:>6} {jobs:>4} {run.wall_s:>8.1f} {run.cpu_s:>8.1f} {n / run.wall_s:>8.2f} "
                    f"{run.cpu_s / n * 1000:>11.0f} "
                    f"{run.parent_mb:>9.0f} {run.worker_mb:>9.0f} {run.n_workers:>7} {again.wall_s:>8.1f}",
                    flush=True,
                )
    most_of = {jobs: max(n for n, j in runs if j == jobs) for jobs in JOBS if any(j == jobs for _, j in runs)}
    if len(most_of) == len(JOBS):
        one, two = (n / runs[n, jobs].wall_s for jobs, n in most_of.items())
        print(f"two processes do {two / one:.2f} times the rate of one ({most_of[2]} and {most_of[1]} cases)")
    for jobs, most in most_of.items():
        few = min((n for n, j in runs if j == jobs and n >= _FEW), default=most)
        big, small = runs[most, jobs], runs[few, jobs]
        print(
            f"jobs {jobs}: the most memory with {most} cases is "
            f"{max(big.parent_mb, big.worker_mb) / max(small.parent_mb, small.worker_mb):.2f} "
            f"times that with {few} in the largest process, {_all_mb(big) / _all_mb(small):.2f} times in all of them"
        )


def _all_mb(run: Run) -> float:
    return run.parent_mb + run.n_workers * run.worker_mb


def _asked(words: list[str]) -> dict[int, tuple[int, ...]]:
    """Size -> by how many processes it is built."""
    pairs = [word.partition(":") for word in words]
    return {int(n): (int(jobs),) if jobs else JOBS for n, _, jobs in pairs}


if __name__ == "__main__":
    main(_asked(sys.argv[1:]) or dict.fromkeys(SIZES, JOBS))
