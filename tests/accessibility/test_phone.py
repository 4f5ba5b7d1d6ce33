"""The papers of every day on a phone: nothing to scroll sideways, nothing cut, letters that can be read, numbers that
dial, places one tap away, in a light and in a dark setting.

Sources: WCAG 2.2, 1.4.10 (reflow at 320 CSS pixels), 1.4.3 (contrast), 2.5.8 (targets of 24 CSS pixels).
"""

from __future__ import annotations

import asyncio
import re
from dataclasses import dataclass, field

import pytest
from axe_playwright_python.async_playwright import Axe
from chromium import CHROMIUM
from playwright.async_api import async_playwright
from support import ASSESSED

from docgen.packet.render import render

pytestmark = pytest.mark.skipif(CHROMIUM is None, reason="Chromium is not installed")

WIDTHS = (320, 390, 1280)
PAPERS = ("card", "guide", "emergency")
_LEAST_LETTER_PX = 12.0  # of a drawing
_LEAST_TARGET_PX = 24.0
_LOOK = """() => ({
    width: document.documentElement.scrollWidth,
    past: [...document.querySelectorAll('body *')]
        .filter(o => o.getBoundingClientRect().right > innerWidth + 0.5).map(o => o.outerHTML.slice(0, 90)),
    scrolling: [...document.querySelectorAll('body *')]
        .filter(o => o.scrollWidth > o.clientWidth + 1 && !o.closest('svg')
            && getComputedStyle(o).overflowX !== 'visible').map(o => o.outerHTML.slice(0, 90)),
    letters: [...document.querySelectorAll('svg')].filter(o => o.querySelector('text'))
        .map(o => o.getBoundingClientRect().width / o.viewBox.baseVal.width
            * Math.min(...[...o.querySelectorAll('text')].map(t => +t.getAttribute('font-size')))),
    targets: [...document.querySelectorAll('.jumps a')].map(o => o.getBoundingClientRect().height),
})"""


@dataclass
class Looks:
    """What the browser measures of one page at each width, and what axe-core finds in a light and a dark setting."""

    at: dict[int, dict] = field(default_factory=dict)
    violations: dict[str, list[str]] = field(default_factory=dict)


@pytest.fixture(scope="module")
def papers() -> dict[tuple[str, str], str]:
    return {
        (case, name.removesuffix(".html")): html.decode()
        for case, assessed in ASSESSED.items()
        for name, html in render(assessed, ["html"], PAPERS).items()
    }


@pytest.fixture(scope="module")
def looks(papers) -> dict[tuple[str, str], Looks]:
    return asyncio.run(_looked_at(papers))


async def _looked_at(papers: dict[tuple[str, str], str]) -> dict[tuple[str, str], Looks]:
    seen: dict[tuple[str, str], Looks] = {}
    async with async_playwright() as driver:
        browser = await driver.chromium.launch(executable_path=CHROMIUM)
        tab = await browser.new_page()
        for at, (name, html) in enumerate(papers.items()):
            seen[name] = look = Looks()
            await tab.emulate_media(color_scheme="light")
            await tab.set_content(html)
            for width in WIDTHS:
                await tab.set_viewport_size({"width": width, "height": 800})
                look.at[width] = await tab.evaluate(_LOOK)
            for scheme in ("light", "dark")[: 2 if at < 2 else 1]:  # the style sheet is the same in all
                await tab.emulate_media(color_scheme=scheme)
                report = (await Axe().run(tab)).response
                look.violations[scheme] = [
                    f"{found['id']}: {node['html']}" for found in report["violations"] for node in found["nodes"]
                ]
        await browser.close()
    return seen


@pytest.mark.parametrize("width", WIDTHS)
def test_nothing_is_scrolled_sideways_and_nothing_is_cut(looks, width):
    for name, look in looks.items():
        seen = look.at[width]
        assert (name, seen["width"], seen["past"], seen["scrolling"]) == (name, width, [], [])


@pytest.mark.parametrize("width", WIDTHS)
def test_the_letters_of_a_drawing_can_be_read(looks, width):
    for name, look in looks.items():
        assert look.at[width]["letters"] and min(look.at[width]["letters"]) >= _LEAST_LETTER_PX, name


def test_axe_finds_nothing_in_a_light_and_in_a_dark_setting(looks):
    found = {name: look.violations for name, look in looks.items() if any(look.violations.values())}
    assert found == {} and sum("dark" in look.violations for look in looks.values()) == 2


def test_the_stop_and_who_to_call_are_one_tap_away(papers, looks):
    for (case, paper), html in papers.items():
        jumps = dict(re.findall(r'<a href="([^"]*)">([^<]*)</a>', re.search(r"<nav.*?</nav>", html, re.S)[0]))
        file = "" if paper == "card" else "card.html"
        assert jumps[f"{file}#stop-the-chair"] == "Stop the chair"
        assert jumps[f"{file}#who-to-call"] == "Who to call"
        for target in jumps:
            there, _, anchor = target.partition("#")
            assert f'id="{anchor}"' in papers[case, there.removesuffix(".html") or paper]
        assert min(looks[case, paper].at[320]["targets"]) >= _LEAST_TARGET_PX


def test_each_number_to_call_dials(papers):
    for case, assessed in ASSESSED.items():
        called = [p.phone for p in assessed.file.case.people if p.phone and p.role in ("supplier", "evaluator")]
        card = papers[case, "card"]
        for number in (*called, assessed.file.case.client.emergency_number):
            digits = re.sub(r"\D", "", number)
            assert f'<a href="tel:{digits}">{number}</a>' in card
            outside = re.sub(r"<a .*?</a>|<[^>]*>", " ", card, flags=re.S)
            assert not re.search(rf"(?<![\w-]){re.escape(number)}(?![\w-])", outside), number
