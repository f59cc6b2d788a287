"""The shop file is read whole, and every mistake is told with its line."""

from __future__ import annotations

import hashlib
import re
from datetime import date

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from rigcalc.errors import Refusal
from rigcalc.shop import check_shop, load_shop, sample_shop_path

SAMPLE = sample_shop_path().read_text(encoding="utf-8")


@pytest.fixture
def written(tmp_path):
    """Writes a text as a shop file and gives its path."""
    def write(text, encoding="utf-8"):
        path = tmp_path / "shop.toml"
        path.write_bytes(text if isinstance(text, bytes) else text.encode(encoding))
        return path
    return write


def line_number(text, wanted, nth=1):
    """The number of the nth line that begins with `wanted`."""
    hits = [n for n, line in enumerate(text.splitlines(), 1) if line.startswith(wanted)]
    return hits[nth - 1]


# --- the sample -----------------------------------------------------------------------------------

def test_the_sample_has_nothing_to_mend_and_is_invented():
    assert check_shop(sample_shop_path()) == []
    shop = load_shop(sample_shop_path())
    assert shop.invented and shop.has_maker_chart and shop.system == "US"
    assert shop.digest == hashlib.sha256(sample_shop_path().read_bytes()).hexdigest()


def test_the_sample_is_the_invented_shop_of_the_lessons():
    shop = load_shop(sample_shop_path())
    assert shop.name == "Ambrel Quay Cable Bench"
    assert [(r.size, r.construction, r.metal) for r in shop.reels][:8] == [
        ("1/16", "7x7", "galvanised"), ("3/32", "7x7", "galvanised"), ("3/32", "7x7", "galvanised"),
        ("1/8", "7x19", "galvanised"), ("1/8", "7x19", "stainless"), ("3/16", "7x19", "galvanised"),
        ("1/4", "7x19", "galvanised"), ("5/16", "7x19", "galvanised")]
    assert shop.reel("R3").coating_to == "3/16"
    assert not shop.reel("R9").is_inch and shop.reel("R9").certificate_n is None
    assert not shop.reel("BIN").is_inch
    assert [(t.id, t.sizes) for t in shop.tools] == [
        ("LA", ("1/16", "3/32")), ("LB", ("1/8", "5/32", "3/16")), ("LC", ("1/4", "5/16")), ("BB", ("3/32", "1/8", "5/32"))]
    factor, = shop.factors
    assert (factor.value, factor.owner) == (5, "Ines Varrow")


def test_the_sample_gives_the_figures_of_the_cut_list():
    shop = load_shop(sample_shop_path())
    thimble = shop.thimble("1/8", "stainless")
    assert (thimble.loop_mm, thimble.bearing_to_sleeve_mm) == (70, 30)
    row = next(r for c in shop.charts if c.id == "LB-AL" for r in c.rows if r.size == "1/8")
    assert (row.count, row.order, row.sleeve_before_mm, row.sleeve_after_mm) == (3, (2, 1, 3), 15, 20)


def test_one_gauge_of_the_sample_is_out_of_date_on_purpose():
    shop = load_shop(sample_shop_path())
    day = date(2026, 11, 25)
    assert [g.id for g in shop.gauges if not g.in_date(day)] == ["GC"]
    gauge = shop.gauge("GA")
    assert gauge.in_date(gauge.due_on) and gauge.in_date(gauge.checked_on)
    assert not gauge.in_date(date(2046, 3, 3)) and not gauge.in_date(date(2026, 3, 1))


def test_every_chart_names_a_copier_and_another_checker_with_days():
    shop = load_shop(sample_shop_path())
    checks = {c.chart_id: c for c in shop.chart_checks}
    for chart in shop.charts:
        assert chart.copied_by and chart.checked_by and chart.copied_by != chart.checked_by
        assert chart.copied_on <= checks[chart.id].checked_on.isoformat()
        assert chart.invented and chart.kind == "maker"


def test_every_block_of_the_sample_has_a_remark_in_front():
    lines = SAMPLE.splitlines()
    for heading in ("[shop]", "[people]", "[bench]", "[[factor]]", "[[reel]]", "[[tool]]", "[[gauge]]", "[[thimble]]",
                    "[[chart]]", "[[pull_test]]"):
        above = lines[: lines.index(heading)]
        while not above[-1].strip():
            above.pop()
        assert above[-1].startswith("#"), heading


# --- which shop is in force -------------------------------------------------------------------------

def test_without_a_shop_file_the_sample_is_in_force_and_with_one_that(tmp_path, monkeypatch):
    monkeypatch.setenv("RIGCALC_HOME", str(tmp_path))
    assert load_shop().path == sample_shop_path()
    mine = tmp_path / "shop.toml"
    mine.write_text(SAMPLE.replace('system = "US"', 'system = "SI"'), encoding="utf-8")
    assert (load_shop().path, load_shop().system) == (mine, "SI")


def test_a_shop_without_charts_has_no_maker_chart_and_names_the_built_in_counts(written):
    bare = re.sub(r"(?s)# --- Sleeve and tool charts.*?# --- Pull tests", "# --- Pull tests", SAMPLE)
    shop = load_shop(written(bare))
    assert not shop.has_maker_chart and shop.charts == ()
    assert "common practice" in shop.chart_line() and "practice only" in shop.chart_line("aluminium", "1/8")


def test_the_chart_line_names_the_chart_its_copier_and_its_checker():
    shop = load_shop(sample_shop_path())
    line = shop.chart_line("aluminium", "1/8", "LB")
    for word in ("INVENTED", "LB-AL", "edition 5", "Parvel Minch", "Ines Varrow"):
        assert word in line


def test_a_shop_refuses_what_it_does_not_have_and_names_what_it_has():
    shop = load_shop(sample_shop_path())
    for asked, known in ((lambda: shop.reel("R77"), "R4"), (lambda: shop.tool("LX"), "LB"),
                         (lambda: shop.gauge(""), "GA"), (lambda: shop.thimble("3/8", "galvanised"), "5/16 galvanised")):
        with pytest.raises(Refusal, match=known):
            asked()
    assert shop.pull_test("3/8", "galvanised") is None and shop.pull_test("1/8", "galvanised").hold_n == pytest.approx(8006.8, abs=0.1)


# --- mistakes, each with its line -------------------------------------------------------------------

@pytest.mark.parametrize("old, new, field, said", [
    ('system = "US"', 'system = "imperial"', "shop system", '"US", "SI"'),
    ("invented = true", 'invented = "yes"', "shop invented", "true or false"),
    ('pin_to_pin_tolerance = "3 mm"', 'pin_to_pin_tolerance = 3', "bench pin_to_pin_tolerance", "with its unit"),
    ('pin_to_pin_tolerance = "3 mm"', 'pin_to_pin_tolerance = "3"', "bench pin_to_pin_tolerance", "with its unit"),
    ('certificate_force = "2040 lbf"', 'certificate_force = "2040 kg"', "reel 4 certificate_force", "a force in quotes"),
    ('certificate_force = "2040 lbf"', 'certificate_force = "2,040 lbf"', "reel 4 certificate_force", "a force in quotes"),
    ('certificate_force = "2040 lbf"', '', "reel 4 certificate", "both lines, or neither"),
    ('size = "5/32"\nmetal', 'size = "4 mm"\nmetal', "thimble 5 size", "another cable"),
    ('size = "5/32"\nmetal', 'size = "7/64"\nmetal', "thimble 5 size", "an inch size in quotes"),
    ("set_on = 2026-02-16\nscope", 'set_on = "16/02/2026"\nscope', "factor 1 set_on", "2026-03-02"),
    ("value = 5\n", "value = 1\n", "factor 1 value", "above 1"),
    ("value = 5\n", "value = true\n", "factor 1 value", "a number"),
    ("due_on = 2026-03-02", "due_on = 2025-03-01", "gauge 3 due_on", "after checked_on"),
    ("count = 3\norder = [2, 1, 3]", "count = 4\norder = [2, 1, 3]", "chart 2 row 1 order", "4 crimp numbers"),
    ("order = [2, 1, 3]", "order = [2, 2, 3]", "chart 2 row 1 order", "each crimp number once"),
    ("order = [2, 1, 3]", 'order = "middle first"', "chart 2 row 1 order", "maker gives none"),
    ('cavity = "P"', 'cavity = "R"', "chart 2 row 1 cavity", "the mark of tool LB"),
    ('gauge = "GB"', 'gauge = "GA"', "chart 2 row 1 gauge", "a slot for 1/8"),
    ('gauge = "GB"', 'gauge = "GX"', "chart 2 row 1 gauge", "GA, GB, GC"),
    ('sleeve_after = "20 mm"', 'sleeve_after = "14 mm"', "chart 2 row 1 sleeve_after", "grows"),
    ('crimp_width = "4.5 mm"', 'crimp_width = "7 mm"', "chart 2 row 1 count", "has room"),
    ('sleeve_after = "20 mm"', 'sleeve_after = "21.5 mm"', "chart 2 row 1 sleeve_after", "at most two diameters, 6.35 mm"),     # grows 6.5 mm
    ('gauge_max = "8.4 mm"', 'gauge_max = "84 mm"', "chart 2 row 1 gauge_max", "1.5 to 4 diameters, 4.76 mm to 12.7 mm"),
    ('gauge_max = "8.4 mm"', 'gauge_max = "4.7 mm"', "chart 2 row 1 gauge_max", "1.5 to 4 diameters"),
    ('sleeve_before = "15 mm"', 'sleeve_before = "1.5 mm"', "chart 2 row 1 sleeve_before", "2 to 12 diameters"),
    ('crimp_width = "4.5 mm"', 'crimp_width = "0.6 mm"', "chart 2 row 1 crimp_width", "0.5 to 6 diameters"),
    ('loop = "84 mm"', 'loop = "8.4 mm"', "thimble 5 loop", "more than 72 mm, out to the bearing point and back"),
    ('loop = "84 mm"', 'loop = "840 mm"', "thimble 5 loop", "at most 144 mm"),
    ('bearing_to_sleeve = "36 mm"', 'bearing_to_sleeve = "360 mm"', "thimble 5 bearing_to_sleeve", "3 to 40 diameters"),
    ('bearing_to_sleeve = "36 mm"', 'bearing_to_sleeve = "43 mm"', "thimble 5 loop", "more than 86 mm"),
    ('bearing_to_sleeve = "36 mm"', 'bearing_to_sleeve = "3.6 mm"', "thimble 5 bearing_to_sleeve", "3 to 40 diameters"),
    ('tool = "LB"', 'tool = "LQ"', "chart 2 tool", "LA, LB, LC, BB"),
    ('id = "LB"', 'id = "la"', "tool 2 id", "no other"),
    ('coating_to = "3/16"', 'coating_to = "3/32"', "reel 3 coating_to", "over the coat"),
    ('gauge_slot = "1/8"', 'gauge_slot = "3/32"', "chart 2 row 1 gauge_slot", '"3/32" was given; accepted: a slot of gauge GB: 1/8, 5/32, 3/16;'),
    ('gauge_slot = "1/8"', 'gauge_slot = "4 mm"', "chart 2 row 1 gauge_slot", "a slot of gauge GB"),
    ('"2040 lbf"', '"79 kN"', "reel 4 certificate_force", "17760 lbf [79.00 kN] for 1/8 cable was given; accepted: at most 3488 lbf [15.51 kN]"),     # pi/4 x 3.175^2 x 1960
    ('size = "6 mm"', 'size = "2.5 mm"', "reel 9 size", 'a metric one (1 mm, 2 mm, 3 mm, 4 mm, 5 mm, 6 mm, 8 mm, 10 mm) or "unknown"; a metric reel stands here to be known and told apart only'),
    ('"1/8" = "P"', '"3 mm" = "P"', "tool 2 cavities", 'a cavity for "3 mm" was given'),
    ('"1/8" = "P"', '"1/8" = ""', "tool 2 cavities", 'the mark "" for 1/8 was given'),
    ('sleeve_metal = "aluminium"', 'sleeve_metal = "copper"', "chart 1 sleeve_metal", 'did you mean "plain copper" or "zinc-plated copper" or "tin-plated copper"? Read the label'),
    ('sleeve_metal = "aluminium"', 'sleeve_metal = "plain coper"', "chart 1 sleeve_metal", '; did you mean "plain copper"?'),
    ('language = "en"', 'language = "en"\ncolour = "red"', "shop colour", "unknown name"),
])
def test_a_mistake_is_told_with_its_field_and_what_is_accepted(written, old, new, field, said):
    assert old in SAMPLE
    problems = check_shop(written(SAMPLE.replace(old, new, 1)))
    told = [p for p in problems if p.field == field]
    assert told, [str(p) for p in problems]
    assert said in told[0].what and re.search(r"[^.?][.?]$", told[0].what)


@pytest.mark.parametrize("old, new, nth", [
    ('system = "US"', 'system = "imperial"', 1), ("order = [2, 1, 3]", "order = [\n  2,\n  2, 3]", 3),
    ('cavity = "P"', 'cavity = "R"', 1), ("due_on = 2026-03-02", "due_on = 2025-03-01", 1),
    ('lot = "L-2604"', "lot = 2604", 1), ('trainer = "Ines Varrow"', "trainer = 7", 1)])
def test_the_line_is_the_one_the_mistake_stands_on(written, old, new, nth):
    text = SAMPLE.replace(old, new, 1)
    problem, *more = check_shop(written(text))
    assert not more and new.splitlines()[0] in text.splitlines()
    assert problem.line == line_number(text, new.splitlines()[0], nth)


def test_several_mistakes_are_all_told_in_the_order_of_their_lines(written):
    text = (SAMPLE.replace('system = "US"', 'system = "imperial"').replace('lot = "L-2604"', "lot = 2604")
            .replace("count = 5\n", "count = 0\n").replace('hold = "432 lbf"', 'hold = "432"'))
    problems = check_shop(written(text))
    assert [p.field for p in problems] == ["shop system", "reel 4 lot", "chart 3 row 2 count", "pull_test 1 hold"]
    assert [p.line for p in problems] == sorted(p.line for p in problems)


@pytest.mark.parametrize("wrong, near", [("coppied_by", "copied_by"), ("sleve_metal", "sleeve_metal")])
def test_an_unknown_name_is_told_with_the_nearest_one(written, wrong, near):
    text = SAMPLE.replace(f"{near} = ", f"{wrong} = ", 1)
    told = [p for p in check_shop(written(text)) if p.given == f"the unknown name {wrong}"]
    assert told and f"did you mean {near}?" in told[0].what


def test_a_heading_that_does_not_exist_is_told_with_the_nearest_one(written):
    told = check_shop(written(SAMPLE.replace("[bench]", "[bensh]")))
    assert any("did you mean bench?" in p.what for p in told)
    assert any(p.field == "bench" and "no such block" in p.given for p in told)


@pytest.mark.parametrize("checked", ["Parvel Minch", "parvel   MINCH"])
def test_the_copier_may_not_be_the_checker(written, checked):
    text = SAMPLE.replace('checked_by = "Ines Varrow"', f'checked_by = "{checked}"', 1)
    problem, = check_shop(written(text))
    assert "another person than copied_by" in problem.what and problem.line == line_number(text, "checked_by")


def test_a_shop_that_is_not_invented_may_not_keep_the_sample_s_name_or_people(written):
    problems = check_shop(written(SAMPLE.replace("invented = true", "invented = false")))
    # One sentence with the list, and no line for each.
    one, = problems
    assert one.field == "shop invented" and one.line == line_number(SAMPLE.replace("invented = true", "invented = false"), "invented = false")
    for words in ("shop name", "people trainer", "factor owner", "maker (", "copied_by (", "texts are still the invented sample's"):
        assert words in one.given, words


def test_the_last_names_of_the_sample_are_told_line_by_line(written):
    text = SAMPLE.replace("invented = true", "invented = false").replace("Ambrel Quay Cable Bench", "Our own bench")
    for old in ("Ines Varrow", "Osk Tamberlin", "Bettan Roole", "Parvel Minch"):
        text = text.replace(old, f"A. {old[::-1]}")
    values = [line if line.startswith("#") or "invented =" in line else re.sub("invented", "our", line, flags=re.IGNORECASE) for line in text.splitlines()]
    told = check_shop(written("\n".join(values).replace("Our own bench", "Ambrel Quay Cable Bench")))
    assert {p.field for p in told if "sample" not in p.given and "when invented = false" in p.accepted} == {"shop name"}


def test_a_shop_of_one_s_own_is_accepted_as_not_invented(written):
    text = SAMPLE.replace("invented = true", "invented = false").replace("Ambrel Quay Cable Bench", "Our own bench")
    for old, new in (("Ines Varrow", "A. First"), ("Osk Tamberlin", "B. Second"), ("Bettan Roole", "C. Third"),
                     ("Parvel Minch", "D. Fourth")):
        text = text.replace(old, new)
    values = "\n".join(line if line.startswith("#") or "invented =" in line else
                       re.sub("invented", "our", line, flags=re.IGNORECASE) for line in text.splitlines())
    shop = load_shop(written(values))
    assert not shop.invented and not any(chart.invented for chart in shop.charts)
    assert not shop.chart_line().startswith("INVENTED")


# --- texts that are no shop file ----------------------------------------------------------------------

@pytest.mark.parametrize("text, line, said", [
    ('form = 1\n[shop]\nname = "Bench\n', 3, "closing quote"),
    ("form = 1\n[shop]\nname Bench\n", 3, "name = value"),
    ("form = 1\n[shop]\nname = Bench\n", 3, "quotes"),
    ("form = 1\n[shop\n", 2, "bracket"),
    ("form = 1\nform = 1\n", 2, "keep one"),
    ("form = 1\n[shop]\nx = [1, 2\n", 3, "]"),
    ("form = 1\n[[reel]]\nset = 2026-02-30\n", 3, "a day that the calendar has"),
    ("form = 1\n[[reel]]\nset = 2026-13-15  # soon\n", 3, "a date that is no day"), ("form = 1\nbench\n", 2, "stands in brackets, as the sample has it: [bench] or [[bench]]"),
    *((f"form = 1\n[[reel]]\nset = {day}\n", 3, "year first, without quotes; write the day as 2026-03-02, with two figures") for day in ("01-09-2026", "1.9.2026", "2026/09/01", "2026-9-1")),
])
def test_broken_syntax_gives_one_plain_sentence_with_the_line(written, text, line, said):
    problem, = check_shop(written(text))
    assert problem.line == line and said in problem.what, str(problem)
    assert "column" not in problem.what


def test_a_file_in_another_encoding_is_told_with_its_line(written):
    problem, = check_shop(written("form = 1\n# Gärtner\n", encoding="latin-1"))
    assert problem.line == 2 and "UTF-8" in problem.what


def test_windows_line_ends_and_a_byte_order_mark_are_read(written):
    assert check_shop(written(b"\xef\xbb\xbf" + SAMPLE.replace("\n", "\r\n").encode())) == []


def test_what_is_no_file_is_refused_in_one_sentence(tmp_path):
    for path in (tmp_path, tmp_path / "nothing.toml", "bad\0name"):
        with pytest.raises(Refusal) as refused:
            check_shop(path)
        assert str(refused.value).count("\n") == 0


def test_loading_a_wrong_file_names_the_first_line_and_how_to_see_them_all(written):
    path = written(SAMPLE.replace('system = "US"', 'system = "x"').replace('lot = "L-2604"', "lot = 1"))
    with pytest.raises(Refusal, match=r"line \d+ of the shop file .*shop system: \"x\" was given; accepted: \"US\", \"SI\"; write one of these; it is one of 2 mistakes, and   rigcalc shop .*shop.toml   shows every line to mend"):
        load_shop(path)


def test_an_empty_file_is_told_block_by_block(written):
    told = [p.what for p in check_shop(written(""))]
    assert any("form" in t for t in told) and any("[shop]" in t for t in told) and any("[bench]" in t for t in told)


toml_values = st.one_of(st.integers(-9, 9), st.booleans(), st.text("ab1/ mflbN.,-", max_size=8),
                        st.lists(st.integers(-3, 3), max_size=3), st.floats(allow_nan=True, allow_infinity=True))


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(data=st.data())
def test_no_value_in_any_field_ever_breaks_the_reader(written, data):
    lines = SAMPLE.splitlines()
    fields = [n for n, line in enumerate(lines) if re.match(r"[a-z_]+ = ", line)]
    for n in data.draw(st.lists(st.sampled_from(fields), min_size=1, max_size=3, unique=True)):
        value = data.draw(toml_values)
        shown = {bool: str(value).lower(), str: f'"{value}"'}.get(type(value), str(value))
        lines[n] = f"{lines[n].split(' = ')[0]} = {shown}"
    problems = check_shop(written("\n".join(lines)))
    assert all(1 <= p.line <= len(lines) and p.what.count("\n") == 0 for p in problems)


@settings(max_examples=80, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(cut=st.integers(0, len(SAMPLE)), junk=st.text(max_size=12))
def test_a_file_cut_or_spoiled_anywhere_gives_problems_or_a_shop_but_no_traceback(written, cut, junk):
    text = SAMPLE[:cut] + junk + SAMPLE[cut + 5:]
    problems = check_shop(written(text.encode("utf-8", "surrogatepass")))
    assert all(p.line >= 1 and p.what for p in problems)


def test_aluminum_is_read_as_aluminium(written):
    assert load_shop(written(SAMPLE.replace('"aluminium"', '"aluminum"'))).charts == load_shop(sample_shop_path()).charts


def test_galvanized_is_read_as_galvanised(written):
    assert SAMPLE.count("\"galvanised\"") > 3
    made, sample = load_shop(written(SAMPLE.replace("\"galvanised\"", "\"galvanized\""))), load_shop(sample_shop_path())
    assert made.reels == sample.reels and made.charts == sample.charts and made.thimbles == sample.thimbles
