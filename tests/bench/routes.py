"""One packet by this program, by bare document libraries, and by routes a clinic's engineer might take instead.

`python tests/bench/routes.py` prints one table: CPU milliseconds (user and system, children included), medians, and
each as a multiple of the floor. The floor, `bare.py`, loads nothing of this program: it writes the same words, tables
and pictures with python-docx, reportlab's platypus and string joins, without a case, evidence, tags, links or page
references. In a fresh process a checkout makes its templates into Python first, which a wheel holds. The other routes
are measured where they are installed: docxtpl with LibreOffice, WeasyPrint, pandoc.
"""

from __future__ import annotations

import os
import pickle
import resource
import shutil
import statistics
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from io import BytesIO
from pathlib import Path

from bare import LARGE, Block, floor

from docgen.packet.assess import assess
from docgen.packet.render import render
from docgen.packet.trees import trees
from docgen.packet.wording import wording
from docgen.packet.write import build
from docgen.rendering.tree import Node
from docgen.resources import folder

CASE = folder("cases") / "ilmari-okonjo-vale"


def spent() -> float:
    """CPU seconds of this process and of every child that has ended."""
    return sum(
        u.ru_utime + u.ru_stime for u in map(resource.getrusage, (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN))
    )


def median_ms(work: Callable[[], object], runs: int) -> float:
    """Median CPU milliseconds of `runs` calls, after one to warm up."""
    work()
    times = []
    for _ in range(runs):
        start = spent()
        work()
        times.append(spent() - start)
    return statistics.median(times) * 1000


def blocks(tree: Node) -> Iterator[Block]:
    """The words of a document, in order, without our own structure."""
    for node in tree.children:
        if node.kind == "heading":
            yield f"heading{node.level}", node.plain()
        elif node.kind == "table":
            yield "table", [[cell.plain() for cell in row.children] for row in node.children]
        elif node.kind == "figure":
            yield "picture", node.plain()
        elif any(item.kind == "item" for item in node.walk()):
            yield from (("item", item.plain()) for item in node.walk() if item.kind == "item")
        elif node.plain().strip():
            yield "paragraph", node.plain()


def packet_of(case: Path) -> dict[str, list[Block]]:
    """Document -> its words; those with a large print twice, and cover, letter and order once more in one file."""
    made = {name: list(blocks(tree)) for name, tree in trees(assess(case)).items()}
    large = {f"{name}{LARGE}": made[name] for name in made if wording().documents[name].large_print}
    return made | large | {"packet": made["cover"] + made["letter"] + made["order"]}


def picture() -> bytes:
    """A drawing as pixels, as large as ours, made once and not timed."""
    from docgen.figures.draw import drawings
    from docgen.packet.wording import language_words
    from docgen.rendering.picture import png

    one = assess(CASE)
    [scene] = drawings(one.file.case, one.evidence, language_words()["figures"], ["methods_compared"]).values()
    return png(scene)


def word_template(path: Path) -> None:
    """A Word template that holds a place for each kind of block."""
    import docx

    template = docx.Document()
    template.add_paragraph("{%p for kind, what in blocks %}")
    for kind, style in (
        ("heading1", "Heading 1"),
        ("heading2", "Heading 2"),
        ("heading3", "Heading 3"),
        ("item", "List Bullet"),
        ("paragraph", "Normal"),
        ("picture", "Normal"),
    ):
        template.add_paragraph(f"{{%p if kind == '{kind}' %}}")
        template.add_paragraph("{{ what }}", style)
        template.add_paragraph("{%p endif %}")
    template.add_paragraph("{%p if kind == 'table' %}")
    table = template.add_table(3, 3)
    table.cell(0, 0).text = "{%tr for row in what %}"
    for cell, text in zip(
        table.rows[1].cells, ("{%tc for cell in row %}", "{{ cell }}", "{%tc endfor %}"), strict=True
    ):
        cell.text = text
    table.cell(2, 0).text = "{%tr endfor %}"
    template.add_paragraph("{%p endif %}")
    template.add_paragraph("{%p endfor %}")
    template.save(path)


def docxtpl_and_office(content: dict[str, list[Block]], image: bytes, out: Path, kinds: tuple[str, ...]) -> None:
    """A Word template filled for each document, words, tables and pictures; then one call of LibreOffice for each kind
    of file."""
    from docx.shared import Pt
    from docxtpl import DocxTemplate, InlineImage

    word_template(out / "template.docx")
    names = []
    for name, what in content.items():
        one = DocxTemplate(out / "template.docx")
        one.render(
            {
                "blocks": [
                    (kind, InlineImage(one, BytesIO(image), width=Pt(400)) if kind == "picture" else what)
                    for kind, what in what
                ]
            },
            autoescape=True,
        )
        one.save(out / f"{name}.docx")
        names.append(str(out / f"{name}.docx"))
    for kind in kinds:
        subprocess.run(
            [
                "soffice",
                "--headless",
                f"-env:UserInstallation=file://{out}/profile",
                "--convert-to",
                kind,
                "--outdir",
                str(out),
                *names,
            ],
            check=True,
            capture_output=True,
        )


def weasyprint(pages: dict[str, bytes], out: Path) -> None:
    from weasyprint import HTML

    for name, page in pages.items():
        HTML(string=page.decode()).write_pdf(out / name.replace(".html", ".pdf"))


def pandoc(pages: dict[str, bytes], out: Path) -> None:
    import pypandoc

    for name, page in pages.items():
        pypandoc.convert_text(page.decode(), "docx", "html", outputfile=str(out / name.replace(".html", ".docx")))


def fresh(script: str) -> Callable[[], object]:
    """The script in a new process."""
    return lambda: subprocess.run(
        [sys.executable, "-c", script], check=True, capture_output=True, cwd=Path(__file__).parent
    )


def main() -> None:
    content, image = packet_of(CASE), picture()
    pages = {name: data for name, data in render(assess(CASE)).items() if name.endswith(".html")}
    with tempfile.TemporaryDirectory() as held:
        out = Path(held)
        (out / "floor").mkdir()
        base = median_ms(lambda: floor(content, image, out / "floor"), 7)

        def packet() -> None:
            build(assess(CASE), out / "ours")

        rows = [("floor: python-docx, platypus, joins", base), ("docgen: read, check and build", median_ms(packet, 7))]
        (out / "content").write_bytes(pickle.dumps((content, image)))
        single = median_ms(
            fresh(
                "import pickle; from pathlib import Path; from bare import floor\n"
                f"content, image = pickle.loads(Path({str(out / 'content')!r}).read_bytes())\n"
                f"floor(content, image, Path({str(out / 'floor')!r}))"
            ),
            5,
        )
        rows.append(("floor, in a fresh process", single))
        os.environ["PYTHONWARNINGS"] = "ignore"
        rows.append(
            (
                "docgen build, in a fresh process",
                median_ms(
                    lambda: subprocess.run(
                        [sys.executable, "-m", "docgen", "build", str(CASE), "--out", str(out / "single"), *FORCE],
                        capture_output=True,
                        check=False,
                    ),
                    5,
                ),
            )
        )
        for label, work in (
            ("docxtpl and LibreOffice (docx, pdf)", lambda: docxtpl_and_office(content, image, out, ("pdf",))),
            (
                "docxtpl and LibreOffice (docx, pdf, html)",
                lambda: docxtpl_and_office(content, image, out, ("pdf", "html")),
            ),
            ("WeasyPrint (our html to pdf)", lambda: weasyprint(pages, out)),
            ("pandoc (our html to docx)", lambda: pandoc(pages, out)),
        ):
            try:
                rows.append((label, median_ms(work, 3)))
            except (ImportError, OSError) as failure:
                print(f"{label}: not installed ({failure})")
    print(f"{'one packet, CPU ms, medians':<42} {'ms':>8}  {'x floor':>8}")
    for label, ms in rows:
        print(f"{label:<42} {ms:8.0f}  {ms / (single if 'fresh' in label else base):8.2f}")


FORCE = (
    ["--force"]
    if "--force"
    in subprocess.run([sys.executable, "-m", "docgen", "build", "--help"], capture_output=True, text=True).stdout
    else []
)

if __name__ == "__main__":
    if not shutil.which("soffice"):
        print("LibreOffice is not installed; that route is left out")
    main()
