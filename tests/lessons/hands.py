"""What a person does on a lesson page, by keyboard: move every control of a live figure, point at its parts, answer exercises."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

__all__ = ["Driven", "answer", "asked_in", "boards_of", "drive", "right_and_wrong", "snapshot"]

BOARD, FORM = ".rc-board", ".rc-form"
WAIT_MS = 15_000
MOST_ACTS, MOST_PARTS = 120, 40
TYPED = ("1", "2 mm", "3 lbf", "nonsense")  # tried in turn in a text field: a value or a refusal must be said
LOOK = """board => {
  const controls = [...board.querySelectorAll('[data-control]')];
  const kind = (box) => { const one = box.querySelector('select, input, button') || box;
    return one.tagName === 'SELECT' ? 'list' : one.tagName === 'BUTTON' ? 'button' : one.type; };
  return { turn: Number(board.dataset.turn), said: board.querySelector('.rcb-said').innerText,
    drawn: [...board.querySelectorAll('figure')].map((one) => one.innerHTML.replace(/ (tabindex|aria-pressed)="[^"]*"/g, '')).join('\\n'),
    under: board.querySelector('.rcb-under').innerHTML,
    parts: [...board.querySelectorAll('[data-pick]')].map((one) => [one.dataset.pick, one.dataset.value]),
    controls: controls.map((box) => ({ name: box.dataset.control, kind: kind(box), label: (box.querySelector('legend, .rcb-label') || box).childNodes[0].textContent.trim() || box.innerText.trim(),
      many: box.querySelectorAll('option, input[type=radio]').length,
      enabled: ![...box.querySelectorAll('select, input, button')].every((one) => one.disabled) })) };
}"""


@dataclass
class Driven:
    """What came of moving one live figure."""

    title: str
    acts: int = 0
    faults: list[str] = field(default_factory=list)


def boards_of(page):
    """Every live figure of the page, as locators."""
    found = page.locator(f"{BOARD}:visible")
    return [found.nth(at) for at in range(found.count())]


def snapshot(board) -> dict:
    """What the figure shows now: turn, said, drawn, under, parts, controls."""
    return board.evaluate(LOOK)


def _settled(board, turn: int) -> bool:
    """Wait until the figure has answered a move; False where it never did."""
    from playwright.sync_api import TimeoutError as TooLong

    page = board.page
    try:
        page.wait_for_function("([board, turn]) => Number(board.dataset.turn) > turn", arg=[board.element_handle(), turn], timeout=WAIT_MS)
        page.wait_for_timeout(40)
        return True
    except TooLong:
        return False


def drive(board, parts: int = MOST_PARTS) -> Driven:
    """Move every control of a figure by keyboard and point at its parts, at most `parts` of them."""
    done = Driven(board.locator("h4").first.inner_text())
    moved: set[tuple] = set()
    while done.acts < MOST_ACTS:
        now = snapshot(board)
        rest = [one for one in now["controls"] if one["enabled"] and _key(one) not in moved]
        if not rest:
            break
        moved.add(_key(rest[0]))
        _move(board, rest[0], done)
    _point(board, parts, done)
    return done


def _key(control: dict) -> tuple:
    return control["name"], control["kind"], control["label"] if control["kind"] == "button" else ""


def _differs(before: dict, after: dict, name: str) -> bool:
    """Whether a move showed: said, drawn, under the drawing, or in another control; the moved control's own look is not enough."""
    others = [[one for one in seen["controls"] if one["name"] != name or one["kind"] == "button"] for seen in (before, after)]
    return any(before[what] != after[what] for what in ("said", "drawn", "under")) or others[0] != others[1]


def _move(board, control: dict, done: Driven) -> None:
    """One control through all it offers; it fails where nothing it does shows, or where a move is not answered."""
    name, kind, shows = control["name"], control["kind"], False
    box = board.locator(f'[data-control="{name}"]')
    began = _value(box)
    for key in _keys(control):
        before = snapshot(board)
        target = box.locator("input:checked" if kind == "radio" and box.locator("input:checked").count() else "select, input, button").first
        if not target.count() or not target.is_enabled():
            break
        was = _value(box)
        if isinstance(key, tuple):
            if was == [key[0]]:
                continue
            target.fill(key[0])
            target.press("Enter")
        else:
            target.press(key)
        if kind != "button" and _value(box) == was and not isinstance(key, tuple) and snapshot(board)["turn"] == before["turn"]:
            continue  # it stood at this end already, and was not put back by a refusal
        done.acts += 1
        if not _settled(board, before["turn"]):
            done.faults.append(f"{done.title}: '{control['label']}' ({key}) was not answered")
            return
        shows = shows or _differs(before, snapshot(board), name)
        if not box.count():
            break
    if not shows:
        done.faults.append(f"{done.title}: '{control['label']}' changes neither sentence nor drawing")
    _put_back(board, box, kind, began)


def _put_back(board, box, kind: str, began: list) -> None:
    """Leave a control as it was met, so that a refusal by one does not hide the next."""
    if kind == "button" or not box.count() or _value(box) == began:
        return
    turn = snapshot(board)["turn"]
    if kind == "list":
        box.locator("select").select_option(began[0])
    elif kind == "radio" and True in began:
        box.locator("input").nth(began.index(True)).check()
    elif kind in ("range", "text"):
        box.locator("input").fill(began[0])
        box.locator("input").press("Enter")
    _settled(board, turn)


def _keys(control: dict) -> list:
    many = control["many"]
    return {"list": ["Home", *["ArrowDown"] * (many - 1)], "radio": ["ArrowDown"] * many, "range": ["Home", "ArrowRight", "End", "ArrowLeft"],
            "text": [(typed,) for typed in TYPED], "checkbox": ["Space", "Space"], "button": ["Enter"]}[control["kind"]]


def _value(box) -> list:
    return box.evaluate("box => [...box.querySelectorAll('select, input')].map((one) => ['radio', 'checkbox'].includes(one.type) ? one.checked : one.value)")


def _point(board, most: int, done: Driven) -> None:
    """Point at the drawing's parts: the first with Tab's own stop, the others by the arrow keys."""
    shows, parts = False, snapshot(board)["parts"][:most]
    for part in parts:
        before = snapshot(board)
        if part not in before["parts"]:
            continue
        spot = board.locator(f'[data-pick="{part[0]}"][data-value="{part[1]}"]').first
        spot.focus()
        spot.press("Enter")
        done.acts += 1
        if not _settled(board, before["turn"]):
            done.faults.append(f"{done.title}: the part '{part[1]}' ({part[0]}) was not answered")
            return
        after = snapshot(board)
        shows = shows or any(before[what] != after[what] for what in ("said", "drawn", "under"))
    if parts and not shows:
        done.faults.append(f"{done.title}: pointing at the drawing changes nothing")
    if len(parts) > 1 and snapshot(board)["parts"][:2] == parts[:2]:
        first = board.locator('[data-pick][tabindex="0"]').first
        first.focus()
        first.press("ArrowRight")
        if not board.evaluate("board => board.contains(document.activeElement) && document.activeElement.matches('[data-pick]')"):
            done.faults.append(f"{done.title}: the arrow keys do not lead from part to part")


# --- Exercises ------------------------------------------------------------------------------------

def asked_in(path) -> list[tuple[dict, dict]]:
    """The questions that a lesson opens with, each with its key: the fixed first instances, worked out again here.

    Those that a lesson draws from a stream of its own are left out: they are not what is stored of that family's first instance.
    """
    from notebooks.stored import stored

    from rigcalc.notebook.form import Exercise

    page = stored(path)
    made = [Exercise(name) for name in page.families]
    return [(one.question, one._key) for one in made if repr(one) in page.shown]


def right_and_wrong(question: dict, key: dict) -> tuple:
    """What answers a question rightly, and something that does not, in the form's own terms."""
    kind, right = question["kind"], key.get("right", {})
    letters = [one["letter"] for one in question.get("options") or []]
    if kind in ("one choice", "place"):
        return right["letter"], next(one for one in letters if one != right["letter"])
    if kind == "several choices":
        return right["letters"], [one for one in letters if one not in right["letters"]] or letters[:1]
    if kind in ("order", "match"):
        row = list(right["row"])
        return row, row[1:] + row[:1]
    if kind == "number":
        return _as_typed(right["shown"]), _other_figure(right["shown"], question)
    boxes = [(asked, own["right"]) for asked, own in zip(question["boxes"], key["boxes"], strict=True)]
    rights = [_as_typed(own["shown"]) if asked["kind"] == "number" else own["letter"] for asked, own in boxes]
    return rights, [_other_figure(own["shown"], asked) if asked["kind"] == "number" else next(
        one["letter"] for one in asked["options"] if one["letter"] != own["letter"]) for asked, own in boxes]


def _as_typed(shown: str) -> str:
    """What a person types for a right answer that is shown: its figure, or the one word of a refusal."""
    return "refuse" if shown.startswith("refuse") else shown


def _other_figure(shown: str, asked: dict) -> str:
    unit = next((one for one in asked["accept"] if one), "")
    found = re.match(r"[−-]?[\d,.]+", shown)
    return f"{float(found[0].replace(',', '').replace('−', '-')) * 7 + 3:.0f} {shown[found.end():].strip()}" if found else f"12345 {unit}".strip()


def answer(form, question: dict, typed, expect: str) -> str:
    """Answer a form by keyboard; the sentence it says, whose kind must be `expect` ("rc-ok" or "rc-no")."""
    ENTER[question["kind"]](form, question, typed)
    confirm = form.get_by_role("button", name="Confirm", exact=True)
    form.page.wait_for_function("one => !one.disabled", arg=confirm.element_handle(), timeout=WAIT_MS)
    confirm.press("Enter")
    doubted = form.get_by_text("press Confirm again", exact=False)
    if doubted.count():
        confirm.press("Enter")
    said = form.locator(f".rc-said.{expect}:not(.rc-reading)")
    said.first.wait_for(timeout=WAIT_MS)
    return said.first.inner_text()


def _choose(form, question, letter) -> None:
    form.locator(f'input[value="{letter}"]').press("Space")


def _tick(form, question, letters) -> None:
    for box in form.locator("input[type=checkbox]").all():
        if box.is_checked() != (box.get_attribute("value") in letters):
            box.press("Space")


def _sort(form, question, row) -> None:
    for place, letter in enumerate(row):
        while (now := form.locator("ol.rc-order .rc-letter").all_inner_texts()).index(letter) > place:
            form.locator("ol.rc-order li").nth(now.index(letter)).get_by_role("button", name=re.compile("up$")).press("Enter")


def _match(form, question, row) -> None:
    for at, letter in enumerate(row):
        form.locator("select").nth(at).select_option(letter)


def _figure(form, question, text) -> None:
    box = form.locator("input[type=text]")
    box.fill(text)
    box.press("Tab")


def _sheet(form, question, texts) -> None:
    for asked, text in zip(question["boxes"], texts, strict=True):
        label = f"{asked['box']}. {asked['label']}"
        box = form.get_by_label(label, exact=True)
        if asked["kind"] == "number":
            box.fill(text)
            box.press("Tab")
        else:
            box.select_option(text)


ENTER = {"one choice": _choose, "place": _choose, "several choices": _tick, "order": _sort, "match": _match, "number": _figure, "sheet": _sheet}
