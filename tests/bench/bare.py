"""The words of a packet written by the document libraries alone: what `routes.py` measures against.

Nothing of this program is loaded here, so that a fresh process pays for the libraries and for nothing else.
"""

from __future__ import annotations

import html
from io import BytesIO
from pathlib import Path

LARGE = "_large"  # of which there is no page in HTML
Block = tuple[str, object]  # heading1.., paragraph, item, table (rows of texts), picture


def bare_docx(content: list[Block], image: bytes) -> bytes:
    import docx

    document = docx.Document()
    for kind, what in content:
        if kind.startswith("heading"):
            document.add_heading(what, int(kind[-1]))
        elif kind == "table":
            table = document.add_table(len(what), max(map(len, what)))
            for row, texts in zip(table.rows, what, strict=True):
                for cell, text in zip(row.cells, texts, strict=False):
                    cell.text = text
        elif kind == "picture":
            document.add_picture(BytesIO(image))
        else:
            document.add_paragraph(what, "List Bullet" if kind == "item" else None)
    file = BytesIO()
    document.save(file)
    return file.getvalue()


def bare_pdf(content: list[Block], image: bytes) -> bytes:
    from reportlab.lib.styles import getSampleStyleSheet
    from reportlab.platypus import Image, Paragraph, SimpleDocTemplate, Table

    styles, story = getSampleStyleSheet(), []
    for kind, what in content:
        if kind.startswith("heading"):
            story.append(Paragraph(html.escape(what), styles[f"Heading{kind[-1]}"]))
        elif kind == "table":
            width = max(map(len, what))
            story.append(
                Table(
                    [
                        [
                            Paragraph(html.escape(text), styles["BodyText"])
                            for text in [*row, *[""] * (width - len(row))]
                        ]
                        for row in what
                    ]
                )
            )
        elif kind == "picture":
            story.append(Image(BytesIO(image), 400, 180))
        else:
            story.append(Paragraph(html.escape(what), styles["BodyText"]))
    file = BytesIO()
    SimpleDocTemplate(file).build(story)
    return file.getvalue()


def bare_html(content: list[Block]) -> str:
    parts = []
    for kind, what in content:
        if kind == "table":
            rows = "".join("<tr>" + "".join(f"<td>{html.escape(text)}</td>" for text in row) + "</tr>" for row in what)
            parts.append(f"<table>{rows}</table>")
        elif kind.startswith("heading"):
            parts.append(f"<h{kind[-1]}>{html.escape(what)}</h{kind[-1]}>")
        else:
            parts.append(f"<p>{html.escape(str(what))}</p>")
    return "<!doctype html><meta charset=utf-8><title>packet</title>" + "".join(parts)


def floor(content: dict[str, list[Block]], image: bytes, out: Path) -> None:
    """Every file that a packet holds, by the bare libraries."""
    for name, what in content.items():
        (out / f"{name}.pdf").write_bytes(bare_pdf(what, image))
        if name != "packet":
            (out / f"{name}.docx").write_bytes(bare_docx(what, image))
        if name != "packet" and not name.endswith(LARGE):
            (out / f"{name}.html").write_text(bare_html(what), encoding="utf-8")
