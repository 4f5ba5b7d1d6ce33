"""Hostile and broken input at every door: run by hand with `python tests/bench/fuzz.py`; not part of the test run.

    python tests/bench/fuzz.py [--seed 1] [--scale 1.0] [--door NAME] [--keep FOLDER] [--replay FILE]

Every input is made from a seed. What fails is written to the folder of --keep with the door and the seed in its name;
--replay feeds one such file again. "most MB" is what one input took at most while it was in the program, "left MB" what
the process held in the end. Linux alone tells its memory this way.
"""

from __future__ import annotations

import argparse
import collections
import resource
import shutil
import subprocess
import sys
import tempfile
import time
import traceback
from pathlib import Path
from random import Random

sys.path[:0] = [str(Path(__file__).parent.parent / "hostile"), str(Path(__file__).parent.parent)]

from ablate import Change, ablations, filled, together  # noqa: E402
from doors import _ANY_CASE, BUILT, DOORS, INSTEAD, REFUSED, TODAY, VALID, Failed, make  # noqa: E402

from docgen.console.check import check_report  # noqa: E402
from docgen.console.check_page import check_text  # noqa: E402
from docgen.errors import UserError, place_of_fault  # noqa: E402
from docgen.packet.approval import reviewed  # noqa: E402
from docgen.packet.assess import assess  # noqa: E402
from docgen.packet.render import FORMATS, render  # noqa: E402
from docgen.packet.wording import wording  # noqa: E402
from docgen.results import CaseCheck  # noqa: E402

COUNTS = {
    "case.toml": 5500,
    "trial.csv": 3500,
    "sessions.csv": 2500,
    "payer": 2600,
    "feature": 2200,
    "template overlay": 2200,
    "words overlay": 1300,
    "letterhead.toml": 600,
    "letterhead.docx": 700,
    "logo": 900,
}
_MOST_MB = 300  # of memory that one input may take while it is in the program


def memory_mb(kind: str) -> float:
    """Memory of this process: now (VmRSS), or the most since `forget_peak` (VmHWM)."""
    lines = Path("/proc/self/status").read_text(encoding="ascii").split("\n")
    return next(int(line.split()[1]) for line in lines if line.startswith(kind)) / 1024


def forget_peak() -> None:
    """Let the peak of memory start anew; what made the input is not what is measured."""
    Path("/proc/self/clear_refs").write_text("5", encoding="ascii")


def depth_of(n: int) -> int:
    """How far the n-th input goes when it is valid: most are answered, some checked, few built."""
    return 3 if n % 149 == 0 else 2 if n % 37 == 0 else 1 if n % 5 == 0 else 0


def fuzz(name: str, n: int, seed: int, keep: Path) -> tuple[collections.Counter[str], float, float]:
    """How often each outcome came up at a door, its slowest input in seconds, and the most memory an input took in
    MB."""
    outcomes: collections.Counter[str] = collections.Counter()
    door, slowest, largest = DOORS[name], 0.0, 0.0
    with tempfile.TemporaryDirectory() as made:
        home = make(Path(made).resolve() / "home")
        if any(door.tried(home, seed, 1) == REFUSED for seed in door.seeds):
            raise SystemExit(f"{name}: a file that the changes start from is refused; nothing would be tried")
        for kind, put in INSTEAD.items():
            path = door.place(home, door.seeds[0])
            saved = path.read_bytes() if path.is_file() else None
            path.unlink(missing_ok=True)
            put(path, home.parent / "elsewhere")
            (home.parent / "elsewhere").write_bytes(door.seeds[0])
            outcomes[_outcome(name, door.seeds[0], 1, home, keep, kind, path)] += 1
            shutil.rmtree(path) if path.is_dir() and not path.is_symlink() else path.unlink(missing_ok=True)
            if saved is not None:
                path.write_bytes(saved)
        for place in range(n):
            data = door.hostile(Random(f"{seed} {name} {place}"))
            forget_peak()
            before, started = memory_mb("VmRSS"), time.monotonic()
            outcomes[_outcome(name, data, depth_of(place), home, keep, f"{seed}-{place}", None)] += 1
            slowest, largest = max(slowest, time.monotonic() - started), max(largest, memory_mb("VmHWM") - before)
    return outcomes, slowest, largest


def _outcome(name: str, data: bytes, depth: int, home: Path, keep: Path, label: str, at: Path | None) -> str:
    try:
        return DOORS[name].tried(home, data, depth, at)
    except Failed as failure:
        keep.mkdir(parents=True, exist_ok=True)
        kept = keep / f"{name.replace(' ', '_')}-{label.replace(' ', '_')}-{depth}"
        kept.write_bytes(data)
        last = traceback.extract_tb(failure.__cause__.__traceback__)[-1] if failure.__cause__ else None
        print(
            f"FAILED {name} {label}: {failure}" + (f" at {last.filename}:{last.lineno}" if last else ""),
            file=sys.stderr,
            flush=True,
        )
        return str(failure).partition(":")[0]


def ablated(share: float, seed: int) -> tuple[collections.Counter[str], collections.Counter[str]]:
    """Kind of change -> how many were tried; what came of them: built, refused at reading, or what failed.

    What is read is checked and laid out as every document; each fifth is also printed in every format.
    """
    n_tried, outcomes = collections.Counter[str](), collections.Counter[str]()
    for source in _ANY_CASE:
        random = Random(f"{seed} ablation {source.name}")
        single = [*ablations(source)]
        drawn = random.sample(single, max(1, int(len(single) * share)))
        changes = [("taken out", label, make()) for label, make in drawn]
        changes += [("taken out together", *together(source, random)) for _ in range(int(200 * share))]
        changes += [("filled", *filled(source, random)) for _ in range(int(120 * share))]
        with tempfile.TemporaryDirectory() as made:
            for at, (kind, label, change) in enumerate(changes):
                n_tried[kind] += 1
                outcome = _outcome_of(source, Path(made) / source.name, change, printed=kind == "filled" or at % 5 == 0)
                outcomes[outcome if outcome in (REFUSED, BUILT) else "failed"] += 1
                if outcome not in (REFUSED, BUILT):
                    print(f"FAILED {source.name} {label[:300]}: {outcome}", file=sys.stderr, flush=True)
    return n_tried, outcomes


def _outcome_of(source: Path, folder: Path, change: Change, printed: bool) -> str:
    """What came of one changed case."""
    shutil.rmtree(folder, ignore_errors=True)
    shutil.copytree(source, folder)
    for name, data in change.items():
        (folder / name).unlink() if data is None else (folder / name).write_bytes(data)
    try:
        one = assess(folder)
    except UserError:
        return REFUSED
    except Exception as fault:
        return f"not read: {place_of_fault(fault)}"
    try:
        check_text(check_report(CaseCheck(one, TODAY, reviewed(one, wording()))))
        render(one, FORMATS if printed else ("html",))
    except UserError as failure:
        return f"read, but not built: {failure}"
    except Exception as fault:
        return f"read, but not built: {place_of_fault(fault)}"
    return BUILT


def exit_codes(n: int, seed: int) -> collections.Counter[str]:
    """Exit status of the command itself for a sample of inputs, in processes of their own."""
    found: collections.Counter[str] = collections.Counter()
    with tempfile.TemporaryDirectory() as made:
        home = make(Path(made).resolve() / "home")
        for place in range(n):
            name = [*DOORS][place % len(DOORS)]
            random = Random(f"{seed} command {place}")
            data, case = DOORS[name].hostile(random), home / "ilmari-okonjo-vale"
            path = DOORS[name].place(home, data)
            saved = path.read_bytes() if path.is_file() else None
            path.write_bytes(data)
            more = {
                "payer": ["--payer", str(path)],
                "template overlay": ["--templates", str(path.parent)],
                "words overlay": ["--templates", str(path.parent)],
            }
            command = "check"
            if name in ("letterhead.toml", "letterhead.docx", "logo"):
                more[name], command = (
                    ["--letterhead", str(path.parent), "--out", str(home / "out"), "--only", "order"],
                    "build",
                )
            case = path.parent if name == "case.toml" else case
            done = subprocess.run(
                [sys.executable, "-m", "docgen", command, str(case), *more.get(name, [])],
                capture_output=True,
                text=True,
                timeout=120,
            )
            fine = (
                done.returncode in (0, 1, 2)
                and "Traceback" not in done.stderr
                and (done.returncode != 2 or str(home) in done.stderr)
            )
            found[
                f"exit {done.returncode}" if fine else f"FAILED with exit {done.returncode}: {done.stderr[-300:]}"
            ] += 1
            if name in ("sessions.csv", "letterhead.docx"):
                path.unlink()
            elif saved is not None:
                path.write_bytes(saved)
    return found


def main() -> None:
    asked = argparse.ArgumentParser(description="Hostile input at every door.")
    asked.add_argument("--seed", type=int, default=1)
    asked.add_argument("--scale", type=float, default=1.0, help="share of the usual number of inputs")
    asked.add_argument("--door", choices=[*DOORS], help="one door alone")
    asked.add_argument(
        "--keep", type=Path, default=Path(tempfile.gettempdir()) / "docgen-fuzz", help="where failing inputs are kept"
    )
    asked.add_argument("--replay", type=Path, help="feed one kept input again")
    options = asked.parse_args()
    resource.setrlimit(resource.RLIMIT_AS, (3 * 10**9, 3 * 10**9))
    if options.replay:
        name, _, rest = options.replay.name.partition("-")
        with tempfile.TemporaryDirectory() as made:
            print(
                DOORS[name.replace("_", " ")].tried(
                    make(Path(made).resolve() / "home"), options.replay.read_bytes(), int(rest.rpartition("-")[2])
                )
            )
        return
    total, most, n_templates = collections.Counter[str](), 0.0, 0
    print(
        f"seed {options.seed}\n{'door':<18}{'inputs':>8}{'refused':>9}{'valid':>8}{'built':>7}{'failed':>8}"
        f"{'slowest s':>11}{'most MB':>9}{'left MB':>9}",
        flush=True,
    )
    for name in [options.door] if options.door else [*DOORS]:
        outcomes, slowest, largest = fuzz(name, int(COUNTS[name] * options.scale), options.seed, options.keep)
        total += outcomes
        n_templates += sum(outcomes.values()) if name in ("template overlay", "words overlay") else 0
        failed = sum(outcomes.values()) - outcomes[REFUSED] - outcomes[VALID] - outcomes[BUILT]
        print(
            f"{name:<18}{sum(outcomes.values()):>8}{outcomes[REFUSED]:>9}{outcomes[VALID]:>8}{outcomes[BUILT]:>7}{failed:>8}{slowest:>11.2f}{largest:>9.0f}{memory_mb('VmRSS'):>9.0f}",
            flush=True,
        )
        most = max(most, largest)
    n_ablations, ablation_outcomes = collections.Counter[str](), collections.Counter[str]()
    if not options.door:
        n_ablations, ablation_outcomes = ablated(options.scale, options.seed)
    codes = exit_codes(int(60 * options.scale), options.seed)
    bad = {name: n for name, n in total.items() if name not in (REFUSED, VALID, BUILT)}
    print(
        f"{sum(total.values()):,} inputs: {total[REFUSED]:,} {REFUSED}, {total[VALID]:,} {VALID}, "
        f"{total[BUILT]:,} {BUILT}"
    )
    print(
        f"tracebacks {bad.get('traceback', 0)}, hangs {sum(n for name, n in bad.items() if name.startswith('took'))}, "
        f"partial files {bad.get('partial files', 0) + bad.get('left files behind', 0)}, other "
        f"{sum(bad.values()) - bad.get('traceback', 0)}"
    )
    print(
        f"{sum(n_ablations.values()):,} ablations ({', '.join(f'{n:,} {kind}' for kind, n in n_ablations.items())}): "
        + ", ".join(f"{n:,} {name}" for name, n in ablation_outcomes.items())
    )
    print(f"templates among the inputs: {n_templates:,}")
    print("the command itself: " + ", ".join(f"{name} {n} times" for name, n in sorted(codes.items())))
    print(f"failures: {sum(bad.values()) + ablation_outcomes['failed']}")
    wrong = (
        bool(bad)
        or bool(ablation_outcomes["failed"])
        or any(name.startswith("FAILED") for name in codes)
        or most > _MOST_MB
    )
    raise SystemExit(int(wrong))


if __name__ == "__main__":
    main()
