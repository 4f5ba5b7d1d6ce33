"""ICD-10-CM: whether a diagnosis code exists, and whether it is billable (a code with nothing below it).

The list is icd10.txt.xz beside this file: every category and subcategory of the April 2026 release, sorted,
without dots, one a line; a code that has codes below it ends in "-". It was written once by
tests/codes/make_icd10.py from the data of the Python package simple-icd-10-cm 1.5.0 (MIT; the list itself is a
US public release). It holds codes only, no descriptions. It is unpacked at the first question, in a few ms.
"""

from __future__ import annotations

import lzma
from functools import cache
from pathlib import Path

RELEASE = "ICD-10-CM, April 2026 release"

_LIST = Path(__file__).with_name("icd10.txt.xz")


def exists(code: str) -> bool:
    """Whether the code is in the list, billable or not.

    Check: G99.9 is not; G35 and G82.5 are (list of the package named above).
    """
    return _holds(code, "") or _holds(code, "-")


def billable(code: str) -> bool:
    """Whether the code is in the list and has no codes below it.

    Check: G12.21 and Z99.3 are; G35 and G82.5 are not (list of the package named above).
    """
    return _holds(code, "")


def _holds(code: str, mark: str) -> bool:
    plain = code.replace(".", "", 1)
    return plain.isalnum() and f"\n{plain}{mark}\n".encode() in _codes()


@cache
def _codes() -> bytes:
    return lzma.decompress(_LIST.read_bytes())
