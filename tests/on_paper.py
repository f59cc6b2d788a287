"""What stands on the pages of a PDF: their words, and how large they are."""

from __future__ import annotations

import io
import unicodedata

from pypdf import PdfReader

__all__ = ["sizes", "words"]


def words(pdf: bytes) -> list[str]:
    """The words of each page, one blank between them, joined letters taken apart."""
    return [" ".join(unicodedata.normalize("NFKC", page.extract_text()).split()) for page in PdfReader(io.BytesIO(pdf)).pages]


def sizes(pdf: bytes) -> list[tuple[str, float]]:
    """Each run of words with its height in points, in the order of the pages."""
    found: list[tuple[str, float]] = []

    def seen(text: str, now: list[float], matrix: list[float], _, size: float) -> None:
        if text.strip():
            found.append((text.strip(), abs(size * matrix[3] * now[3])))

    for page in PdfReader(io.BytesIO(pdf)).pages:
        page.extract_text(visitor_text=seen)
    return found
