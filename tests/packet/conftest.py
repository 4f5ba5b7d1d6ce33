"""What several tests of the packet start from."""

from __future__ import annotations

import pytest
from letterheads_made import TOML, picture_file
from written_packets import CASE, files_of

from docgen.packet.assess import assess
from docgen.packet.render import Rendered, render
from docgen.packet.write import build


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


@pytest.fixture(scope="session")
def assessed():
    return assess(CASE)


@pytest.fixture(scope="session")
def letter(assessed):
    return render(assessed, ["docx"], ["letter"])["letter.docx"]


@pytest.fixture
def builds(assessed, tmp_path, monkeypatch):
    """Build a packet of made-up files of a version; returns what the build says."""

    def build_version(version):
        monkeypatch.setattr("docgen.packet.write.rendered", lambda *rest: Rendered(files_of(version)))
        return build(assessed, tmp_path)

    return build_version
