"""What the register says of a certificate: withdrawn, suspended, lifted, replaced; and the command that asks it."""

import pytest

from rigcalc.cli import main
from rigcalc.desk import work
from rigcalc.errors import Refusal
from rigcalc.shop.load import load_shop, sample_shop_path

from desk.bench_of_two import DECLARED, all_shown


@pytest.fixture
def desk(tmp_path, monkeypatch):
    monkeypatch.setattr("os.fsync", lambda handle: None)
    return work.open_desk(tmp_path / "home", load_shop(sample_shop_path()))


def signed(desk) -> tuple[str, str]:
    class_id = all_shown(desk)
    return class_id, again(desk, class_id)


def again(desk, class_id) -> str:
    work.decide(desk, class_id, "c01", "competent", "Bettan Roole", "All shown.", DECLARED)
    return work.certify(desk, class_id, "c01")["statement"]["number"]


def asked(capsys, desk, number, *more) -> tuple[int, str]:
    status = main(["certificate", str(desk.folder / "certificates" / f"{number}.json"), *more])
    told = capsys.readouterr()
    return status, told.out + told.err


def test_suspended_lifted_and_withdrawn_with_reason_and_person(desk, capsys):
    _, number = signed(desk)
    folder = ("--register", str(desk.home))
    assert "By the register: in force." in asked(capsys, desk, number, *folder)[1]
    for act, state in (("suspended", "suspended"), ("lifted", "in force"), ("withdrawn", "withdrawn")):
        assert work.change_standing(desk, number, act, "Bettan Roole", f"Because of {act}.").state == state
        _, told = asked(capsys, desk, number, *folder)
        assert f"By the register: {state if state == 'in force' else state.upper()}." in told
        assert "by Bettan Roole, entry" in told and f"Because of {act}." in told and "ask them" not in told
    assert "unless the issuer has withdrawn it: ask them" in asked(capsys, desk, number)[1]
    assert desk.register.check() == [] and len(desk.register.entries("certificate standing")) == 3


@pytest.mark.parametrize("before, act, by, reason, told", [
    ((), "lifted", "Bettan Roole", "So.", "neither withdrawn nor suspended"), (("withdrawn",), "lifted", "Bettan Roole", "So.", "which is withdrawn"),
    (("withdrawn",), "suspended", "Bettan Roole", "So.", "stays withdrawn"), (("suspended",), "suspended", "Bettan Roole", "So.", "which is suspended"),
    ((), "torn", "Bettan Roole", "So.", "the act 'torn'"), ((), "withdrawn", " ", "So.", "name"), ((), "withdrawn", "Bettan Roole", " ", "a reason of 0"),
    ((), "withdrawn", "Bettan Roole", "x" * 401, "a reason of 401")])
def test_an_act_that_cannot_be_is_not_entered(desk, before, act, by, reason, told):
    _, number = signed(desk)
    for one in before:
        work.change_standing(desk, number, one, "Bettan Roole", "So.")
    with pytest.raises(Refusal, match=told):
        work.change_standing(desk, number, act, by, reason)
    assert len(desk.register.entries("certificate standing")) == len(before)
    with pytest.raises(Refusal, match="signed at this desk"):
        work.change_standing(desk, "no-such", "withdrawn", "Bettan Roole", "So.")


def test_a_newer_certificate_says_which_it_replaces(desk, capsys):
    class_id, first = signed(desk)
    second = again(desk, class_id)
    third = again(desk, class_id)
    assert work.certificate(desk, first)[0]["statement"]["replaces"] == []
    assert work.certificate(desk, second)[0]["statement"]["replaces"] == [first]
    assert work.certificate(desk, third)[0]["statement"]["replaces"] == [second]
    from rigcalc.register.page import certificate_page
    assert f"Replaces certificate {first}." in certificate_page(work.certificate(desk, second)[0])
    status, told = asked(capsys, desk, first, "--register", str(desk.folder))
    assert "By the register: REPLACED." in told and f"Replaced by certificate {second}" in told
    assert work.standing_of(desk, third).in_force


def test_a_later_not_yet_is_said(desk, capsys):
    class_id, number = signed(desk)
    work.decide(desk, class_id, "c01", "not yet", "Bettan Roole", "Signed in error.", DECLARED)
    _, told = asked(capsys, desk, number, "--register", str(desk.home))
    assert "DECIDED AGAIN: NOT YET" in told and "Signed in error." in told


def test_another_register_or_one_that_is_not_whole_proves_nothing(desk, capsys, tmp_path):
    _, number = signed(desk)
    other = work.open_desk(tmp_path / "other", desk.shop)
    work.set_class(other, "other", "Hana Obrey", "Ines Varrow")
    assert "By the register: NOT ENTERED." in asked(capsys, desk, number, "--register", str(other.home))[1]
    desk.register.head_path.unlink()
    _, told = asked(capsys, desk, number, "--register", str(desk.home))
    assert "By the register: NOT KNOWN." in told and "NOT whole" in told
    status, told = asked(capsys, desk, number, "--register", str(tmp_path / "none"))
    assert status == 2 and "name the folder with --register" in told
