"""Templates of a lesson's page: compiled once, and anew when their text has changed."""

from __future__ import annotations

import jinja2

from rigcalc.opening.quick_pages import Compiled


def test_a_template_is_compiled_once_for_all_environments_and_anew_when_its_text_has_changed(monkeypatch):
    compiled, texts, count = Compiled(), {"page": "Lesson {{ number }}"}, []
    once = jinja2.Environment.compile
    monkeypatch.setattr(jinja2.Environment, "compile", lambda self, *words, **more: count.append(1) or once(self, *words, **more))

    def page() -> str:
        return jinja2.Environment(loader=jinja2.DictLoader(texts), bytecode_cache=compiled).get_template("page").render(number=5)

    assert [page(), page()] == ["Lesson 5"] * 2 and len(count) == 1
    texts["page"] = "Page {{ number }}"
    assert page() == "Page 5" and len(count) == 2
