"""Writes docgen/codes/icd10_codes and diagnoses.txt.xz anew. Not a test: run it by hand when a new release comes out.

python -m pip install simple-icd-10-cm==1.5.0
python tests/codes/make_icd10.py docgen/codes
"""

from __future__ import annotations

import lzma
import sys
from itertools import groupby
from pathlib import Path

# what power chairs are usually requested for: common practice, no source
USUAL = tuple(
    "A80 B91 C71 C72 D48 E7 F84 G I6 M05 M06 M08 M15 M24 M41 M62 M86 Q0 Q6 Q7 Q9 R25 R26 R27 R29 R53 S06 S14 S24 S34 "
    "T84 Z89 Z99".split()
)
LATER = "S"  # of an injury, what a chair is requested for is its sequela, not the first or a later encounter


def listed() -> dict[str, bytes]:
    """Categories and subcategories by their first letter, sorted, without dots, one a line; "-" after those with codes
    below them."""
    import simple_icd_10_cm as icd

    # a block of one category is listed under the code of that category too: the set leaves it once
    codes = {code for code in icd.get_all_codes(True) if icd.is_category_or_subcategory(code)}
    lines = (code.replace(".", "") + ("" if icd.is_leaf(code) else "-") for code in codes)
    by_letter = groupby(sorted(lines), key=lambda line: line[0])
    return {letter: "\n".join(["", *of_letter, ""]).encode() for letter, of_letter in by_letter}


def named() -> bytes:
    """The usual billable codes with their names, one a line with a tab between."""
    import simple_icd_10_cm as icd

    codes = sorted(code for code in icd.get_all_codes(True) if code.startswith(USUAL) and icd.is_leaf(code))
    usual = [code for code in dict.fromkeys(codes) if not code.startswith("S") or code.endswith(LATER)]
    return "\n".join(f"{code}\t{icd.get_description(code)}" for code in usual).encode()


if __name__ == "__main__":
    texts = {f"icd10_codes/{letter}.txt.xz": text for letter, text in listed().items()}
    for file, text in (texts | {"diagnoses.txt.xz": named()}).items():
        packed = lzma.compress(text, preset=9 | lzma.PRESET_EXTREME)
        (Path(sys.argv[1]) / file).write_bytes(packed)
        print(f"{file}: {len(packed)} bytes")
