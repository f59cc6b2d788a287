"""The desk's own folder: register, signing keys, key records, results, forms' keys; closed to everybody else."""

from __future__ import annotations

import hashlib
import json
import os
import re
import unicodedata
from dataclasses import dataclass
from datetime import UTC, datetime
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING

from rigcalc import __version__
from rigcalc._order_person import is_person
from rigcalc.errors import Refusal
from rigcalc.home import desk_folder, room_folder, shop_file, workbook_home
from rigcalc.register.keys import Signer, canonical, card, keep_private, kept_key, private_folder, write_whole
from rigcalc.register.store import Entry, Register
from rigcalc.shop.load import load_shop, sample_shop_path

if TYPE_CHECKING:
    from rigcalc.shop.model import Shop

__all__ = ["Desk", "exact_text", "named_person", "one_person", "open_desk", "sha256_of", "short_id"]

_KEPT = ("secrets", "keys", "links", "results", "sets", "outcomes", "certificates", "signing",
         "corrections", "typed", "texts")


@dataclass
class Desk:
    """One desk: where it keeps its things, the shop in force, and its register."""

    home: Path
    shop: Shop
    register: Register
    unread: str = ""  # why the shop file cannot be read, where the desk goes by an earlier one
    as_at: int = 0  # the entry that names that earlier one

    @property
    def folder(self) -> Path:
        return desk_folder(self.home)

    @property
    def room(self) -> Path:
        return room_folder(self.home)

    @property
    def invented(self) -> bool:
        return bool(self.shop.invented)

    @property
    def goes_by(self) -> str:
        """What a page says that goes by an earlier shop file; empty where the shop file can be read."""
        return (f"The shop file cannot be read ({self.unread}). This page goes by the shop file as it was at entry {self.as_at}."
                if self.unread else "")

    def issuer(self) -> Signer:
        """The key that signs certificates: the demonstration key for an invented shop, the genuine one else."""
        return kept_key(self.folder / "signing", "demonstration" if self.invented else "genuine")

    def issuer_card(self) -> dict:
        """What is handed to whoever wants to check certificates."""
        return card(self.issuer(), self.shop.name)

    def note(self, kind: str, body: dict, at: datetime | None = None) -> Entry:
        """Add one entry; every entry says with which shop file, chart, package, and whether all is invented."""
        ground = {"invented": self.invented, "shop": {"name": self.shop.name, "sha256": self.shop.digest},
                  "package": package_version()}
        self.keep_text(self.shop.path, self.shop.digest)
        return self.register.append(kind, exact_text(body | ground), at)

    def entries(self, kind: str, **wanted) -> list[Entry]:
        """The entries of a kind whose body has these values; `candidate` is compared by its id."""
        return [entry for entry in self.register.entries(kind)
                if all(_value(entry.body, name) == value for name, value in wanted.items())]

    def keep(self, drawer: str, name: str, content: dict) -> str:
        """File a record in one of the desk's drawers (0600) and return its SHA-256."""
        write_whole(self.path(drawer, f"{name}.json"), canonical(exact_text(content)))
        return sha256_of(exact_text(content))

    def kept(self, drawer: str, name: str) -> dict | None:
        """A record filed before, or None."""
        try:
            return json.loads(self.path(drawer, f"{name}.json").read_bytes())
        except FileNotFoundError:
            return None
        except ValueError:
            raise Refusal(f"the damaged record {drawer}/{name}.json", "the record as the desk wrote it",
                          "put it back from a copy of the desk's folder") from None

    def keep_text(self, source: Path, digest: str) -> None:
        """Copy a shop file or a family that entries name by its SHA-256, so that it can be read when its own file has long changed."""
        copy = self.path("texts", f"{digest}.toml")
        if not copy.exists() and source.is_file() and hashlib.sha256(raw := source.read_bytes()).hexdigest() == digest:
            write_whole(copy, raw)

    def shop_of(self, digest: str) -> Shop:
        """The shop as its file stood with that SHA-256: the one in force, or its copy; the one in force where there is no copy."""
        copy = self.path("texts", f"{digest}.toml")
        return self.shop if digest == self.shop.digest or not copy.exists() else _kept_shop(copy)

    def path(self, drawer: str, name: str) -> Path:
        return private_folder(self.folder / drawer) / name

    def secret(self, class_id: str) -> bytes:
        """The class secret: 32 random bytes, made once, never a phrase."""
        path = self.path("secrets", f"{class_id}.bin")
        if not path.exists():
            keep_private(path, os.urandom(32))
        return path.read_bytes()


@lru_cache(maxsize=64)
def _kept_shop(copy: Path) -> Shop:
    """A shop file that was kept; it is named by its own hash, so it never says anything else."""
    return load_shop(copy)


def open_desk(home: Path | None = None, shop: Shop | None = None, earlier: bool = False) -> Desk:
    """Open the desk of a workbook, making its private folder at first use.

    Parameters
    ----------
    earlier : bool
        Whether to go by the shop file that the register's last entry names, where the shop file cannot be read and a copy of that one is kept.
    """
    home = Path(home) if home else workbook_home()
    try:
        folder = private_folder(desk_folder(home))
        for drawer in _KEPT:
            private_folder(folder / drawer)
        private_folder(room_folder(home))
        key = kept_key(folder / "signing", "register")
    except PermissionError:
        raise Refusal(f"the folder {home}, which may not be written", "a folder of your own",
                      "name another with RIGCALC_HOME or --folder") from None
    desk = Desk(home, shop, Register(folder / "register.sqlite", key))
    if shop is None:
        own = shop_file(home)
        try:
            desk.shop = load_shop(own if own.exists() else sample_shop_path())
        except Refusal as refusal:
            if not (earlier and _go_by_last_entry(desk, refusal)):
                raise
    return desk


def _go_by_last_entry(desk: Desk, refusal: Refusal) -> bool:
    """Let a desk go by the kept copy of the shop file that the last entry names; False where there is no such copy."""
    last = next((entry for entry in reversed(desk.register.entries()) if "shop" in entry.body), None)
    if last is None:
        return False
    digest = last.body["shop"]["sha256"]
    try:
        shop = _kept_shop(desk.path("texts", f"{digest}.toml"))
    except Refusal:
        return False
    if shop.digest != digest:
        return False
    desk.shop, desk.as_at, desk.unread = shop, last.number, str(refusal).removeprefix("Refused: ").rstrip(".")
    return True


def package_version() -> str:
    """The version of this package."""
    return __version__


def sha256_of(content: object) -> str:
    """The SHA-256 of a value in its one canonical form."""
    return hashlib.sha256(canonical(content)).hexdigest()


def exact_text(value: object) -> object:
    """The value with every float written as its text, so that what is hashed reads the same everywhere."""
    if isinstance(value, float):
        return repr(value)
    if isinstance(value, dict):
        return {str(key): exact_text(inside) for key, inside in value.items()}
    if isinstance(value, (list, tuple)):
        return [exact_text(inside) for inside in value]
    return value


_UNLIKE = str.maketrans({"ø": "o", "æ": "ae", "œ": "oe", "ß": "ss", "ł": "l", "đ": "d", "ð": "d", "þ": "th", "ı": "i"})  # letters that hold no accent to take off


def short_id(text: str, what: str, such: str = "autumn 2031") -> str:
    """A name turned into an id: small letters without their accents, digits and hyphens.

    >>> short_id("Høst 2031 – Økt 1", "the class name")
    'host-2031-okt-1'
    """
    plain = unicodedata.normalize("NFKD", text.lower().translate(_UNLIKE))
    plain = "".join(sign for sign in plain if not unicodedata.combining(sign))
    made = re.sub(r"[^a-z0-9]+", "-", plain).strip("-")[:40].strip("-")
    if not made:
        raise Refusal(f"{what} {text!r}", "a name with at least one letter from a to z or one digit",
                      f"write a name such as {such}")
    return made


def named_person(text: str, role: str) -> str:
    """A person's name as typed, without blanks around it; refuses an empty, endless or unreadable one."""
    name = " ".join((text or "").split())
    if not name or len(name) > 120:
        raise Refusal(f"{name[:40]!r} as the {role}'s name", "a name of 1 to 120 letters", f"type who the {role} is")
    plain_name(text, f"the {role}'s name")
    return name


def one_person(text: str, role: str) -> str:
    """The first and family name of one person, as typed; refuses a name alone, a stand-in and two people in one.

    Whoever changes what others were told answers for it by the whole name, as whoever sets a cut does.
    """
    name = named_person(text, role)
    family_first = re.fullmatch(r"([^,]+), ([^, ]+)", name)
    if not is_person(f"{family_first[2]} {family_first[1]}" if family_first else name) or re.search(r"[;&]|\band\b", name):
        raise Refusal(f"'{name[:60]}' as the {role}'s name", "the first and family name of one person, the family name written out",
                      "type both names (in a command, between quotes)")
    return name


def plain_name(text: str, what: str) -> None:
    """Refuse a name with a sign that no name has: < > / \\ or one that cannot be seen."""
    if any(sign in "<>/\\" or not (sign.isprintable() or sign in "\t\n\r\xa0\u2003\u2009\u202f\u3000") for sign in text):
        raise Refusal(f"{text.strip()[:40]!r} as {what}", "a name without < > / \\ and without signs that cannot be seen", "type it again")


def today(now: datetime | None = None) -> datetime:
    """The moment, with its time zone."""
    return now or datetime.now(UTC).astimezone()


def _value(body: dict, name: str) -> object:
    value = body.get(name)
    return value.get("id") if name == "candidate" and isinstance(value, dict) else value
