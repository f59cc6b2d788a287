"""A job-sheet question in a sitting: what is left empty is named and asked about before it counts."""

from __future__ import annotations

from playwright.sync_api import expect

from papers import a_class
from room.a_room import Room
from room.a_sitting import Sat, panel, started
from rigcalc.papers.blueprint import Blueprint, Cut, Place
from rigcalc.questions import families_folder
from rigcalc.questions.family import read_family


def test_boxes_left_empty_are_named_and_count_only_at_the_second_press(browser, tmp_path):
    family = read_family(families_folder() / "limit-in-three-boxes.toml")
    plan = Blueprint(form=1, id="sheet", version=1, title="Sheet", minutes=30, book="closed", allowed="this page only.", calculator=True, partial_credit="none",
                     cut=Cut(60, "one named person", "Ines Varrow", "2026-03-02", "so"), question=[Place(family.skill, family.level, 100)])
    with Room(a_class.set_class(tmp_path, blueprint=plan, families={family.id: family})) as room:
        sat = Sat(browser, room)
        page = started(sat)
        form, boxes = panel(page, 1), a_class.paper_of(room.held)["questions"][0]["boxes"]
        middle = f"{boxes[1]['box']}. {boxes[1]['label']}"
        form.get_by_label(middle).fill("300 lbf" if "lbf" in boxes[1]["accept"] else "3")
        expect(form.get_by_text("Read as")).to_be_visible()
        confirm, saved, asks = form.get_by_role("button", name="Confirm"), form.locator(".rc-saved"), f"Left empty: box {boxes[0]['box']}, {boxes[2]['box']}."
        confirm.click()
        expect(form.get_by_text(asks)).to_be_visible()
        page.wait_for_timeout(600)  # what the room says meanwhile takes neither the question nor its meaning away
        expect(form.get_by_text(asks)).to_be_visible()
        expect(saved).to_have_text("Saved, not confirmed yet.")
        confirm.click()
        expect(saved).to_have_text("Confirmed and saved.")
        page.context.close()
    assert sat.wrong == []
