"""The pages before the lessons: the first page with its three doors, and what stands behind each door."""

from __future__ import annotations

import shutil
import sys
from html import escape
from pathlib import Path

from rigcalc.cautions import CAUTIONS, INVENTED_PAGE, PRACTICE
from rigcalc.errors import Refusal
from rigcalc.home import installed_folder, shop_file, working_folder, workbook_home
from rigcalc.learning.names import Learner
from rigcalc.opening.shelf import Sheet, beside, find_sheet, lessons, references, sheets
from rigcalc.opening.working import edited_copy
from rigcalc.pages import page, said

__all__ = ["assess_page", "enter_page", "first_page", "learn_page", "page_facts", "teach_page", "trouble_page", "wall_cards_page"]

WHAT_THIS_IS = (
    "This workbook teaches the making of light cable assemblies: thin steel cable, an eye turned at each end, held by "
    "a sleeve that is pressed with a hand tool. You learn how it is done and why, you practise, and an assessor looks "
    "at your written paper and at your hands. Whoever shows the skill gets a certificate of competence that anyone can check."
)
DOORS = (
    ("/learn", "Learn", "Lessons to read, try and answer in, and a practice paper that is marked at once."),
    ("/teach", "Teach", "For the trainer: the shop's own data, the projector, practice sheets, changing a lesson."),
    ("/assess", "Assess", "For the assessor: set a paper, mark it, watch at the bench, decide, sign."),
)


def command(words: str) -> str:
    """A command as the person has to type it: by its bare name where that is found, else with its place."""
    beside = shutil.which("rigcalc", path=str(Path(sys.executable).parent))
    known = shutil.which("rigcalc")
    name = "rigcalc" if beside is None or (known and Path(known).samefile(beside)) else beside
    return f"<code>{escape(f'{name} {words}')}</code>"


def nav(here: str = "") -> str:
    """The line of doors at the top of a page."""
    links = [f'<a href="{to}"{" aria-current=page" if to == here else ""}>{escape(name)}</a>'
             for to, name in [("/", "First page"), *((to, name) for to, name, _ in DOORS)]]
    return "".join(links)


def shop_in_force():
    """The shop whose data stands on the pages, and what is wrong with the shop file where it cannot be read.

    Returns
    -------
    tuple of (Shop, str)
        With a shop file that cannot be used the sample shop stands in, and the sentence says so.
    """
    from rigcalc.notebook.teaching import readable_shop

    return readable_shop()


def _page(title: str, body: str, here: str) -> str:
    shop, trouble = shop_in_force()
    bar = "" if shop.has_maker_chart else f'<p class="invented">{escape(PRACTICE)}</p>'
    return page(title, bar + (said(trouble, "no") if trouble else "") + body, nav=nav(here), invented=INVENTED_PAGE if shop.invented else False,
                chart_line=shop.chart_line(), head=f'<link rel="icon" href="data:,"><style>{LOOK}</style>')


def first_page(server) -> str:
    """The first page: what this is, the cautions, and three doors."""
    doors = "".join(f'<a class="door" href="{to}"><strong>{name}</strong><span>{escape(does)}</span></a>'
                    for to, name, does in DOORS)
    return _page("Cable assembly workbook",
                 f'<p>{escape(WHAT_THIS_IS)}</p><nav class="doors" aria-label="Three doors">{doors}</nav>', "/")


WALL_CARDS = ('<p>For the bench: <a href="/wall-cards">a wall card for each tool, to print</a>, from the charts in force. A card is void '
              "when its chart changes: take the old one down first.</p>")


def learn_page(server, learner: Learner | None = None, xsrf: str = "", refused: str = "", typed: str = "", removed: str = "") -> str:
    """The lessons that exist, in order, the practice paper, what there is to look things up in, and what is kept for a name.

    Parameters
    ----------
    learner : Learner or None
        Whose answers are kept; None where nobody chose a name.
    xsrf : str
        What a form of this page has to bring back.
    refused, typed : str
        What a name that was typed just now cannot be kept for, and that name.
    removed : str
        What was taken away just now, in words.
    """
    from rigcalc.opening.learners import Shown, door, shown_for

    kept = shown_for(learner, xsrf) if learner else Shown()
    rows = "".join(_shelf_item(sheet) for sheet in lessons())
    shelf = f'<ol class="shelf">{rows}</ol>' if rows else said("No lesson is installed.", "no")
    practice = _found("quizzes/practice_paper")
    paper = "" if practice is None else (
        "<h2>Practice paper</h2><p>Questions like those of the written paper. It is marked at once "
        f'and counts for nothing.</p><ul class="shelf">{_shelf_item(practice)}</ul>')
    how = "<p>A lesson's controls take a few seconds to wake up; you can read on meanwhile.</p>"
    return _page("Learn", f"{kept.again}{door(learner, xsrf, refused, typed, removed)}{kept.bench}{how}<h2>Lessons</h2>{shelf}{kept.skill_map}{paper}"
                 f"{_to_look_up()}", "/learn")


def teach_page(server) -> str:
    """What a trainer needs: shop file, projector, practice sheets, notes, and how to change a lesson."""
    from rigcalc.opening.learners import stuck_section

    return _page("Teach", _shop_section() + WALL_CARDS + _lesson_section() + stuck_section() + _edit_section() + _families_section()
                 + _to_look_up() + _reference_section(), "/teach")


def wall_cards_page(server) -> str:
    """The wall card of every tool, to print: one sheet each; one sentence where the shop in force has none."""
    from rigcalc.shop import load_shop
    from rigcalc.shop.card import card_as_html, every_wall_card

    try:
        return card_as_html(every_wall_card(load_shop()))
    except Refusal as refusal:
        return _page("Wall cards", said(str(refusal), "no"), "/teach")


def assess_page(server) -> str:
    """Where the assessor goes on: the desk is another process, with a token of its own."""
    if server.desk_address:
        door = (f'<p><a class="button" href="{escape(server.desk_address)}">To the assessor\'s desk</a></p>'
                "<p>The desk asks for a token of its own. It stands in the window where the workbook was opened, "
                "and only the assessor should have it.</p>")
    else:
        door = (said("The desk is not running.", "no")
                + f"<p>To start it, type {command('desk')} in another window. It prints its address and its token there.</p>")
    return _page("Assess",
                 f"<p>Setting a paper, marking it, deciding and signing are done at the assessor's desk.</p>{door}"
                 "<h2>The room</h2><p>Candidates sit their paper, and bench forms are filled in, on pages of the room. "
                 "The room is opened from the desk; each candidate and each tablet has an address of its own, which the desk gives out.</p>"
                 "<h2>Checking a certificate</h2><p>Anyone can check a certificate file, without the register: "
                 f"{command('certificate FILE')}.</p>", "/assess")


def enter_page(xsrf: str, wrong: bool) -> str:
    """What a visitor without the token reads."""
    sentence = ("That is not the token of this start; type the part after token= of the address in the window where the "
                "workbook was opened." if wrong else
                "This page opens with the address that was printed in the window where the workbook was opened, or with its token.")
    return page("Open the workbook", said(sentence, "no" if wrong else "") +
                f'<form method="post" action="/enter"><input type="hidden" name="_xsrf" value="{escape(xsrf)}">'
                '<label for="token">Token</label><input type="password" id="token" name="token" autocomplete="off" required> '
                "<button>Open</button></form>", cautions=False)


def trouble_page(status: int) -> str:
    """One plain sentence for a page that is not there or could not be made."""
    sentence = ("There is no such page in this workbook; go back to the first page." if status == 404 else
                "This page could not be made; reload it, and when it happens again start the workbook anew.")
    return page("Not here" if status == 404 else "Something went wrong",
                said(sentence, "no") + '<p><a class="button" href="/">First page</a></p>', nav=nav(), cautions=False)


def page_facts(page_config: dict, *, notebook_path: str, kept_for: str = "", on_the_wall: bool = False, **_) -> dict:
    """What the notebook template says besides the notebook: title, chart in force, working copy, cautions, and whose answers are kept.

    Voilà calls it for each page, with the notebook's path under the shelf.
    """
    sheet = find_sheet(notebook_path)
    from rigcalc.notebook.teaching import shop_for_teaching

    shop, note = shop_for_teaching()
    says = sheet.path.read_text(encoding="utf-8")  # what the notebook shows itself is not said twice
    page_config["workbook"] = {
        "title": sheet.full_title, "head": "" if sheet.numbered_heading else sheet.number,
        "beside": [{"word": word, "name": one.full_title, "address": one.address}
                   for word, one in zip(("Before", "Next"), beside(sheet), strict=True) if one],
        "kept_for": kept_for, "on_the_wall": on_the_wall, "edited": edited_copy(sheet) is not None, "note": note,
        "chart": "" if "Chart in force:" in says else shop.chart_line(), "invented": INVENTED_PAGE if shop.invented else "",
        "cautions": [] if CAUTIONS[0] in says else list(CAUTIONS),
    }
    return page_config


def _found(word: str) -> Sheet | None:
    try:
        return find_sheet(word)
    except Refusal:
        return None


def _copy_mark(sheet: Sheet) -> str:
    return ' <span class="quiet">(the trainer\'s working copy)</span>' if edited_copy(sheet) else ""


def _shelf_item(sheet: Sheet) -> str:
    number = f'<span class="number">{escape(sheet.number)}</span> ' if sheet.number else ""
    time = ", ".join(f"{what} {minutes} min" for what, minutes in sheet.minutes)
    takes = f' <span class="takes">{escape(time)}</span>' if time else ""
    return f'<li>{number}<a href="{sheet.address}">{escape(sheet.title)}</a>{_copy_mark(sheet)}{takes}</li>'


def _shop_section() -> str:
    from rigcalc.shop import check_shop, load_shop, sample_shop_path

    own = shop_file()
    if not own.is_file():
        return (f"<h2>Shop file</h2><p>The invented sample shop is in force: <strong>{escape(load_shop(sample_shop_path()).name)}</strong>. To enter your own reels, charts, tools, gauges and "
                f"design factor, type {command('shop --new')}; the file is then <code>{escape(str(own))}</code>. "
                f"The sample to copy from is <code>{escape(str(sample_shop_path()))}</code>.</p>")
    path = f"<code>{escape(str(own))}</code>"
    try:
        problems = check_shop(own)
    except Refusal as refusal:
        return f"<h2>Shop file</h2><p>Yours is {path}.</p>{said(str(refusal), 'no')}"
    if not problems:
        return (f"<h2>Shop file</h2><p>In force: <strong>{escape(load_shop(own).name)}</strong>, {path}. Change it in any text editor, save it, and load this page again.</p>"
                + said("Checked line by line: nothing to mend.", "ok") + _notes_of_the_shop(own))
    rows = "".join(f'<tr><td class="number">{problem.line or ""}</td><td>{escape(problem.what)}</td></tr>' for problem in problems)
    return (f"<h2>Shop file</h2><p>Yours is {path}. Mend these lines in any text editor, save it, and load this page again.</p>"
            f'<div class="wide"><table><thead><tr><th class="number">Line</th><th>What to mend</th></tr></thead>'
            f"<tbody>{rows}</tbody></table></div>")


def _notes_of_the_shop(own: Path) -> str:
    """What a file without mistakes still lacks, in the sentences of `rigcalc shop`."""
    from rigcalc.shop import load_shop
    from rigcalc.shop.commands import shop_notes

    return "".join(said(f"Note: {note}", "no") for note in shop_notes(load_shop(own)))


def _families_section() -> str:
    """Which question families of the workplace's own are in force, or what is wrong with one of them."""
    installed, own = (folder / "quizzes" / "families" for folder in (installed_folder(), working_folder()))
    how = (f"<p>To correct an installed one, copy its file from <code>{escape(str(installed))}</code> to <code>{escape(str(own))}</code> under "
           "the same name; a file with a name and an id of its own is added.</p>")
    if not any(own.glob("*.toml")):
        return f"<h2>Question families</h2><p>The installed question families are in force.</p>{how}{_blueprints_section()}"
    from rigcalc.questions import load_families
    from rigcalc.questions.own import own_families_in_words

    try:
        load_families()
        told = said(own_families_in_words(), "ok")
    except Refusal as refusal:
        told = said(str(refusal), "no")
    return f"<h2>Question families</h2>{told}{how}{_blueprints_section()}"


def _blueprints_section() -> str:
    """Which blueprints of the workplace's own are in force, or what is wrong with one of them; nothing where there are none."""
    from rigcalc.papers.blueprint import blueprint_names, load_blueprint, own_blueprints_folder

    told = ""
    for name in blueprint_names():
        if (own_blueprints_folder() / f"{name}.toml").exists():
            try:
                plan = load_blueprint(name)
                told += said(f"Own blueprint in force: {plan.id}, version {plan.version}, from {own_blueprints_folder()}.", "ok")
            except Refusal as refusal:
                told += said(str(refusal), "no")
    return f"<h2>Blueprints</h2>{told}" if told else ""


def _lesson_section() -> str:
    rows = "".join(_lesson_row(sheet) for sheet in lessons())
    heads = "".join(f'<th scope="col">{name}</th>' for name in ("Lesson", "Projector", "Bench practice sheet", "Recap", "Trainer's notes"))
    return ("<h2>Lessons</h2><p>The projector view is the same page, set as large as the screen allows, with a strip that leads from part to part. "
            "Answers wait there until you press them, and nothing is kept for anybody when it is opened from here. Your notes do not show there: print them, or open them alone on another screen. "
            "Every lesson page has a button for the projector too; there a name that was chosen stays in force. A practice sheet is made for one size; where its lesson has other sizes, they lie folded under it: "
            "read it, open the size you want, and press its own button.</p>"
            f'<div class="wide"><table class="lessons"><thead><tr>{heads}</tr></thead><tbody>{rows}</tbody></table></div>'
            if rows else "")


def _lesson_row(sheet: Sheet) -> str:
    """One lesson and the ways to open it; what it lacks stands as a dash."""
    def way(to: str | None, word: str, whole: str) -> str:
        return f'<a href="{escape(to)}" aria-label="{word} {whole} {escape(sheet.number)}">{word}</a>' if to else "–"

    sheet_place = way(sheet.anchor("practice sheet"), "read", "the bench practice sheet of")
    cells = (way(f"{sheet.address}?projector=1", "show", "on the projector lesson"),
             f'{sheet_place} · {way(_alone(sheet, "practice sheet", "practice-sheet"), "print", "the practice sheet of")}',
             way(_alone(sheet, "recap", "recap"), "print", "the recap of"),
             f'{way(_notes(sheet, "1"), "in place", "the notes open in place in lesson")} · '
             f'{way(_notes(sheet, "alone"), "alone", "the notes alone of lesson")}')
    return (f'<tr><th scope="row"><a href="{sheet.address}">{escape(sheet.full_title)}</a>{_copy_mark(sheet)}</th>'
            + "".join(f"<td>{cell}</td>" for cell in cells) + "</tr>")


def _alone(sheet: Sheet, heading: str, name: str) -> str | None:
    """The address that prints one sheet of a lesson by itself; None where the lesson has no such heading."""
    return f"{sheet.address}?print={name}" if sheet.anchor(heading) else None


def _notes(sheet: Sheet, how: str) -> str | None:
    """The address of a lesson with its folded notes open, or of its notes alone; None where it has none."""
    return f"{sheet.address}?notes={how}" if any('class="trainer"' in text for text in sheet.markdown) else None


def _edit_section() -> str:
    example = lessons()[0].number if lessons() else "05"
    return (f"<h2>Change a lesson</h2><p>In another window type {command('edit ' + example)}. It makes a working copy in "
            f"<code>{escape(str(working_folder()))}</code> and opens it in an editor. From then on this machine's pages show your "
            "copy and say so; the installed lesson stays as it was. To go back to it, move your copy away.</p>"
            f"<p>Everything made with this workbook lies in <code>{escape(str(workbook_home()))}</code>.</p>")


def _to_look_up() -> str:
    items = "".join(_shelf_item(sheet) for sheet in references())
    return f'<h2>To look things up</h2><ul class="shelf">{items}</ul>' if items else ""


def _reference_section() -> str:
    items = "".join(_shelf_item(sheet) for sheet in sheets("quizzes") if sheet.name != "practice_paper")
    return f'<h2>Questions, worked through</h2><ul class="shelf">{items}</ul>' if items else ""


LOOK = """
.doors { display:grid; grid-template-columns:repeat(auto-fit,minmax(12rem,1fr)); gap:1rem; margin:1.4rem 0; }
.door { display:block; background:var(--card); border:1px solid var(--line); border-top:6px solid var(--deep); border-radius:6px;
  padding:1rem 1.1rem 1.2rem; text-decoration:none; color:var(--ink); }
.door strong { display:block; font-size:1.3rem; color:var(--deep); text-decoration:underline; margin-bottom:.3rem; }
.door:hover { border-color:var(--deep); }
.shelf { list-style:none; padding:0; } .shelf li { padding:.45rem 0; border-bottom:1px solid var(--line); font-size:1.05rem; }
.number { font-variant-numeric:tabular-nums; color:var(--quiet); } .shelf .number { margin-right:.5rem; }
.shelf .takes { display:block; color:var(--quiet); font-size:.9rem; margin-left:2.1rem; }
table.lessons th[scope=row] { background:none; font-weight:600; } table.lessons td { white-space:nowrap; }
code { background:var(--wash); padding:.05rem .3rem; border-radius:3px; overflow-wrap:anywhere; }
.names { display:flex; flex-wrap:wrap; gap:.6rem; align-items:center; margin:.6rem 0; } .names label { margin:0; } .names button { max-width:100%; overflow-wrap:anywhere; }
#skill-map details, #bench details { border-bottom:1px solid var(--line); padding:.35rem 0; max-width:44rem; } #skill-map details[open] { padding-bottom:.8rem; } #skill-map summary { font-weight:600; }
#skill-map h3 { margin:.7rem 0 .1rem; } #skill-map li { margin:.3rem 0; } #skill-map .note { display:block; } main summary { cursor:pointer; min-height:1.8rem; }
.again li { margin:.3rem 0; }
header.page nav a[aria-current] { font-weight:700; text-decoration:none; }
"""
