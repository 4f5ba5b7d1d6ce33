"""DOCX, read by python-docx."""

from __future__ import annotations

import io

import docx
from docx.table import Table


def words(file: bytes) -> list[str]:
    read: list[str] = []

    def visit(holder) -> None:
        for block in holder.iter_inner_content():
            if isinstance(block, Table):
                for row in block.rows:
                    for cell in row.cells:
                        visit(cell)
            else:
                read.extend(block.text.split())

    visit(docx.Document(io.BytesIO(file)))
    return read
