"""Reading a shop file: every problem with its line, or the shop."""

from __future__ import annotations

import hashlib
import tomllib
from dataclasses import dataclass
from datetime import date
from functools import lru_cache
from importlib.resources import files
from pathlib import Path

from rigcalc.errors import Refusal
from rigcalc.home import shop_file
from rigcalc.shop.blocks import CHART_ROW, LISTS, OPTIONAL_SINGLES, SINGLES, TOP_FIELDS
from rigcalc.shop.check import across_blocks, still_the_sample
from rigcalc.shop.check_stores import days_of, stores, to_come
from rigcalc.shop.fields import Block, Finding, block_values, shown, unknown_key
from rigcalc.shop.lines import Lines, accepted_for, syntax_problem
from rigcalc.shop.model import Bench, ChartCheck, Gauge, PullTest, Reel, Shop, Thimble, Tool
from rigcalc.shop.records import stored

__all__ = ["Problem", "check_shop", "load_shop", "sample_shop_path"]

LARGEST_BYTES = 1_000_000


@dataclass(frozen=True)
class Problem:
    """One thing wrong in a shop file: its line, the field, what was given, what is accepted, what to do."""

    line: int
    field: str
    given: str
    accepted: str
    do: str

    @property
    def what(self) -> str:
        """The problem as one plain sentence, without its line."""
        where = f"{self.field}: " if self.field else ""
        return f"{where}{self.given} was given; accepted: {self.accepted}; {self.do}{'' if self.do.endswith('?') else '.'}"

    def __str__(self) -> str:
        return f"line {self.line}: {self.what}"


def sample_shop_path() -> Path:
    """Where the invented sample shop is installed."""
    return Path(str(files("rigcalc.shop").joinpath("shop.toml")))


def check_shop(path: str | Path) -> list[Problem]:
    """Everything wrong in the shop file at `path`, in the order of its lines; an empty list when nothing is.

    Raises
    ------
    Refusal
        When the file is not there or cannot be read at all.
    """
    return _read(Path(path), _bytes(Path(path)))[1]


def load_shop(path: str | Path | None = None) -> Shop:
    """The shop at `path`; without a path the shop file of the workbook home, else the invented sample.

    Raises
    ------
    Refusal
        When the file cannot be read or anything in it is wrong.

    Example
    -------
    >>> load_shop(sample_shop_path()).name
    'Ambrel Quay Cable Bench'
    """
    if path is None:
        path = shop_file() if shop_file().exists() else sample_shop_path()
    return _loaded(Path(path), _bytes(Path(path)), date.today())


@lru_cache(maxsize=8)
def _loaded(path: Path, raw: bytes, today: date) -> Shop:
    """As above, made once for as long as the file and the day are the same: a page asks for its shop again and again."""
    values, problems, digest = _read(path, raw)
    if problems:
        first, many = problems[0], len(problems) > 1
        do = first.do.rstrip(".")
        raise Refusal(f"line {first.line} of the shop file {path}{f', {first.field}' if first.field else ''}: {first.given}", first.accepted,
                      f"{do}{'' if do.endswith('?') else ';'} {f'it is one of {len(problems)} mistakes, and ' if many else ''}"
                      f"  rigcalc shop {path}   shows {'every line' if many else 'the line'} to mend")
    return _shop(values, path, digest)


def _read(path: Path, raw: bytes) -> tuple[dict, list[Problem], str]:
    """The read values, the problems and the digest of the file."""
    digest = hashlib.sha256(raw).hexdigest()
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        return {}, [Problem(line, "", "a sign that is not UTF-8 text", "a plain text file saved as UTF-8",
                            "save the file again as UTF-8 and check it again")], digest
    text = text.replace("\r\n", "\n")
    try:
        document = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        line, given, do = syntax_problem(text, error)
        return {}, [Problem(line, "", given, accepted_for(given), do)], digest
    except RecursionError:
        return {}, [Problem(1, "", "brackets inside brackets without end", "lines of the form   name = value",
                            "compare with the sample")], digest
    values, findings = _values(document)
    if findings:
        lines = Lines(text)
        return values, sorted((_problem(f, lines) for f in findings), key=lambda p: p.line), digest
    return values, [], digest


def _bytes(path: Path) -> bytes:
    """The file's bytes, or one sentence why not."""
    do = "give the path of a shop file, or type   rigcalc shop --new   to make one"
    try:
        if path.is_dir():
            raise Refusal(f"the folder {path}", "a shop file", do)
        raw = path.read_bytes()
    except (OSError, ValueError) as error:
        why = error.strerror if isinstance(error, OSError) and error.strerror else "it cannot be opened"
        if isinstance(error, Refusal):
            raise
        raise Refusal(f"the shop file {str(path)[:200]!r} ({why})", "a file that is there and may be read", do) from None
    if len(raw) > LARGEST_BYTES:
        raise Refusal(f"a file of {len(raw)} bytes", f"a shop file of at most {LARGEST_BYTES} bytes", do)
    return raw


def _problem(finding: Finding, lines: Lines) -> Problem:
    """A finding with its line, and its path in words."""
    words = ""
    for part in finding.path:
        words += f" {part + 1}" if isinstance(part, int) else f" {part}"
    return Problem(lines.of(finding.path), words.strip(), finding.given, finding.accepted, finding.do)


def _values(document: dict) -> tuple[dict, list[Finding]]:
    """Every block read by its fields, then the blocks against one another and against the sample."""
    values, findings = _blocks(document)
    wrong = {finding.path for finding in findings}
    across = [*across_blocks(values), *stores(values)]
    findings += [finding for finding in across if not _half_misread(finding, wrong)]
    ahead, own = to_come(values), values["shop"].get("invented") is False
    if ahead or own:
        sample, _ = _blocks(tomllib.loads(sample_shop_path().read_text(encoding="utf-8")))
        # The sample's own days are made up: on a machine whose clock stands earlier they are no mistake of an invented shop.
        findings += ahead if own else to_come(values, days_of(sample))
        findings += still_the_sample(values, sample) if own else []
    return values, findings


def _half_misread(finding: Finding, wrong: set[tuple]) -> bool:
    """Whether a certificate only lacks its other half because that line was itself found wrong."""
    *block, field = finding.path
    other = {"certificate": "certificate_force", "certificate_force": "certificate"}.get(field)
    return other is not None and (*block, other) in wrong


def _blocks(document: dict) -> tuple[dict, list[Finding]]:
    """The blocks of a document by name, each read by itself."""
    findings: list[Finding] = []
    names = tuple(f.name for f in TOP_FIELDS) + tuple(b.name for b in SINGLES + LISTS)
    for key in document:
        if key not in names:
            findings.append(unknown_key(key, names, (key,), "a shop file"))
    top = {k: v for k, v in document.items() if k == "form"}
    values = {"form": block_values(Block("top of the file", TOP_FIELDS), top, (), findings)}
    for block in SINGLES:
        given = document.get(block.name)
        if given is None and block.name not in OPTIONAL_SINGLES:
            findings.append(Finding((block.name,), "no such block", f"one block [{block.name}]", "add it as in the sample"))
        values[block.name] = block_values(block, given or {}, (block.name,), findings) if given is not None else {}
    for block in LISTS:
        values[block.name] = _list_block(block, document.get(block.name, []), findings)
    return values, findings


def _list_block(block: Block, given: object, findings: list[Finding]) -> list[dict]:
    """All blocks of one sort; the rows of a chart are read with it."""
    if block.name == "chart" and isinstance(given, dict) and set(given) == {"row"}:
        findings.append(Finding((block.name,), "[[chart.row]] before any [[chart]]", "a [[chart]] line, then its rows",
                                "put the [[chart]] line above it"))
        return []
    if not isinstance(given, list):
        findings.append(Finding((block.name,), f"one block [{block.name}]", f"double brackets: [[{block.name}]]",
                                "write the heading so"))
        return []
    read = [block_values(block, item, (block.name, n), findings) for n, item in enumerate(given)]
    if block.name == "chart":
        for n, chart in enumerate(read):
            chart["row"] = _chart_rows(chart.get("row", []), ("chart", n, "row"), findings)
    return read


def _chart_rows(rows: object, path: tuple, findings: list[Finding]) -> list[dict]:
    """The rows of one chart."""
    if not isinstance(rows, list):
        findings.append(Finding(path, shown(rows), "blocks [[chart.row]]", "write the heading in double brackets"))
        return []
    return [block_values(CHART_ROW, row, (*path, m), findings) for m, row in enumerate(rows)]


def _shop(values: dict, path: Path, digest: str) -> Shop:
    """The records, from values that were found in order."""
    from rigcalc.rating import DesignFactor

    shop = values["shop"]
    return Shop(
        name=shop["name"], invented=shop["invented"], system=shop["system"], language=shop["language"],
        people=tuple(values["people"].items()),
        bench=Bench(**{f"{name}_mm": value for name, value in values["bench"].items()}),
        reels=tuple(_reel(r) for r in values["reel"]),
        charts=tuple(_chart(c, shop["invented"]) for c in values["chart"]),
        chart_checks=tuple(ChartCheck(c["id"], c["checked_by"], c["checked_on"]) for c in values["chart"]),
        tools=tuple(Tool(**t) for t in values["tool"]),
        gauges=tuple(Gauge(**g) for g in values["gauge"]),
        thimbles=tuple(Thimble(t["size"], t["metal"], t["loop"], t["bearing_to_sleeve"]) for t in values["thimble"]),
        pull_tests=tuple(PullTest(p["size"], p["metal"], p["hold"], p["procedure"], p["set_by"], p["set_on"])
                         for p in values["pull_test"]),
        factors=tuple(DesignFactor(value=f["value"], owner=f["owner"], set_on=f["set_on"].isoformat(), scope=f["scope"])
                      for f in values["factor"]),
        path=path, digest=digest, **stored(values))


def _reel(values: dict) -> Reel:
    """One reel."""
    return Reel(id=values["id"], label=values["label"], size=values["size"], construction=values["construction"],
                metal=values["metal"], coating_to=values.get("coating_to"),
                certificate_n=values.get("certificate_force"), certificate=values.get("certificate"),
                lot=values["lot"], length_m=values.get("length"), mass_100m_kg=values.get("mass_of_100m"))


def _chart(values: dict, invented: bool):
    """One maker's chart with its rows."""
    from rigcalc.sleeve import ChartRow, CrimpChart

    rows = tuple(ChartRow(
        size=r["size"], cavity=r["cavity"], count=r["count"], order=r["order"], order_source=r.get("order_source", ""),
        sleeve_before_mm=r["sleeve_before"], sleeve_after_mm=r["sleeve_after"], gauge=r["gauge"],
        gauge_slot=r["gauge_slot"], gauge_max_mm=r.get("gauge_max"), minimum_gap_mm=r.get("minimum_gap"),
        crimp_width_mm=r.get("crimp_width"), efficiency=r.get("efficiency")) for r in values["row"])
    return CrimpChart(id=values["id"], edition=values["edition"], maker=values["maker"],
                      sleeve_metal=values["sleeve_metal"], tool=values["tool"], rows=rows,
                      copied_by=values["copied_by"], checked_by=values["checked_by"],
                      copied_on=values["copied_on"].isoformat(), invented=invented, kind="maker")
