"""Pages on one room, driven as a candidate drives them."""

from __future__ import annotations

import os
import re
from pathlib import Path

from playwright.sync_api import expect

from papers import a_class

WIDE, TABLET = {"width": 1280, "height": 800}, {"width": 820, "height": 1180}


# The page asks the room every four seconds what other windows did, tries a save that failed again after a second and a half,
# and asks how a figure is read a third of a second after the last key: here more often and sooner, so that nobody waits for it.
QUICKER = ("{ const every = window.setInterval, once = window.setTimeout;"
           " window.setInterval = (what, wait, ...rest) => every(what, wait === 4000 ? 400 : wait, ...rest);"
           " window.setTimeout = (what, wait, ...rest) => once(what, { 1500: 200, 300: 60 }[wait] ?? wait, ...rest); }")
# Handing in looks thirty times, a tenth of a second apart, whether all is saved; in a page whose room is dead for certain, sooner.
GIVES_UP_SOON = "{ const once = window.setTimeout; window.setTimeout = (what, wait, ...rest) => once(what, wait === 100 ? 10 : wait, ...rest); }"


class Sat:
    """Pages on one room; every script error and every request to elsewhere is remembered."""

    def __init__(self, browser, room) -> None:
        self.browser, self.room, self.wrong = browser, room, []

    def open(self, size=WIDE, number: int = 0, context=None):
        made = context or self.browser.new_context(viewport=size)
        page = made.new_page()
        page.add_init_script(QUICKER)
        page.on("pageerror", lambda error: self.wrong.append(str(error)))
        page.on("console", lambda said: self.wrong.append(said.text) if "Content Security" in said.text else None)
        page.on("request", lambda asked: None if asked.url.startswith((f"http://127.0.0.1:{self.room.port}/", "data:"))
                else self.wrong.append(asked.url))
        page.goto(f"http://127.0.0.1:{self.room.port}/sit/{self.room.held.issued[number].token}")
        return page


def picture(page, name: str) -> None:
    folder = os.environ.get("RIGCALC_SCREENSHOTS")
    if folder:
        page.screenshot(path=str(Path(folder) / f"sitting-{name}.png"), full_page=True)


def started(sat, **more):
    page = sat.open(**more)
    page.get_by_role("button", name="Start").click()
    expect(page.locator(".panel:visible")).to_have_count(1)
    return page


def questions(sat, number: int = 0):
    return a_class.paper_of(sat.room.held, number)["questions"]


def slot_of(sat, kind: str) -> int:
    return next(question["slot"] for question in questions(sat) if question["kind"] == kind)


def panel(page, slot: int):
    return page.locator(f".panel:has(#q{slot})")


def press_until(page, focused: str, key: str = "Tab", most: int = 40) -> None:
    """Press a key until the element with the focus is a certain one."""
    for _ in range(most):
        page.keyboard.press(key)
        if page.evaluate("(wanted) => document.activeElement.matches(wanted)", focused):
            return
    raise AssertionError(f"{focused} is not reached with {key}")


def order_by_keys(page, right: list[str]) -> None:
    """Bring the letters into order with the buttons that move one place, by Enter alone."""
    for place, letter in enumerate(right):
        for _ in range(len(right)):
            rows = page.locator(".panel:visible .rc-order li .rc-letter").all_text_contents()
            if rows.index(letter) == place:
                break
            page.locator(".panel:visible .rc-order li").nth(rows.index(letter)).get_by_role("button", name=re.compile("up")).focus()
            page.keyboard.press("Enter")
