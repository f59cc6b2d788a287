from __future__ import annotations

import pytest

from rigcalc.room import access


def test_a_token_opens_its_own_thing_and_is_filed_only_as_a_hash(tmp_path):
    token = access.grant(tmp_path, "sit", "p-1")
    assert access.lookup(tmp_path, token) == {"kind": "sit", "id": "p-1"}
    assert len(token) == 24 and access.lookup(tmp_path, token.upper()) == {"kind": "sit", "id": "p-1"}
    filed = [path for path in tmp_path.rglob("*") if path.is_file()]
    assert len(filed) == 1 and token not in filed[0].name and token.encode() not in filed[0].read_bytes()
    assert filed[0].stat().st_mode & 0o777 == 0o600


@pytest.mark.parametrize("token", ["", "x", "../" * 10, "aaaa-aaaa-aaaa-aaaa-aaaa", "aaaa-aaaa-aaaa-aaaa-aaaa\n", "é" * 43, None, 7, "A" * 10000])
def test_anything_else_opens_nothing(tmp_path, token):
    access.grant(tmp_path, "sit", "p-1")
    assert access.lookup(tmp_path, token) is None


def test_tokens_differ_and_can_be_closed(tmp_path):
    tokens = [access.grant(tmp_path, "sit", "p-1"), access.grant(tmp_path, "sit", "p-1"), access.grant(tmp_path, "sit", "p-2")]
    assert len(set(tokens)) == 3
    assert access.revoke(tmp_path, "sit", "p-1") == 2
    assert [access.lookup(tmp_path, token) is not None for token in tokens] == [False, False, True]


@pytest.mark.parametrize("kind, id", [("desk", "p-1"), ("sit", "../keys/p-1"), ("sit", ""), ("bench", "a/b")])
def test_only_plain_names_are_granted(tmp_path, kind, id):
    with pytest.raises(ValueError):
        access.grant(tmp_path, kind, id)


def test_a_damaged_entry_opens_nothing(tmp_path):
    token = access.grant(tmp_path, "sit", "p-1")
    path = next((tmp_path / "access").iterdir())
    for text in ("", "[]", '{"kind":"sit","id":"../desk/keys/p-1"}', '{"kind":"root","id":"p-1"}', '{"kind":"sit"}'):
        path.write_text(text)
        assert access.lookup(tmp_path, token) is None


def test_a_token_that_was_opened_before_is_looked_at_again(tmp_path):
    token = access.grant(tmp_path, "sit", "p-1")
    assert access.lookup(tmp_path, token)["id"] == access.lookup(tmp_path, token)["id"] == "p-1"
    access.lookup(tmp_path, token)["id"] = "p-9"
    assert access.lookup(tmp_path, token)["id"] == "p-1"
    next((tmp_path / "access").iterdir()).write_text('{"kind":"sit","id":"p-22"}')
    assert access.lookup(tmp_path, token)["id"] == "p-22"
    access.revoke(tmp_path, "sit", "p-22")
    assert access.lookup(tmp_path, token) is None
