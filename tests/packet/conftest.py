"""What several tests of the packet start from."""

from __future__ import annotations

import pytest
from letterheads_made import TOML, picture_file


@pytest.fixture
def clinic(tmp_path):
    """A folder with a letterhead."""

    def make(toml=TOML, logo=None, reference=None):
        target = tmp_path / "clinic"
        target.mkdir(exist_ok=True)
        for name, data in (
            ("letterhead.toml", toml and toml.encode()),
            ("logo.png", logo or picture_file()),
            ("letterhead.docx", reference),
        ):
            if data is not None:
                (target / name).write_bytes(data)
        return target

    return make
