"""Sourced tables: a row without a source is refused, and every source stands in the bibliography."""

import csv
from pathlib import Path

import pytest

import rigcalc
from rigcalc.cable import breaking_force, neighbours, sizes
from rigcalc.errors import Refusal
from rigcalc.reference import (
    ReferenceError,
    added_from,
    bibliography,
    constant,
    full_source,
    read_table,
    table,
    table_names,
)
from rigcalc.sleeve import built_in_chart, chart_in_force
from rigcalc.units import LBF_N

PACKAGE = Path(rigcalc.__file__).parent
HEAD = "sleeve_metal,size,count,source,locator,how_known\n"


def written(folder: Path, text: str) -> Path:
    path = folder / "crimps_common_practice.csv"
    path.write_text(text, encoding="utf-8")
    return path


def test_a_good_row_is_read(tmp_path):
    rows = read_table(written(tmp_path, HEAD + "aluminium,1/8,3,common practice,hand swager,common practice\n"), "crimps_common_practice")
    assert (rows[0].size, rows[0].count, rows[0].cited) == ("1/8", 3, "common practice, hand swager")


@pytest.mark.parametrize("row, said", [
    ("aluminium,1/8,3,,hand swager,common practice", "without a source"),
    ("aluminium,1/8,3,   ,hand swager,common practice", "without a source"),
    ("aluminium,1/8,3,common practice,hand swager,", "how_known ''"),
    ("aluminium,1/8,3,common practice,hand swager,everybody knows", "how_known 'everybody knows'"),
    ("aluminium,1/8,three,common practice,x,read", "a whole number"), ("aluminium,1/8,-3,common practice,x,read", "a whole number"),
    ("aluminium,1/8,3.06,common practice,x,read", "a whole number"), ("aluminium,1/8,,common practice,x,read", "a whole number"),
    ("aluminium,2/16,3,common practice,x,read", "lowest terms"), ("aluminium,0.125,3,common practice,x,read", "lowest terms"),
    ("aluminium,1/0,3,common practice,x,read", "lowest terms"), (",1/8,3,common practice,x,read", "some text"),
    ("aluminium,1/8,3,common practice,x", "too many or too few"), ("aluminium,1/8,3,common practice,x,read,more", "too many or too few"),
])
def test_a_row_that_cannot_be_trusted_is_refused_with_its_line(tmp_path, row, said):
    with pytest.raises(ReferenceError, match=said) as refused:
        read_table(written(tmp_path, HEAD + row + "\n"), "crimps_common_practice")
    assert "crimps_common_practice.csv line 2" in str(refused.value)


def test_missing_columns_and_doubled_rows_are_refused(tmp_path):
    with pytest.raises(ReferenceError, match="sleeve_metal, size, count"):
        read_table(written(tmp_path, "sleeve_metal,size,count\naluminium,1/8,3\n"), "crimps_common_practice")
    row = "aluminium,1/8,3,common practice,x,read\n"
    with pytest.raises(ReferenceError, match="two rows for aluminium, 1/8"):
        read_table(written(tmp_path, HEAD + row + row), "crimps_common_practice")


@pytest.mark.parametrize("cell", ["nan", "inf", "-5", "many"])
def test_a_strength_must_be_a_plain_number(tmp_path, cell):
    path = tmp_path / "cable_strength.csv"
    path.write_text("size,construction,galvanised_lbf,stainless_lbf,tolerance_plus_in,source,locator,how_known\n"
                    f"1/2,7x19,{cell},,0.03,x,y,read\n", encoding="utf-8")
    with pytest.raises(ReferenceError, match="a number, not negative"):
        read_table(path, "cable_strength")


def test_unknown_tables_and_constants_name_the_known_ones():
    with pytest.raises(ReferenceError, match="cable_strength"):
        table("wind")
    with pytest.raises(ReferenceError, match="pound-force"):
        constant("stone")


# --- what ships ---------------------------------------------------------------------------------

@pytest.mark.parametrize("name", table_names())
def test_every_source_of_a_shipped_row_stands_in_the_bibliography(name):
    assert table(name)
    for row in table(name):
        assert row.source in bibliography()
        assert row.locator


# --- take a source away, and it is noticed ---------------------------------------------------------

def shipped_rows(name: str) -> tuple[list[str], list[list[str]]]:
    with (PACKAGE / "reference" / f"{name}.csv").open(encoding="utf-8", newline="") as lines:
        head, *rows = csv.reader(lines)
    return head, rows


def read_with(folder: Path, name: str, head: list[str], rows: list[list[str]]):
    path = folder / f"{name}.csv"
    with path.open("w", encoding="utf-8", newline="") as lines:
        csv.writer(lines).writerows([head, *rows])
    return read_table(path, name)


@pytest.mark.parametrize("name", table_names())
def test_no_row_of_a_table_can_lose_its_source_or_how_it_is_known(tmp_path, name):
    head, rows = shipped_rows(name)
    assert len(read_with(tmp_path, name, head, rows)) == len(rows)                # whole, it is read
    for column, said in (("source", "without a source"), ("how_known", "with how_known ''")):
        for line, row in enumerate(rows, start=2):
            robbed = [box if at != column else " " for at, box in zip(head, row, strict=True)]
            with pytest.raises(ReferenceError, match=said) as refused:
                read_with(tmp_path, name, head, [robbed])
            assert f"{name}.csv line 2" in str(refused.value), line


@pytest.mark.parametrize("name", table_names())
@pytest.mark.parametrize("column", ["source", "locator", "how_known"])
def test_no_table_can_lose_the_whole_column(tmp_path, name, column):
    head, rows = shipped_rows(name)
    at = head.index(column)
    with pytest.raises(ReferenceError, match="give the file these columns"):
        read_with(tmp_path, name, head[:at] + head[at + 1:], [row[:at] + row[at + 1:] for row in rows])


def test_no_constant_can_lose_its_unit_or_its_value(tmp_path):
    head, rows = shipped_rows("constants")
    for row in rows:
        for column in ("unit", "value"):
            with pytest.raises(ReferenceError, match=f"column {column}"):
                read_with(tmp_path, "constants", head, [[box if at != column else "" for at, box in zip(head, row, strict=True)]])


def unlisted(rows, listed) -> set[str]:
    """Sources of rows that the bibliography does not list."""
    return {row.source for row in rows} - set(listed)


@pytest.mark.parametrize("name", table_names())
def test_no_source_of_a_table_can_be_taken_out_of_the_bibliography(name):
    assert unlisted(table(name), bibliography()) == set()
    for key in {row.source for row in table(name)}:
        assert unlisted(table(name), {other for other in bibliography() if other != key}) == {key}


@pytest.mark.parametrize("name", table_names())
def test_a_row_from_the_world_says_where_in_its_source_it_stands(name):
    """A document, a paragraph or a table of it, or what the practice or judgement is about."""
    for row in table(name):
        assert len(row.locator) >= 3 and row.cited == f"{row.source}, {row.locator}"


def test_the_bibliography_tells_where_each_entry_was_seen():
    assert len(bibliography()) >= 8
    for key in bibliography():
        assert full_source(key).endswith(".")
    with pytest.raises(Refusal, match="the source key 'hearsay'"):
        full_source("hearsay")


def test_every_csv_in_the_package_carries_source_and_how_known():
    """A CSV that is no sourced table has no place inside the package."""
    found = sorted(path for path in PACKAGE.rglob("*.csv") if "_workbook" not in path.parts)
    assert found
    for path in found:
        with path.open(encoding="utf-8", newline="") as lines:
            rows = list(csv.DictReader(lines))
        assert rows, path
        for row in rows:
            assert row.get("source", "").strip() and row.get("how_known", "").strip(), f"{path.name}: {row}"


def test_no_acceptance_value_is_from_memory():
    """Strengths, counts, constants and verdicts that allow work rest on more than memory, or say so in words."""
    for name in ("cable_strength", "crimps_common_practice", "constants"):
        assert [row for row in table(name) if row.how_known == "from memory"] == []
    remembered = [row for row in table("pairing") if row.how_known == "from memory"]
    assert remembered
    for row in remembered:
        assert "from memory" in row.reasons


# --- a new size is a row ------------------------------------------------------------------------

@pytest.mark.parametrize("size", ["7/16", "1/2", "15/64"])
def test_a_new_size_is_a_row_in_a_file(tmp_path, size):
    (tmp_path / "cable_strength.csv").write_text(
        "size,construction,galvanised_lbf,stainless_lbf,tolerance_plus_in,source,locator,how_known\n"
        f"{size},7x19,5000,,0.03,a test,made up,judgement\n", encoding="utf-8")
    written(tmp_path, HEAD + f"aluminium,{size},6,a test,made up,judgement\n")
    with added_from(tmp_path):
        assert size in sizes()
        assert neighbours(size)[0] is not None
        assert breaking_force(size, "7x19", "galvanised").force_n == float(5000 * LBF_N)
        assert chart_in_force((), "aluminium", size)[1].count == 6
        assert len(built_in_chart().rows) == 9
    assert size not in sizes()


def test_an_added_row_cannot_replace_a_shipped_one(tmp_path):
    written(tmp_path, HEAD + "aluminium,1/8,2,a test,made up,judgement\n")
    with added_from(tmp_path), pytest.raises(ReferenceError, match="two rows for aluminium, 1/8"):
        table("crimps_common_practice")
