"""A lesson's page begun in less time: its templates are compiled once for the server, not once for every page.

Voilà makes a new exporter for each page, which would compile the same ten templates anew (about 0.1 s before the first word).
"""

from __future__ import annotations

import voila.notebook_renderer
from jinja2 import BytecodeCache
from voila.exporter import VoilaExporter

__all__ = ["compile_templates_once"]


class Compiled(BytecodeCache):
    """Compiled templates in memory; one whose text has changed is compiled anew."""

    def __init__(self) -> None:
        self._kept = {}

    def load_bytecode(self, bucket) -> None:
        bucket.code = self._kept.get((bucket.key, bucket.checksum))

    def dump_bytecode(self, bucket) -> None:
        self._kept[bucket.key, bucket.checksum] = bucket.code


COMPILED = Compiled()


class QuickExporter(VoilaExporter):
    def _create_environment(self):
        environment = super()._create_environment()
        environment.bytecode_cache = COMPILED
        return environment


def compile_templates_once() -> None:
    """Let Voilà make its pages with the exporter that keeps what is compiled."""
    voila.notebook_renderer.VoilaExporter = QuickExporter
