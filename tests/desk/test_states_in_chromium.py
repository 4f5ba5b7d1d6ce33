"""Every state of a screen at the width of a phone held to WCAG 2.2 AA by axe-core; the way of a single switch through
each task counted; what a screen reader is told; forced colors."""

from __future__ import annotations

from pathlib import Path

import pytest
from by_hand import ID, NAME, write_by_hand
from chromium import CHROMIUM
from opened import accessible, look_through
from playwright.async_api import BrowserContext, Page

pytestmark = pytest.mark.skipif(CHROMIUM is None, reason="Chromium is not installed")

_REVIEWER = "Ephraim Example, OT"


async def _sent(page: Page, form: str) -> None:
    """Send a form as a browser without a script does."""
    async with page.expect_navigation():
        await page.evaluate("form => document.querySelector(form).submit()", form)


async def _stops(page: Page, *names: str) -> int:
    """How many stops the keyboard, or a switch that goes through what can be pressed, makes from the head of the page:
    on to the first of this name and pressed there, on to the next, and so on."""
    await page.goto(page.url.partition("#")[0])
    n = 0
    for at, name in enumerate(names):
        here = "() => { const e = document.activeElement; return (e.labels?.[0] || e).textContent.trim(); }"
        while True:
            await page.keyboard.press("Tab")
            n += 1
            assert n < 60, name
            if (await page.evaluate(here)).startswith(name):
                break
        if at + 1 < len(names):
            await page.keyboard.press("Enter")
            await page.evaluate("new Promise((done) => setTimeout(done, 30))")  # the page moves on by itself
    return n


async def _tells(page: Page, *lines: str) -> None:
    """Hold what a screen reader is told of the page to these lines, each a role and a name."""
    tree = await page.locator("body").aria_snapshot()
    assert [line for line in lines if line not in tree] == [], tree


async def _of_the_caseload(page: Page, home: str) -> None:
    await page.goto(home)
    await page.locator("li", has_text="Due:").wait_for()
    await page.fill("#search", "stroud")
    await _tells(
        page, "main:", "status: 1 shown", "searchbox", f'heading "{NAME} {ID}" [level=2]', 'button "Close the desk"'
    )
    await accessible(page)
    assert await _stops(page, NAME) <= 3
    await page.goto(f"{home}new")
    await page.fill("#id", "A B")
    await _sent(page, "form[action='/new']")
    await _tells(page, "alert: A B is not an id.", 'combobox "Who is to pay?"', 'textbox "Name of its folder"')
    await accessible(page)


async def _of_a_topic(page: Page, at: str, case: Path) -> None:
    await page.goto(f"{at}/who")
    assert await _stops(page, "To the questions", "Client's full name") <= 2
    assert await _stops(page, "To what is missing", "Add") <= 4
    assert await _stops(page, "Build and approve") <= 5
    assert await _stops(page, "Screens of this case", "Body and findings") <= 8
    await page.fill("#client-weight_kg", "heavy")
    await page.keyboard.press("Tab")
    await page.locator("#state", has_text="Not saved: see the question.").wait_for()
    await _tells(
        page, 'status: "Not saved: see the question."', "alert: \"'heavy' is not a number of lb", "complementary"
    )
    await accessible(page)
    await _sent(page, "form:has(#client-weight_kg)")
    await accessible(page)
    whole = (case / "case.toml").read_text(encoding="utf-8")
    (case / "case.toml").write_text("id = ", encoding="utf-8")
    await page.goto(at)
    await _tells(page, f'heading "{ID} cannot be read as it stands" [level=1]', "listitem")
    await accessible(page)
    (case / "case.toml").write_text(whole, encoding="utf-8")


async def _of_rows(page: Page, at: str) -> None:
    await page.goto(f"{at}/rows")
    assert await _stops(page, "To the rows", "Rows pasted from a spreadsheet") <= 2
    await page.fill("#text", "date,control,task,done\n2026-10-12,mini joystick,the blue cone,yes")
    await page.click("text=Look at them")
    await page.locator("h2", has_text="What was made of them").wait_for()
    await accessible(page)


async def _of_the_end(page: Page, at: str) -> None:
    await page.goto(f"{at}/finish")
    assert await _stops(page, "To approval", "Still to be opened", "Prior Authorization Cover Sheet") <= 5
    assert await _stops(page, "To approval", "Still to be opened") <= 3
    assert await _stops(page, "To building", "Build the packet") <= 4
    await page.fill("#by", _REVIEWER)
    await _sent(page, "form[action$='/approve']")
    await _tells(page, "alert:", 'combobox "Your name and credential"', 'heading "2. Approve" [level=2]')
    await accessible(page)
    for paper in await page.eval_on_selector_all("#read .papers a", "links => links.map(link => link.href)"):
        await page.context.request.get(paper)
    await page.fill("#by", _REVIEWER)
    await _sent(page, "form[action$='/approve']")
    await _tells(page, "status:", f"Reviewed by {_REVIEWER} on ")
    await page.goto(f"{at}/who")
    await page.fill("#client-called", "Cal")
    await page.keyboard.press("Tab")
    await page.locator("#state", has_text="Saved.").wait_for()
    await page.goto(f"{at}/finish")
    await page.evaluate("document.querySelectorAll('main details').forEach(part => { part.open = true; })")
    await page.check("text=Spanish")
    await _tells(page, 'checkbox "HTML" [checked]', "deletion: Calla", "insertion: Cal", 'group "Formats"')
    await accessible(page)
    for name in ("docx", "pdf"):
        await page.uncheck(f"[name=formats][value={name}]")
    await page.click("button >> text=Build the packet")
    await page.locator("#state", has_text="The packet is built.").wait_for(timeout=60_000)
    await page.locator("#send").wait_for()
    await accessible(page)


async def _in_forced_colors(page: Page, at: str) -> None:
    """With the colors of the reader's own system nothing is told by a color of ours: each part keeps its lines."""
    await page.emulate_media(forced_colors="active")
    await page.goto(f"{at}/finish")
    await page.evaluate("document.querySelectorAll('details').forEach(part => { part.open = true; })")
    lines = """() => [...document.querySelectorAll('button, input:not([type=checkbox], [type=hidden]), select')]
      .filter(part => part.checkVisibility() && getComputedStyle(part).borderTopStyle === 'none')
      .map(part => part.outerHTML)"""
    assert await page.evaluate(lines) == []
    await page.focus("#by")
    assert await page.evaluate("getComputedStyle(document.getElementById('by')).outlineStyle") == "solid"
    drawn = "(tag) => getComputedStyle(document.querySelector(tag)).textDecorationLine"
    assert [await page.evaluate(drawn, tag) for tag in ("ins", "del")] == ["underline", "line-through"]
    here = "getComputedStyle(document.querySelector('nav [aria-current]')).borderBottomStyle"
    assert await page.evaluate(here) == "solid"
    await accessible(page)
    await page.emulate_media(forced_colors="none")


async def _through(context: BrowserContext, link: str, case: Path) -> None:
    page = await context.new_page()
    await page.goto(link)
    home = page.url
    await _of_the_caseload(page, home)
    await page.goto(home)
    at = home.rstrip("/") + (await page.get_attribute(".caseload a", "href") or "")
    await _of_a_topic(page, at, case)
    await _of_rows(page, at)
    await _of_the_end(page, at)
    await _in_forced_colors(page, at)
    await page.click("text=Close the desk")
    await page.locator("h1", has_text="The desk is closed").wait_for()
    await accessible(page)


def test_each_state_of_the_desk_is_open_to_whoever_uses_it(tmp_path):
    case = write_by_hand(tmp_path)
    # the page beside each screen has tests of its own
    look_through(tmp_path, lambda context, link: _through(context, link, case), without="/(page|chart)/")
