"""Pages beside the questions in a browser: led back by the keyboard, and laid out anew while one types on."""

from __future__ import annotations

import re
import shutil

import pytest
from axe_playwright_python.async_playwright import Axe
from chromium import CHROMIUM
from opened import look_through
from playwright.async_api import BrowserContext, Page
from support import DEMO_FOLDERS, NOT_REVIEWED

pytestmark = pytest.mark.skipif(CHROMIUM is None, reason="Chromium is not installed")

_DEMO = DEMO_FOLDERS[1]
_PATIENT_MS = 30_000


@pytest.fixture
def folder(tmp_path):
    shutil.copytree(_DEMO, tmp_path / _DEMO.name, ignore=NOT_REVIEWED)
    return tmp_path


async def _accessible(page: Page) -> None:
    report = (await Axe().run(page, options={"resultTypes": ["violations"]})).response
    assert [(rule["id"], node["html"]) for rule in report["violations"] for node in rule["nodes"]] == []
    for frame in page.frames:
        # a page of a frame may scroll by itself; the screen around it never does
        width = await frame.evaluate("document.documentElement.scrollWidth <= window.innerWidth")
        assert width, frame.url


_PASTE = """text => {
  const clipboardData = new DataTransfer();
  clipboardData.setData("text/plain", text);
  document.activeElement.dispatchEvent(new ClipboardEvent("paste", { clipboardData, bubbles: true, cancelable: true }));
}"""


async def _rows(page: Page) -> None:
    """Rows are typed by the keyboard and pasted into a grid, looked at and added; a finding is searched for."""
    await page.goto(page.url.partition("/who")[0] + "/rows")
    await page.locator("summary", has_text="Attempts, one in a row").press("Enter")
    await page.fill("[name='rows.0.date']", "2026-04-20")
    await page.select_option("[name='rows.0.method']", "finger_beams")
    await page.select_option("[name='rows.0.task']", "doorway")
    await page.locator("[name='rows.1.success']").focus()
    assert await page.input_value("[name='rows.1.task']") == "doorway"  # to start from
    await page.locator("[name='rows.0.task']").focus()
    await page.evaluate(_PASTE, "doorway\tyes\npark\tno\n")
    assert await page.inner_text("#pasted") == "4 cells are filled in."
    assert [await page.input_value(f"[name='rows.{n}.success']") for n in range(3)] == ["1", "0", ""]
    await page.locator("[name='rows.0.missed']").focus()
    await page.keyboard.press("Enter")
    assert await page.evaluate("document.activeElement.name") == "rows.1.missed"
    await _accessible(page)
    await page.click("form[data-grid=rows] >> text=Look at them")
    assert "2 rows on 1 day for trial.csv" in await page.inner_text("pre")
    await _accessible(page)
    await page.click("text=Add them to the rows")
    assert "1 of 2" in await page.inner_text("tr:has-text('2026-04-20')")

    await page.goto(page.url.partition("/rows")[0] + "/search")
    await page.fill("#words", "knees fixed")
    await page.keyboard.press("Enter")
    await page.locator("text=To record:").first.wait_for()
    await _accessible(page)


async def _through(context: BrowserContext, link: str) -> None:
    page = await context.new_page()
    complaints: list[str] = []
    page.on("pageerror", lambda error: complaints.append(str(error)))
    await page.goto(link)
    await page.click(f"text={_DEMO.name}")
    await page.click("nav summary")
    await page.click("nav >> text='Pages'")
    letter, behind = page.frame_locator("#page"), page.frame_locator("#behind")
    mark = letter.locator("a.from").nth(20)
    await mark.focus()
    await page.keyboard.press("Enter")
    await behind.locator("text=That is all of them.").wait_for(timeout=_PATIENT_MS)
    await page.locator("#state", has_text="Behind this sentence: shown beside the page.").wait_for()
    assert await mark.evaluate("mark => mark === document.activeElement")
    await _accessible(page)
    await letter.locator("a[href*='/number/']").first.focus()
    await page.keyboard.press("Enter")
    await behind.locator("text=How this number is worked out").wait_for(timeout=_PATIENT_MS)
    await _accessible(page)
    await behind.locator("summary").first.press("Enter")
    await _accessible(page)

    # led on from a gap to its question, which is answered while the page beside it is laid out anew
    await letter.locator("a:has(mark.gap)", has_text="weight").first.press("Enter")
    await page.wait_for_url("**/who#client-weight_kg")
    await page.frame_locator("#page").locator("a.from").first.wait_for(timeout=_PATIENT_MS)
    assert "missing: weight" in await page.frame_locator("#page").locator("main").inner_text()
    await page.fill("#client-weight_kg", "31 lb")
    await page.keyboard.press("Tab")
    held = await page.evaluate("document.activeElement.id || document.activeElement.textContent")
    await page.keyboard.type("x")
    await page.locator("#state", has_text="of the page is new.").wait_for(timeout=_PATIENT_MS)
    told = await page.frame_locator("#page").locator("main").inner_text()
    assert "missing: weight" not in told and re.search(r"31\slb", told)
    assert await page.frame_locator("#page").locator("a.from.new").count() >= 1
    assert await page.evaluate("document.activeElement.id || document.activeElement.textContent") == held
    await _accessible(page)
    await _rows(page)
    assert complaints == []
    await page.goto(link.partition("/enter")[0] + "/")
    await page.click("text=Close the desk")


def test_a_sentence_is_led_back_by_the_keyboard_and_a_page_is_laid_out_anew_while_one_types(folder):
    desk = look_through(folder, _through)
    desk.join(timeout=10)
    assert not desk.is_alive()
