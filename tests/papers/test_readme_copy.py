"""The installed blueprint copied for a real shop, as the README says."""

from pathlib import Path

import pytest

from rigcalc.errors import Refusal
from rigcalc.papers.blueprint import installed_blueprint, load_blueprint

README = (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8")


@pytest.mark.parametrize("name", ["narrow", "full"])
def test_a_copy_that_is_no_longer_invented_is_used_as_the_readme_says(tmp_path, name):
    """Cut and `invented` changed and no more, it is refused by its version: the README names all three in one sentence."""
    asked = next(one for one in README.split(". ") if "`invented = false`" in one)
    assert "the cut score" in asked and "raise `version`" in asked
    text = installed_blueprint(name).read_text(encoding="utf-8")
    version = load_blueprint(name).version
    for judge in {one.name for one in load_blueprint(name).cut.judge} | set(load_blueprint(name).cut.set_by.replace(" and ", ", ").split(", ")):
        text = text.replace(judge, f"Sim {judge.split()[0]}dow")
    copy = tmp_path / f"{name}.toml"
    copy.write_text(text.replace("invented = true", "invented = false"), encoding="utf-8")
    with pytest.raises(Refusal, match=f"version {version + 1} or more"):
        load_blueprint(copy)
    copy.write_text(copy.read_text(encoding="utf-8").replace(f"version = {version}", f"version = {version + 1}"), encoding="utf-8")
    assert not load_blueprint(copy).invented
