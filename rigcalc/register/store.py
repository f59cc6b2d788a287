"""The register: entries are added, never changed, and whoever changes one is found out.

Each entry carries the hash of the one before and the register key's signature; how many there are, and the last
hash, is kept signed in a file of its own, so that entries cut off at the end are missed too. What this cannot
show: somebody who holds the register's private key, or who puts back an older copy of *both* files. Every
certificate names its entry and that entry's hash, so an old copy is shown up by any later certificate.
"""

from __future__ import annotations

import hashlib
import json
import os
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime
from functools import cached_property
from pathlib import Path

import sqlalchemy as sa

from rigcalc.errors import Refusal
from rigcalc.register.keys import PublicKey, Signer, canonical, signed_by, write_whole

__all__ = ["Entry", "KINDS", "Register", "entry_hash", "first_previous"]

KINDS = ("class set", "paper issued", "answers marked", "bench form opened", "bench assessed", "decision",
         "certificate signed", "answers re-marked", "appeal decided", "certificate standing",
         "more time given", "sealed set kept", "bench form set aside", "shop file told")

_tables = sa.MetaData()
ENTRIES = sa.Table(
    "entries", _tables,
    sa.Column("number", sa.Integer, primary_key=True, autoincrement=False),
    sa.Column("at", sa.Text, nullable=False),
    sa.Column("kind", sa.Text, nullable=False),
    sa.Column("body", sa.Text, nullable=False),
    sa.Column("previous", sa.Text, nullable=False),
    sa.Column("hash", sa.Text, nullable=False),
    sa.Column("signature", sa.Text, nullable=False),
)
GUARDS = {f"no_{act.lower()}": f"CREATE TRIGGER IF NOT EXISTS no_{act.lower()} BEFORE {act} ON entries "
                               "BEGIN SELECT RAISE(ABORT, 'the register is append-only'); END"
          for act in ("UPDATE", "DELETE")}


def first_previous() -> str:
    """What the first entry names as the hash before it."""
    return "0" * 64


@dataclass(frozen=True)
class Entry:
    """One entry as it stands in the register."""

    number: int
    at: str
    kind: str
    text: str
    previous: str
    hash: str
    signature: str

    @property
    def body(self) -> dict:
        return dict(self._read)

    @cached_property
    def _read(self) -> dict:
        return json.loads(self.text)


def entry_hash(number: int, at: str, kind: str, text: str, previous: str) -> str:
    """The hash of one entry over everything it says, its number and the hash before it."""
    return hashlib.sha256(canonical([number, at, kind, text, previous])).hexdigest()


class Register:
    """The append-only register in one SQLite file, with its head kept beside it.

    Parameters
    ----------
    path : Path
        The SQLite file; made at the first entry.
    signer : Signer or PublicKey
        The register's key; with the public half alone the register can be read and checked.
    """

    def __init__(self, path: Path, signer: Signer | PublicKey) -> None:
        self.path = Path(path)
        self.head_path = self.path.with_name(self.path.stem + ".head.json")
        self.signer = signer
        self._engine = sa.create_engine(f"sqlite:///{self.path}", connect_args={"timeout": 30},
                                        poolclass=sa.pool.NullPool)
        sa.event.listen(self._engine, "connect", _on_connect)

    # -- adding ---------------------------------------------------------------------------------------------------
    def append(self, kind: str, body: dict, at: datetime | None = None) -> Entry:
        """Add one entry and return it as it stands; on the disk before this returns."""
        if kind not in KINDS:
            raise Refusal(f"the entry kind '{kind}'", ", ".join(KINDS), "use one of these")
        if not isinstance(self.signer, Signer):
            raise Refusal("a register opened for reading", "the register's own desk", "open the desk to add an entry")
        text = canonical(body).decode("utf-8")
        stamp = (at or datetime.now(UTC)).astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")
        with self._alone() as connection:
            last = self._last(connection)
            self._refuse_if_cut(connection)
            number, previous = (last.number + 1, last.hash) if last else (1, first_previous())
            digest = entry_hash(number, stamp, kind, text, previous)
            signature = self.signer.sign("register entry", digest.encode())
            entry = Entry(number, stamp, kind, text, previous, digest, signature)
            connection.execute(sa.insert(ENTRIES).values(
                number=number, at=stamp, kind=kind, body=text, previous=previous, hash=digest, signature=signature))
        self._keep_head()
        return entry

    @contextmanager
    def _alone(self) -> Iterator[sa.Connection]:
        """A connection that no other process can write beside."""
        if not self.path.exists():
            os.close(os.open(self.path, os.O_CREAT | os.O_RDWR, 0o600))
        with self._engine.connect() as connection:
            connection.exec_driver_sql("BEGIN IMMEDIATE")
            try:
                if not sa.inspect(connection).has_table("entries"):
                    self._begin(connection)
                yield connection
                connection.exec_driver_sql("COMMIT")
            except BaseException:
                connection.exec_driver_sql("ROLLBACK")
                raise

    def _begin(self, connection: sa.Connection) -> None:
        """Make the empty register; its head of no entries is kept first, so a head is never absent later."""
        if self._read_head() is None:
            self._write_head(0, first_previous())
        connection.execute(sa.schema.CreateTable(ENTRIES))
        for guard in GUARDS.values():
            connection.exec_driver_sql(guard)

    def _last(self, connection: sa.Connection) -> Entry | None:
        row = connection.execute(sa.select(ENTRIES).order_by(ENTRIES.c.number.desc()).limit(1)).first()
        return _entry(row) if row else None

    def _refuse_if_cut(self, connection: sa.Connection) -> None:
        """Nothing is added to a register that lost its end: a new entry would hide the loss."""
        head = self._read_head()
        if head is not None and head["count"] == 0:
            return
        if head is not None:
            kept = connection.execute(sa.select(ENTRIES.c.hash).where(ENTRIES.c.number == head["count"])).scalar()
            if kept == head["hash"]:
                return
        raise Refusal(f"the register {self.path}, which does not end where its kept head says",
                      "a register that is whole", "run rigcalc register, keep both files as they are and find out "
                      "who touched them before anything is added")

    def _keep_head(self) -> None:
        """Write the signed head while nobody else can add, so that a slower process never sets it back."""
        with self._alone() as connection:
            last = self._last(connection)
            self._write_head(last.number, last.hash)

    def _write_head(self, count: int, digest: str) -> None:
        signature = self.signer.sign("register head", canonical([count, digest]))
        write_whole(self.head_path, canonical({"form": 1, "count": count, "hash": digest, "signature": signature}))

    # -- reading --------------------------------------------------------------------------------------------------
    def entries(self, kind: str | None = None) -> list[Entry]:
        """All entries in order, or those of one kind; read again whenever the file was changed."""
        seen = _state_of(self.path)
        if seen is None:
            return []
        if _READ.get(self.path, (None,))[0] != seen:
            if len(_READ) >= 8:
                _READ.clear()
            _READ[self.path] = seen, self.read()
        return [entry for entry in _READ[self.path][1] if kind is None or entry.kind == kind]

    def read(self) -> list[Entry]:
        """All entries as they stand in the file now."""
        if not self.path.exists():
            return []
        with self._engine.connect() as connection:
            if not sa.inspect(connection).has_table("entries"):
                return []
            return [_entry(row) for row in connection.execute(sa.select(ENTRIES).order_by(ENTRIES.c.number))]

    def _read_head(self) -> dict | None:
        """The kept head; None where there is none; refuses one that this register's key did not sign."""
        try:
            head = json.loads(self.head_path.read_text(encoding="utf-8"))
        except FileNotFoundError:
            return None
        except (ValueError, RecursionError):
            head = None
        if not (isinstance(head, dict) and isinstance(head.get("count"), int) and isinstance(head.get("hash"), str)
                and signed_by(self.signer.key, "register head", canonical([head["count"], head["hash"]]),
                              str(head.get("signature")))):
            raise Refusal(f"the kept head {self.head_path}, which was changed or damaged",
                          "the head as the register wrote it", "put it back from the copy that was kept")
        return head

    def check(self) -> list[str]:
        """What is wrong with the register, one sentence each, naming the entry; empty when it is whole."""
        from rigcalc.register.checking import findings
        return findings(self)

    def guards(self) -> list[str]:
        """The names of the guards against change that stand in the file."""
        if not self.path.exists():
            return []
        with self._engine.connect() as connection:
            return [name for (name,) in connection.exec_driver_sql("SELECT name FROM sqlite_master WHERE type='trigger'")]


def _on_connect(connection, _record) -> None:
    connection.isolation_level = None  # this module says BEGIN and COMMIT itself
    connection.execute("PRAGMA synchronous=EXTRA")


def _entry(row) -> Entry:
    return Entry(*row)


_READ: dict[Path, tuple[tuple, list[Entry]]] = {}  # a page of the desk asks for the entries some fifty times


def _state_of(path: Path) -> tuple | None:
    """What changes whenever the file does: SQLite counts its changes in bytes 24 to 27. None where there is no file."""
    try:
        with open(path, "rb", buffering=0) as file:
            now, begins = os.fstat(file.fileno()), file.read(28)
    except FileNotFoundError:
        return None
    return now.st_ino, now.st_mtime_ns, now.st_size, begins[24:]
