"""The counting page as a phone runs it: from a file, without a network, 320 pixels wide."""

from __future__ import annotations

import asyncio
import csv
import os
import random
import shutil
import signal
from collections.abc import Awaitable, Callable
from contextlib import suppress
from pathlib import Path
from typing import Any

import pytest
from axe_playwright_python.async_playwright import Axe
from chromium import CHROMIUM, NARROW_PX
from playwright.async_api import Error, Page, async_playwright
from support import DEMO_FOLDERS, NOT_REVIEWED, run

from docgen.case.read import read_case
from docgen.counting.page import FILE

pytestmark = pytest.mark.skipif(CHROMIUM is None, reason="Chromium is not installed")

_N, _KILLED_AFTER = 30, 17
_COUNTERS = ("contacts", "unintended", "missed", "helped")
_WINDOW = {"width": NARROW_PX, "height": 640}


@pytest.fixture(scope="module")
def case(tmp_path_factory):
    folder = tmp_path_factory.mktemp("counted") / DEMO_FOLDERS[0].name
    shutil.copytree(DEMO_FOLDERS[0], folder, ignore=NOT_REVIEWED)
    run("count", folder)
    return folder


def _on_a_phone(look: Callable[[Page], Awaitable[Any]], case: Path, profile: Path, **settings: Any) -> Any:
    """What `look` returns of the page, in a browser without a network whose storage is the folder `profile`."""

    async def opened() -> Any:
        async with async_playwright() as driver:
            context = await driver.chromium.launch_persistent_context(
                profile, executable_path=CHROMIUM, viewport=_WINDOW, offline=True, has_touch=True, **settings
            )
            page = context.pages[0]
            complaints: list[str] = []
            page.on("console", lambda message: complaints.append(message.text))
            page.on("pageerror", lambda error: complaints.append(str(error)))
            await page.goto((case / FILE).as_uri())
            await _started(page)
            outcome = await look(page)
            assert complaints == []
            with suppress(Error):  # one that was killed has nothing to close
                await context.close()
            return outcome

    return asyncio.run(opened())


def _planned(case: Path) -> list[dict[str, Any]]:
    """Thirty attempts as somebody might tap them, of methods and tasks of the case."""
    trial, drawn = read_case(case).case.trial, random.Random(5)
    attempts = []
    for n in range(_N):
        task = trial.tasks[n // 5 % len(trial.tasks)]
        attempts.append(
            {
                "method": trial.methods[n // 10].id,
                "task": task.id,
                "stop": task.shows == "stop",
                "success": drawn.random() < 0.6,
                "counts": {name: drawn.choice((0, 0, 0, 1, 2)) for name in _COUNTERS},
            }
        )
    return attempts


async def _tap(page: Page, attempts: list[dict[str, Any]]) -> None:
    before: tuple[str, str] | None = None
    for attempt in attempts:
        if (attempt["method"], attempt["task"]) != before:
            if before or await page.is_visible("#change"):
                await page.tap("#change")
            before = attempt["method"], attempt["task"]
            await page.select_option("#method", before[0])
            await page.select_option("#task", before[1])
            await page.tap("text=Start counting")
        for name, times in attempt["counts"].items():
            for _ in range(times):
                await page.tap(f"[data-adds={name}]")
        if attempt["stop"]:
            for button in ("#asked", "#input-off", "#stands", "#made" if attempt["success"] else "#no-stop"):
                await page.tap(button)
        else:
            await page.tap("#done" if attempt["success"] else "#not-done")


def _kill_processes_of(profile: Path) -> list[int]:
    """The processes that name the folder on their command line, killed at once."""
    killed = []
    for process in Path("/proc").glob("[0-9]*"):
        with suppress(OSError):  # it may have ended meanwhile
            if str(profile).encode() in (process / "cmdline").read_bytes():
                os.kill(int(process.name), signal.SIGKILL)
                killed.append(int(process.name))
    return killed


async def _started(page: Page) -> None:
    """The page has looked for what it kept, and shows its form or why it does not start."""
    await page.locator("#before:visible, #count:visible, #refused:visible").first.wait_for(timeout=10_000)


async def _kept(page: Page, n: int) -> None:
    await page.locator("#kept", has_text=f": {n} ").wait_for(timeout=5000)


def test_thirty_attempts_outlast_a_killed_browser_and_come_back_as_they_were_tapped(case, tmp_path):
    attempts, profile, saved = _planned(case), tmp_path / "profile", tmp_path / "saved.csv"

    async def tapped_then_killed(page: Page) -> None:
        await _tap(page, attempts[:_KILLED_AFTER])
        await _kept(page, _KILLED_AFTER)
        assert _kill_processes_of(profile)

    async def went_on(page: Page) -> str:
        await _kept(page, _KILLED_AFTER)
        await _tap(page, attempts[_KILLED_AFTER:])
        await _kept(page, _N)
        async with page.expect_download() as download:
            await page.tap("#save")
        await (await download.value).save_as(saved)
        return await page.input_value("#totals-text")

    _on_a_phone(tapped_then_killed, case, profile)
    totals = _on_a_phone(went_on, case, profile)

    rows = list(csv.DictReader(saved.read_text().splitlines()))
    assert len(rows) == _N
    for row, attempt in zip(rows, attempts, strict=True):
        tapped = (attempt["method"], attempt["task"], str(int(attempt["success"])))
        assert (row["method"], row["task"], row["success"]) == tapped
        columns = ("contacts", "unintended", "missed", "prompts_physical")
        assert [row[name] for name in columns] == [str(attempt["counts"][name]) for name in _COUNTERS]
        assert bool(row["release_s"]) == bool(row["seconds"]) == attempt["stop"]
        assert not attempt["stop"] or 0 <= float(row["release_s"]) <= float(row["seconds"])
    first = [a["success"] for a in attempts if (a["method"], a["task"]) == (attempts[0]["method"], attempts[0]["task"])]
    assert f": {sum(first)} of {len(first)} done" in totals.splitlines()[0]

    n_before = len((case / "trial.csv").read_text().splitlines())
    assert run("rows", case, saved, "--add", "--yes")[0] == 0
    taken = list(csv.DictReader((case / "trial.csv").read_text().splitlines()))[n_before - 1 :]
    shared = ("date", "method", "task", "success", "order", "contacts", "unintended", "missed", "prompts_physical")
    assert [[row[name] for name in shared] for row in taken] == [[row[name] for name in shared] for row in rows]
    read_case(case)  # what was taken in can be read: no attempt of a block has the number of another


def test_it_is_accessible_narrow_and_ruled_by_the_keyboard_alone(case, tmp_path):
    async def look(page: Page) -> None:
        async def accessible() -> None:
            report = (await Axe().run(page)).response
            assert [(rule["id"], node["html"]) for rule in report["violations"] for node in rule["nodes"]] == []
            assert await page.evaluate("document.documentElement.scrollWidth") <= page.viewport_size["width"]

        await accessible()
        assert await page.evaluate("document.querySelectorAll('main :is(button,input,select):not([hidden])').length")
        await page.focus("#date")
        for _ in range(14):  # a switch that steps and one that presses: Tab and Enter
            if await page.evaluate("document.activeElement.type") == "submit":
                break
            await page.keyboard.press("Tab")
        await page.keyboard.press("Enter")
        steps = 0
        while await page.evaluate("document.activeElement.id") != "done":
            await page.keyboard.press("Tab")
            steps += 1
        assert steps <= 6
        await page.keyboard.press("Enter")
        await _kept(page, 1)
        assert "1 of 1" in await page.inner_text("#said")
        await accessible()
        sizes = await page.evaluate(
            "[...document.querySelectorAll('#count button')].filter(b => b.offsetHeight).map(b => b.offsetHeight)"
        )
        assert min(sizes) >= 64  # a thumb in a glove; WCAG 2.2, 2.5.5 asks 44
        await page.emulate_media(color_scheme="dark", forced_colors="active")
        await page.set_viewport_size({"width": 640, "height": NARROW_PX})
        await accessible()

    _on_a_phone(look, case, tmp_path / "profile")


def test_undo_takes_back_tap_by_tap_and_clearing_asks_first(case, tmp_path):
    async def look(page: Page) -> None:
        await page.uncheck("[data-counts=missed]")
        await page.tap("text=Start counting")
        assert not await page.is_visible("[data-adds=missed]")
        await page.tap("[data-adds=contacts]")
        assert "most rules call an attempt not done" in await page.inner_text("#rule")
        await page.tap("#not-done")
        await page.tap("#undo")
        assert await page.inner_text("[data-adds=contacts]") == "Collision: 1"
        await page.tap("#undo")
        assert await page.inner_text("[data-adds=contacts]") == "Collision: 0"
        await page.fill("#note", '=cmd, "quoted"')
        await page.tap("#done")
        head, row = (await page.input_value("#rows-text")).splitlines()
        values = dict(zip(head.split(","), next(csv.reader([row])), strict=True))
        assert (values["missed"], values["contacts"], values["note"]) == ("", "0", '\'=cmd, "quoted"')
        await page.tap("#clear")
        await page.tap("#clear-no")
        await _kept(page, 1)
        await page.tap("#clear")
        await page.tap("#clear-yes")
        await page.locator("#kept", has_text="Cleared").wait_for(timeout=5000)
        await page.reload()
        await _started(page)
        await _kept(page, 0)
        assert not await page.is_visible("#totals")

    _on_a_phone(look, case, tmp_path / "profile")


def test_where_nothing_can_be_kept_it_says_so_and_does_not_start(case, tmp_path):
    async def look(page: Page) -> None:
        await page.add_init_script("Object.defineProperty(window, 'indexedDB', { get() { throw new Error('none'); } })")
        await page.reload()
        await _started(page)
        assert "cannot keep what you count" in await page.inner_text("#refused")
        assert await page.evaluate("[...document.querySelectorAll('button')].every(b => !b.offsetHeight)")

    _on_a_phone(look, case, tmp_path / "profile")


def test_a_lesson_is_counted_alone_helped_or_not_with_its_stops_by_surprise(case, tmp_path):
    saved = tmp_path / "saved.csv"
    tapped = [("#done", "1", "I"), ("#done-helped", "1", "H"), ("#not-done", "0", ""), ("#done", "1", "I")]

    async def look(page: Page) -> None:
        await page.select_option("#sheet", "lessons")
        assert not await page.is_visible("[data-box=helped]")
        await page.select_option("#method", "corners")
        await page.select_option("#task", "straight")
        await page.tap("text=Start counting")
        drawn = 0
        for button, _, _ in tapped:
            drawn += "ask for a surprise stop" in await page.inner_text("#drawn")
            await page.tap(button)
        drawn += "ask for a surprise stop" in await page.inner_text("#drawn")
        assert drawn == 2
        assert (await page.inner_text("#five")).endswith("So far: alone, helped, not, alone")
        await page.tap("#surprise")
        await page.tap("#input-off")
        await page.tap("#stands")
        await page.tap("#made")
        await page.tap("#announced")
        await page.tap("#no-stop")
        await page.tap("#done")
        assert "over for today" in await page.inner_text("#five")
        await _kept(page, 7)
        async with page.expect_download() as download:
            await page.tap("#save")
        await (await download.value).save_as(saved)

    _on_a_phone(look, case, tmp_path / "profile")
    rows = list(csv.DictReader(saved.read_text().splitlines()))
    assert [(row["task"], row["success"], row["help"]) for row in rows[:4]] == [
        ("straight", *row[1:]) for row in tapped
    ]
    stops = [(row["stage"], row["task"], row["success"], row["help"], row["surprise"]) for row in rows[4:6]]
    assert stops == [("corners", "stop_word", "1", "I", "1"), ("corners", "stop_word", "0", "", "0")]
    assert run("rows", case, saved, "--yes")[0] == 0
    taken = list(csv.DictReader((case / "sessions.csv").read_text().splitlines()))
    shared = ("date", "stage", "task", "success", "help", "surprise", "release_s")
    assert [[row[name] for name in shared] for row in taken] == [[row[name] for name in shared] for row in rows]


def test_a_planned_block_leads_from_card_to_card_and_is_taken_up_where_it_was_left(case, tmp_path):
    folder = shutil.copytree(case, tmp_path / case.name)
    trial = read_case(folder).case.trial
    tasks, (first, second) = [task.id for task in trial.tasks], [method.id for method in trial.methods[:2]]
    is_stop = {task.id: task.shows == "stop" for task in trial.tasks}
    plan = f'\n[trial.plan]\nmethods = ["{first}", "{second}"]\nvisits = 2\nvisit_minutes = 60\n'
    (folder / "case.toml").write_text((folder / "case.toml").read_text(encoding="utf-8") + plan, encoding="utf-8")
    assert run("count", folder)[0] == 0

    async def tap(page: Page, task: str) -> None:
        assert task.replace("_", " ") in await page.inner_text("#now")
        for button in ("#asked", "#input-off", "#stands", "#made") if is_stop[task] else ("#done",):
            await page.tap(button)

    async def look(page: Page) -> None:
        assert await page.input_value("#planned") == f"1 1 {first}"
        await page.tap("text=Start counting")
        for at in range(3):
            await tap(page, tasks[at % len(tasks)])
        await page.tap("#change")
        assert await page.input_value("#planned") == f"1 1 {first}"
        assert await page.input_value("#task") == tasks[3 % len(tasks)]
        await page.tap("text=Start counting")
        for at in range(3, 7):
            await tap(page, tasks[at % len(tasks)])
        assert "last card of this block" in await page.inner_text("#said")
        await page.tap("#change")
        assert await page.input_value("#planned") == f"1 2 {second}"
        await page.select_option("#task", tasks[1])
        assert await page.input_value("#planned") == ""  # chosen by hand
        await _kept(page, 7)

    _on_a_phone(look, folder, tmp_path / "profile")
