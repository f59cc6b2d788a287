from __future__ import annotations

import json
from datetime import datetime, timezone

import pytest

from rigcalc.bench.form import open_form
from rigcalc.bench.tasks import load_tasks
from rigcalc.papers.records import canonical, private_folder, write_synced
from rigcalc.room import access
from rigcalc.shop import load_shop, sample_shop_path

NOW = datetime(2026, 1, 5, 9, tzinfo=timezone.utc)
JSON = {"Content-Type": "application/json"}


@pytest.fixture
def form(served):
    shop = load_shop(sample_shop_path())
    gauge = min(gauge.checked_on for gauge in shop.gauges if gauge.id == "GB")
    made = open_form(load_tasks(), [{"id": "tk", "name": "Tomo <b>Kessig</b>"}], shop, "Osk Tamberlin", "f-1",
                     NOW.replace(year=gauge.year, month=gauge.month, day=gauge.day), tool="LB")
    write_synced(private_folder(served.held.room / "bench") / "f-1.json", canonical(made))
    return made, access.grant(served.held.room, "bench", "f-1")


def helped(number):
    return {"kind": "helped", "id": f"{number:016x}", "revision": number, "candidate": "tk", "at": ""}


def save(served, token, event):
    status, _, body = served.ask("POST", f"/bench/{token}/save", json.dumps(event).encode(), JSON)
    return status, json.loads(body)


def test_the_bench_page_is_served_under_a_strict_policy(served, form):
    status, headers, body = served.ask("GET", f"/bench/{form[1]}")
    policy = headers["Content-Security-Policy"]
    assert status == 200 and b"bench form" in body.lower() and b"<b>Kessig" not in body
    assert "unsafe" not in policy and "sha256-" in policy and "connect-src 'self'" in policy


def test_a_tap_is_on_the_disk_before_it_is_confirmed_and_shown_again(served, form):
    status, said = save(served, form[1], helped(1))
    assert (status, said["saved"], said["revision"]) == (200, True, 1)
    kept = (served.held.room / "bench" / "f-1.jsonl").read_text().splitlines()
    assert [json.loads(line)["id"] for line in kept] == [helped(1)["id"]]
    assert helped(1)["id"].encode() in served.ask("GET", f"/bench/{form[1]}")[2]


def test_two_devices_are_told_and_lose_nothing(served, form):
    save(served, form[1], helped(1))
    status, said = save(served, form[1], helped(1) | {"id": "f" * 16})
    assert status == 409 and [event["id"] for event in said["events"]] == [helped(1)["id"]]


@pytest.mark.parametrize("body, headers, status", [
    (b"{", JSON, 400), (b"[]", JSON, 400), (b"x" * 20_000, JSON, 413), (b"x" * 5_000, JSON, 413), (b"{}", {}, 415),
    (b"{}", JSON | {"Origin": "http://elsewhere.example"}, 403)])
def test_what_is_no_tap_is_refused(served, form, body, headers, status):
    assert served.ask("POST", f"/bench/{form[1]}/save", body, headers)[0] == status
    kept = served.held.room / "bench" / "f-1.jsonl"
    assert not kept.exists() or kept.read_bytes() == b""


def test_only_the_forms_own_addresses_are_there(served, form):
    for path in (f"/bench/{form[1]}/save", f"/bench/{form[1]}/keys", f"/sit/{form[1]}", f"/bench/{served.token}"):
        assert served.ask("GET", path)[0] == 404
    assert served.ask("POST", f"/bench/{form[1]}/hand-in", b"{}", JSON)[0] == 404
