"""The doors: by which name, from which page, with which token, with how much."""

import re
from collections.abc import AsyncIterator
from pathlib import Path

import pytest
from doors_here import LAN, STUDY, Caller, client_of, run_apart, services_at

from breakwright.usecases.bench.state import Standing
from breakwright.web.doors.guard import Doors
from breakwright.web.doors.token import COOKIE

PHONE = {"peer": "192.168.7.20", "base": "http://192.168.7.5:8321"}
LET_IN = {"cookie": f"{COOKIE}={LAN.token}"}
UNIT = {"unit": "kN", "back": "/devices"}


@pytest.fixture
def here(tmp_path: Path) -> Caller:
    return Caller(services_at(tmp_path))


@pytest.fixture
def phone(tmp_path: Path) -> Caller:
    return Caller(services_at(tmp_path), **PHONE)


@pytest.mark.parametrize("host", ["localhost:8321", "127.0.0.1", "[::1]:8321", "bench.local"])
def test_names_of_this_machine_are_let_through(here: Caller, host: str) -> None:
    assert here("GET", "/devices", headers={"host": host}).status_code == 200


@pytest.mark.parametrize(
    "host", ["evil.example", "127.0.0.1.evil.example:8321", "localhost.evil.example", "", "a b"]
)
def test_a_name_pointed_at_this_machine_is_not_served(here: Caller, host: str) -> None:
    """DNS rebinding: the page's own name is what the browser sends as Host."""
    page = here("GET", "/devices", headers={"host": host})
    api = here("GET", "/api/v1/studies", headers={"host": host})
    assert (page.status_code, api.status_code) == (421, 421)
    assert "breakwright serve" in page.text
    assert api.json()["problems"][0]["code"] == "host-unknown"


def test_without_lan_the_network_name_is_not_known(tmp_path: Path) -> None:
    shut = Caller(services_at(tmp_path), doors=Doors())
    assert shut("GET", "/devices", headers={"host": "192.168.7.5:8321"}).status_code == 421


@pytest.mark.parametrize(
    ("headers", "status"),
    [
        ({"origin": "http://127.0.0.1:8321"}, 303),
        ({"sec-fetch-site": "same-origin"}, 303),
        ({"sec-fetch-site": "none"}, 303),
        ({}, 303),
        ({"origin": "null"}, 403),
        ({"origin": "http://127.0.0.1:3000"}, 403),
        ({"origin": "https://127.0.0.1:8321"}, 403),
        ({"origin": "http://evil.example"}, 403),
        ({"origin": "http://evil.example", "sec-fetch-site": "same-origin"}, 403),
        ({"sec-fetch-site": "cross-site"}, 403),
        ({"sec-fetch-site": "same-site"}, 403),
    ],
)
def test_changes_come_from_pages_of_this_server(
    here: Caller, headers: dict[str, str], status: int
) -> None:
    assert here("POST", "/unit", data=UNIT, headers=headers).status_code == status


def test_a_change_from_elsewhere_changes_nothing(here: Caller) -> None:
    piece = here.services.bench.state(STUDY).next_piece
    form = {"loads": [412], "ended": "broke"}
    evil = {"origin": "http://evil.example"}
    assert here("POST", "/api/v1/studies/pegs/readings", json=form, headers=evil).status_code == 403
    after = here.services.bench.state(STUDY).piece(piece.id)
    assert after.standing is Standing.WAITING


def test_another_page_may_link_here_but_not_read_or_embed(here: Caller) -> None:
    cross = {"sec-fetch-site": "cross-site"}
    follow = here("GET", "/devices", headers={**cross, "sec-fetch-mode": "navigate"})
    fetch = here("GET", "/api/v1/studies", headers={**cross, "sec-fetch-mode": "no-cors"})
    assert (follow.status_code, fetch.status_code) == (200, 403)


def test_a_phone_comes_in_by_the_code_and_stays(phone: Caller) -> None:
    assert phone("GET", "/devices").status_code == 401
    assert phone("GET", "/assets/frame.css").status_code == 200
    entered = phone("GET", f"/enter?token={LAN.token}")
    cookie = entered.headers["set-cookie"]
    assert (entered.status_code, entered.headers["location"]) == (303, "/")
    assert "HttpOnly" in cookie
    assert "SameSite=lax" in cookie
    assert "Secure" not in cookie
    assert int(re.search(r"Max-Age=(\d+)", cookie)[1]) > 30 * 24 * 3600
    assert phone("GET", "/devices", headers=LET_IN).status_code == 200


def test_over_https_the_cookie_never_travels_in_the_clear(tmp_path: Path) -> None:
    phone = Caller(services_at(tmp_path), peer="192.168.7.20", base="https://192.168.7.5:8321")
    assert "Secure" in phone("GET", f"/enter?token={LAN.token}").headers["set-cookie"]


@pytest.mark.parametrize("token", ["", "wrong", LAN.token[:-1], LAN.token + "0", "ü" * 32])
def test_a_wrong_code_lets_nobody_in(phone: Caller, token: str) -> None:
    entered = phone("GET", "/enter", params={"token": token})
    assert entered.status_code == 403
    assert "set-cookie" not in entered.headers
    cookie = f"{COOKIE}={token}".encode()
    assert phone("GET", "/devices", headers={"cookie": cookie}).status_code == 401


def test_a_script_elsewhere_sends_the_token(phone: Caller) -> None:
    right = {"authorization": f"Bearer {LAN.token}"}
    wrong = {"authorization": "Bearer nothing"}
    form = {"loads": ["412"]}
    address = "/api/v1/studies/pegs/readings"
    assert phone("GET", "/api/v1/studies", headers=wrong).status_code == 401
    assert phone("GET", "/api/v1/studies", headers=right).status_code == 200
    assert phone("POST", address, json=form, headers=right).status_code == 200


def test_a_cookie_without_an_origin_is_no_browser_of_today(phone: Caller) -> None:
    ours = {"origin": "http://192.168.7.5:8321"}
    assert phone("POST", "/unit", data=UNIT, headers=LET_IN).status_code == 401
    assert phone("POST", "/unit", data=UNIT, headers={**LET_IN, **ours}).status_code == 303


def test_every_answer_carries_the_headers(here: Caller) -> None:
    for path in ("/devices", "/no-such-page", "/assets/frame.css"):
        headers = here("GET", path).headers
        policy = headers["content-security-policy"]
        assert "default-src 'none'" in policy
        assert "unsafe" not in policy
        assert headers["x-content-type-options"] == "nosniff"
        assert headers["referrer-policy"] == "same-origin"
        assert headers["cross-origin-resource-policy"] == "same-origin"
        assert headers["cross-origin-opener-policy"] == "same-origin"
        assert "no-" in headers["cache-control"]
        assert "geolocation=()" in headers["permissions-policy"]


def test_errors_are_pages_for_people_and_json_for_scripts(here: Caller) -> None:
    page, api = here("GET", "/s/nothing/here"), here("GET", "/api/v1/studies/nothing")
    assert (page.status_code, api.status_code) == (404, 404)
    assert "<h1>Nothing is here</h1>" in page.text
    problem = api.json()["problems"][0]
    assert problem["code"] == "not-here"
    assert "'nothing'" in problem["message"]


@pytest.mark.parametrize("counted", ["declared", "streamed"])
def test_what_is_too_large_is_refused_while_it_comes(tmp_path: Path, counted: str) -> None:
    sent = 0

    async def endless() -> AsyncIterator[bytes]:
        nonlocal sent
        for _ in range(500):
            sent += 2**20
            yield b" " * 2**20

    async def one() -> tuple[int, dict[str, object]]:
        async with client_of(Caller(services_at(tmp_path)).app) as client:
            body = b" " * (4 * 2**20 + 1) if counted == "declared" else endless()
            json = {"content-type": "application/json"}
            answer = await client.post("/api/v1/events", content=body, headers=json)
            return answer.status_code, answer.json()["problems"][0]

    status, problem = run_apart(one)
    assert status == 413
    assert problem["code"] == "body-too-large"
    assert "4 MB" in str(problem["message"])
    assert sent <= 6 * 2**20


def test_the_unit_is_kept_and_the_way_back_stays_here(here: Caller) -> None:
    kept = here("POST", "/unit", data=UNIT)
    assert kept.headers["location"] == "/devices"
    assert "breakwright-unit=kN" in kept.headers["set-cookie"]
    away = here("POST", "/unit", data={"unit": "", "back": "//evil.example/"})
    assert away.headers["location"] == "/"
    assert here("POST", "/unit", data={"unit": "stone"}).status_code == 422


def test_assets_are_asked_for_by_allowed_names_only(here: Caller) -> None:
    style = here("GET", "/assets/frame.css")
    assert style.headers["content-type"] == "text/css; charset=utf-8"
    again = here("GET", "/assets/frame.css", headers={"if-none-match": style.headers["etag"]})
    assert (again.status_code, again.content) == (304, b"")
    assert here("GET", "/assets/live.js").headers["content-type"].startswith("text/javascript")
    for name in ("..%2fapp.py", "%2e%2e/app.py", "nothing.css", "frame.css.j2", ".hidden.css"):
        assert here("GET", f"/assets/{name}").status_code == 404


def test_the_code_for_the_next_phone_is_shown_to_those_inside(here: Caller) -> None:
    page = here("GET", "/devices")
    assert f"http://192.168.7.5:8321/enter?token={LAN.token}" in page.text
    assert "<svg" in page.text
    assert "style=" not in page.text
    assert page.headers["cache-control"] == "no-store"
