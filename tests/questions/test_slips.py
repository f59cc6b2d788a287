"""What a trainer writes wrongly in a family is refused in one plain sentence with file, line and field."""

from __future__ import annotations

import pytest
from a_family import SECRET, families, shop

from rigcalc.cli import main
from rigcalc.errors import Refusal
from rigcalc.questions import FamilyError, Stream, compose, draw, families_folder, load_families
from rigcalc.questions.choosing import offered
from rigcalc.questions.family import families_and_faults
from rigcalc.questions.lengths import one_fault, patterns, several_fault
from rigcalc.questions.template import GAP, no_gap

NUMBER = (families_folder() / "limit-of-an-eye.toml").read_text(encoding="utf-8")

HEAD = """form = 1
id = "mine"
version = 1
kind = "one choice"
skill = "reads-the-count"
level = 1
section = "05#count-and-order"
minutes = 1

[draw]
scene = { member_of = "scenes" }
pieces = { range = [4, 20], step = 2 }

[pools]
scenes = [
  { topic = "label", en = "a label" },
  { topic = "tag", en = "a tag" },
]

[ask]
en = "What of {scene.en} on {pieces} pieces?"
[answer]
options = 3
topic = "$scene.topic"
"""
RIGHTS = [("Read it", []), ("Read it twice", []), ("Read it, and then read it again, slowly", [])]
WRONGS = [("Tear", "tears", []), ("Paint over it", "paints", []), ("Throw it away, whole", "throws", []),
          ("Throw it away with all that hangs on it, and with the box", "throws-all", []), ("Hide it far behind the box, so that nobody will ever read it", "hides", [])]
END = '[hint]\nen = "Look."\n[working]\nen = "{right}"\n'


def _written(rights=RIGHTS, wrongs=WRONGS, head=HEAD, end=END) -> str:
    def tied(fits) -> str:
        return f"fits = {fits}\n".replace("'", '"') if fits else ""

    return (head + "".join(f'[[right]]\nen = "{en}"\n{tied(fits)}' for en, fits in rights)
            + "".join(f'[[wrong]]\nen = "{en}"\nid = "{name}"\n{tied(fits)}feedback = {{ en = "No." }}\n' for en, name, fits in wrongs) + end)


def _load(tmp_path, text: str):
    (tmp_path / "mine.toml").write_text(text, encoding="utf-8")
    return next(iter(load_families(tmp_path).values()))


def _line(text: str, words: str) -> int:
    return next(number for number, line in enumerate(text.splitlines(), 1) if words in line)


def _told(tmp_path, text: str, at: str, field: str, says: str) -> None:
    with pytest.raises(FamilyError) as told:
        _load(tmp_path, text)
    said = str(told.value)
    assert said.startswith("Refused: mine.toml, line ") and says in said and "\n" not in said
    assert "`" not in said and "Expected" not in said and "Object" not in said
    assert (told.value.field, told.value.line) == (field, _line(text, at))


def test_the_written_family_is_a_question(tmp_path):
    family = _load(tmp_path, _written())
    for number in range(40):
        stream = Stream(SECRET, f"{number}")
        assert len(compose(draw(family, stream, shop()), stream, 1)[0]["options"]) == 3


# -- texts, names and figures ----------------------------------------------------------------------------------------------

@pytest.mark.parametrize(("old", "new", "field", "says"), [
    ("{pieces} pieces", "{pieces pieces", "ask.en", "a brace that makes no gap, at '{pieces pieces?' was given; accepted: gaps such as {size}"),
    ("{pieces} pieces", "pieces} pieces", "ask.en", "a brace that makes no gap, at"),
    ("{pieces} pieces", "{Pieces} pieces", "ask.en", "a brace that makes no gap, at '{Pieces} pieces?'"),
    ('"Read it twice"', '"Read {it twice"', "right.2.en", "a brace that makes no gap, at '{it twice'"),
    ('en = "a tag"', 'en = "a {tag"', "pools.scenes.2.en", "a brace that makes no gap, at '{tag'"),
    ("[4, 20], step = 2", "[4, 20]", "draw.pieces.range", "a range without a step was given; accepted: a step above zero; write step = 1 for whole numbers"),
    ("step = 2", "step = 0", "draw.pieces.step", "the step 0 was given; accepted: a step above zero"),
    ("step = 2", "step = -2", "draw.pieces.step", "the step -2 was given"),
    ("[4, 20]", "[20, 4]", "draw.pieces.range", "[20.0, 4.0] was given; accepted: [least, most]"),
    ("minutes = 1", "minutes = 0", "minutes", "0 was given; accepted: 1 minute or more"),
    ("minutes = 1", "minutes = -3", "minutes", "-3 was given"),
    ("version = 1", "version = 0", "version", "0 was given; accepted: 1 or more"),
    ('id = "mine"', 'id = "Rope for a fence"', "id", "'Rope for a fence' was given; accepted: small letters and figures, with hyphens between words; write rope-for-a-fence"),
    ('id = "throws"', 'id = "Throws it"', "wrong.3.id", "write throws-it"),
    ("{scene.en}", "{scene.eng}", "ask.en", "the gap {scene.eng} was given; accepted: scene.en, scene.topic"),
    ('topic = "$scene.topic"', 'topic = "$scene.topc"', "answer.topic", "'$scene.topc' was given; accepted: scene.en, scene.topic"),
    ('member_of = "scenes" }', 'member_of = "scenes", where = { topic = "lable" } }', "draw.scene.where", "{'topic': 'lable'}, which no row of 'scenes' fits, was given; accepted: fields and values of its rows, which have en, topic"),
])
def test_what_would_be_printed_or_drawn_wrongly_is_refused(tmp_path, old, new, field, says):
    text = _written()
    assert text.count(old) == 1
    _told(tmp_path, text.replace(old, new), new.split("\n")[0], field, says)


def test_every_gap_and_no_other_brace_is_a_gap():
    assert no_gap("{a} {b.c:force down} and no more") is None
    assert [no_gap(text) for text in ("a {b", "a b}", "{a{b}}", "{}")] == ["{b", "a b}", "{a{b}}", "{}"]
    assert GAP.sub("", "{a} {b.c:force down}") == " "


@pytest.mark.parametrize(("old", "new", "at", "field", "says"), [
    ('accept = ["lbf", "N", "kN"]', 'accept = ["lbf", "n"]', '"n"', "answer.accept", "'n', a unit that nothing reads, was given; accepted: lbf, N, kN, mm"),
    ('accept = ["lbf", "N", "kN"]', 'accept = ["N"]', 'unit = "lbf"', "answer.unit", "'lbf', which does not stand in accept, was given; accepted: N"),
    ('id = "efficiency-squared"', 'id = "efficiency-left-out"', "", "misstep.3.id", "'efficiency-left-out' a second time was given; accepted: an id of its own for each [[misstep]]"),
    ('direction = "down"', 'direction = "upwards"', 'direction = "upwards"', "answer.round.direction", "'upwards' was given; accepted: down, up, nearest"),
])
def test_units_rounding_and_ids_of_missteps_are_checked_by_their_own_name(tmp_path, old, new, at, field, says):
    assert old in NUMBER
    text = NUMBER.replace(old, new, 1)
    with pytest.raises(FamilyError) as told:
        _load(tmp_path, text)
    assert told.value.field == field and says in str(told.value)
    lines = [number for number, line in enumerate(text.splitlines(), 1) if (at or new) in line]
    assert told.value.line == lines[0 if at else 1]


# -- statements together ---------------------------------------------------------------------------------------------------

@pytest.mark.parametrize("wrong", ["Read it twice", "read it,  twice."])
def test_a_statement_that_is_right_and_wrong_is_refused(tmp_path, wrong):
    text = _written(wrongs=[*WRONGS, (wrong, "twice", [])])
    with pytest.raises(FamilyError, match=r"field wrong\.6\.en: '.*', which stands under \[\[right\]\] 2 too was given; accepted: a statement that is right or wrong, not both") as told:
        _load(tmp_path, text)
    assert told.value.line == _line(text, 'id = "twice"') - 1


def test_it_may_be_right_for_one_topic_and_wrong_for_another(tmp_path):
    rights = [*RIGHTS, ("Ask", ["label"])]
    assert _load(tmp_path, _written(rights, [*WRONGS, ("Ask", "asks", ["tag"])]))
    with pytest.raises(FamilyError, match="which stands under .*right.* 4 too"):
        _load(tmp_path, _written(rights, [*WRONGS, ("Ask", "asks", ["label", "tag"])]))


def test_a_wrong_one_that_reads_as_a_right_one_by_its_drawn_values_is_not_offered(tmp_path):
    """Both read 'Press 2 times' in every draw: the one that is kept for it stands under right, so it may not come as a wrong one."""
    rights, wrongs = [*RIGHTS, ("Press {two} times", [])], [*WRONGS, ("Press {number} times", "presses", [])]
    head = HEAD.replace("pieces = ", "two = { one_of = [2] }\nnumber = { one_of = [2] }\npieces = ")
    family = _load(tmp_path, _written(rights, wrongs, head))
    drawn = [draw(family, Stream(SECRET, f"{number}"), shop()) for number in range(60)]
    shown = [(place == one.right) for one in drawn for place, option in enumerate(one.options) if option.text == "Press 2 times"]
    assert shown and all(shown)


@pytest.mark.parametrize(("kind", "fits", "says"), [
    ("right", ["lable"], "'lable', which no draw has as its topic was given; accepted: label, tag; mend the word: this statement would never be shown"),
    ("wrong", ["tag", "tga"], "'tga', which no draw has as its topic was given; accepted: label, tag"),
])
def test_a_misspelt_fits_is_refused(tmp_path, kind, fits, says):
    rights, wrongs = list(RIGHTS), list(WRONGS)
    if kind == "right":
        rights[1] = (rights[1][0], fits)
    else:
        wrongs[1] = (*wrongs[1][:2], fits)
    _told(tmp_path, _written(rights, wrongs), "fits = ", f"{kind}.2.fits", says)


def test_a_topic_that_no_right_statement_fits_is_refused_where_it_stands(tmp_path):
    rights = [(en, ["label"]) for en, _ in RIGHTS]
    _told(tmp_path, _written(rights), 'topic = "tag"', "pools.scenes.2", "the topic 'tag', which no [[right]] fits was given; accepted: label; write a [[right]] with fits = [\"tag\"]")


def test_fits_without_a_topic_is_refused(tmp_path):
    text = _written([*RIGHTS, ("Ask", ["label"])], head=HEAD.replace('topic = "$scene.topic"\n', ""))
    _told(tmp_path, text, "fits = ", "right.4.fits", "'label' in a family without a topic was given; accepted: fits only where [answer] has a topic")


def test_lengths_that_allow_no_fair_choice_say_which_statement_and_what_lengths_are_wanted(tmp_path):
    """Two rights, four wrongs and four options, as a trainer began: each right one can be the second or third, not the shortest or longest."""
    text = _written(RIGHTS[1:2], WRONGS[:4], HEAD.replace("options = 3", "options = 4"))
    _told(tmp_path, text, "[[right]]", "right.1", "statements whose lengths make no fair choice: of 4 options the right one is to be the shortest in turn, and")
    with pytest.raises(FamilyError, match=r"'Read it twice' \(13 signs\) has 2 shorter and 2 longer wrong ones beside it was given; accepted: .*here one with 0 shorter and 3 longer "
                                          r"\[\[wrong\]\]; write 1 more \[\[wrong\]\] of more than 13 signs, or a \[\[right\]\] of another length, or take fewer options"):
        _load(tmp_path, text)
    wanted = [*WRONGS[:4], ("Read it from the far end to the near one", "backwards", []), ("Eat", "eats", [])]
    assert _load(tmp_path, _written(RIGHTS[1:2], wanted, HEAD.replace("options = 3", "options = 4")))


def test_several_choices_say_what_lengths_are_wanted(tmp_path):
    head = HEAD.replace('kind = "one choice"', 'kind = "several choices"').replace("options = 3", "options = 3\nright_options = [1, 2]")
    assert _load(tmp_path, _written(head=head))
    short = [("Tear", "tears", []), ("Tear it", "tears-it", [])]
    with pytest.raises(FamilyError, match=r"right\.1: statements whose lengths make no fair choice: of 3 options, counted from the shortest, the right ones are to be 1 in turn, and after "
                                          r"'Tear it' \(7 signs\) no longer \[\[wrong\]\] is left .*write one more \[\[wrong\]\] of more than"):
        _load(tmp_path, _written(wrongs=short, head=head))


@pytest.mark.parametrize(("rights", "wrongs", "fair"), [
    ([5], [6, 7, 8], False), ([5], [6, 7, 8, 2, 3, 4], True), ([1, 5, 9], [2, 3, 4, 6, 7, 8], True), ([1, 9], [2, 3, 4], False), ([1, 9], [2, 3, 4, 5, 6, 7], False),
])
def test_four_options_want_the_lengths_that_the_page_says(tmp_path, rights, wrongs, fair):
    """With four options: 3 longer; 1 shorter and 2 longer; 2 shorter and 1 longer; 3 shorter, each beside some right one."""
    said = all(any(sum(other < one for other in wrongs) >= place and sum(other > one for other in wrongs) >= 3 - place for one in rights) for place in range(4))
    assert said is fair
    text = _written([("r" * size, []) for size in rights], [("w" * size, f"w{size}", []) for size in wrongs], HEAD.replace("options = 3", "options = 4"))
    if fair:
        assert _load(tmp_path, text)
    else:
        with pytest.raises(FamilyError, match="lengths make no fair choice"):
            _load(tmp_path, text)


def test_a_place_is_found_wherever_one_is():
    assert one_fault(["bb", "dddd"], ["a", "ccc", "eeeee"], 1, 3) is None and one_fault(["bb"], ["a", "ccc"], 2, 3)[0] == 0
    assert several_fault(["a", "ccc"], ["bb", "dddd"], (True, False, True)) is None and several_fault(["a"], ["bb"], (False, True)) is not None
    assert sorted(patterns(1, 2, 3)) == sorted(tuple(one) for one in ([True, False, False], [False, True, False], [False, False, True], [True, True, False], [True, False, True],
                                                                      [False, True, True]))


def test_lengths_that_hang_on_drawn_values_are_told_when_nothing_can_be_drawn(tmp_path):
    head = HEAD.replace("options = 3", "options = 4")
    text = _written([("Read it {pieces} times", [])], WRONGS[:3], head)
    family = _load(tmp_path, text)
    said = set()
    for number in range(30):
        try:
            draw(family, Stream(SECRET, f"{number}"), shop())
        except Refusal as told:
            said.add(str(told))
    assert said and all(f"mine.toml, line {_line(text, '[[right]]')}, field right.1: the question family 'mine', which gave no question in 400 draws: statements whose lengths make no fair choice" in one
                        and "signs) has " in one and "more [[wrong]] of" in one and "shop file" not in one for one in said)


# -- missteps ---------------------------------------------------------------------------------------------------------------

def test_a_misstep_that_is_the_right_answer_says_so(tmp_path):
    text = NUMBER.replace("efficiency = 1.0", 'efficiency = "$efficiency"', 1)
    assert text != NUMBER
    with pytest.raises(FamilyError, match="field misstep.1: the misstep 'efficiency-left-out', which is the right answer itself, was given; accepted: another calculation") as told:
        _load(tmp_path, text)
    assert told.value.line == _line(text, 'id = "efficiency-left-out"') - 1
def test_a_misstep_that_always_gives_the_right_figure_is_named_when_drawn(tmp_path):
    text = NUMBER.replace("efficiency = 1.0", "efficiency = 0.9", 1)
    family = _load(tmp_path, text)
    with pytest.raises(FamilyError, match="field misstep.1: the question family 'limit-of-an-eye', which gave no question in 400 draws: misstep 'efficiency-left-out' gives the "
                                          "right answer itself, within the tolerance was given; accepted: a misstep that gives a figure of its own") as told:
        draw(family, Stream(SECRET, "x"), shop())
    assert told.value.line == _line(text, 'id = "efficiency-left-out"') - 1


def test_missteps_that_leave_no_place_for_the_right_answer_are_told_as_answers_and_not_as_lengths(tmp_path):
    parts = "".join(f'[[misstep]]\nid = "m{n}"\ncalculation = "sum"\nwith = {{ a = "$pieces", b = {n} }}\nfeedback = {{ en = "No." }}\n' for n in (3, 5))
    text = HEAD.replace('topic = "$scene.topic"', 'value = "$pieces"') + parts + END
    family, said = _load(tmp_path, text), set()
    for number in range(20):
        try:
            draw(family, Stream(SECRET, f"{number}"), shop())
        except FamilyError as told:
            assert (told.field, told.line) == ("answer", _line(text, "[answer]"))
            said.add(str(told))
    assert len(said) == 2 and all("0 missteps give a smaller and 2 a larger answer than the right one" in one and "add a [[misstep]] on the side that lacks one" in one for one in said)


# -- forms ------------------------------------------------------------------------------------------------------------------

@pytest.mark.parametrize(("old", "new", "at", "field", "says"), [
    ('minutes = 1\n', '', 'form = 1', "minutes", "field minutes: nothing was given; accepted: a value for this field; add minutes"),
    ('feedback = { en = "No." }\n[[wrong]]', 'feedback = { en = "No." }\nmust_be_rigth = true\n[[wrong]]', "must_be_rigth", "wrong.1.must_be_rigth",
     "a field that is not known here was given; accepted: en, fits, id, feedback, section; rename or remove it"),
    ('topic = "$scene.topic"', 'topics = "$scene.topic"', 'topics = ', "answer.topics", "rename it to topic, or remove it"),
    ('topic = "$scene.topic"', 'topic = "$scene.topic"\nrefusal = "yes"', 'refusal', "answer.refusal", "a text in quotes was given; accepted: true or false"),
    ("level = 1", "level = 1.5", "level = ", "level", "a number with a point was given; accepted: a whole number"),
    ("[[right]]", "[right]", "[right]", "", "[right] in single brackets was given; accepted: [[right]] in double brackets, once for each of them; write [[right]]"),
    ("[answer]", "[[answer]]", "[[answer]]", "answer", "[[answer]] in double brackets was given; accepted: [answer] in single brackets, once in the file; write [answer]"),
    ('[hint]', '[hint]\nen = "See."', 'en = "Look."', "", "the same field stands twice in one block ('en = \"Look.\"')"),
    ('[working]', '[hint]', "no", "", "the same block heading stands twice ('[hint]') was given; accepted: lines of the form   name = value; keep one of the two"),
    ('"Look."', '"Look.', 'en = "Look.', "", "a text is opened with a quote and not closed on its line"),
    ("minutes = 1", "minutes = 1,5", "minutes", "", "a comma in a number ('minutes = 1,5')"),
    ("[ask]", "[ask", "[ask", "", "a block heading lacks its closing bracket ('[ask') was given; accepted: lines of the form   name = value; write   [answer]   or   [[question]]"),
    ('  { topic = "tag", en = "a tag" },\n]\n', '  { topic = "tag", en = "a tag" },\n', "scenes = [", "", "a list or text that begins in line 15 and is not closed, or lacks a comma, before line"),
])
def test_a_slip_of_form_is_told_plainly_with_its_line(tmp_path, old, new, at, field, says):
    text = _written()
    assert old in text
    text = text.replace(old, new, 1)
    with pytest.raises(FamilyError) as told:
        _load(tmp_path, text)
    said = str(told.value)
    assert says in said and "`" not in said and "Expected" not in said and "Object" not in said and "TOML" not in said and "\n" not in said
    assert told.value.field == field
    assert told.value.line == (_line(text, at) if at != "no" else max(n for n, line in enumerate(text.splitlines(), 1) if line == "[hint]"))


def test_a_sign_that_is_no_utf_8_is_named_with_its_line(tmp_path):
    (tmp_path / "mine.toml").write_bytes(_written().encode().replace(b"a tag", b"a \xd7 tag"))
    with pytest.raises(FamilyError, match="mine.toml, line 17: a sign that is not UTF-8 text was given; accepted: a plain text file saved as UTF-8"):
        load_families(tmp_path)


def test_values_that_a_calculation_cannot_work_with_are_told_with_their_line(tmp_path):
    text = _written(head=HEAD.replace("\n[pools]", 'all = { calculation = "sum", with = { a = "$pieces", b = "750" } }\n\n[pools]'))
    family = _load(tmp_path, text)
    with pytest.raises(FamilyError, match="the calculation sum cannot work with a = .*, b = '750'") as told:
        draw(family, Stream(SECRET, "x"), shop())
    assert (told.value.field, told.value.line) == ("draw.all", _line(text, "all = "))


# -- one broken family among others ------------------------------------------------------------------------------------------

def test_one_broken_own_family_is_named_and_every_other_can_be_seen(own, capsys):
    (own / "mine.toml").write_text(_written(), encoding="utf-8")
    (own / "broken.toml").write_text("form = \n", encoding="utf-8")
    assert main(["quiz", "--family", "mine"]) == 0
    said = capsys.readouterr()
    assert said.out.count("mine, version 1, draw ") == 3 and "An own family that cannot be used: Refused: broken.toml, line 1" in said.err
    assert main(["quiz", "--family", "broken"]) == 2
    assert capsys.readouterr().err.count("broken.toml, line 1") == 1
    (own / "broken.toml").write_text('form = 1\nid = "peg-eye"\nkind = \n', encoding="utf-8")
    assert main(["quiz", "--family", "peg-eye"]) == 2                                   # asked by the id in the file, not by the file's name
    said = capsys.readouterr().err
    assert said.count("broken.toml, line 3") == 1 and "a family in force" not in said
    (own / "broken.toml").write_text("form = \n", encoding="utf-8")
    assert main(["quiz", "--family", "mien"]) == 2
    said = capsys.readouterr().err
    assert "broken.toml, line 1" in said and "such as mine" in said
    with pytest.raises(FamilyError, match="broken.toml, line 1"):                       # no paper is set while one is broken
        load_families()


def test_a_broken_own_family_puts_the_installed_one_of_its_file_out_of_force(own):
    (own / "cut-length.toml").write_text("form = \n", encoding="utf-8")
    found, faults = families_and_faults()
    assert "cut-length" not in found and len(found) == len(load_families(families_folder())) - 1 and [one.file for one in faults] == ["cut-length.toml"]


def test_no_installed_family_offers_a_right_text_as_a_wrong_one():
    for name, family in families().items():
        if family.right:
            one = draw(family, Stream(SECRET, f"{name}"), shop())
            assert not {s.en for s in offered(family, one.values, family.right)} & {s.en for s in offered(family, one.values, family.wrong)}, name


@pytest.mark.parametrize(("old", "new", "at"), [
    ("a = 1, b = 1.5 }", "a = 1 b = 1.5 }", "a = 1 b"), ("a = 1, b = 1.5 }", "a = 1, b = 1.5", "a = 1, b = 1.5")])
def test_a_comma_left_out_in_braces_is_told_with_its_row(tmp_path, old, new, at):
    text = f"form = 1\n\n[pools]\nrows = [\n  {{ a = 3, b = 2 }},\n  {{ {old}\n]\n".replace(old, new)
    (tmp_path / "mine.toml").write_text(text, encoding="utf-8")
    with pytest.raises(FamilyError, match="braces that are not closed, or lack a comma .* accepted: a comma between all that stands inside") as told:
        load_families(tmp_path)
    assert told.value.line == _line(text, at)


def test_a_misstep_yields_only_beside_where_it_shows(tmp_path):
    text = NUMBER.replace('id = "efficiency-left-out"\n', 'id = "efficiency-left-out"\nyields = true\n', 1)
    assert text != NUMBER
    with pytest.raises(FamilyError, match="field misstep.1.yields: true without where_it_shows"):
        _load(tmp_path, text)
