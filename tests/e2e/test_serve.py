"""``breakwright serve`` as a real process: its words, its end, news, films, the ten-line client."""

import hashlib
import json
import os
import re
import socket
import ssl
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import httpx
import pytest
from serving import BIN, Server, serving

ROOT = Path(__file__).parents[2]
DEMO = "coat-rail-pegs-in-ash"
UPLOADS = "/api/v1/uploads"
MB = 2**20


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    with serving(tmp_path_factory.mktemp("served"), "--demo") as running:
        yield running


def rss_mb(pid: int) -> float:
    """The resident memory of a process now."""
    status = Path(f"/proc/{pid}/status").read_text(encoding="ascii")
    return int(re.search(r"VmRSS:\s+(\d+) kB", status)[1]) / 1024


def new_study(server: Server, handle: str) -> tuple[str, list[str]]:
    """Make a study of two pieces over the API; return its id and theirs."""
    study, pieces = os.urandom(16).hex(), [os.urandom(16).hex() for _ in range(2)]
    toml = 'title = "Pegs"\ngroups = ["plain", "glued"]\nreference = "plain"\nunit = "kgf"\n'
    bodies = [("study-made", {"toml": toml, "handle": handle})]
    for number, (piece, group) in enumerate(zip(pieces, ("plain", "glued"), strict=True), start=1):
        body = {"piece": piece, "label": f"{group[0]}1", "group": group, "order": number}
        bodies.append(("piece-added", body))
    events = [
        {
            "id": os.urandom(16).hex(),
            "study": study,
            "made": "2026-01-31T09:00:00Z",
            "kind": kind,
            "body": body,
        }
        for kind, body in bodies
    ]
    answer = httpx.post(f"{server.url}/api/v1/events", json={"events": events})
    assert answer.status_code == 200, answer.text
    return study, pieces


def test_it_says_where_it_is_and_how_to_stop(server: Server) -> None:
    assert server.first == f"{server.url}/s/{DEMO}/answer"
    words = "".join(server.lines)
    assert str(server.store) in words
    assert "Ctrl-C" in words
    assert httpx.get(f"{server.url}/api/v1/studies/{DEMO}").json()["title"]
    assert httpx.get(f"{server.url}/").status_code == 200


def test_a_taken_port_is_said_plainly(server: Server, tmp_path: Path) -> None:
    other = subprocess.run(
        [
            BIN / "breakwright",
            "serve",
            "--port",
            str(server.port),
            "--store",
            tmp_path / "b.sqlite",
        ],
        capture_output=True,
        text=True,
        check=False,
    )
    assert other.returncode == 2
    assert f"port {server.port} is taken" in other.stderr
    assert "--port" in other.stderr
    assert "Traceback" not in other.stderr


def test_options_that_belong_together_are_asked_for(tmp_path: Path) -> None:
    for wrong in (["--key", "k.pem"], ["--new-token"], ["--https", "--port", "70000"]):
        done = subprocess.run(
            [BIN / "breakwright", "serve", *wrong], capture_output=True, text=True, check=False
        )
        assert done.returncode == 2
        assert "Traceback" not in done.stderr


def news_of(response: httpx.Response) -> Iterator[dict[str, Any]]:
    for line in response.iter_lines():
        if line.startswith("data: {") and line != "data: {}":
            yield json.loads(line[len("data: ") :])


def test_news_come_at_once_and_go_on_where_they_stopped(server: Server) -> None:
    study, pieces = new_study(server, "news")
    last = httpx.get(f"{server.url}/api/v1/studies/news").json()["last"]
    stream = f"{server.url}/api/v1/stream?study={study}"
    with httpx.stream("GET", f"{stream}&after={last}", timeout=20) as heard:
        news = news_of(heard)
        for load in ("412", "430"):
            kept = httpx.post(f"{server.url}/api/v1/studies/news/readings", json={"loads": [load]})
            piece = kept.json()["piece"]["id"]
            one = next(news)
            assert (one["kind"], one["piece"], one["study"]) == ("reading-entered", piece, study)
            assert one["seq"] == kept.json()["new"][0]
        assert piece == pieces[1]
    back = {"last-event-id": str(one["seq"] - 1)}
    with httpx.stream("GET", f"{stream}&after=0", headers=back, timeout=20) as heard:
        assert next(news_of(heard))["seq"] == one["seq"]
    with httpx.stream("GET", stream, headers={"last-event-id": "x"}, timeout=20) as heard:
        assert heard.status_code == 200


def test_another_process_that_writes_is_noticed_too(server: Server) -> None:
    from breakwright.bootstrap.bench import open_bench
    from breakwright.model.event import Event, StudyShelved

    study, _ = new_study(server, "beside")
    last = httpx.get(f"{server.url}/api/v1/studies/beside").json()["last"]
    with httpx.stream(
        "GET", f"{server.url}/api/v1/stream?study={study}&after={last}", timeout=20
    ) as heard:
        opened = open_bench(str(server.store))
        shelved = Event(os.urandom(16).hex(), study, "2026-01-31T10:00:00Z", StudyShelved())
        opened.store.append([shelved], received="2026-01-31T10:00:00Z")
        opened.store.close()
        assert next(news_of(heard))["kind"] == "study-shelved"


def test_a_page_hears_of_news_after_the_server_was_killed(browser: Any, tmp_path: Path) -> None:
    with serving(tmp_path) as server:
        study, _ = new_study(server, "live")
        context = browser.new_context()
        page = context.new_page()
        errors: list[str] = []
        page.on("pageerror", lambda error: errors.append(str(error)))
        page.goto(f"{server.url}/devices")
        page.evaluate(
            """async ([study]) => {
              window.heard = [];
              const { listen } = await import("/assets/live.js");
              listen(study, 0, (news) => window.heard.push(news), (link) => (window.link = link));
            }""",
            [study],
        )
        page.wait_for_function("() => window.heard.length === 3")
        server.kill()
        page.wait_for_function("() => window.link === false")
        server.start()
        httpx.post(f"{server.url}/api/v1/studies/live/readings", json={"loads": ["412"]})
        page.wait_for_function("() => window.heard.length === 4")
        assert page.evaluate("window.heard.map((n) => n.kind)") == [
            "study-made",
            "piece-added",
            "piece-added",
            "reading-entered",
        ]
        assert not errors
        context.close()


def test_ctrl_c_ends_it_at_once_with_streams_open(tmp_path: Path) -> None:
    with serving(tmp_path) as server:
        new_study(server, "open")
        with httpx.stream("GET", f"{server.url}/api/v1/stream", timeout=20) as heard:
            lines = heard.iter_lines()
            assert next(lines).startswith("retry")
            assert server.stop() == 0
            assert not [line for line in lines if line.startswith("data")]


def test_a_film_of_300_mb_stays_out_of_the_memory_and_survives_a_kill(tmp_path: Path) -> None:
    size = 300 * MB
    nothing = bytes(MB)
    with serving(tmp_path) as server:
        _, pieces = new_study(server, "film")
        given = {"study": "film", "piece": pieces[0], "name": "a.mp4", "size": size}
        upload = httpx.post(f"{server.url}{UPLOADS}", json=given).json()
        address = f"{server.url}{UPLOADS}/{upload['id']}"
        before = rss_mb(server.pid)
        seen: list[float] = []

        def half() -> Iterator[bytes]:
            for number in range(150):
                if number % 25 == 24:
                    seen.append(rss_mb(server.pid))
                yield nothing

        sent = httpx.patch(address, content=half(), headers={"upload-offset": "0"}, timeout=60)
        assert sent.json()["offset"] == size // 2
        assert max(seen) - before < 30
        server.kill()
        server.start()
        offset = int(httpx.head(address).headers["upload-offset"])
        assert offset == size // 2
        httpx.patch(address, content=half(), headers={"upload-offset": str(offset)}, timeout=60)
        kept = httpx.post(f"{address}/finish", timeout=60).json()
        whole = hashlib.sha256()
        for _ in range(300):
            whole.update(nothing)
        assert kept["sha256"] == whole.hexdigest()
        assert (tmp_path / "videos" / kept["file"]).stat().st_size == size
        events = httpx.get(f"{server.url}/api/v1/studies/film/events").json()["events"]
        assert events[-1]["event"]["body"]["piece"] == pieces[0]


def test_a_link_that_breaks_in_mid_film_keeps_what_had_come(server: Server) -> None:
    new_study(server, "broken-link")
    given = {"study": "broken-link", "name": "a.mp4", "size": 3 * MB}
    upload = httpx.post(f"{server.url}{UPLOADS}", json=given).json()["id"]
    head = (
        f"PATCH {UPLOADS}/{upload} HTTP/1.1\r\nHost: 127.0.0.1:{server.port}\r\n"
        f"Upload-Offset: 0\r\nContent-Length: {3 * MB}\r\n\r\n"
    )
    with socket.create_connection(("127.0.0.1", server.port)) as link:
        link.sendall(head.encode("ascii") + bytes(2 * MB))
    deadline = time.monotonic() + 20
    offset = 0
    while offset < 2 * MB and time.monotonic() < deadline:
        offset = httpx.get(f"{server.url}{UPLOADS}/{upload}").json()["offset"]
    assert offset == 2 * MB


def test_a_page_sends_a_film(browser: Any, server: Server) -> None:
    study, _ = new_study(server, "page-film")
    page = browser.new_context().new_page()
    page.goto(f"{server.url}/devices")
    kept = page.evaluate(
        """async (study) => {
          const { sendFilm } = await import("/assets/upload.js");
          const file = new File([new Uint8Array(9 * 1024 * 1024)], "a.webm");
          const steps = [];
          const kept = await sendFilm(file, { study, onProgress: (sent) => steps.push(sent) });
          return { ...kept, steps };
        }""",
        study,
    )
    assert kept["steps"] == [0, 8 * MB, 9 * MB]
    assert kept["sha256"] == hashlib.sha256(bytes(9 * MB)).hexdigest()
    refused = page.evaluate(
        """async () => {
          const { sendFilm } = await import("/assets/upload.js");
          try { await sendFilm(new File(["x"], "a.webm"), { study: "nothing" }); }
          catch (error) { return error.message; }
        }"""
    )
    assert "There is no study 'nothing' here." in refused
    page.context.close()


def test_the_ten_lines_of_the_docs_run(server: Server, tmp_path: Path) -> None:
    new_study(server, "ten-lines")
    text = (ROOT / "docs" / "api.md").read_text(encoding="utf-8")
    script = re.search(r"```python\n(.*?)```", text, re.DOTALL)[1]
    assert len([line for line in script.splitlines() if line]) == 10
    path = tmp_path / "send.py"
    path.write_text(script, encoding="utf-8")
    done = subprocess.run(
        [sys.executable, path, "ten-lines", ">500"],
        env={**os.environ, "BREAKWRIGHT": server.url},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.stderr == ""
    assert done.stdout.startswith("p1\n")
    piece = httpx.get(f"{server.url}/api/v1/studies/ten-lines").json()["pieces"][0]
    assert piece["reading"]["loads"] == [">500"]


def test_lan_over_https_keeps_token_and_certificate(tmp_path: Path) -> None:
    with serving(tmp_path, "--lan", "--https") as server:
        words = "".join(server.lines)
        token = (tmp_path / "device-token").read_text(encoding="ascii").strip()
        certificate = tmp_path / "https-certificate.pem"
        pem = certificate.read_text(encoding="ascii")
        der = ssl.PEM_cert_to_DER_cert(pem)
        assert hashlib.sha256(der).digest().hex(":").upper() in words
        for secret in ("https-key.pem", "device-token"):
            assert (tmp_path / secret).stat().st_mode & 0o777 == 0o600
        trusts = ssl.create_default_context(cafile=str(certificate))
        with httpx.Client(verify=trusts, base_url=server.url) as client:
            assert client.get("/devices").status_code == 200
        entered = re.search(r"Other devices\s+(https://\S+)/enter\?token=(\w+)", words)
        if entered is not None:  # a machine without any network has no address for others
            assert entered[2] == token
            with httpx.Client(verify=trusts, base_url=entered[1]) as phone:
                assert phone.get("/devices").status_code == 401
                assert phone.get(f"/enter?token={token}").status_code == 303
                assert phone.get("/devices").status_code == 200
        assert server.stop() == 0
        server.start()
        assert (tmp_path / "device-token").read_text(encoding="ascii").strip() == token
        assert certificate.read_text(encoding="ascii") == pem
        server.stop()
        server.arguments = ("--lan", "--new-token")
        server.start()
        assert (tmp_path / "device-token").read_text(encoding="ascii").strip() != token


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("path", ["/devices", "/s/no-such-study/answer"])
def test_the_doors_pages_are_for_everybody(
    browser: Any, server: Server, scheme: str, path: str
) -> None:
    from axe_playwright_python.sync_playwright import Axe

    # The page's own policy forbids the checking script; everything else stays as served.
    context = browser.new_context(
        viewport={"width": 360, "height": 740}, color_scheme=scheme, bypass_csp=True
    )
    page = context.new_page()
    page.goto(f"{server.url}{path}")
    found = Axe().run(page).response["violations"]
    assert [violation["id"] for violation in found] == []
    assert page.evaluate("document.documentElement.scrollWidth") == 360
    context.close()
