"""The door: who is let in, from where, with what, and how the answers are dressed."""

from __future__ import annotations

import pytest
from starlette.testclient import TestClient
from tests.web.conftest import HERE, PORT, token_of

from spreadwright.web.app import make_app
from spreadwright.web.certificate import own_certificate
from spreadwright.web.guard import LARGEST_REQUEST
from spreadwright.web.serving import Door, about_the_door, code_in_words
from spreadwright.web.sessions import MOST_SESSIONS, MOST_WRONG, Pairing, Sessions
from spreadwright.web.settings import Settings, own_hosts


@pytest.mark.parametrize(
    "host", ["evil.example", "127.0.0.1", f"127.0.0.1.evil.example:{PORT}", "", f"localhost:{PORT + 1}"]
)
def test_a_request_to_another_name_is_turned_away(client, host):
    assert client.get("/", headers={"host": host}).status_code == 421


@pytest.mark.parametrize("host", [f"localhost:{PORT}", f"LOCALHOST:{PORT}", f"[::1]:{PORT}"])
def test_this_machines_own_names_are_answered(client, host):
    assert client.get("/", headers={"host": host}).status_code == 200


def test_every_answer_is_strict(client, name):
    for path in ("/", "/nowhere", "/api/trips", f"/trips/{name}/spread", "/static/page.css"):
        headers = client.get(path).headers
        policy = headers["content-security-policy"]
        assert "default-src 'none'" in policy
        assert "unsafe" not in policy
        assert "http:" not in policy
        assert headers["x-content-type-options"] == "nosniff"
        assert headers["x-frame-options"] == "DENY"
    assert client.get("/").headers["cache-control"] == "no-store"


def test_the_sessions_cookie_is_kept_from_scripts_and_other_sites(app):
    fresh = TestClient(app, base_url=HERE)
    cookie = fresh.get("/").headers["set-cookie"]
    assert "HttpOnly" in cookie
    assert "SameSite=Strict" in cookie
    assert "set-cookie" not in fresh.get("/").headers


@pytest.mark.parametrize(
    ("headers", "secure"),
    [
        ({"sec-fetch-site": "none"}, True),  # a browser that counts this address as trustworthy, as it says thereby
        ({"sec-fetch-site": "same-origin", "cookie": "spreadwright=of-a-server-that-is-gone"}, True),
        ({"sec-fetch-site": "same-origin"}, False),  # it has been here, and did not keep a secure one
        ({}, False),  # a program, or a browser that would drop it on plain http
    ],
)
def test_on_the_loopback_the_cookie_is_secure_for_browsers_that_keep_it(app, headers, secure):
    cookie = TestClient(app, base_url=HERE).get("/", headers=headers).headers["set-cookie"]
    assert cookie.startswith("spreadwright=")
    assert cookie.endswith("; Secure") == secure


def test_on_an_encrypted_connection_the_cookie_insists_on_it(app):
    cookie = TestClient(app, base_url=f"https://127.0.0.1:{PORT}").get("/").headers["set-cookie"]
    assert cookie.startswith("__Host-spreadwright=")
    assert cookie.endswith("; Secure")


def test_nothing_changes_without_the_sessions_token(client, name, text):
    asked = [("/units", {"units": "metric"}), ("/trips", {"text": text}), (f"/trips/{name}/text", {"text": text})]
    for path, form in asked:
        assert client.post(path, data=form).status_code == 403
        assert client.post(path, data={**form, "token": "wrong"}).status_code == 403
    for path in (f"/api/trips/{name}/plan", f"/api/trips/{name}/rigs"):
        assert client.post(path).status_code == 403
        assert client.post(path, headers={"x-spreadwright-token": "wrong"}).status_code == 403
    assert client.delete(f"/api/trips/{name}").status_code == 403


def test_another_sessions_token_opens_nothing(app, client):
    other = TestClient(app, base_url=HERE)
    stolen = token_of(other.get("/").text)
    assert client.post("/units", data={"units": "metric", "token": stolen}).status_code == 403


@pytest.mark.parametrize(
    "headers", [{"origin": "https://evil.example"}, {"origin": "null"}, {"sec-fetch-site": "cross-site"}]
)
def test_a_page_of_another_site_cannot_ask_for_a_change(client, token, headers):
    form = {"units": "metric", "token": token["x-spreadwright-token"]}
    assert client.post("/units", data=form, headers=headers).status_code == 403
    assert client.post("/units", data=form, headers={"origin": HERE}).status_code == 303


def test_too_large_a_request_is_refused_before_and_while_it_is_read(client, token):
    assert client.post("/api/trips", content=b"x" * (LARGEST_REQUEST + 1), headers=token).status_code == 413

    def streamed():
        for _ in range(LARGEST_REQUEST // 65536 + 2):
            yield b"x" * 65536

    assert client.post("/api/trips", content=streamed(), headers=token).status_code == 413


def test_a_path_outside_is_not_reached(client, trip_file):
    for path in (
        "/static/../app.py",
        "/static/%2e%2e/app.py",
        "/static/..%2f..%2fapp.py",
        "/trips/..%2f..%2ftrip.toml",
        "/trips/%2e%2e",
    ):
        assert client.get(path).status_code in {404, 422}


def test_another_machine_has_to_pair_first_and_a_code_serves_once(tmp_path):
    app = make_app(Settings(hosts=own_hosts(PORT, "192.168.1.7"), folder=tmp_path, paired=True))
    base = f"http://192.168.1.7:{PORT}"
    phone = TestClient(app, base_url=base, follow_redirects=False, client=("192.168.1.20", 4000))
    assert phone.get("/").headers["location"] == "/pair"
    assert phone.get("/api/trips").status_code == 401
    assert phone.get("/static/page.css").status_code == 200
    assert phone.get("/pair").status_code == 200
    assert phone.post("/pair", data={"code": "WRONG"}).status_code == 403
    code = app.state.parts.pairing.code
    assert code in phone.get(f"/pair?code={code}").text  # asking with the code does not use it up
    paired = phone.post("/pair", data={"code": code.lower()})
    assert paired.status_code == 303
    assert "HttpOnly; SameSite=Strict" in paired.headers["set-cookie"]
    assert phone.get("/").status_code == 200
    second = TestClient(app, base_url=base, follow_redirects=False, client=("192.168.1.21", 4000))
    assert second.post("/pair", data={"code": code}).status_code == 403
    assert second.get("/").status_code == 303
    here = TestClient(app, base_url=HERE, follow_redirects=False, client=("127.0.0.1", 4000))
    assert here.get("/").status_code == 200


def test_guessing_at_the_code_uses_it_up():
    pairing = Pairing()
    code = pairing.code
    for _ in range(MOST_WRONG):
        assert not pairing.redeem("AAAAAAAAAA")
    assert pairing.code != code
    assert not pairing.redeem(code)


def test_the_code_is_shown_as_a_picture_and_to_type():
    said = code_in_words("https://192.168.1.7:8137", "ABCDEFGHJK")
    assert "type ABCDEFGHJK" in said
    assert "█" in said or "▀" in said


def test_what_a_phone_will_warn_of_is_said_with_the_fingerprint(tmp_path):
    made = own_certificate(tmp_path, "192.168.1.7")
    said = about_the_door(Door("192.168.1.7", PORT, made))
    assert "each\ndevice warns once" in said
    assert made.fingerprint in said.replace("\n", ":")
    plain = about_the_door(Door("192.168.1.7", PORT))
    assert plain.startswith("CAUTION: the connection is not encrypted")
    assert "fingerprint" not in plain


def test_only_so_many_sessions_are_remembered():
    sessions = Sessions()
    first = sessions.new()
    for _ in range(MOST_SESSIONS):
        sessions.new()
    assert sessions.get(first.key) is None
