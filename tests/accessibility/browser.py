"""What one headless Chromium makes of HTML documents: one start for all of them."""

from __future__ import annotations

import asyncio
from collections.abc import Hashable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TypeVar

from axe_playwright_python.async_playwright import Axe
from chromium import CHROMIUM, NARROW_PX, TALL_PX
from playwright.async_api import ConsoleMessage, Page, Request, async_playwright

_Name = TypeVar("_Name", bound=Hashable)
_N_TABS = 2
# what reaches past the window's right edge, other than inside a box that scrolls by itself
_STICKING_OUT = """() => [...document.querySelectorAll('body *')]
    .filter(one => !one.closest('.scroll') && one.getBoundingClientRect().right > innerWidth + 0.5)
    .map(one => one.outerHTML.slice(0, 120))"""
_SCROLLING = """() => [...document.querySelectorAll('body *')]
    .filter(one => one.scrollWidth > one.clientWidth + 1 && getComputedStyle(one).overflowX === 'auto')
    .map(one => one.firstElementChild.localName)"""
# what axe-core finds; of what it finds right the number alone, for all of it takes longer to hand over than to find
_AXE = """async () => {
    const found = await axe.run(document, {resultTypes: ['violations']})
    return {violations: found.violations, n_passed: found.passes.length}
}"""


@dataclass(frozen=True, slots=True)
class Seen:
    """A document in a window 320 pixels wide, and on paper.

    violations   what axe-core found, with the elements it found it on
    n_passed     how many of its rules applied and found nothing
    width_px     of all there is to scroll to
    sticking_out what reaches past the window outside a scrolling box
    scrolling    names of what lies in the boxes that must be scrolled sideways
    complaints   what the browser wrote to its console or asked the network for
    printed      the file its printing makes
    """

    violations: list[str]
    n_passed: int
    width_px: int
    sticking_out: list[str]
    scrolling: set[str]
    complaints: list[str]
    printed: bytes


def seen(documents: Mapping[_Name, bytes], folder: Path) -> dict[_Name, Seen]:
    """Each document as Chromium shows it; `folder` takes their files."""
    return asyncio.run(_all_seen(documents, folder))


async def _all_seen(documents: Mapping[_Name, bytes], folder: Path) -> dict[_Name, Seen]:
    found: dict[_Name, Seen] = {}
    waiting = list(documents.items())

    async def look_through(tab: Page) -> None:
        while waiting:
            name, html = waiting.pop(0)
            path = folder / f"{len(waiting)}.html"
            path.write_bytes(html)
            found[name] = await _seen(tab, path.as_uri())

    async with async_playwright() as driver:
        browser = await driver.chromium.launch(executable_path=CHROMIUM)
        tabs = [await browser.new_page(viewport={"width": NARROW_PX, "height": TALL_PX}) for _ in range(_N_TABS)]
        await asyncio.gather(*map(look_through, tabs))
        await browser.close()
    return found


async def _seen(tab: Page, address: str) -> Seen:
    complaints: list[str] = []

    def said(message: ConsoleMessage) -> None:
        complaints.append(message.text)

    def asked(request: Request) -> None:
        complaints.extend([] if request.url == address else [request.url])

    tab.on("console", said)
    tab.on("request", asked)
    await tab.goto(address)
    width_px = await tab.evaluate("document.documentElement.scrollWidth")
    sticking_out, scrolling = await tab.evaluate(_STICKING_OUT), set(await tab.evaluate(_SCROLLING))
    printed = await tab.pdf(prefer_css_page_size=True)
    await tab.evaluate(Axe().axe_script)
    report = await tab.evaluate(_AXE)
    tab.remove_listener("console", said)
    tab.remove_listener("request", asked)
    violations = [f"{found['id']}: {node['html']}" for found in report["violations"] for node in found["nodes"]]
    return Seen(violations, report["n_passed"], width_px, sticking_out, scrolling, complaints, printed)
