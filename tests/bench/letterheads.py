"""Hostile letterheads: run by hand with `python tests/bench/letterheads.py [--seed 1] [--n 600]`; not part of the test run.

Each is a DOCX, made from a seed, with one thing in its head, foot, styles, theme or picture that must not go out with a
packet: an address that is fetched, a field that runs or includes, hidden words, an embedded object, data about a picture.
It must be refused in one sentence, or the document modelled on it must hold nothing of it. Every third is harmless and
must be taken, so that refusing everything does not pass.
"""

from __future__ import annotations

import argparse
import collections
import io
import re
import sys
import zipfile
from datetime import date
from pathlib import Path
from random import Random

import docx
from PIL import Image, PngImagePlugin

sys.path[:0] = [str(Path(__file__).parent.parent.parent)]

from docgen.rendering.docx.reference import ReferenceProblem, read_reference  # noqa: E402
from docgen.rendering.formats import to_docx  # noqa: E402
from docgen.rendering.letterhead import Letterhead  # noqa: E402
from docgen.rendering.page import Page  # noqa: E402
from docgen.rendering.tree import parse  # noqa: E402

CANARY = "tantamount-heron"
_W = 'xmlns:w="http://schemas.openxmlformats.org/wordprocessingml/2006/main"'
_A = 'xmlns:a="http://schemas.openxmlformats.org/drawingml/2006/main"'
_R = 'xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"'
_V = 'xmlns:v="urn:schemas-microsoft-com:vml" xmlns:o="urn:schemas-microsoft-com:office:office"'
_STRICT = 'xmlns:s="http://purl.oclc.org/ooxml/wordprocessingml/main"'
_OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
_ADDRESSES = [
    "http://{}.example/a.png", "https://{}.example/", "file:///home/{}/a.png", "\\\\{}\\share\\a.png", "//{}/share/a",
    "ftp://{}.example/a", "C:\\{}\\a.png", "c:/{}/a.png", "../{}/a.png", "/home/{}/a.png", "smb://{}/a", "file:{}.png",
    "FILE:///{}", " http://{}.example/a", "ms-word:ofe|u|{}", "data:text/html,{}", "javascript:{}", "mhtml:{}",
]  # fmt: skip
_FIELDS = [
    "INCLUDEPICTURE", "INCLUDETEXT", "DDE", "DDEAUTO", "LINK", "IMPORT", "QUOTE", "IF", "MACROBUTTON", "HYPERLINK",
    "MERGEFIELD", "DATABASE", "EMBED", "AUTOTEXT", "FILLIN", "ASK", "USERNAME", "DOCPROPERTY", "DOCVARIABLE", "INFO",
    "REF", "INDEX", "RD", "TC", "TEMPLATE", "=", "SET", "GOTOBUTTON", "PRINT", "ADDIN",
]  # fmt: skip


def _case(rng: Random, word: str) -> str:
    return "".join(rng.choice((c.upper(), c.lower())) for c in word) if rng.random() < 0.3 else word


def _address(rng: Random) -> str:
    return rng.choice(_ADDRESSES).format(CANARY).replace("&", "&amp;")


def _field(rng: Random) -> str:
    code = f" {_case(rng, rng.choice(_FIELDS))} &quot;{CANARY}&quot; "
    prefix, space = rng.choice((("w", _W), ("s", _STRICT)))
    at = rng.randrange(1, 4)
    begin, sep = (
        f'<{prefix}:fldChar {prefix}:fldCharType="begin"/>',
        f'<{prefix}:fldChar {prefix}:fldCharType="separate"/>',
    )
    tag = rng.choice((f"{prefix}:instrText", f"{prefix}:delInstrText"))
    forms = [
        f'<{prefix}:fldSimple {space} {prefix}:instr="{code}"/>',
        f"<w:r {space}>{begin}<{tag}>{code}</{tag}>{sep}</w:r>",
        f"<w:r {space}>{begin}</w:r><w:r {space}><{tag}>{code[:at]}</{tag}></w:r><w:r {space}><{tag}>{code[at:]}</{tag}></w:r>",
        f"<w:r {space}>{begin}<{tag}> PAGE </{tag}>{begin}<{tag}>{code}</{tag}></w:r>",
        f"<w:ins {space}><w:r><{tag}>{code}</{tag}></w:r></w:ins>",
        f"<w:r {space}><{tag}>{code[:at]}<w:x/>{code[at:]}</{tag}></w:r>",
    ]
    return rng.choice(forms)


def _hidden(rng: Random) -> str:
    marks = [
        "<w:vanish/>", '<w:vanish w:val="1"/>', '<w:vanish w:val="true"/>', '<w:vanish w:val="on"/>', "<w:specVanish/>", "<w:webHidden/>",
        '<w:sz w:val="2"/>', '<w:sz w:val="1"/>', '<w:color w:val="FFFFFF"/>', '<w:color w:val="fefefe"/>', '<w:color w:val="FFFEFD"/>',
    ]  # fmt: skip
    deleted = f"<w:del><w:r><w:delText>{CANARY}</w:delText></w:r></w:del>"
    moved = f"<w:moveFrom><w:r><w:t>{CANARY}</w:t></w:r></w:moveFrom>"
    run = f"<w:r><w:rPr>{rng.choice(marks)}</w:rPr><w:t>{CANARY}</w:t></w:r>"
    return rng.choice((run, run, run, deleted, moved))


def _drawing(rng: Random) -> str:
    address = _address(rng)
    forms = [
        f'<w:r><w:pict {_V}><v:shape><v:imagedata src="{address}"/></v:shape></w:pict></w:r>',
        f'<w:r><w:pict {_V}><v:rect><v:fill o:href="{address}" type="frame"/></v:rect></w:pict></w:r>',
        f"<w:r><w:pict {_V}><v:shape><v:textbox><w:txbxContent><w:p><w:r><w:t>{CANARY}</w:t></w:r></w:p></w:txbxContent></v:textbox></v:shape></w:pict></w:r>",
        f'<w:r><w:drawing><a:blip {_A} {_R} r:link="rIdOut"/></w:drawing></w:r>',
        f'<w:r><w:drawing><a:blip {_A} {_R} r:embed="rIdOut"/></w:drawing></w:r>',
        f'<w:r><w:drawing><wp:docPr xmlns:wp="http://schemas.openxmlformats.org/drawingml/2006/wordprocessingDrawing" id="1" name="{address}" descr="{address}"/></w:drawing></w:r>',
        f'<mc:AlternateContent xmlns:mc="http://schemas.openxmlformats.org/markup-compatibility/2006"><mc:Fallback><w:r><w:t>{CANARY}</w:t></w:r></mc:Fallback></mc:AlternateContent>',
        f'<w:sdt><w:sdtPr><w:dataBinding w:xpath="/{CANARY}"/></w:sdtPr></w:sdt>',
        f'<w:r><x:thing xmlns:x="urn:{CANARY}" where="{address}"/></w:r>',
        f"<w:altChunk {_R} r:id='rIdOut'/>",
        f'<w:r><w:object><o:OLEObject {_V} Type="Link" ProgID="{CANARY}"/></w:object></w:r>',
        f'<w:r><w:t w:src="{address}">x</w:t></w:r>',
    ]
    return rng.choice(forms)


def _picture(rng: Random, hostile: bool) -> bytes:
    picture, file = Image.new("RGB", (rng.randrange(20, 60), 20), (31, 78, 121)), io.BytesIO()
    if not hostile:
        picture.save(file, rng.choice(("PNG", "JPEG")))
        return file.getvalue()
    exif = Image.Exif()
    exif[0x010E], exif[0x013B] = CANARY, CANARY
    if rng.random() < 0.5:
        picture.save(file, "JPEG", exif=exif, comment=CANARY, icc_profile=CANARY.encode())
    else:
        told = PngImagePlugin.PngInfo()
        told.add_text("Author", CANARY)
        picture.save(file, "PNG", exif=exif, pnginfo=told, icc_profile=CANARY.encode())
    return file.getvalue() + (CANARY.encode() if rng.random() < 0.5 else b"")


def _model(picture: bytes) -> bytes:
    document = docx.Document()
    section = document.sections[0]
    section.header.paragraphs[0].text = "Shoal Street Seating Clinic"
    section.footer.paragraphs[0].text = "Harbour 00000"
    section.header.paragraphs[0].add_run().add_picture(io.BytesIO(picture))
    file = io.BytesIO()
    document.save(file)
    return file.getvalue()


def _with(file: bytes, part: str, old: str, new: str) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(file)) as archive, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as made:
        for name in archive.namelist():
            data = archive.read(name)
            if name == part:
                assert old.encode() in data, (part, old)
                data = data.replace(old.encode(), new.encode(), 1)
            made.writestr(name, data)
    return out.getvalue()


KINDS = ("field", "hidden", "drawing", "relation", "styles", "theme", "picture")


def hostile(rng: Random, kind: str) -> bytes:
    """A letterhead with one thing of a kind that must not go out."""
    if kind == "picture":
        return _model(_picture(rng, True))
    file = _model(_picture(rng, False))
    part = "word/header1.xml"
    if kind == "relation" or kind == "drawing" and rng.random() < 0.5:
        what = rng.choice(
            ("image", "hyperlink", "attachedTemplate", "oleObject", "frame", "aFChunk", "subDocument", "video")
        )
        scheme = f"https://{CANARY}.example/" if kind == "drawing" else _address(rng)
        relation = f'<Relationship Id="rIdOut" Type="{_OFFICE}/{"hyperlink" if kind == "drawing" else what}" Target="{scheme}" TargetMode="External"/>'
        file = _with(file, "word/_rels/header1.xml.rels", "</Relationships>", f"{relation}</Relationships>")
        return file if kind == "relation" and what != "hyperlink" else _with(
            file, part, "</w:p>", f'<w:r><w:drawing><a:blip {_A} {_R} r:link="rIdOut"/></w:drawing></w:r></w:p>'
        )  # fmt: skip
    if kind == "styles":
        text = rng.choice(
            (f'<w:style w:styleId="x" w:src="{_address(rng)}"/>', f'<w:style w:styleId="x" {_R} r:link="{CANARY}"/>')
        )
        return _with(file, "word/styles.xml", "</w:styles>", f"{text}</w:styles>")
    if kind == "theme":
        text = rng.choice((f'<a:blip {_R} r:link="{CANARY}"/>', f'<a:x src="{_address(rng)}"/>', f"<!-- {CANARY} -->"))
        return _with(file, "word/theme/theme1.xml", "</a:theme>", f"{text}</a:theme>")
    text = {"field": _field, "hidden": _hidden, "drawing": _drawing}[kind](rng)
    if rng.random() < 0.3:
        part = "word/footer1.xml"
    return _with(file, part, "</w:p>", f"{text}</w:p>")


def harmless(rng: Random) -> bytes:
    """A letterhead as clinics have them."""
    code = rng.choice((" PAGE ", " page \\* MERGEFORMAT ", " NUMPAGES ", ' DATE \\@ "d MMMM yyyy" ', " TITLE "))
    run = rng.choice(
        (
            '<w:r><w:rPr><w:color w:val="1F4E79"/><w:sz w:val="16"/></w:rPr><w:t>555-0142</w:t></w:r>',
            f"<w:fldSimple w:instr='{code}'/>",
            f'<w:r><w:fldChar w:fldCharType="begin"/><w:instrText>{code}</w:instrText><w:fldChar w:fldCharType="end"/></w:r>',
            '<w:r><w:rPr><w:vanish w:val="0"/></w:rPr><w:t>open: 9 to 5, https and all</w:t></w:r>',
            '<w:r w:rsidR="00A1B2C3"><w:rPr><w:shd w:fill="1F4E79"/><w:color w:val="FFFFFF"/></w:rPr><w:t>on a band</w:t></w:r>',
        )
    )
    return _with(_model(_picture(rng, False)), "word/footer1.xml", "</w:p>", f"{run}</w:p>")


def outcome(file: bytes) -> str:
    """What became of a letterhead: refused, or taken, or "leaks" with the part that holds what must not go out."""
    try:
        reference = read_reference(file)
    except ReferenceProblem as problem:
        return (
            "refused"
            if str(problem) and "\n" not in str(problem) and CANARY not in str(problem)
            else "leaks in its message"
        )
    page = Page("A letter", "Robin Example", date(2026, 11, 25), "", letterhead=Letterhead(reference=reference))
    built = to_docx.render(parse("# A letter\n\nWords.\n"), page, {})
    docx.Document(io.BytesIO(built))
    with zipfile.ZipFile(io.BytesIO(built)) as archive:
        for name in archive.namelist():
            data = archive.read(name)
            if CANARY.encode() in data or re.search(rb"vanish(?! w:val=\"0\")|TargetMode=\"External\"", data):
                return f"leaks in {name}"
    return "taken"


def main() -> None:
    """Prints the counts; ends with 1 if any failed."""
    ask = argparse.ArgumentParser(description=__doc__)
    ask.add_argument("--seed", type=int, default=1)
    ask.add_argument("--n", type=int, default=600)
    asked = ask.parse_args()
    counts: dict[str, collections.Counter[str]] = collections.defaultdict(collections.Counter)
    n_failed = 0
    for at in range(asked.n):
        rng = Random(f"{asked.seed} {at}")
        kind = "harmless" if at % 3 == 2 else KINDS[at % len(KINDS)]
        file = harmless(rng) if kind == "harmless" else hostile(rng, kind)
        try:
            became = outcome(file)
        except Exception as fault:  # any is a failure, and the next is tried
            became = f"fault: {type(fault).__name__}"
        counts[kind][became] += 1
        if became not in ("refused", "taken") or kind == "harmless" and became != "taken":
            n_failed += 1
            print(f"failed: seed {asked.seed}, number {at}, {kind}: {became}")
    for kind, became in counts.items():
        print(f"{kind:10}", ", ".join(f"{n} {word}" for word, n in sorted(became.items())))
    print(f"{asked.n} letterheads, {n_failed} failures")
    sys.exit(1 if n_failed else 0)


if __name__ == "__main__":
    main()
