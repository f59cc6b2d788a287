"""A page as it comes out of the printer, and what stands on the sheets: their words, and how large they are."""

from __future__ import annotations

import io
import unicodedata

from pypdf import PdfReader

__all__ = ["printed", "sizes", "words"]


def printed(chromium, html: str) -> list[str]:
    """The words of each sheet of a page, on the paper that it names itself."""
    page = chromium.new_page()
    page.set_content(html)
    made = page.pdf(prefer_css_page_size=True)
    page.close()
    return words(made)


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
