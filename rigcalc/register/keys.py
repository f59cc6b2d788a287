"""Signing keys: Ed25519, one for the register, one for genuine certificates, one for demonstrations.

A key made for demonstrations can be told from a genuine one by its public half alone: its fingerprint
begins with `de`, and a genuine key is made again until its own does not. So a demonstration key cannot
pass as genuine, whatever the file says and whoever signed it.
"""

from __future__ import annotations

import hashlib
import json
import os
import re
from dataclasses import dataclass
from pathlib import Path

from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives import serialization
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey, Ed25519PublicKey

from rigcalc.errors import Refusal
from rigcalc.home import private_folder, sync_folder

__all__ = ["DOMAINS", "PublicKey", "Signer", "canonical", "card", "fingerprint", "keep_private", "kept_key",
           "private_folder", "purpose_of", "read_card", "signed_by", "write_whole"]

# Every signature starts with one of these words, so a signature made for one thing never serves another.
DOMAINS = {
    "register entry": b"rigcalc register entry, form 1\x00",
    "register head": b"rigcalc register head, form 1\x00",
    "certificate genuine": b"rigcalc certificate of competence, genuine, form 1\x00",
    "certificate DEMONSTRATION": b"rigcalc certificate of competence, DEMONSTRATION, form 1\x00",
}
MAY_SIGN = {
    "register": ("register entry", "register head"),
    "genuine": ("certificate genuine",),
    "demonstration": ("certificate DEMONSTRATION",),
}
_DEMONSTRATION_FIRST_BYTE = 0xDE
_HEX_KEY = re.compile(r"[0-9a-f]{64}\Z")
_HEX_SIGNATURE = re.compile(r"[0-9a-f]{128}\Z")


def canonical(value: object) -> bytes:
    """The one way a value is written before it is hashed or signed: sorted keys, no spaces, UTF-8, no floats.

    Example
    -------
    >>> canonical({"b": [1, True], "a": "é"}).decode()
    '{"a":"é","b":[1,true]}'
    """
    _refuse_floats(value)
    return json.dumps(value, sort_keys=True, separators=(",", ":"), ensure_ascii=False, allow_nan=False).encode("utf-8")


def _refuse_floats(value: object) -> None:
    if isinstance(value, float):
        raise Refusal(f"the number {value!r} in something to be signed", "whole numbers and text",
                      "write the number as text with its unit")
    if isinstance(value, dict):
        for key, inside in value.items():
            if not isinstance(key, str):
                raise Refusal(f"the name {key!r} in something to be signed", "names as text", "write the name as text")
            _refuse_floats(inside)
    elif isinstance(value, (list, tuple)):
        for inside in value:
            _refuse_floats(inside)


def _digest(key_hex: str) -> bytes:
    return hashlib.sha256(b"rigcalc key\x00" + bytes.fromhex(key_hex)).digest()


def fingerprint(key_hex: str) -> str:
    """A public key's fingerprint, eight groups of four: short enough to be read out over the telephone.

    Example
    -------
    >>> fingerprint("00" * 32)
    'f742 78fc 0a09 af48 5e27 059c 06ca ba57'
    """
    text = _digest(key_hex)[:16].hex()
    return " ".join(text[at:at + 4] for at in range(0, 32, 4))


def purpose_of(key_hex: str) -> str:
    """`demonstration` or `genuine`, told from the public key alone."""
    return "demonstration" if _digest(key_hex)[0] == _DEMONSTRATION_FIRST_BYTE else "genuine"


def signed_by(key_hex: str, domain: str, message: bytes, signature_hex: str) -> bool:
    """Whether the key made this signature over this message for this domain."""
    if not (_HEX_KEY.match(key_hex) and _HEX_SIGNATURE.match(signature_hex)):
        return False
    try:
        Ed25519PublicKey.from_public_bytes(bytes.fromhex(key_hex)).verify(
            bytes.fromhex(signature_hex), DOMAINS[domain] + message)
    except (InvalidSignature, ValueError):
        return False
    return True


@dataclass(frozen=True)
class PublicKey:
    """The public half: enough to check, not to sign."""

    purpose: str
    key: str

    @property
    def fingerprint(self) -> str:
        return fingerprint(self.key)


class Signer:
    """A private key with the one purpose it may sign for."""

    def __init__(self, private: Ed25519PrivateKey, purpose: str) -> None:
        self._private = private
        self.purpose = purpose
        self.key = private.public_key().public_bytes_raw().hex()
        if purpose in ("genuine", "demonstration") and purpose_of(self.key) != purpose:
            raise Refusal(f"a {purpose_of(self.key)} key where a {purpose} key belongs", f"a {purpose} key",
                          "put the right key file back from the copy that was kept")

    @property
    def fingerprint(self) -> str:
        return fingerprint(self.key)

    @property
    def public(self) -> PublicKey:
        return PublicKey(self.purpose, self.key)

    def sign(self, domain: str, message: bytes) -> str:
        """The signature as hex; refuses a domain that is not this key's."""
        if domain not in MAY_SIGN[self.purpose]:
            raise Refusal(f"a {self.purpose} key for '{domain}'", ", ".join(MAY_SIGN[self.purpose]),
                          "sign with the key made for it")
        return self._private.sign(DOMAINS[domain] + message).hex()

    @classmethod
    def make(cls, purpose: str) -> Signer:
        """A new key; demonstration and genuine keys are drawn again until the public half tells which it is."""
        while True:
            private = Ed25519PrivateKey.generate()
            public = private.public_key().public_bytes_raw().hex()
            if purpose == "register" or purpose_of(public) == purpose:
                return cls(private, purpose)

    def private_pem(self) -> bytes:
        return self._private.private_bytes(serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8,
                                           serialization.NoEncryption())


def keep_private(path: Path, content: bytes) -> None:
    """Write a whole file that only its owner may read (0600), synced, in one step, never over an older one."""
    temporary = path.with_name(f".{path.name}.{os.getpid()}")
    try:
        _write_synced(temporary, content)
        os.link(temporary, path)
    finally:
        temporary.unlink(missing_ok=True)
    sync_folder(path.parent)


def write_whole(path: Path, content: bytes) -> None:
    """Write a whole private file (0600), synced, in one step, over what stood there."""
    temporary = path.with_name(f".{path.name}.{os.getpid()}.{os.urandom(4).hex()}")
    _write_synced(temporary, content)
    os.replace(temporary, path)
    sync_folder(path.parent)


def _write_synced(path: Path, content: bytes) -> None:
    with open(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600), "wb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())


def kept_key(folder: Path, purpose: str) -> Signer:
    """The key of that purpose in this folder, made at first use (private, 0600)."""
    path = private_folder(folder) / f"{purpose}.pem"
    if not path.exists():
        try:
            keep_private(path, Signer.make(purpose).private_pem())
        except FileExistsError:  # another process made it a moment ago: theirs stands
            pass
    try:
        private = serialization.load_pem_private_key(path.read_bytes(), password=None)
    except ValueError:
        raise Refusal(f"the key file {path}", "an Ed25519 private key as this desk writes it",
                      "put the file back from the copy that was kept") from None
    if not isinstance(private, Ed25519PrivateKey):
        raise Refusal(f"the key file {path}", "an Ed25519 private key as this desk writes it",
                      "put the file back from the copy that was kept")
    return Signer(private, purpose)


def card(signer: Signer | PublicKey, name: str) -> dict:
    """What an issuer hands to whoever wants to check certificates: the public key, by another way than the file."""
    return {"form": 1, "kind": "issuer key", "standing": standing_of(signer.purpose), "name": name,
            "key": signer.key, "fingerprint": signer.fingerprint}


def standing_of(purpose: str) -> str:
    """How a key's purpose is written on paper."""
    return "DEMONSTRATION" if purpose == "demonstration" else purpose


def read_card(raw: bytes) -> PublicKey:
    """Read an issuer's key file; refuses one that does not agree with itself."""
    try:
        read = json.loads(raw.decode("utf-8"))
        key, standing = read["key"], read["standing"]
        sound = (read["kind"] == "issuer key" and isinstance(key, str) and _HEX_KEY.match(key)
                 and standing == standing_of(purpose_of(key)) and read["fingerprint"] == fingerprint(key))
    except (ValueError, KeyError, TypeError, RecursionError):
        sound = False
    if not sound:
        raise Refusal("a file that is no issuer's key, or does not agree with itself",
                      "the issuer key file that a desk writes", "ask the issuer for the file again")
    return PublicKey(purpose_of(key), key)
