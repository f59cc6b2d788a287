"""What must not be seen, as checks that return every leak they find: on a paper, on the disk, through the room."""

from __future__ import annotations

import json
import os
import stat
from functools import lru_cache
from pathlib import Path

PRIVATE_FIELDS = {"right", "rights", "key", "keys", "secret", "seed", "family", "family_sha256", "misstep", "missteps", "skill",
                  "must_be_right", "weight", "working", "hint", "level", "values", "section", "version_of_family", "feedback"}

KINDS = {"one choice", "several choices", "number", "order", "match", "place", "sheet"}


def strings_in(value, field: str = ""):
    """Every text and every field name of a record."""
    if isinstance(value, dict):
        for name, inner in value.items():
            yield from strings_in(inner, name)
    elif isinstance(value, list):
        for inner in value:
            yield from strings_in(inner, field)
    elif isinstance(value, str):
        yield value


def fields_in(value):
    if isinstance(value, dict):
        for name, inner in value.items():
            yield name
            yield from fields_in(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from fields_in(inner)


def _slips(key: dict) -> list[dict]:
    return key["missteps"] + [slip for box in key.get("boxes") or [] for slip in box["missteps"]]


def _rights(key: dict) -> list[str]:
    return [part["right"]["exact"] for part in (key, *(key.get("boxes") or [])) if "exact" in part["right"]]


LONG = 500  # signs: such a text is a drawing, as a rule


@lru_cache(maxsize=2048)
def _held(text: str, words: frozenset[str]) -> frozenset[str]:
    """The words that stand in a text; kept, because a leak is planted in one question and the others stay as they were."""
    return frozenset(word for word in words if word in text)


def paper_leaks(paper: dict, record: dict, secret: bytes) -> list[str]:
    """What of its key stands in a paper: fields that only a key has, ids, feedback, workings, exact figures, secrets."""
    texts = set(strings_in(paper))
    drawings = [text for text in texts if len(text) > LONG]
    whole = "\n".join(text for text in texts if len(text) <= LONG)
    anywhere, alone = {secret.hex(), record["blueprint"]["sha256"], record["shop_sha256"]}, set()
    for key in record["keys"]:
        anywhere |= {key["family_sha256"], key["working"], key["hint"], *(slip["feedback"] for slip in _slips(key))}
        anywhere |= {figure for figure in _rights(key) if "/" in figure}
        alone |= {key["family"], key["skill"], key["section"], *(slip["id"] for slip in _slips(key)),
                  *(slip["section"] for slip in _slips(key) if "section" in slip)}
        alone |= {box["id"] for box in key.get("boxes") or []} - KINDS  # a box called number is no leak of its kind
    anywhere |= {one for one in alone if one.count("-") >= 2}  # no sentence holds such a word by chance
    found = [f"field {name}" for name in set(fields_in(paper)) & PRIVATE_FIELDS]
    words = frozenset(one for one in anywhere if one and len(one) > 8)
    held = {one for one in words if one in whole}.union(*(_held(drawing, words) for drawing in drawings))
    found += [f"text {one[:60]}" for one in held]
    return sorted(found + [f"id {one}" for one in alone if len(one) > 2 and one in texts])


def disk_leaks(room: Path, desk: Path, secret: bytes) -> list[str]:
    """Whatever makes a key readable: modes wider than 0600 and 0700, a desk inside a served root, a key's words in the room."""
    found = []
    if desk.resolve().is_relative_to(room.resolve()) or room.resolve().is_relative_to(desk.resolve()):
        found.append("the desk's folder and the room's lie one in the other")
    for path in [desk, *desk.rglob("*")]:
        wanted = 0o700 if path.is_dir() else 0o600
        if os.name == "posix" and stat.S_IMODE(path.stat().st_mode) != wanted:
            found.append(f"mode of {path.name}")
    held = {path: path.read_bytes() for path in room.rglob("*") if path.is_file()}
    found += [f"a link in the room: {path.name}" for path in room.rglob("*") if path.is_symlink()]
    words = {secret.hex().encode(), secret}
    for path in (desk / "keys").glob("*.json"):
        for key in json.loads(path.read_bytes())["keys"]:
            words |= {key["family_sha256"].encode(), json.dumps(key["working"])[1:-1].encode(), key["working"].encode()}
    for path in (desk / "keys").glob("*.key"):
        words |= parts_of(path)
    return found + [f"in {path.name}" for path, data in held.items() if any(word and word in data for word in words)]


def parts_of(key: Path) -> set[bytes]:
    """Its hash and pieces of 48 bytes from all over what marking goes by: whoever sends or copies any length of it sends some of them.

    A piece that lies within one text of the paper tells nothing and is left out.
    """
    data = key.read_bytes()
    public = "\n".join(strings_in(json.loads(key.with_suffix(".json").read_bytes())["paper"])).encode()
    pieces = {data[at:at + 48] for at in range(200, len(data) - 48, 997)}
    kept = {piece for piece in pieces if piece not in public}
    assert len(kept) >= len(pieces) / 2
    return {data[:64]} | kept


def requests_for(key: Path, token: str, paper_id: str) -> list[str]:
    """Addresses by which somebody with a sitting's token would ask for a key record: real path, traversal, by name."""
    name, up = key.name, ("..", "%2e%2e", "%2E%2E", "..%2f..", "..%5c..", "%252e%252e", "....//....", ".%00.")
    forms = [str(key), f"/{key}", f"//{key}", f"/{name}", f"/keys/{name}", f"/desk/keys/{name}", f"/static/{name}", f"/files{key}",
             f"/sit/{token}{key}", f"/sit/{token}/{name}", f"/sit/{token}/keys", f"/sit/{token}?file={key}", f"/sit/{token}/key",
             f"/sit/{paper_id}", f"/sit/{name}", f"/bench/{token}", f"/bench/{token}/{name}", f"/room/{name}", f"/sit/{token}/print?file={key}"]
    for dots in up:
        for root in ("", "/room", "/sit", f"/sit/{token}"):
            forms += [f"{root}/{dots}/desk/keys/{name}", f"{root}/{dots}/{dots}/desk/keys/{name}", f"{root}/{dots}%2fdesk%2fkeys%2f{name}"]
    return forms


def served_leaks(room, key: Path, token: str, paper_id: str) -> list[str]:
    """Every such request that is answered with anything of the key record."""
    record = json.loads(key.with_suffix(".json").read_bytes())
    words = [one["working"].encode() for one in record["keys"]] + [one["family_sha256"].encode() for one in record["keys"]]
    words += [json.dumps(one["working"]).encode() for one in record["keys"]] + [*parts_of(key.with_suffix(".key"))]
    found = []
    for path in requests_for(key, token, paper_id):
        for method in ("GET", "POST"):
            try:
                _, _, body = room.ask(method, path, b"{}" if method == "POST" else None, {"Content-Type": "application/json"})
            except (OSError, ValueError):  # a path that no client may send, or one that the server cuts off
                continue
            if any(word in body for word in words):
                found.append(f"{method} {path}")
    return found
