"""Writes docgen/codes/icd10.txt.xz anew. Not a test: run it by hand when a new release comes out.

python -m pip install simple-icd-10-cm==1.5.0
python tests/codes/make_icd10.py docgen/codes/icd10.txt.xz
"""

from __future__ import annotations

import lzma
import sys
from pathlib import Path


def listed() -> bytes:
    """Categories and subcategories, sorted, without dots, one a line; "-" after those with codes below them."""
    import simple_icd_10_cm as icd

    # a block of one category is listed under the code of that category too: the set leaves it once
    codes = {code for code in icd.get_all_codes(True) if icd.is_category_or_subcategory(code)}
    lines = (code.replace(".", "") + ("" if icd.is_leaf(code) else "-") for code in codes)
    return ("\n" + "\n".join(sorted(lines)) + "\n").encode()


if __name__ == "__main__":
    packed = lzma.compress(listed(), preset=9 | lzma.PRESET_EXTREME)
    Path(sys.argv[1]).write_bytes(packed)
    print(f"{len(packed)} bytes")
