"""Keys: private, each for its purpose, a demonstration key known by its public half."""

import json

import pytest

from rigcalc.errors import Refusal
from rigcalc.register.keys import DOMAINS, Signer, canonical, card, kept_key, purpose_of, read_card, signed_by


@pytest.mark.parametrize("purpose", ["genuine", "demonstration"])
def test_the_public_half_tells_the_purpose(purpose):
    for _ in range(20):
        signer = Signer.make(purpose)
        assert purpose_of(signer.key) == purpose
        assert signer.fingerprint.startswith("de") == (purpose == "demonstration")


def test_a_key_signs_for_its_own_purpose_only():
    for purpose, own in (("genuine", "certificate genuine"), ("demonstration", "certificate DEMONSTRATION")):
        signer = Signer.make(purpose)
        signature = signer.sign(own, b"text")
        for domain in DOMAINS:
            assert signed_by(signer.key, domain, b"text", signature) == (domain == own)
            if domain != own:
                with pytest.raises(Refusal, match="sign with the key made for it"):
                    signer.sign(domain, b"text")


def test_a_key_is_kept_and_a_wrong_key_file_is_refused(tmp_path):
    assert kept_key(tmp_path, "genuine").key == kept_key(tmp_path, "genuine").key
    (tmp_path / "genuine.pem").write_bytes(kept_key(tmp_path, "demonstration").private_pem())
    with pytest.raises(Refusal, match="demonstration key where a genuine key belongs"):
        kept_key(tmp_path, "genuine")
    (tmp_path / "genuine.pem").write_text("not a key")
    with pytest.raises(Refusal, match="put the file back"):
        kept_key(tmp_path, "genuine")


def test_an_issuer_key_file_that_disagrees_with_itself_is_refused():
    told = card(Signer.make("demonstration"), "Bench")
    assert read_card(json.dumps(told).encode()).key == told["key"]
    for change in ({"standing": "genuine"}, {"fingerprint": "0"}, {"key": Signer.make("demonstration").key},
                   {"kind": "x"}, {"key": 3}):
        with pytest.raises(Refusal):
            read_card(json.dumps(told | change).encode())
    for raw in (b"[]", b"\xff", b"{", b"[" * 100000):
        with pytest.raises(Refusal):
            read_card(raw)


def test_canonical_refuses_floats_and_names_that_are_not_text():
    for value in (1.0, {"a": [1.5]}, {1: "a"}):
        with pytest.raises(Refusal):
            canonical(value)
