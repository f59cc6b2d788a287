"""Which shop the lessons, the practice paper and the worked examples are made with, and what has to be said of it."""

from __future__ import annotations

from datetime import date
from functools import cache, lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from rigcalc.cautions import PRACTICE
from rigcalc.errors import Refusal
from rigcalc.home import installed_folder, shop_file
from rigcalc.notebook.kits import Kit, kits
from rigcalc.shop import load_shop, sample_shop_path

if TYPE_CHECKING:
    from rigcalc.assembly import Order
    from rigcalc.questions import Family, Stream
    from rigcalc.questions.instance import Instance
    from rigcalc.shop import Shop

__all__ = ["NOT_YOURS", "SAMPLE_STANDS_IN", "STANDS_IN", "draw_for_teaching", "eye_for_teaching", "names_the_sample", "of_order", "of_the_scene", "page_chart", "readable_shop", "sample_shop", "scene_mark", "shop_for_teaching"]

LIKED = "1/8"

SAMPLE_STANDS_IN = "Until there is one, questions and drawings here are made with the invented sample shop."
UNUSABLE = "The shop file {path} cannot be used as it is, so the invented sample shop stands here. To check it, open the page Teach, or type: rigcalc shop"
STANDS_IN = "invented sample shop"
NOT_YOURS = "INVENTED shop, not yours"
NO_EYE = ("Your shop file has no aluminium chart row with sleeve lengths, with a reel of bare galvanised cable and a thimble "
          "for it, so the invented sample shop stands here. Enter them, then reload the page.")


def readable_shop() -> tuple[Shop, str]:
    """The shop in force, or the invented sample with a line that names the shop file and says how to check it.

    Returns
    -------
    tuple of (Shop, str)
        The sentence is empty where the shop file can be used as it is, or where there is none.
    """
    path = shop_file()
    try:
        stamp = path.stat()
    except OSError:
        return _readable(path, None)
    return _readable(path, (stamp.st_mtime_ns, stamp.st_size, stamp.st_ino))


@lru_cache(maxsize=8)
def _readable(path: Path, stamp: tuple[int, ...] | None) -> tuple[Shop, str]:
    """As above, read once for as long as the file stays: a page of many questions asks for it again and again."""
    try:
        return load_shop(), ""
    except (Refusal, OSError):
        return sample_shop(), UNUSABLE.format(path=shop_file())


def shop_for_teaching() -> tuple[Shop, str]:
    """The shop that a learner's pages are made with, and the note that has to stand on them.

    Returns
    -------
    tuple of (Shop, str)
        The shop in force with an empty note, or one that names its gauges out of date. The invented sample with a note where the shop file has a mistake,
        where no maker's chart has been entered, or where its charts can make no eye of lesson 05.
    """
    shop, note = readable_shop()
    return _for_teaching(shop.path, shop.digest, note, date.today())


@lru_cache(maxsize=4)
def _for_teaching(path: Path, digest: str, note: str, on: date) -> tuple[Shop, str]:
    """As above, judged once a day for each shop file: every figure of a page asks for its shop."""
    shop = load_shop(path)
    if note or (shop.has_maker_chart and kits(shop)):
        return shop, note or _stopped_gauges(shop, on)
    return sample_shop(), NO_EYE if shop.has_maker_chart else f"{PRACTICE} {SAMPLE_STANDS_IN}"


def _stopped_gauges(shop: Shop, on: date) -> str:
    """A sentence for each gauge of the shop that judges nothing on that day."""
    return " ".join(f"{one.mark(on).capitalize()}: gauge {one.id} {one.out_of_date(on)}; it judges nothing until it is checked." for one in shop.gauges if not shop.invented and not one.in_date(on))


def sample_shop() -> Shop:
    """The invented sample shop."""
    return load_shop(sample_shop_path())


def scene_mark() -> str:
    """What stands beside a figure of the invented shop: more, where another shop is in force."""
    return "INVENTED" if shop_for_teaching()[0].invented else NOT_YOURS


def of_the_scene(words: str, of: Shop | None = None, mark: str = NOT_YOURS) -> str:
    """A title or caption, with that mark where it tells of the invented shop and another shop is in force.

    Parameters
    ----------
    words : str
        The title or caption.
    of : Shop or None
        The shop whose figures are shown, where that may be the reader's own; without one, the invented shop's.
    mark : str
        What is said, where not all that is shown is the invented shop's.
    """
    own = shop_for_teaching()[0].invented or (of is not None and not of.invented)
    return words if own else f"{words} ({mark})"


def page_chart(line: str, of: Shop, why: str) -> str:
    """The line of the chart that a page goes by; where that is the invented shop's and another shop is in force, why, and the reader's own beside it.

    Parameters
    ----------
    line : str
        The line of the chart that the page's figures are of.
    of : Shop
        The shop whose chart that is.
    why : str
        Why the reader's own is not taken, as a clause.

    >>> page_chart("INVENTED chart LA-AL", sample_shop(), "no such row")
    'Chart in force: INVENTED chart LA-AL'
    """
    own = shop_for_teaching()[0]
    if own.invented or not of.invented:
        return f"Chart in force: {line}"
    return f"Chart of this page: {line}. Why not yours: {why}. In your shop, {own.name}: {own.chart_line()}"


def names_the_sample(family: Family) -> bool:
    """Whether a question's own words name something of the invented shop.

    >>> from rigcalc.questions import load_families
    >>> [names_the_sample(load_families()[one]) for one in ("pieces-back-to-the-gauge", "re-use")]
    [True, False]
    """
    from rigcalc.questions.of_sample import sample_named

    return sample_named(family)


def eye_for_teaching(size: str = LIKED) -> tuple[Kit, str]:
    """An eye of the shop that a learner's pages are made with, of that size where the shop makes it, and the note on the shop."""
    shop, note = shop_for_teaching()
    made = kits(shop)
    return next((one for one in made if one.size == size), made[0]), note


@cache
def of_order(name: str) -> Order:
    """One of the invented orders of the course, by its file's name."""
    from rigcalc.shop.order_file import read_order_file

    return read_order_file(str(installed_folder() / "lessons" / "orders" / f"{name}.toml"))


def draw_for_teaching(family: Family, stream: Stream, shop: Any) -> tuple[Instance, Any, bool]:
    """One question for a learner: from the shop, or from the invented sample where the shop has nothing to ask about.

    Returns
    -------
    tuple of (Instance, Shop, bool)
        The shop it was drawn from, and whether the sample had to stand in.
    """
    from rigcalc.questions import draw

    try:
        return draw(family, stream, shop), shop, False
    except Refusal:
        if shop.invented:
            raise
        sample = sample_shop()
        return draw(family, stream, sample), sample, True
