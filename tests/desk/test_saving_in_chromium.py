"""An answer is saved while its page stays, under the page's own policy: nothing of it is forbidden and nothing is kept
in the browser; what was opened stays open, and what cannot be saved is told."""

from __future__ import annotations

import re
import shutil

import pytest
from chromium import CHROMIUM
from opened import look_through
from playwright.async_api import BrowserContext, Page
from support import DEMO_FOLDERS, NOT_REVIEWED

from docgen.case.read import read_case
from docgen.desk import history

pytestmark = pytest.mark.skipif(CHROMIUM is None, reason="Chromium is not installed")

_DEMO = DEMO_FOLDERS[0]


@pytest.fixture
def case(tmp_path):
    for folder in DEMO_FOLDERS[:2]:
        shutil.copytree(folder, tmp_path / folder.name, ignore=NOT_REVIEWED)
    return tmp_path / _DEMO.name


async def _told(page: Page, words: str) -> None:
    await page.locator("#state", has_text=words).wait_for(timeout=30_000)


async def _answer(page: Page, field: str, text: str) -> None:
    await page.fill(field, text)
    await page.keyboard.press("Tab")


async def _of_the_caseload(page: Page, client: str) -> None:
    """Each case is looked at in turn, its heading the same all the time, and then found by the client's name."""
    heading = await page.locator(f"li h2:has-text('{_DEMO.name}')").element_handle()
    await page.locator("li:has-text('Due:') >> nth=1").wait_for(timeout=60_000)
    assert heading is not None and await heading.evaluate("heading => heading.isConnected")
    await page.fill("#search", client)
    assert await page.inner_text("#found") == "1 shown"


async def _of_a_screen(page: Page, case) -> None:
    opened = page.locator("#missing details").last
    await opened.locator("summary").click()
    name = (await opened.locator("summary").inner_text()).partition(" (")[0]
    await _answer(page, "#client-weight_kg", "150 lb")
    await _told(page, "Saved.")
    assert read_case(case).case.client.weight_kg == 68 and history.count(case) == 1
    assert await page.locator("#missing details[open]", has_text=name).count() == 1
    # answered elsewhere meanwhile: told, and answered again by whoever has looked at both
    toml = case / "case.toml"
    toml.write_text(re.sub("weight_kg = .*", "weight_kg = 70", toml.read_text()))
    await _answer(page, "#client-weight_kg", "66 kg")
    await _told(page, "Not saved: see the question.")
    assert "In the case now: 154.3 lb." in await page.inner_text("#said-client-weight_kg")
    assert read_case(case).case.client.weight_kg == 70
    await _answer(page, "#client-weight_kg", "65 kg")
    await _told(page, "Saved.")
    assert read_case(case).case.client.weight_kg == 65
    assert await page.locator("#said-client-weight_kg .trouble").count() == 0
    # by its name alone: the button is for whoever has no script
    assert await page.locator("form:has(#client-weight_kg) button").is_hidden()
    whole = toml.read_text()
    toml.write_text("id = ")
    await _answer(page, "#client-weight_kg", "64 kg")
    await _told(page, "Not saved. Load the page again.")
    assert await page.input_value("#client-weight_kg") == "64 kg" and toml.read_text() == "id = "
    toml.write_text(whole)


async def _of_the_search(page: Page) -> None:
    """What fits comes as one types, and an address never holds the words."""
    await page.locator("#words").press_sequentially("knees fix")
    await page.locator("#fit", has_text="fit.").wait_for()
    await page.locator("text=To record:").first.wait_for()
    assert await page.evaluate("document.activeElement.id") == "words"
    assert page.url.endswith("/search")


def test_an_answer_is_saved_while_its_page_stays(case):
    client = (read_case(case).case.client.name or "").split()[0]

    async def look(context: BrowserContext, link: str) -> None:
        page = await context.new_page()
        complaints: list[str] = []
        page.on("pageerror", lambda error: complaints.append(str(error)))
        page.on("console", lambda line: complaints.append(line.text) if "Content Security" in line.text else None)
        await page.goto(link)
        at = page.url.rstrip("/") + (await page.get_attribute(f"text={_DEMO.name}", "href") or "")
        await _of_the_caseload(page, client)
        await page.goto(f"{at}/who")
        await _of_a_screen(page, case)
        await page.goto(f"{at}/search")
        await _of_the_search(page)
        assert complaints == []
        assert await page.evaluate("[localStorage.length, sessionStorage.length]") == [0, 0]
        allowed = "['allowEval', 'allowScriptTags', 'historyEnabled'].map(name => htmx.config[name])"
        assert await page.evaluate(allowed) == [False, False, False]
        # the desk is closed once the last answer is saved
        await page.goto(f"{at}/who")
        await page.fill("#client-weight_kg", "63 kg")
        await page.click("text=Close the desk")
        await page.locator("h1", has_text="The desk is closed").wait_for()
        assert read_case(case).case.client.weight_kg == 63

    desk = look_through(case.parent, look, without="/(page|chart)/", is_looked_at=False)
    desk.join(timeout=10)
    assert not desk.is_alive()


def test_a_desk_that_is_gone_is_told(case):
    async def look(context: BrowserContext, link: str) -> None:
        page = await context.new_page()
        await page.goto(link)
        at = page.url.rstrip("/") + (await page.get_attribute(f"text={_DEMO.name}", "href") or "")
        await page.goto(f"{at}/who")
        other = await context.new_page()
        await other.goto(link.partition("/enter")[0])
        await other.click("text=Close the desk")
        await other.locator("h1", has_text="The desk is closed").wait_for()
        desk_is_gone = "fetch('/').then(() => false, () => true)"
        for _ in range(100):
            if await page.evaluate(desk_is_gone):
                break
        await _answer(page, "#client-weight_kg", "150 lb")
        await _told(page, "Not saved: the desk is closed. Start it again, then answer once more.")

    look_through(case.parent, look, without="/(page|chart)/")
