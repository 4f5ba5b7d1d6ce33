"""A long list of choices is narrowed by any word, ticked and saved; looking for one saves nothing; on a phone's width,
held to WCAG 2.2 AA by axe-core."""

from __future__ import annotations

import shutil

import pytest
from chromium import CHROMIUM
from opened import accessible, look_through
from playwright.async_api import BrowserContext, Page
from support import DEMO_FOLDERS, NOT_REVIEWED

from docgen.case.read import read_case
from docgen.desk import history

pytestmark = pytest.mark.skipif(CHROMIUM is None, reason="Chromium is not installed")


async def _a_feature(page: Page, case) -> None:
    entry = page.locator("#trial-methods details.entry").first
    await entry.locator("> summary").click()
    await entry.locator("summary", has_text="More to record").click()
    before = read_case(case).case.trial.methods[0].features
    form = page.locator("form:has([id='trial-methods-0-features'])")
    others = form.locator("details.others")
    await others.locator("> summary").click()
    await others.get_by_label("Find a choice by any word").fill("falling tone zzz")
    assert await others.locator(".tick:visible").count() == 0
    await others.get_by_label("Find a choice by any word").fill("latched")
    assert 0 < await others.locator(".tick:visible").count() < 8
    assert "fit" in await others.locator("[role=status]").inner_text()
    await accessible(page)
    assert history.count(case) == 0
    await others.get_by_role("checkbox").locator("visible=true").first.check()
    await page.locator("#state", has_text="Saved.").wait_for()
    after = read_case(case).case.trial.methods[0].features
    assert after[: len(before)] == before and len(after) == len(before) + 1


async def _one_of_many(page: Page) -> None:
    """A finding is found among all of them; what is chosen stays however the list is narrowed."""
    await page.locator("summary", has_text="Add to: Findings").click()
    form = page.locator("form[action$='/body/add']", has=page.locator("[name='key.id']")).first
    await form.get_by_label("Find a choice by any word").fill("hand strength")
    select = form.locator("[name='key.id']")
    assert 1 < await select.locator("option").count() < 8
    await select.select_option("hand_weak")
    await form.get_by_label("Find a choice by any word").fill("no such word")
    assert await select.input_value() == "hand_weak"
    await accessible(page)


def test_a_choice_is_found_by_any_word(tmp_path):
    case = tmp_path / DEMO_FOLDERS[0].name
    shutil.copytree(DEMO_FOLDERS[0], case, ignore=NOT_REVIEWED)

    async def look(context: BrowserContext, link: str) -> None:
        page = await context.new_page()
        await page.goto(link)
        at = page.url.rstrip("/") + (await page.get_attribute(f"text={case.name}", "href") or "")
        await page.goto(f"{at}/trial")
        await _a_feature(page, case)
        await page.goto(f"{at}/body")
        await _one_of_many(page)

    look_through(tmp_path, look)
