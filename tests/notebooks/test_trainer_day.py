"""The trainer's day of each lesson: its times are those of the page and of the notes, every part has a note, and what the notes show lies ready."""

from __future__ import annotations

import re
from math import ceil

import pytest
from stored import LESSONS, NOTE, Stored, stored

from rigcalc.home import installed_folder
from rigcalc.notebook.trainer_day import NUMBERS, Day, day, day_of

KEPT = {"show-somebody", "practice-sheet", "sources"}  # they are handed out, and done at the bench
PART = re.compile(r'(?=<a id="[a-z0-9-]+"></a>\s*\n\s*## )')
HEAD = re.compile(r'<a id="([a-z0-9-]+)"></a>\s*\n\s*## (.+)')
LAID = {  # what the notes of a lesson show, and what the hands need, in words of the list or of what is made up
    "00": ("order 9", "ten letters", "cord", "bag of sleeves without a label", "another tool", "short end", "glass", "cable cutter", "eye protection", "gloves", "pens", "lid"),
    "01": ("slips", "calipers", "metric", "coated", "pencils", "spike", "1x19", "lens", "file", "bands", "kink", "stripping knife", "cable cutter", "eye protection", "gloves", "pens"),
    "02": ("three papers of one reel", "ruler", "inch cable", "coil", "balance", "spring scale", "laid cord", "elastic", "metric", "caliper", "tags", "eye protection", "gloves", "pens"),
    "03": ("saucer", "scale", "tray", "coat left on", "lens", "3/32", "guard", "next larger", "coated reel", "slips", "cutter", "scriber", "galvanised reel", "stainless one", "charts", "eye protection", "gloves", "pens"),
    "04": ("scale", "rag", "sixteen clips", "torque wrench", "week ago", "bite", "bolt", "guard", "thimble", "cable cutter", "paint", "pens", "eye protection", "gloves"),
    "05": ("one diameter", "good pressed eye", "scale", "sawn", "lens", "3/32", "coated", "guard", "pressed flat", "box", "cloths", "fourteen aluminium sleeves", "fourteen thimbles", "galvanised cable", "through a sleeve", "pens", "PRACTICE tape", "gloves", "eye protection"),
    "06": ("two sleeves from one bag", "rule", "scale", "NOT FOR WORK", "gauge", "lengthwise", "leaning", "six pressed", "three of each a hand", "thimbles", "cutter", "pens", "PRACTICE tape", "gloves", "eye protection"),
    "07": ("mis-set", "worn", "out of date", "fat crimp", "3/32", "coated", "filed", "scale", "cards", "guard", "sealed", "lens", "caliper", "pins", "cable of 300 mm", "eight sleeves", "eight thimbles", "cutter",
           "pens", "paint", "tags", "gloves", "eye protection", "old wire", "bag label", "slips"),
    "08": ("over its coat", "guard", "three cores", "caliper", "knives", "lens", "thimbles", "bare one", "short outer tail", "letters", "lengths of 400 mm", "lengths of 300 mm", "six sleeves", "five sleeves", "cutter", "pens", "tags", "gloves", "eye protection"),
    "09": ("bare cable", "letter for each pair", "strips of paper", "paper chain", "under tape", "rule", "cord in an eye", "jam jar", "pens", "caliper", "calculators", "gloves", "eye protection"),
    "10": ("water bottle", "folding rules", "spirit level", "protractor", "hooks", "bag of sand", "spring scale", "broomstick", "tray", "strip of wood", "cards", "plumb line", "calculators", "pencils", "eye protection"),
    "11": ("frame", "guard", "coated", "thin cable in a thick sleeve", "chalk", "beans", "lens", "calculator", "pencils", "gloves", "eye protection"),
    "12": ("letter", "order 9", "tag with its limit only", "cord", "two mistakes", "record", "filled in by you", "pens", "tags and wire", "gloves", "eye protection"),
}


ONE_ONLY = {  # what there is one of -> the only place of the rounds that takes it
    "00": {"chart": "the wall"}, "01": {"lens": "the cut ends"}, "02": {"balance": "the scale", "spring scale": "the scale"}, "03": {"weighed": "the tray", "lens": "the fit", "measured": "the fit"},
    "04": {"torque": "the wrench"}, "05": {"pressed": "the tool", "gauged": "the tool"}, "06": {"gauged": "the tool in force"}, "07": {"pressed and gauged": "the tool", "slot": "the gauge", "readings": "the caliper"},
    "08": {"gauged": "the tool", "pressed": "the tool", "stripped": "the knife"}, "09": {"mark": "the line"}, "10": {"a bag on two legs": "the hooks", "tray": "the bench"},
    "11": {"pulled": "the frame", "gauged": "the table", "beans": "the sums"}, "12": {"finished piece": "the release"},
}
NEEDS = {  # (made at this place, used at that one): what a group takes that comes the other way round, and how many each group; None: no group may
    "04": {("the row", "the wrench"): ("end that you clipped by hand", 1)}, "05": {("the bench", "the tool"): ("piece for who begins at the tool", 3)},
    "07": {("the tool", "the caliper"): None}, "08": {("the knife", "the tool"): ("coated end, stripped well", 1)},
    "09": {("the strip", "the line"): ("card with the limit of the cable", 1)}, "12": {("the letter", "the sheet and the tag"): ("order with its answers, written by you", 1)},
}
NO_THING = {"nothing to press today", "more than tools", "numbered", "the gate", "for the trainer"}  # words of the bench lists that name nothing to lay out
SHOWS = re.compile(r"(?m)^(?:Show|With parts|With the (?:parts|drawings)|Do it with the drawings|Hand (?:round|out)|Hold up|Put|Pull|Press|Saw|Lay|Cut|Fit|Play|Over a box|Split|Let (?:three|one|them (?!look up))|Read (?:one|the letter|the three|it) ).*")


def places_of(told: Day) -> list[str]:
    """The places of the rounds, in the order of the list."""
    return [station.split(":")[0] for station in told.stations]


def lesson_of(number: str) -> Stored:
    return stored(next(installed_folder().glob(f"lessons/{number}_*.ipynb")))


def parts_of(page: Stored) -> dict[str, dict]:
    """The page by its parts: heading, prose without notes, notes, and the code cells."""
    found: dict[str, dict] = {}
    for cell in page.cells:
        if cell.kind == "code":
            if found:
                found[list(found)[-1]]["code"].append(cell)
            continue
        for piece in PART.split(cell.source):
            head = HEAD.match(piece)
            if head:
                found[head[1]] = {"name": head[2].strip(), "prose": "", "notes": [], "code": []}
                piece = piece[head.end():]
            if found:
                part = found[list(found)[-1]]
                part["prose"] += NOTE.sub("", piece) + "\n"
                part["notes"] += [note for _, note in NOTE.findall(piece)]
    return {place: part for place, part in found.items() if place not in KEPT}


@pytest.fixture(params=LAID)
def of(request) -> tuple[Stored, Day, dict[str, dict]]:
    return lesson_of(request.param), day_of(request.param), parts_of(lesson_of(request.param))


def test_the_times_add_up_to_what_the_page_prints(of):
    page, told, _ = of
    printed = dict(re.findall(r"(reading|drill|at the bench) (\d+) min", page.aside))
    assert told.totals == tuple(int(printed[what]) for what in ("reading", "drill", "at the bench"))
    reading, drill, bench = told.totals
    text = str(day(page.number))
    shown = sum(told.shown.values())
    row = re.search(r"(?m)^All \| (.+)$", text)[1].replace(" | –", "").split(" | ")
    assert row == [str(one) for one in (reading, drill, *([shown] if shown else []), bench, reading + drill + shown + told.pause_min)] and text in page.shown
    assert len(told.rounds) * told.round_min == bench and told.group % len(told.rounds[0]) == 0


def test_the_clock_runs_on_part_by_part_and_counts_the_break(of):
    page, told, _ = of
    lines = str(day(page.number)).splitlines()
    clock = 0
    for one in told.parts:
        clock += one.reading + one.drill + told.shown.get(one.place, 0)
        line = next(line for line in lines if line.startswith(f"{one.name} | "))
        assert line.endswith(f" | {clock}"), line
        if told.pause_min and one.name == told.middle:
            clock += told.pause_min
            assert any(line.startswith(f"Break of {told.pause_min} | ") and line.endswith(f" | {clock}") for line in lines)
    assert set(told.shown) <= {one.place for one in told.parts}


def test_where_the_bench_minutes_go_is_a_place_of_the_rounds_and_fills_its_round(of):
    _, told, _ = of
    places = places_of(told)
    assert all(bool(one.at) == bool(one.bench) for one in told.parts)
    assert {name: sum(one.bench for one in told.parts if one.at == name) for name in places} == dict.fromkeys(places, told.round_min)
    assert {one.at for one in told.parts if one.at} == set(places)


def test_every_group_comes_to_every_place_once(of):
    page, told, _ = of
    rows = [line.split(" | ") for line in str(day(page.number)).split("\nWith ")[0].splitlines() if re.match(rf"\d: {told.round_min} min \| ", line)]
    assert len(rows) == len(told.stations)
    for group in range(1, len(rows[0])):
        assert sorted(row[group] for row in rows) == sorted(told.stations)
    if not told.rota:
        assert all(set(row[1:]) == set(told.stations) for row in rows)


def test_what_there_is_one_of_is_taken_at_one_place_and_no_two_groups_stand_there(of):
    page, told, _ = of
    names = places_of(told)
    for word, place in ONE_ONLY.get(page.number, {}).items():
        assert [name for name, station in zip(names, told.stations) if word in station.split(": ", 1)[1]] == [place], word
    shared = {"the table"} if page.number == "07" else set()  # cards and cloths: there are enough of them
    for row in told.rounds:
        here = [names[at] for at in row]
        assert all(here.count(one) == 1 for one in here if one not in shared)


def test_nobody_uses_what_is_not_made_yet(of):
    page, told, _ = of
    made = {name: many for name, many, _ in told.made}
    for (first, then), stands_in in NEEDS.get(page.number, {}).items():
        orders = [[places_of(told)[row[group]] for row in told.rounds] for group in range(len(told.rounds[0]))]
        early = sum(order.index(then) < order.index(first) for order in orders)
        if stands_in is None:
            assert not early, f"{then} before {first}"
        else:
            assert early and made[stands_in[0]] >= early * stands_in[1] and "you" in told.in_the_rounds, f"{early} groups come to {then} before {first}"


def test_the_sheets_lines_stand_under_the_places_of_the_rounds(of):
    page, told, _ = of
    sheet = page.said_under("practice-sheet").splitlines()
    heads = [re.sub("^(At|On) ", "", line.rstrip(":")) for line in sheet if re.fullmatch("(At|On) the [a-z ]+:", line)]
    if page.number == "10":  # its columns are the places: every line is done at both
        heads = list(dict.fromkeys(re.findall(r"(?m), at (the \w+): pass / reject", "\n".join(sheet))))
    assert heads == places_of(told)


def test_a_day_of_more_than_ninety_minutes_has_its_break(of):
    _, told, _ = of
    assert bool(told.pause_min) == (sum(told.totals) + sum(told.shown.values()) > 90)


def test_all_that_the_page_wants_on_the_bench_is_laid_out(of):
    page, told, _ = of
    ready = all_laid(told)
    for item in re.findall(r"<li>(.*?)</li>", page.aside):
        for thing in re.split(r", |: | and (?:its )?|; ", item):
            word = re.split(r" (?:of|with|for|in date)\b", thing)[0].split()[-1].rstrip("s")
            assert thing in NO_THING or word in ready, f"{thing!r} of the bench list is in no line of the day"
    for thing in ("eye protection", "sheet for each hand"):
        assert thing in ready
    assert told.made and told.with_less and told.shown, "made up beforehand, done with less, shown"
    assert all(many >= 1 and how for _, many, how in told.made)


def all_laid(told: Day) -> str:
    """What is laid out and what is made up before, as one text."""
    return " ".join([*told.lay_out, *(f"{name}: {how}" for name, _, how in told.made)])


def test_every_part_is_timed_has_one_note_and_the_note_says_the_same(of):
    _, told, parts = of
    assert [(one.place, one.name) for one in told.parts] == [(place, part["name"]) for place, part in parts.items()]
    for one in told.parts[:-1]:
        notes = parts[one.place]["notes"]
        assert len(notes) == 1, f"{len(notes)} notes under {one.place}"
        said = re.search(r"\*Timing:\* reading (\w+), drill (\w+), bench (\w+) minutes(?:; shown in (\w+))?", notes[0])
        assert said and tuple(NUMBERS.index(word or "none") for word in said.groups()) == (one.reading, one.drill, one.bench, told.shown.get(one.place, 0)), one.place
        if [line for line in SHOWS.findall(notes[0]) if "of the rounds" not in line]:
            assert said[4], f"what is shown under {one.place} has its minutes"
        for name in re.findall(r"(?:At|at) (the [a-z ]+?) of the rounds", notes[0]):
            assert name in places_of(told) and one.at in (name, ""), f"{name} under {one.place}"
        for words in ("*Point:*", "*Question that shows a misunderstanding:*", "*Watch at the bench:*"):
            assert notes[0].count(words) == 1, f"{words} in the note under {one.place}"
    assert told.parts[-1].place == "recap" and not parts["recap"]["notes"], "the recap is handed out"


def test_reading_goes_by_the_words_and_drill_by_what_is_asked(of):
    _, told, parts = of
    for one in told.parts:
        prose, code = parts[one.place]["prose"], parts[one.place]["code"]
        tables = sum(len(cell.says.split()) for cell in code if not cell.is_live and not cell.is_figure and "<details class=" not in cell.html.replace('<details class="when-said"', ""))
        words = len(re.sub(r"<[^>]+>", "", prose).split()) + tables
        assert words / 200 <= one.reading <= ceil(words / 90), f"{one.place}: {words} words in {one.reading} min"
        asked = sum(cell.is_explorer or bool(cell.families) for cell in code)
        assert asked <= one.drill and bool(asked) == bool(one.drill), f"{one.place}: {asked} exercises and live figures in {one.drill} min"


def test_what_is_made_up_is_counted_and_everybody_judges_the_same_six_of_the_sealed_set():
    told = day_of("07")
    count = {name: many for name, many, _ in told.made}
    assert sum(many for name, many in count.items() if name.startswith("sealed set")) == 6 and "sealed faulty set, six pieces" in " ".join(told.lay_out)
    assert "all six of the sealed set, each hand alone" in told.stations[1] and "every hand judges all six" in "".join(parts_of(lesson_of("07"))["what-goes-wrong"]["notes"])
    assert count["fat crimp, to be gauged and pressed again"] == 1 + len(told.rounds[0])
    one_each = next(how for name, _, how in told.made if name == "sealed set: bad, the gauge passes them")
    assert len(one_each.split(": ")[1].split(", ")) == count["sealed set: bad, the gauge passes them"]
    assert all("NOT FOR WORK" in one for one in told.lay_out if "mis-set" in one or "worn" in one)


def test_making_up_and_laying_the_papers_side_by_side_have_their_minutes():
    told, text = day_of("07"), str(day("07"))
    pieces = sum(many for _, many, _ in told.made)
    assert told.making_min >= 3 * pieces and f"To make them up: {told.making_min} minutes (judgement)." in text
    clock = int(re.search(r"(?m)^All \|.* (\d+)$", text)[1])
    assert f"{clock} with the page, then {told.totals[2]} at the bench, then {told.after_min} together: {clock + told.totals[2] + told.after_min} in all" in text
    assert NUMBERS[told.after_min] in "".join(parts_of(lesson_of("07"))["what-goes-wrong"]["notes"]) and f"After the rounds, {told.after_min} minutes (judgement): with six people; " in text
    for other in told.others:
        assert f"{NUMBERS[other['after_min']]}{' minutes' if other['group'] == 4 else ''} with {NUMBERS[other['group']]}" in told.after


@pytest.mark.parametrize("group", [4, 8])
def test_for_four_and_for_eight_every_pair_comes_to_every_place_once_the_tool_before_the_caliper(group):
    told = day_of("07")
    other = next(one for one in told.others if one["group"] == group)
    names = [*places_of(told), "the page"]
    turns = [[names[at] for at in row] for row in other["rota"]]
    assert len(turns[0]) * 2 == group
    for pair in zip(*turns, strict=True):
        assert sorted(one for one in pair if one != "the page") == sorted(places_of(told)) and pair.index("the tool") < pair.index("the caliper")
    assert all(row.count(place) <= 1 for row in turns for place in ("the tool", "the gauge", "the caliper", "the page"))  # one laptop
    lengths, fat = NUMBERS[group + 2], NUMBERS[1 + group // 2]
    assert other["words"].startswith(f"{lengths.capitalize()} lengths, {lengths} sleeves, {lengths} thimbles; {fat} fat crimps")
    clock = int(re.search(r"(?m)^All \|.* (\d+)$", str(day("07")))[1])
    bench = len(turns) * told.round_min
    assert f"With {NUMBERS[group]} people: {NUMBERS[group // 2]} pairs, {NUMBERS[len(turns)]} rounds, {bench} min at the bench, then {other['after_min']} together: {clock + bench + other['after_min']} in all" in str(day("07"))


def test_in_a_us_shop_what_is_cut_before_is_told_in_inches_first():
    assert "eight lengths of bare cable of 12 in [305 mm]" in str(day("07")) and "three lengths of 16 in [406 mm]" in str(day("08"))


def test_what_is_made_up_is_counted_out(of):
    page, told, _ = of
    assert f"{sum(many for _, many, _ in told.made)} pieces, {told.marked}, counted out and back" in str(day(page.number))


def test_the_mis_set_tool_is_locked_away_after_the_part_that_needs_it():
    parts = parts_of(lesson_of("07"))
    assert "Lock the tool away" not in parts["before-the-first-press"]["notes"][0]
    assert "press it again in the **mis-set** tool" in parts["press-again"]["notes"][0] and "Now lock it away and count it back" in parts["press-again"]["notes"][0]
    after = list(parts)[list(parts).index("press-again") + 1:]
    assert not [place for place in after if "mis-set tool" in "".join(parts[place]["notes"])]


def test_every_lesson_has_its_day():
    assert list(LAID) == [path.name[:2] for path in LESSONS]


@pytest.mark.parametrize("number", LAID)
def test_what_the_notes_show_is_laid_out_before(number):
    text = all_laid(day_of(number))
    for thing in LAID[number]:
        assert thing in text, thing
