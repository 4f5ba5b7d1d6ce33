"""What a hostile page, file, text or crowd of requests does to the desk: nothing gets in or out, and it works on."""

from __future__ import annotations

import asyncio
import random
import re
import shutil
from collections import Counter
from contextlib import suppress
from html import escape
from pathlib import Path

import pytest
from asking import Running, Visitor
from by_hand import write_by_hand
from in_full import write_in_full
from lxml import etree, html
from support import DEMO_FOLDERS, NOT_REVIEWED

from docgen.case.read import read_case
from docgen.desk.guard import MOST_BYTES_WITH_FILES
from docgen.errors import UserError

_DEMO = DEMO_FOLDERS[0]
_SCRIPTS = ("/files/htmx.min.js", "/files/desk.js")
_HOSTILE = (
    "<script>alert(1)</script>",
    "<img src=x onerror=alert(1)>",
    '"><svg/onload=alert(1)>',
    "' autofocus onfocus='alert(1)",
    "</textarea></option></title><iframe src=//evil.example>",
    "{{ 7 * 191 }}{% include 'base.html' %}",
    "<a href=javascript:alert(1)>here</a>",
    "<!-- --><base href=//evil.example>",
    "<form action=//evil.example><button>Save</button>",
)
_LINE = re.compile(r'^(\w+) = "(.*)"$')


def _unquoted(text: str) -> str:
    return text.replace("&#34;", '"').replace("&#39;", "'")


def _with_markup_everywhere(case: Path) -> int:
    """Put markup into every text of a case that takes any words; how many that are."""
    draw, path = random.Random(20261129), write_in_full(case) / "case.toml"
    before = path.read_text(encoding="utf-8").splitlines()
    lines = [
        f'{found[1]} = "{found[2]} {draw.choice(_HOSTILE).replace(chr(34), chr(92) + chr(34))}"'
        if (found := _LINE.match(line)) and found[1] not in ("format", "id")
        else line
        for line in before
    ]
    for _ in range(20):
        path.write_text("\n".join(lines) + "\n", encoding="utf-8")
        try:
            read_case(case)
            return sum(new != old for new, old in zip(lines, before, strict=True))
        except UserError as failure:
            for at in {int(problem.where.rpartition(":")[2]) - 1 for problem in failure.problems}:
                lines[at] = before[at]
    raise AssertionError("the case is not read")


def _pages(visitor: Visitor) -> dict[str, str]:
    """Each kind of page that a click leads to, from the first on: address -> its text."""
    rest, seen, pages = ["/"], set[str](), dict[str, str]()
    while rest:
        address = rest.pop(0)
        answer = visitor.get(address)
        assert answer.status in (200, 303, 404, 422), address
        pages[address] = answer.text if "html" in answer.headers.get("content-type", "") else ""
        for link in re.findall(r'(?:href|src|data-\w+)="(/[^"#]*)', pages[address]):
            kind = re.sub(r"[0-9a-f]{8,}(-\d+)?", "*", link)
            kind = re.sub(r"(?<=number/).*|(?<=behind/).*", "*", kind)
            if kind not in seen:
                seen.add(kind)
                rest.append(link)
    return pages


def test_markup_in_every_text_is_text_on_every_page(tmp_path):
    case = Path(shutil.copytree(_DEMO, tmp_path / _DEMO.name, ignore=NOT_REVIEWED))
    assert _with_markup_everywhere(case) > 150
    pages = _pages(Visitor(tmp_path).enter())
    assert len(pages) > 25
    assert all(
        any(escape(markup, quote=False) in text for text in map(_unquoted, pages.values())) for markup in _HOSTILE
    )
    for address, text in pages.items():
        assert not [
            tag for tag in ("<script>alert", "<img src=x", "<svg/onload", "<iframe src=//", "<base") if tag in text
        ]
        assert not re.search(r"\b1337\b", text), address  # a digest may hold these digits
        for node in html.fromstring(text or "<p>").iter(etree.Element):
            leads = [
                node.get(name, "") for name in ("href", "src", "action", "formaction", "srcdoc", "hx-get", "hx-post")
            ]
            assert not [to for to in leads if "evil.example" in to or to.startswith(("javascript:", "//"))], address
            assert not [name for name in node.attrib if name.startswith(("on", "hx-on", "hx-vals"))], address
            assert node.tag != "script" or node.get("src") in _SCRIPTS or "/count.html" in address, address


class _Wire:
    """Requests to a running desk, byte by byte."""

    def __init__(self, link: str) -> None:
        port, _, self.key = link.removeprefix("http://127.0.0.1:").partition("/")
        self.port, self.cookie = int(port), ""

    def _head(self, method: str, path: str, *more: str, cookie: str | None = None) -> bytes:
        own = f"http://127.0.0.1:{self.port}"
        lines = [f"{method} {path} HTTP/1.1", f"Host: 127.0.0.1:{self.port}", f"Origin: {own}", "Connection: close"]
        return "\r\n".join([*lines, f"Cookie: {self.cookie if cookie is None else cookie}", *more, "", ""]).encode()

    async def asked(self, path: str, cookie: str | None = None) -> str:
        """The answer to a request for a page, head and all."""
        reader, writer = await asyncio.open_connection("127.0.0.1", self.port)
        writer.write(self._head("GET", path, cookie=cookie))
        answer = await asyncio.wait_for(reader.read(), 60)
        writer.close()
        return answer.decode()

    async def sent_without_end(self, path: str, length: int | None) -> tuple[str, int]:
        """Send zeros as a file: the first line that comes back, if any, and the bytes that were taken until then.

        length  that the request says; None for one that says none and comes in chunks
        """
        reader, writer = await asyncio.open_connection("127.0.0.1", self.port)
        said = "Transfer-Encoding: chunked" if length is None else f"Content-Length: {length}"
        writer.write(self._head("POST", path, "Content-Type: multipart/form-data; boundary=x", said))
        begin = b'--x\r\nContent-Disposition: form-data; name="sheet"; filename="x.csv"\r\n\r\n'
        answer, n_sent = asyncio.ensure_future(reader.readline()), 0
        with suppress(ConnectionError):
            for data in (begin, *[bytes(1_000_000)] * 2000):
                writer.write(b"%x\r\n%s\r\n" % (len(data), data) if length is None else data)
                await writer.drain()
                n_sent += len(data)
                if answer.done():
                    break
        line = ""
        with suppress(ConnectionError):  # cut off before the answer was read
            line = (await asyncio.wait_for(answer, 30)).decode()
        writer.close()
        return line, n_sent


def _most_mb(pid: int) -> float:
    """The most memory that a process has held."""
    return int(re.search(r"VmHWM:\s+(\d+)", Path(f"/proc/{pid}/status").read_text())[1]) / 1024


async def _attacked(desk: Running) -> None:
    wire = _Wire(desk.link)
    wire.cookie = re.search(r"set-cookie: ([^;]+)", await wire.asked(f"/{wire.key}"))[1]
    rows = re.search(r"/case/[0-9a-f]+", await wire.asked("/"))[0] + "/rows"
    before_mb = _most_mb(desk.process.pid)
    for said in (2_000_000_000, None):
        line, n_sent = await wire.sent_without_end(rows, said)
        assert (said, line.split()[1:2]) in ((said, ["413"]), (said, []))
        assert n_sent < MOST_BYTES_WITH_FILES + 20_000_000
    assert _most_mb(desk.process.pid) < before_mb + 30
    crowd = [wire.asked("/files/desk.css", None if n % 2 else "desk=guessed") for n in range(500)]
    assert Counter(answer.split()[1] for answer in await asyncio.gather(*crowd)) == {"200": 250, "403": 250}
    assert (await wire.asked("/")).split()[1] == "200"


@pytest.mark.skipif(not Path("/proc/self/status").exists(), reason="memory is read where Linux keeps it")
def test_a_file_without_an_end_and_a_crowd_of_requests_are_borne(tmp_path):
    case = write_by_hand(tmp_path)
    desk = Running(tmp_path)
    try:
        asyncio.run(_attacked(desk))
    finally:
        written = desk.kill()
    assert written == ("", "")  # nothing is logged, of a refusal neither
    assert not [path for path in case.glob(".desk/**/*") if path.is_file()]
