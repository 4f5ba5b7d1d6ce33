"""The desk in a browser: by the keyboard alone, narrow, with a finding of axe-core nowhere, in two tabs."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from axe_playwright_python.async_playwright import Axe
from chromium import CHROMIUM
from opened import OPTIONS, look_through
from playwright.async_api import BrowserContext, Page
from support import DEMO_FOLDERS, NOT_REVIEWED

from docgen.case.read import read_case
from docgen.desk.topics import topics

pytestmark = pytest.mark.skipif(CHROMIUM is None, reason="Chromium is not installed")

_DEMO = DEMO_FOLDERS[0]


@pytest.fixture
def case(tmp_path):
    shutil.copytree(_DEMO, tmp_path / _DEMO.name, ignore=NOT_REVIEWED)
    return tmp_path / _DEMO.name


async def _accessible(page: Page) -> None:
    report = (await Axe().run(page, options=OPTIONS)).response
    assert [(rule["id"], node["html"]) for rule in report["violations"] for node in rule["nodes"]] == []
    assert await page.evaluate("document.documentElement.scrollWidth") <= page.viewport_size["width"]


async def _screen(page: Page, title: str) -> None:
    """Go to a screen of the case by the list of screens, which is closed where the page is narrow."""
    async with page.expect_navigation():
        await page.evaluate("document.querySelector('details.screens').open = true")
        await page.click(f"nav >> text='{title}'")


async def _saved(page: Page, words: str = "Saved.") -> None:
    await page.locator("#state", has_text=words).wait_for(timeout=15_000)


async def _through(context: BrowserContext, link: str, case: Path) -> None:
    page = await context.new_page()
    complaints: list[str] = []
    page.on("pageerror", lambda error: complaints.append(str(error)))
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    await page.goto(link)
    await page.locator("li", has_text="ready").first.wait_for(timeout=15_000)
    await _accessible(page)
    async with page.expect_navigation():
        await page.click(f"li:has-text('{case.name}') a")
    for topic in topics():
        await _screen(page, topic.title)
        if topic.id == "tried":  # all are of the same pieces, and a screen of hundreds open at once takes seconds
            await page.evaluate("document.querySelectorAll('details').forEach(part => { part.open = true; })")
        await _accessible(page)

    await _screen(page, "Who")
    await page.keyboard.press("Tab")
    while await page.evaluate("document.activeElement.id") != "client-weight_kg":
        await page.keyboard.press("Tab")
    await page.keyboard.press("Control+A")
    await page.keyboard.type("150 lb")
    await page.keyboard.press("Tab")
    await _saved(page)
    assert read_case(case).case.client.weight_kg == 68
    assert "68 kg" in await page.inner_text("form:has(#client-weight_kg)")

    other = await context.new_page()
    await other.goto(page.url)
    await other.fill("#client-weight_kg", "70 kg")
    await other.keyboard.press("Tab")
    await _saved(other)
    await page.fill("#client-weight_kg", "66 kg")
    await page.keyboard.press("Tab")
    await _saved(page, "Not saved: see the question.")
    assert "In the case now: 70 kg." in await page.inner_text("form:has(#client-weight_kg)")
    assert read_case(case).case.client.weight_kg == 70

    for title in ("Rows of the trial", "Evidence", "Fit", "Build and approve"):
        await _screen(page, title)
        await _accessible(page)
    assert complaints == []
    assert {url.partition("/enter")[0].split("/")[2] for url in asked} == {link.split("/")[2]}
    await page.goto(link.partition("/enter")[0] + "/new")
    await _accessible(page)
    await _asked_from_elsewhere(context, link.partition("/enter")[0])
    await page.goto(link.partition("/enter")[0] + "/")
    await page.click("text=Close the desk")
    assert "closed" in await page.inner_text("h1")


async def _asked_from_elsewhere(context: BrowserContext, desk: str) -> None:
    """A page of the same site but another origin in the browser that the desk knows; a name bound to its address."""
    elsewhere = "http://127.0.0.1:8099/"
    await context.route(elsewhere, lambda route: route.fulfill(body="<p>elsewhere", content_type="text/html"))
    page = await context.new_page()
    await page.goto(elsewhere)
    told = await page.evaluate(
        """async (desk) => {
          const ask = (path, options) => fetch(desk + path, { credentials: "include", ...options })
            .then((answer) => answer.text()).catch(() => "refused");
          await ask("/close", { method: "POST", mode: "no-cors", body: new URLSearchParams() });
          return ask("/");
        }""",
        desk,
    )
    assert told == "refused"
    async with page.expect_navigation():
        await page.evaluate(
            """(desk) => {
              const form = document.body.appendChild(document.createElement("form"));
              Object.assign(form, { method: "post", action: desk + "/close" }).submit();
            }""",
            desk,
        )
    assert await page.inner_text("body") == "A page of the desk itself alone."
    bound_anew = await page.goto(desk.replace("127.0.0.1", "rebound.example"))
    assert bound_anew is not None and bound_anew.status == 421
    await page.close()


def test_a_case_is_answered_by_the_keyboard_in_two_tabs_and_the_desk_is_closed(case):
    # test_reading_in_chromium.py has the page beside each screen
    desk = look_through(
        case.parent,
        lambda context, link: _through(context, link, case),
        args=("--host-resolver-rules=MAP rebound.example 127.0.0.1",),
        without="/page/",
    )
    desk.join(timeout=10)
    assert not desk.is_alive()
