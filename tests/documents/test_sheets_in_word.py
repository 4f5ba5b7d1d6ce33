"""Card, booklet and emergency page as a therapist prints them from the DOCX: as many sides as the PDF has."""

from __future__ import annotations

import io
import shutil
import subprocess

import pytest
from gathered import of_each
from support import ASSESSED

from docgen.packet.render import render

NAME, SHEETS = "marisol-quenneville-tran", ("card", "emergency", "guide")


@pytest.fixture(scope="module")
def n_pages(tmp_path_factory):
    """Document -> pages of its PDF, and of its DOCX as LibreOffice prints it."""
    if not shutil.which("soffice"):
        pytest.skip("LibreOffice is not installed")
    import pypdfium2

    folder = tmp_path_factory.mktemp("office")
    files = render(ASSESSED[NAME], ["docx", "pdf"], list(SHEETS))
    for sheet in SHEETS:
        (folder / f"{sheet}.docx").write_bytes(files[f"{sheet}.docx"])
    profile = f"-env:UserInstallation=file://{folder}/profile"
    written = [str(folder / f"{sheet}.docx") for sheet in SHEETS]
    command = ["soffice", profile, "--headless", "--convert-to", "pdf", "--outdir", str(folder), *written]
    subprocess.run(command, check=True, capture_output=True, timeout=240)

    def counted(file):
        with pypdfium2.PdfDocument(file) as document:
            return len(document)

    return {sheet: (counted(io.BytesIO(files[f"{sheet}.pdf"])), counted(folder / f"{sheet}.pdf")) for sheet in SHEETS}


@of_each(("sheet", "most"), [("card", 2), ("emergency", 2), ("guide", 6)])
def test_a_sheet_of_columns_has_as_many_sides_in_libreoffice_as_in_the_pdf(sheet, most, n_pages):
    in_pdf, in_office = n_pages[sheet]
    assert in_office == in_pdf <= most
