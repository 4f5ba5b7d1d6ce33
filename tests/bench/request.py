"""How long a request in FHIR takes beyond its PDF, and how large it is.

    python tests/bench/request.py

Aim: under 0.3 s, with modules loaded and the case read. Best of five; the machine is named in the first line.
"""

from __future__ import annotations

import platform
import sys
import time
from pathlib import Path
from tempfile import TemporaryDirectory

sys.path[:0] = [str(Path(__file__).parents[1]), str(Path(__file__).parents[1] / "request")]

from filled import with_submission  # noqa: E402

from docgen.case.read import read_case  # noqa: E402
from docgen.request.bundle import as_bytes  # noqa: E402
from docgen.request.claim import request  # noqa: E402
from docgen.request.guide import GUIDES  # noqa: E402
from docgen.request.submission import read_submission  # noqa: E402
from docgen.resources import folder  # noqa: E402

PDF = bytes(range(256)) * 1000  # as large as a packet of a demo


def main() -> None:
    print(f"Python {platform.python_version()} on {platform.machine()}, {len(PDF)} bytes of PDF")
    for case in sorted(folder("cases").iterdir()):
        file, seconds, size = read_case(case), [], 0
        with TemporaryDirectory() as beside:
            with_submission(Path(beside), file)
            for _ in range(5):
                start = time.perf_counter()
                submission = read_submission(Path(beside))
                size = len(as_bytes(request(file, submission, GUIDES["2.2.1"], {"packet.pdf": PDF}).bundle))
                seconds.append(time.perf_counter() - start)
        print(f"{case.name}: {min(seconds) * 1000:.1f} ms, {size} bytes")


if __name__ == "__main__":
    main()
