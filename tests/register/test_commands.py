"""The two commands, as somebody types them."""

import json

import pytest

from rigcalc.cli import main
from rigcalc.register.certificate import certificate_bytes, certificate_sha256, sign_certificate
from rigcalc.register.keys import Signer, card

from .statements import statement

GENUINE, DEMONSTRATION = Signer.make("genuine"), Signer.make("demonstration")


@pytest.fixture
def files(tmp_path):
    made = {}
    for name, signer in (("genuine", GENUINE), ("demonstration", DEMONSTRATION)):
        made[name] = tmp_path / f"{name}.json"
        made[name].write_bytes(certificate_bytes(sign_certificate(statement(invented=signer is DEMONSTRATION), signer, "A")))
        made[name + " key"] = tmp_path / f"{name}-key.json"
        made[name + " key"].write_text(json.dumps(card(signer, "A")))
    return made


def run(capsys, *words):
    status = main([str(word) for word in words])
    told = capsys.readouterr()
    return status, told.out + told.err


def test_a_genuine_certificate(capsys, files):
    status, told = run(capsys, "certificate", files["genuine"], "--on", "2031-04-01")
    assert status == 0 and GENUINE.fingerprint in told and "by another way" in told
    assert "never a cable" in told and "no permission" in told and "11 of 12 marks, cut score 9, set by " in told
    status, told = run(capsys, "certificate", files["genuine"], "--on", "2031-04-01", "--key", files["genuine key"])
    assert status == 0 and "the one in the issuer's key file you gave" in told


def test_an_expired_one_says_so(capsys, files):
    status, told = run(capsys, "certificate", files["genuine"], "--on", "2033-03-02")
    assert status == 1 and "EXPIRED" in told
    with pytest.raises(SystemExit):
        run(capsys, "certificate", files["genuine"], "--on", "01.07.2027")
    assert "'01.07.2027': a day is written as year, month, day: 2027-07-01" in capsys.readouterr().err


def test_a_demonstration_never_looks_genuine(capsys, files):
    status, told = run(capsys, "certificate", files["demonstration"], "--on", "2031-04-01")
    assert status == 3 and told.startswith("DEMONSTRATION") and "The text is whole" not in told
    for certificate, key in (("demonstration", "genuine key"), ("genuine", "demonstration key")):
        status, told = run(capsys, "certificate", files[certificate], "--key", files[key])
        assert status == 2 and told.startswith("Refused")


def test_a_withdrawn_genuine_certificate_is_no_longer_in_force(capsys, register, tmp_path):
    who = {"class": "a", "candidate": {"id": "c01"}}
    decision = register.append("decision", who | {"decision": "competent"})
    made = sign_certificate(statement(invented=False, register={"entry": decision.number, "hash": decision.hash}), GENUINE, "A")
    file = tmp_path / "made.json"
    file.write_bytes(certificate_bytes(made))
    words = ("certificate", file, "--on", "2031-04-01", "--register", tmp_path)
    assert run(capsys, *words)[0] == 1  # not entered
    register.append("certificate signed", who | {"certificate": "C-0001", "certificate_sha256": certificate_sha256(made)})
    status, told = run(capsys, *words)
    assert status == 0 and "By the register: in force." in told
    register.append("certificate standing", {"certificate": "C-0001", "act": "withdrawn", "by": "Bettan Roole", "reason": "Signed in error."})
    status, told = run(capsys, *words)
    assert status == 1 and "By the register: WITHDRAWN." in told and "by Bettan Roole" in told and "Signed in error." in told


def test_an_altered_file_a_folder_and_no_file_are_refused_in_one_sentence(capsys, files, tmp_path):
    altered = tmp_path / "altered.json"
    altered.write_bytes(files["genuine"].read_bytes().replace(b"Tomo Kessig", b"Dela Orrin"))
    for path in (altered, tmp_path, tmp_path / "none.json"):
        status, told = run(capsys, "certificate", path)
        assert status == 2 and told.startswith("Refused") and told.count("\n") == 1
    status, told = run(capsys, "certificate", altered)
    assert "altered" in told


def test_the_register_command_names_what_is_wrong(capsys, register, edit, tmp_path):
    status, told = run(capsys, "register", "--folder", tmp_path)
    assert status == 0 and "5 entries" in told and "is whole" in told
    edit("DELETE FROM entries WHERE number=5")
    status, told = run(capsys, "register", "--folder", tmp_path)
    assert status == 1 and "Entry 5 is missing" in told and "NOT whole" in told
    register.path.write_bytes(b"not a database" * 100)
    status, told = run(capsys, "register", "--folder", tmp_path, "--read")
    assert status == 1 and "cannot be read as a register" in told
    status, told = run(capsys, "register", "--folder", tmp_path / "none")
    assert status == 2 and "holds no register" in told


def test_the_register_command_prints_what_it_holds(capsys, register, tmp_path):
    status, told = run(capsys, "register", "--folder", tmp_path, "--read")
    assert status == 0 and told.count("paper issued") == 5
