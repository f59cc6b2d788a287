"""The records of a job sheet: plain text and numbers only, so that a sheet can be kept as JSON and read back."""

from __future__ import annotations

from rigcalc._records import record


__all__ = ["HOLD_POINTS", "CrimpPicture", "CutKind", "Item", "JobSheet", "Part", "Step"]

HOLD_POINTS = ("cut end", "threaded and tail marked", "first stroke in the jaws", "first gauge")


@record
class Item:
    """One line of a sheet: what it is, and what it says."""

    label: str
    value: str


@record
class Part:
    """One part to draw: what, how many, and its lot where the shop file knows it ('' is filled in by hand);
    `blank` says what is written by hand, a lot or a number."""

    what: str
    count: str
    lot: str = ""
    blank: str = "Lot"


@record
class Step:
    """One step of the work; `hold` names the hold point that ends it, '' where there is none."""

    number: int
    text: str
    hold: str = ""


@record
class CutKind:
    """One kind of piece: its name, how many, its ordered length as shown, and the length to cut in mm with its sum."""

    name: str
    quantity: int
    length_shown: str
    cut_mm: float
    cut_shown: str
    cut_steps: tuple[Item, ...]


@record
class CrimpPicture:
    """What a pressed sleeve is drawn from: size, sleeve metal, count, order (None where the chart gives none), its lengths in mm,
    and what lies beside the first crimp."""

    size: str
    sleeve_metal: str
    count: int
    order: tuple[int, ...] | None
    sleeve_after_mm: float | None
    crimp_width_mm: float | None
    minimum_gap_mm: float | None
    beside: str


@record
class JobSheet:
    """One order, from the facts to the tag: assemblies with two eyes, or rings closed by a lap splice.

    Lengths in mm and forces in N where a name says so; everything shown is text in the shop's unit system.
    `tag` is empty and `practice` true where no maker's chart is in force: such a piece never leaves the bench.
    `cut_mm`, `cut_shown` and `cut_steps` are those of the first kind of piece; `pieces` holds every kind.
    `limit_n` is None where nothing rates the piece: a lap splice. `line_limit_shown` is the limit of the line with the name of its
    weakest fitting, '' where the cable itself governs.
    """

    title: str
    shop: str
    shop_digest: str
    invented: bool
    practice: bool
    system: str
    made_on: str
    number: str
    chart_line: str
    before_starting: tuple[str, ...]
    order: tuple[Item, ...]
    decided: tuple[Item, ...]
    parts: tuple[Part, ...]
    quantity: int
    cut_mm: float
    cut_shown: str
    cut_steps: tuple[Item, ...]
    tail_mm: float
    steps: tuple[Step, ...]
    crimp_count: int
    crimp_order: tuple[int, ...]
    crimps: tuple[Item, ...]
    gauge: tuple[Item, ...]
    limit_n: float | None
    limit_shown: str
    limit_working: tuple[str, ...]
    limit_notes: tuple[str, ...]
    inspection: tuple[str, ...]
    tag: tuple[str, ...]
    record: tuple[str, ...]
    cautions: tuple[str, ...]
    version: str = ""
    ends: str = "two thimble eyes"
    pieces: tuple[CutKind, ...] = ()
    shape: tuple[Item, ...] = ()
    strip: tuple[str, ...] = ()
    cut_list: tuple[str, ...] = ()
    links: tuple[Item, ...] = ()
    release: tuple[str, ...] = ()
    customer: tuple[str, ...] = ()
    record_columns: tuple[str, ...] = ()
    record_pieces: tuple[str, ...] = ()
    picture: CrimpPicture | None = None
    piece_names: tuple[str, ...] = ()
    line_limit_shown: str = ""
