"""A case from nothing to an approved packet in a browser without a file touched, through a crash and an edit elsewhere:
the documents are those of the same case written by hand."""

from __future__ import annotations

import asyncio
import json
import re
from pathlib import Path

import pytest
from asking import Running
from by_hand import ID, NAME, ROWS, write_by_hand
from chromium import CHROMIUM
from playwright.async_api import BrowserContext, Page, async_playwright

from docgen.building import approve_case, build_packet
from docgen.case.read import read_case

pytestmark = pytest.mark.skipif(CHROMIUM is None, reason="Chromium is not installed")

_REVIEWER = "Ephraim Example, OT"
_PATIENCE_MS = 15_000
_OPENED = "node => { for (; node; node = node.parentElement) if (node.matches('details')) node.open = true; }"


async def _fill(page: Page, key: str, value: str) -> None:
    """Write, choose or tick; what is chosen is named by the id that the case holds or by its words."""
    field = page.locator(f"[id='{key}']")
    await field.evaluate(_OPENED)
    kind = await field.evaluate("node => node.tagName")
    if kind == "SELECT":
        option = field.locator(f"option[value='{value}'], option:text('{value}')").first
        await field.select_option(await option.get_attribute("value"))
    elif kind == "SPAN":
        box = page.locator(f"[id='{key}'] + [role=group] >> input[value='{value}']")
        await box.evaluate(_OPENED)
        await box.check()
    else:
        await field.fill(value)


async def _answer(page: Page, key: str, value: str) -> None:
    """Fill a field in and leave it: nothing else saves it."""
    await page.evaluate("document.getElementById('state').textContent = ''")
    await _fill(page, key, value)
    await page.evaluate("document.activeElement.blur()")
    await page.locator("#state", has_text="Saved.").wait_for(timeout=_PATIENCE_MS)


async def _add(page: Page, to: str, **keys: str) -> None:
    """A new entry of a list: what its form asks for, then its other keys where the page then stands."""
    path = json.dumps([int(part) if part.isdigit() else part for part in to.split("-")])
    form = page.locator(f"form[action$='/add']:has(input[name=path][value='{path}'])")
    parts = "form => [...form.querySelectorAll('[name]')].map(part => [part.name, part.id])"
    asked = {name.removeprefix("key."): id_ for name, id_ in await form.evaluate(parts)}
    for name in asked.keys() & keys.keys():
        if asked[name]:
            await _fill(page, asked[name], keys[name])
        else:  # one of a group of boxes
            box = form.locator(f"[name='key.{name}'][value='{keys[name]}']")
            await box.evaluate(_OPENED)
            await box.check()
    async with page.expect_navigation():
        await form.locator("button").click()
    entry = page.url.partition("#")[2]
    assert entry.startswith(f"{to}-")
    for name, value in keys.items():
        if name not in asked:
            await _answer(page, f"{entry}-{name}", value)


async def _go(page: Page, to: str) -> None:
    """Click what leads to another page."""
    async with page.expect_navigation():
        await page.click(to)


async def _screen(page: Page, title: str) -> None:
    await _go(page, f"nav >> text='{title}'")


async def _who(page: Page) -> None:
    for key, value in {
        "name": "Calla Example-Stroud", "called": "Calla", "pronouns": "she", "born_on": "1995-03-19",
        "weight_kg": "88 lb",
    }.items():  # fmt: skip
        await _answer(page, f"client-{key}", value)
    await _add(page, "diagnoses", name="spinal muscular atrophy type 2", code="G12.1")


async def _people(page: Page) -> None:
    await _add(page, "people", role="evaluator", name="Ephraim Example", credential="OT")
    await _add(page, "people", role="caregiver", name="Jocasta Example")


async def _request(page: Page) -> None:
    await _screen(page, "Body and findings")
    says = "Her right index finger bends and straightens by itself."
    await _add(page, "findings", id="finger_isolated", says=says, measure="6 mm at the tip")
    await _screen(page, "Safety")
    near = {"level": "arms_length", "by": "Jocasta Example", "stands": "beside", "stops_with": "power_off"}
    await _add(page, "supervision", place="at home", **near)
    await _screen(page, "Trial")
    await _add(page, "trial-methods", name="mini joystick", features="mini_joystick")
    await _add(page, "trial-tasks", name="driving indoors", shows="steer")
    await _add(page, "trial-tasks", name="stopping on request", shows="stop")
    await _screen(page, "What is requested")
    await _answer(page, "configuration-method", "mini_joystick")
    await _answer(page, "configuration-summary", "a mini joystick for the right index finger")
    await _add(page, "configuration-features", id="mini_joystick", because="finger_isolated")
    why = "It drives the chair with the force that her index finger has."
    of_it = {"code": "E2312", "quantity": "1", "why": why, "features": "mini_joystick"}
    await _add(page, "configuration-items", name="mini joystick", **of_it)
    await _add(page, "configuration-commands", does="forward", input="finger forward")
    await _add(page, "configuration-commands", does="stop", input="the finger lets go")
    switch = "switch on the left armrest"
    for key, value in {
        "driver": "lets go of the joystick", "has_switch": "false", "power_off": switch, "power_off_by": "helper",
        "helper": f"press the {switch}",
    }.items():  # fmt: skip
        await _answer(page, f"configuration-stop-{key}", value)


async def _rows(page: Page, sheet: Path) -> None:
    await _screen(page, "Rows of the trial")
    sheet.write_text(ROWS, encoding="utf-8")
    await page.set_input_files("#sheet", sheet)
    await _go(page, "text=Look at them")
    assert "16 rows on 2 days for trial.csv" in await page.inner_text("main pre")
    await _go(page, "text=Add them to the rows")
    assert "Written: trial.csv" in await page.inner_text("main")


async def _packet(context: BrowserContext, page: Page) -> None:
    await _screen(page, "Build and approve")
    assert "ready for the clinician's review" in await page.inner_text("main")
    await page.fill("#by", _REVIEWER)
    await _go(page, "text=I have read it, and approve it")
    assert "not opened as they now are" in await page.inner_text("[role=alert]")
    papers = page.locator("#read a")
    for at in range(await papers.count()):
        async with context.expect_event("response", lambda answer: "/paper/" in answer.url) as opened:
            await papers.nth(at).click()
        assert (await opened.value).ok
    await page.bring_to_front()
    await page.fill("#by", _REVIEWER)
    await _go(page, "text=I have read it, and approve it")
    assert f"Reviewed by {_REVIEWER}" in await page.inner_text(".trouble[role=status]")
    await _go(page, "button >> text=Build the packet")
    await page.locator("#progress", has_text="The packet is built.").wait_for(timeout=60_000)


async def _through(context: BrowserContext, folder: Path) -> None:
    desk, case = Running(folder), folder / ID
    try:
        page = await context.new_page()
        await page.goto(desk.link)
        await _go(page, "text=Start a new case")
        await page.fill("#id", ID)
        await page.select_option("#payer", "charity_or_school")
        await page.select_option("#kind", "control_only")
        await page.select_option("#control", "mini_joystick")
        await _go(page, "text=Start the case")
        await _who(page)

        # killed between two saves: what was saved is in the file, the field that was not stands on the page
        desk.kill()
        await _fill(page, "client-lives", "in her own apartment")
        await page.locator("#client-lives").blur()
        await page.locator("#state", has_text="Not saved: the desk is closed.").wait_for(timeout=_PATIENCE_MS)
        assert await page.input_value("#client-lives") == "in her own apartment"
        client = read_case(case).case.client
        assert (client.called, client.weight_kg, client.lives) == ("Calla", 39.9, None)
        desk = Running(folder)
        await page.goto(desk.link)
        await _go(page, f"text={NAME}")
        assert await page.input_value("#client-name") == "Calla Example-Stroud"
        await _people(page)

        # another program writes to the file between two saves: both stay
        with (case / "case.toml").open("a", encoding="utf-8") as file:
            file.write("# a note of somebody else\n")
        await _request(page)
        assert "# a note of somebody else\n" in (case / "case.toml").read_text(encoding="utf-8")
        await _rows(page, folder / "trial log.csv")
        await _packet(context, page)
    finally:
        desk.kill()


def test_a_case_is_begun_answered_approved_and_built_and_is_what_a_hand_would_write(tmp_path):
    async def look() -> None:
        async with async_playwright() as driver:
            browser = await driver.chromium.launch(executable_path=CHROMIUM)
            context = await browser.new_context(viewport={"width": 1280, "height": 900})
            await context.route(re.compile("/(page|chart)/"), lambda route: route.abort())  # beside each screen
            await _through(context, tmp_path / "desk")
            await browser.close()

    (tmp_path / "desk").mkdir()
    asyncio.run(look())
    case = write_by_hand(tmp_path / "hand")
    (case / "key.toml").write_bytes((tmp_path / "desk" / ID / "key.toml").read_bytes())
    approve_case(case, _REVIEWER)
    packet = build_packet(case, tmp_path / "hand" / "out")
    assert packet.state.startswith(f"reviewed by {_REVIEWER}")
    at_the_desk, by_hand = tmp_path / "desk" / "out" / ID, packet.folder
    names = sorted(path.name for path in by_hand.iterdir())
    assert sorted(path.name for path in at_the_desk.iterdir()) == names
    assert len(names) > 30
    documents = [name for name in names if name != "manifest.json"]  # which names the text of case.toml
    assert [name for name in documents if (at_the_desk / name).read_bytes() != (by_hand / name).read_bytes()] == []
