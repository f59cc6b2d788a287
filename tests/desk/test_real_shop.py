"""A shop that is not the invented sample: no chart, no certificate; its own blueprint and judges, and the genuine key."""

import json
from dataclasses import replace

import pytest

from rigcalc.desk import work
from rigcalc.errors import Refusal
from rigcalc.home import installed_folder
from rigcalc.register.certificate import check_certificate

from .bench_of_two import DECLARED, all_shown, sit, work_at_bench
from .test_work import decide


def test_a_practice_shop_gives_no_certificate(tmp_path, sample_shop):
    desk = work.open_desk(tmp_path / "practice", replace(sample_shop, charts=(), invented=False))
    class_id = work.set_class(desk, "class", "Tomo Kessig", "Ines Varrow")
    assert any("practice shop" in one for one in work.facts_in_the_way(desk, class_id, "c01"))


def test_a_real_shop_with_its_own_blueprint_signs_with_the_genuine_key(tmp_path, sample_shop):
    real = replace(sample_shop, invented=False, name="A real bench",
                   charts=tuple(replace(chart, invented=False) for chart in sample_shop.charts))
    desk = work.open_desk(tmp_path / "real", real)
    class_id = all_shown(desk)
    assert any("invented sample's" in one for one in work.blockers(desk, class_id, "c01", DECLARED))
    assert work.notes_before_setting(desk, work.blueprint_in_force(desk))[0].startswith("NO CERTIFICATE can come")
    sample = (installed_folder() / "quizzes" / "blueprints" / "narrow.toml").read_text(encoding="utf-8")
    own = desk.home / "working" / "quizzes" / "blueprints" / "narrow.toml"
    own.parent.mkdir(parents=True)
    own.write_text(sample.replace("invented = true", "invented = false"), encoding="utf-8")
    class_id = work.set_class(desk, "second class", "Tomo Kessig", "Ines Varrow")
    with pytest.raises(Refusal, match="not invented with a cut by Ines Varrow, an invented person"):
        work.set_papers(desk, class_id, "Ines Varrow")
    mended = (("invented = true", "invented = false"), ("Ines Varrow", "Mirel Tandoe"), ("version = 2", "version = 3"))
    for old, new in mended:
        sample = sample.replace(old, new)
    own.write_text(sample, encoding="utf-8")
    assert not any("NO CERTIFICATE" in one for one in work.notes_before_setting(desk, work.blueprint_in_force(desk)))
    work.set_papers(desk, class_id, "Ines Varrow")
    sit(desk, class_id)
    work.mark_papers(desk, class_id, "Osk Tamberlin")
    work_at_bench(desk, class_id, set_id="set-1", c01="right")
    decide(desk, class_id)
    found = check_certificate(json.dumps(work.certify(desk, class_id, "c01")).encode())
    assert found.genuine and found.fingerprint == desk.issuer().fingerprint and not found.statement.invented
