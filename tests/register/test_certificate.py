"""A certificate: whole or refused, and a demonstration never genuine, whatever is mixed with what."""

import json
from copy import deepcopy
from datetime import date

import pytest
from hypothesis import given, settings, strategies as st

from .statements import statement
from rigcalc.errors import Refusal
from rigcalc.register.certificate import (MOST_BYTES, certificate_bytes, check_certificate, sign_certificate)
from rigcalc.register.keys import DOMAINS, Signer, canonical, card, fingerprint, read_card, signed_by
from rigcalc.register import keys

DEMONSTRATION = Signer.make("demonstration")
GENUINE = Signer.make("genuine")
SIGNED = sign_certificate(statement(invented=False), GENUINE, "A bench")
RAW = certificate_bytes(SIGNED)
DAY = date(2031, 4, 1)


def check(raw=RAW, issuer=None, on=DAY):
    return check_certificate(raw, issuer, on)


def test_a_whole_certificate_is_accepted_and_names_its_key():
    found = check()
    assert found.genuine and not found.expired and found.fingerprint == GENUINE.fingerprint
    assert found.statement.person.name == "Tomo Kessig"
    assert check(issuer=GENUINE.public).key_compared


def test_another_layout_of_the_same_content_is_the_same_certificate():
    assert check(json.dumps(SIGNED).encode()).genuine


def test_another_issuer_s_key_is_refused():
    with pytest.raises(Refusal, match="ask the issuer whether both keys are theirs"):
        check(issuer=Signer.make("genuine").public)


@settings(max_examples=600, deadline=None)
@given(at=st.integers(0, len(RAW) - 1), byte=st.integers(0, 255))
def test_no_altered_byte_of_meaning_is_accepted(at, byte):
    altered = RAW[:at] + bytes([byte]) + RAW[at + 1:]
    try:
        check(altered)
    except Refusal:
        return
    assert canonical(json.loads(altered)) == canonical(SIGNED)


@settings(max_examples=300, deadline=None)
@given(at=st.integers(0, len(RAW)), cut=st.integers(0, 40), put=st.binary(max_size=8))
def test_no_cut_or_filled_in_file_is_accepted(at, cut, put):
    altered = RAW[:at] + put + RAW[at + cut:]
    try:
        check(altered)
    except Refusal:
        return
    assert canonical(json.loads(altered)) == canonical(SIGNED)


def leaves(value, path=()):
    if isinstance(value, dict):
        for key in value:
            yield from leaves(value[key], (*path, key))
    elif isinstance(value, list):
        for place, inside in enumerate(value):
            yield from leaves(inside, (*path, place))
    else:
        yield path


def put(tree, path, value):
    made = deepcopy(tree)
    inside = made
    for step in path[:-1]:
        inside = inside[step]
    inside[path[-1]] = value
    return made


@pytest.mark.parametrize("path", list(leaves(SIGNED)), ids=lambda path: ".".join(map(str, path)))
def test_every_single_field_is_held_by_the_signature_and_by_its_type(path):
    inside = SIGNED
    for step in path:
        inside = inside[step]
    other = (not inside) if isinstance(inside, bool) else inside + 1 if isinstance(inside, int) else inside + "x"
    for value in (other, None, [inside], {"a": inside}, 1.5):
        with pytest.raises(Refusal):
            check(certificate_bytes(put(SIGNED, path, value)))


@pytest.mark.parametrize("raw", [b"", b"[]", b"null", b"7", b"{}", b"\xff\xfe", b'{"a":1,"a":1}', b"[" * 60000,
                                 b'{"form":1e3}', b'{"form":NaN}', b'{"form":' + b"9" * 5000 + b"}",
                                 b" " * (MOST_BYTES + 1), '"\\ud800"'.encode()])
def test_what_is_no_certificate_gets_one_sentence(raw):
    with pytest.raises(Refusal) as said:
        check(raw)
    assert "\n" not in str(said.value)


def test_a_name_said_twice_is_refused_even_when_both_agree():
    twice = RAW.replace(b'"number": "C-0001"', b'"number": "C-0001", "number": "C-0001"')
    assert twice != RAW
    with pytest.raises(Refusal, match="twice"):
        check(twice)


@pytest.mark.parametrize("name", ["Tomo\x1b[2J", "Tomo\nKessig", "\u202eigssek", "", "x" * 301])
def test_hidden_signs_and_empty_or_endless_names_are_never_signed(name):
    person = {"name": name, "candidate": "c01", "identified": "passport"}
    with pytest.raises(Refusal):
        sign_certificate(statement(person=person), DEMONSTRATION, "A bench")


def test_expired_and_not_yet_valid_are_said():
    assert check(on=date(2033, 3, 2)).expired and not check(on=date(2033, 3, 1)).expired
    assert check(on=date(2031, 3, 1)).not_yet


@pytest.mark.parametrize("starts, ends", [("2031-03-02", "2031-03-01"), ("2031-02-30", "2033-03-01"), ("soon", "later")])
def test_impossible_dates_are_never_signed(starts, ends):
    with pytest.raises(Refusal):
        sign_certificate(statement(validity={"starts": starts, "ends": ends, "why": "x"}), DEMONSTRATION, "A bench")


def test_no_maker_s_chart_no_certificate():
    for signer, invented in ((DEMONSTRATION, True), (GENUINE, False)):
        with pytest.raises(Refusal, match="enter the sleeve and tool maker's chart"):
            sign_certificate(statement(invented=invented, chart={"line": "x", "kind": "common practice"}), signer, "A")


def test_a_certificate_without_its_caution_is_refused():
    with pytest.raises(Refusal, match="without its caution"):
        sign_certificate(statement(cautions=["be good"]), DEMONSTRATION, "A")


def test_an_invented_shop_gets_a_demonstration_and_never_more():
    with pytest.raises(Refusal, match="invented shop"):
        sign_certificate(statement(invented=True), GENUINE, "A")
    with pytest.raises(Refusal, match="invented shop"):
        sign_certificate(statement(invented=False), DEMONSTRATION, "A")
    found = check(certificate_bytes(sign_certificate(statement(), DEMONSTRATION, "A")))
    assert found.standing == "DEMONSTRATION" and not found.genuine


@pytest.mark.parametrize("signer", [DEMONSTRATION, GENUINE], ids=["demonstration key", "genuine key"])
@pytest.mark.parametrize("domain", list(DOMAINS))
@pytest.mark.parametrize("standing", ["genuine", "DEMONSTRATION", "Genuine", "register"])
@pytest.mark.parametrize("invented", [True, False])
@pytest.mark.parametrize("named", ["own", "other"])
def test_in_every_mix_only_the_two_straight_ones_pass(signer, domain, standing, invented, named):
    """Somebody holds the private key itself and signs whatever they like, past every check of the signing code."""
    other = GENUINE if signer is DEMONSTRATION else DEMONSTRATION
    key = signer.key if named == "own" else other.key
    mixed = {"form": 1, "kind": "certificate of competence", "standing": standing,
             "statement": statement(invented=invented),
             "issuer": {"name": "A", "key": key, "fingerprint": fingerprint(key)}}
    mixed["signature"] = signer._private.sign(DOMAINS[domain] + canonical(mixed)).hex()
    straight = (named == "own" and domain == f"certificate {standing}" and invented == (standing == "DEMONSTRATION")
                and keys.standing_of(signer.purpose) == standing)
    if straight:
        assert check(certificate_bytes(mixed)).genuine == (signer is GENUINE)
    else:
        with pytest.raises(Refusal):
            check(certificate_bytes(mixed))


def test_a_demonstration_key_file_never_stands_for_a_genuine_issuer():
    told = card(DEMONSTRATION, "A") | {"standing": "genuine"}
    with pytest.raises(Refusal):
        read_card(json.dumps(told).encode())
    with pytest.raises(Refusal):
        check(issuer=DEMONSTRATION.public)


def test_a_register_signature_is_no_certificate_signature():
    register = Signer.make("register")
    signature = register.sign("register entry", canonical({"a": 1}))
    assert not signed_by(register.key, "certificate genuine", canonical({"a": 1}), signature)
