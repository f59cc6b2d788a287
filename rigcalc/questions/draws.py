"""Draws that nobody can foresee without the class secret: HKDF and HMAC-SHA256, with rejection sampling.

Source of the scheme: RFC 5869 (HKDF, extract and expand), RFC 2104 (HMAC). The key of a stream is
HKDF(secret, label); its bytes are HMAC(key, 0), HMAC(key, 1), ... A number below n takes just enough bits and
throws away what is n or more, so each number is as likely as the next.
"""

from __future__ import annotations

import hashlib
import hmac
from collections.abc import Sequence
from typing import TypeVar

__all__ = ["Stream"]

Item = TypeVar("Item")
_SALT = b"rigcalc draws, form 1"


def _hmac(key: bytes, message: bytes) -> bytes:
    return hmac.digest(key, message, hashlib.sha256)


class Stream:
    """An endless row of draws that depends on a secret and a label alone.

    Parameters
    ----------
    secret : bytes
        The class secret (32 random bytes), at least 8 bytes.
    label : str
        What the draws are for, such as a paper and a slot. Two labels give two unrelated streams.

    Example
    -------
    >>> one = Stream(b"0123456789abcdef", "paper 1, slot 2")
    >>> [one.below(6) for _ in range(5)] == [Stream(b"0123456789abcdef", "paper 1, slot 2").below(6)] * 5
    False
    >>> Stream(b"0123456789abcdef", "a").below(1)
    0
    """

    def __init__(self, secret: bytes, label: str) -> None:
        if not isinstance(secret, (bytes, bytearray)) or len(secret) < 8:
            raise ValueError("a stream needs a secret of at least 8 bytes")
        self._secret = bytes(secret)
        self.label = label
        extracted = _hmac(_SALT, self._secret)
        self._key = _hmac(extracted, label.encode("utf-8") + b"\x01")
        self._counter = 0
        self._left = b""

    def __repr__(self) -> str:
        return f"Stream(label={self.label!r})"

    def _bytes(self, count: int) -> bytes:
        while len(self._left) < count:
            self._left += _hmac(self._key, self._counter.to_bytes(8, "big"))
            self._counter += 1
        taken, self._left = self._left[:count], self._left[count:]
        return taken

    def sub(self, part: str) -> Stream:
        """A stream of its own for one part; how much was drawn here before makes no difference to it."""
        return Stream(self._secret, f"{self.label}\x1f{part}")

    def below(self, n: int) -> int:
        """A whole number from 0 to n - 1, each as likely as the next."""
        if n < 1:
            raise ValueError("below() needs a whole number of at least 1")
        bits = (n - 1).bit_length()
        size, mask = (bits + 7) // 8, (1 << bits) - 1
        while True:
            number = int.from_bytes(self._bytes(size), "big") & mask
            if number < n:
                return number

    def pick(self, items: Sequence[Item]) -> Item:
        """One of the items, each as likely as the next."""
        return items[self.below(len(items))]

    def shuffled(self, items: Sequence[Item]) -> list[Item]:
        """The items in a drawn order, every order as likely as the next."""
        row = list(items)
        for last in range(len(row) - 1, 0, -1):
            other = self.below(last + 1)
            row[last], row[other] = row[other], row[last]
        return row

    def some(self, items: Sequence[Item], count: int) -> list[Item]:
        """`count` different items, in a drawn order."""
        if count > len(items):
            raise ValueError(f"{count} items cannot be taken from {len(items)}")
        return self.shuffled(items)[:count]
