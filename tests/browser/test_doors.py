"""The three processes side by side: the door to the desk, its own token, and what each keeps to itself."""

from __future__ import annotations

import re

import pytest
from house import start
from playwright.sync_api import expect


@pytest.fixture(scope="module")
def opened(tmp_path_factory, request):
    """The workbook as `rigcalc open` starts it, with its desk."""
    process = start(tmp_path_factory.mktemp("opened"), "open", "--no-browser", "--port", str(request.config.first_port + 15))
    try:
        process.address, process.base = process.wait_for(r"projector: ((http://127\.0\.0\.1:\d+)/\?token=[\w-]+)").groups()
        process.token = process.wait_for(r"Token\W[^:]*: ([\w-]{20,})")[1]
        yield process
    finally:
        process.stop()


def test_the_door_to_the_desk_asks_for_the_desks_own_token(opened, page, picture):
    page.goto(opened.address)
    page.goto(opened.base + "/assess")
    picture(page, "assess_with_desk")
    page.get_by_role("link", name="To the assessor's desk").click()
    assert opened.base not in page.url and opened.token not in page.url
    picture(page, "desk_sign_in")
    page.locator("input[type=password], input[name=token]").first.fill(opened.address.split("token=")[1])
    page.locator("form button").first.click()
    expect(page.locator("main")).to_contain_text("not this desk's token")
    page.locator("input[type=password], input[name=token]").first.fill(opened.token)
    page.locator("form button").first.click()
    expect(page.locator("input[name=token]")).to_have_count(0)
    picture(page, "desk_home")
    page.goto(opened.base + "/learn")
    expect(page.get_by_role("heading", level=1)).to_have_text("Learn")


def test_the_desks_token_does_not_open_the_workbook(opened, page):
    page.goto(f"{opened.base}/?token={opened.token}")
    assert "Open the workbook" in page.inner_text("h1")


def test_the_desk_alone_shows_nothing_before_its_token(desk, page):
    page.goto(desk.base)
    assert page.locator("input[name=token]").count() == 1
    assert not re.search(r"candidate|paper issued", page.inner_text("main").lower())


def test_the_room_alone_lists_nobody(room, page):
    page.goto(room.base)
    text = page.inner_text("body").lower()
    assert page.locator("a[href*='/sit/'], a[href*='/bench/']").count() == 0 and "traceback" not in text
