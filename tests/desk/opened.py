"""The desk opened in Chromium at the width of a phone, and what each page of it is held to there."""

from __future__ import annotations

import asyncio
import queue
import re
import threading
from collections.abc import Awaitable, Callable
from pathlib import Path

from axe_playwright_python.async_playwright import Axe
from chromium import CHROMIUM, NARROW_PX
from playwright.async_api import BrowserContext, Page, async_playwright

from docgen.desk.serve import serve

# the size of a target is the rule of WCAG 2.2 AA that axe-core asks only where it is told to
OPTIONS = {"rules": {"target-size": {"enabled": True}}, "resultTypes": ["violations"]}


def look_through(
    folder: Path,
    look: Callable[[BrowserContext, str], Awaitable[None]],
    args: tuple[str, ...] = (),
    without: str | None = None,
    is_looked_at: bool = True,
) -> threading.Thread:
    """Open the desk over a folder and look through it; the thread in which it runs.

    look     what is done there, with the browser and the link that the desk gives out
    args     of the browser
    without  what stands in the addresses that are not loaded, as they have tests of their own
    is_looked_at  whether axe-core looks at pages; without it they keep their own policy
    """
    links: queue.Queue[str] = queue.Queue()
    desk = threading.Thread(target=serve, args=(folder, 0, links.put), daemon=True)
    desk.start()

    async def through() -> None:
        async with async_playwright() as driver:
            browser = await driver.chromium.launch(executable_path=CHROMIUM, args=[*args])
            # axe-core is put into the page, which the page's own policy forbids to anybody
            viewport = {"width": NARROW_PX, "height": 800}
            context = await browser.new_context(viewport=viewport, bypass_csp=is_looked_at)
            if without:
                await context.route(re.compile(without), lambda route: route.abort())
            await look(context, links.get(timeout=10))
            await browser.close()

    asyncio.run(through())
    return desk


_AT_REST = "!document.querySelector('.htmx-request, .htmx-swapping, .htmx-settling')"


async def accessible(page: Page) -> None:
    """Hold a page to axe-core and to the width of a phone, once no part of it is still being swapped."""
    await page.wait_for_function(_AT_REST)
    report = (await Axe().run(page, options=OPTIONS)).response
    against = [(rule["id"], node["html"]) for rule in report["violations"] for node in rule["nodes"]]
    assert against == [], f"{page.url}: {against}"
    assert await page.evaluate("document.documentElement.scrollWidth") <= NARROW_PX, page.url
