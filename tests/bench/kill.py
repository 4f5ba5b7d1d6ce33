"""Builds killed at a random moment and builds at the same time, many times: run by hand with
`python tests/bench/kill.py [KILLS] [ROUNDS] [SEED]`; not part of the test run.

Kills: each round builds one of two versions of a case, whole or the letter alone, in a fresh process and kills it with
SIGKILL somewhere within the time a build takes. After each kill every file must be, byte for byte, a file of one of
the two versions, and a text written by hand must be there still. After the next undisturbed build every page must be
of the version built, the manifest must name just the pages that are there, and the text by hand must stand in its
place or under a name that says it is outdated.

At the same time: two people with one id are built into one folder by several processes at once. All files must be of
one of them, whose key the manifest holds, and each build of the other must end with status 2. The case that has no key
yet must get one, however many processes draw it.
"""

from __future__ import annotations

import hashlib
import json
import random
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Mapping, Sequence
from pathlib import Path

from docgen.case.key import FILE, mark_of, read_key, settle_key
from docgen.packet.assess import assess
from docgen.packet.write import build
from docgen.rendering.seal import mark_in
from docgen.resources import folder

NAME = "ilmari-okonjo-vale"
_WRITING_S = 0.03  # writing and renaming the files of one packet takes about so long
_AT_ONCE = 4  # builds at the same time
_LETTER_ALONE = ("--only", "letter", "--formats", "html")


def _version(into: Path, suffix: str) -> Path:
    """A copy of the demo case with another name, so that every file of it differs from the other version's."""
    case = Path(shutil.copytree(folder("cases") / NAME, into / NAME))
    toml = case / "case.toml"
    toml.write_text(toml.read_text(encoding="utf-8").replace("Ilmari", f"Ilmari{suffix}"), encoding="utf-8")
    return case


def _start(case: Path, out: Path, *words: str) -> subprocess.Popen[bytes]:
    return subprocess.Popen(
        [sys.executable, "-m", "docgen", "build", str(case), "--out", str(out), *words],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )


def _killed(child: subprocess.Popen[bytes], after_s: float, begins: Path | None = None) -> bool:
    """Kill a build after so many seconds, counted from its first file if `begins` is to appear; whether it was still
    running."""
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


def _on_disk(packet: Path) -> dict[str, bytes]:
    return {
        path.name: path.read_bytes() for path in packet.iterdir() if path.is_file() and path.name != "manifest.json"
    }


def _of(name: str, data: bytes, whole: Sequence[Mapping[str, bytes]]) -> set[int]:
    """The versions that a file is of."""
    return {at for at, files in enumerate(whole) if files.get(name.replace(".new", "")) == data}


def _check_settled(packet: Path, version: Mapping[str, bytes], mine: bytes) -> None:
    """After an undisturbed build: pages of one version alone, told by the manifest, and the text by hand."""
    found = _on_disk(packet)
    by_hand = {name for name, data in found.items() if data == mine}
    assert by_hand and all(name == "plan.docx" or ".outdated" in name for name in by_hand), sorted(by_hand)
    pages = {name: data for name, data in found.items() if b"by hand, " not in data[:20]}
    assert all(version.get(name.replace(".new", "")) == data for name, data in pages.items()), sorted(pages)
    told = json.loads((packet / "manifest.json").read_text(encoding="utf-8"))
    assert {one["name"]: one["sha256"] for one in told["files"]} == {
        name: hashlib.sha256(data).hexdigest() for name, data in pages.items()
    }
    assert len({one["content"] for one in told["files"]}) == 1


def kills(rounds: int, rng: random.Random, made: Path) -> str:
    """So many builds killed; what was seen."""
    cases = [_version(made / f"v{at}", suffix) for at, suffix in enumerate(("", "s"))]
    whole: list[dict[str, bytes]] = []
    for at, case in enumerate(cases):
        build(assess(case), made / f"whole{at}")
        whole.append(_on_disk(made / f"whole{at}" / NAME))
    out = made / "out"
    packet = out / NAME
    spent_s = []
    for _ in range(3):
        start = time.perf_counter()
        _start(cases[0], out, "--force").wait()
        spent_s.append(time.perf_counter() - start)
    usual_s = min(spent_s)
    mine = b"by hand, 0\n"
    (packet / "plan.docx").write_bytes(mine)
    seen: Counter[str] = Counter()
    for at in range(rounds):
        # a third of the kills fall anywhere, a third while files are written, a third while they are renamed
        begins = (None, packet / ".building", packet / ".building" / "manifest.json")[at % 3]
        after_s = (usual_s * rng.random(), rng.uniform(0, _WRITING_S), 0)[at % 3]
        words = _LETTER_ALONE if rng.random() < 0.3 else ()
        seen["killed"] += _killed(_start(cases[at // 3 % 2], out, "--force", *words), after_s, begins)
        found = _on_disk(packet)
        assert mine in found.values(), f"round {at}: a text by hand was lost"
        versions = set()
        for name, data in found.items():
            kinds = _of(name, data, whole)
            assert kinds or data.startswith(b"by hand, "), f"round {at}: {name} is half written"
            versions |= kinds if len(kinds) == 1 else set()
        seen["mixed"] += len(versions) > 1
        seen["staged"] += (packet / ".building").exists()
        if at % 6 == 5:
            which = rng.randrange(2)
            assert _start(cases[which], out, *(_LETTER_ALONE if rng.random() < 0.5 else ())).wait() == 0
            _check_settled(packet, whole[which], mine)
            seen["settled"] += 1
            for name in [name for name in _on_disk(packet) if ".outdated" in name]:
                (packet / name).unlink()
                seen["set aside"] += 1
            mine = f"by hand, {at}\n".encode()
            (packet / "plan.docx").write_bytes(mine)
    return (
        f"{rounds} builds of {usual_s * 1000:.0f} ms, {seen['killed']} killed before their end: no file half "
        "written, no text "
        f"by hand lost; {seen['staged']} left work for the next build, {seen['mixed']} left pages of two "
        "versions side by "
        f"side until then; {seen['settled']} builds after them left pages of one version alone and a manifest of just "
        f"those, with {seen['set aside']} texts by hand set aside"
    )


def at_the_same_time(rounds: int, rng: random.Random, made: Path) -> str:
    """So many rounds of builds at once of two people with one id, and of one case without a key; what was seen."""
    people = [_version(made / f"p{at}", suffix) for at, suffix in enumerate(("", "s"))]
    for case in people:
        (case / FILE).unlink()
    keys = [settle_key(case)[0] for case in people]
    won: Counter[int] = Counter()
    refused = 0
    for at in range(rounds):
        out = made / f"same{at}"
        order = [rng.randrange(2) for _ in range(_AT_ONCE - 2)] + [0, 1]
        rng.shuffle(order)
        children = [(who, _start(people[who], out, "--formats", "html")) for who in order]
        status = [(who, child.wait()) for who, child in children]
        told = json.loads((out / NAME / "manifest.json").read_text(encoding="utf-8"))
        owner = keys.index(told["key"])
        assert all((code == 0) == (who == owner) and code in (0, 2) for who, code in status), status
        marks = {mark_in(name, data) for name, data in _on_disk(out / NAME).items()}
        assert marks == {mark_of(keys[owner])}, "pages of two people in one folder"
        won[owner] += 1
        refused += sum(code == 2 for _, code in status)
        (people[1] / FILE).unlink()
        before = [_start(people[1], made / f"fresh{at}", *_LETTER_ALONE) for _ in range(_AT_ONCE)]
        assert [child.wait() for child in before] == [0] * _AT_ONCE
        drawn = read_key(people[1])
        told = json.loads((made / f"fresh{at}" / NAME / "manifest.json").read_text(encoding="utf-8"))
        assert drawn is not None and drawn.key == told["key"] not in keys
        keys[1] = drawn.key
        shutil.rmtree(out)
        shutil.rmtree(made / f"fresh{at}")
    return (
        f"{rounds} rounds of {_AT_ONCE} builds at once with one id: never pages of two people in one folder, "
        f"{refused} builds "
        f"refused, the folder went {won[0]} times to one and {won[1]} times to the other; {rounds} rounds of "
        f"{_AT_ONCE} builds "
        "of a case without a key: one key each"
    )


def main(n_kills: int, rounds: int, seed: int) -> None:
    rng = random.Random(seed)
    with tempfile.TemporaryDirectory() as made:
        print(kills(n_kills, rng, Path(made)))
        print(at_the_same_time(rounds, rng, Path(made)))
        print(f"seed {seed}; failures 0")


if __name__ == "__main__":
    main(*(int(word) for word in (*sys.argv[1:], *("60", "12", "6")[len(sys.argv) - 1 :])))
