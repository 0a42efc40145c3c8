"""A logger's lines piped through the command into a real server: readings, traces, repeats."""

import json
import os
import subprocess
import sys
import urllib.request
from pathlib import Path
from typing import Any

from serving import serving

COMMAND = [str(Path(sys.executable).parent / "breakwright"), "listen"]
STUDY, PIECES = "a" * 32, {"P1": "1" * 32, "W1": "2" * 32, "P2": "3" * 32}
TOML = """
title = "Pegs on a cell"
groups = ["plain", "wedged"]
reference = "plain"
unit = "N"

[[instrument]]
name = "cell"
capacity = 5000
resolution = 1
refresh_s = 0.1
"""


def asked(url: str, path: str, form: dict[str, Any] | None = None) -> Any:
    data = None if form is None else json.dumps(form).encode()
    request = urllib.request.Request(url + path, data=data)
    request.add_header("Content-Type", "application/json")
    with urllib.request.urlopen(request, timeout=30) as answer:
        return json.loads(answer.read())


def make_study(url: str) -> None:
    bodies = [("study-made", {"toml": TOML, "handle": "pegs"})]
    bodies += [
        ("piece-added", {"piece": id_, "label": label, "group": group, "order": turn})
        for turn, (label, id_, group) in enumerate(
            [(k, v, "wedged" if k[0] == "W" else "plain") for k, v in PIECES.items()], start=1
        )
    ]
    events = [
        {
            "id": f"{n:032x}",
            "study": STUDY,
            "made": "2026-01-31T09:30:00Z",
            "kind": kind,
            "body": body,
            "device": "test",
        }
        for n, (kind, body) in enumerate(bodies, start=1)
    ]
    asked(url, "/api/v1/events", {"events": events})


def lines(*peaks: float) -> str:
    """Return a tenth of a second a line, 'seconds load', each pull a steady rise and its break."""
    loads = [x for p in peaks for x in (*[0.0] * 10, *[p * n / 50 for n in range(51)], *[0.0] * 30)]
    return "".join(f"{n / 10:.1f} {round(load)}\n" for n, load in enumerate(loads))


def listen(folder: Path, text: str, *more: str) -> "subprocess.CompletedProcess[str]":
    return subprocess.run(
        [*COMMAND, "-", "--stamps", "s", "--unit", "N", "--yes", "--study", "pegs", *more],
        input=text,
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
        env={**os.environ, "BREAKWRIGHT_DATA": str(folder)},
    )


def test_a_run_into_a_real_server_that_goes_away(tmp_path: Path) -> None:
    with serving(tmp_path) as server:
        make_study(server.url)
        first = listen(tmp_path, lines(1000.0), "--to", server.url)
        assert first.returncode == 0, first.stdout + first.stderr
        assert "sent: piece P1: 1000 N, broke" in first.stdout
        assert "understood:" in first.stdout

        server.kill()
        while_away = listen(tmp_path, lines(1500.0), "--to", server.url, "--wait", "0")
        assert while_away.returncode == 2
        assert "kept here and sent later" in while_away.stdout

        server.start()
        # The pull of before was seen by nobody: it waits for a person, and this one is next.
        third = listen(tmp_path, lines(800.0), "--to", server.url)
        assert third.returncode == 0, third.stdout + third.stderr
        assert "nobody has said yet what they are: 1" in third.stdout

        study = asked(server.url, "/api/v1/studies/pegs")
        read = {p["label"]: p["reading"] for p in study["pieces"] if p["reading"]}
        assert {k: (v["loads"], v["rate"]) for k, v in read.items()} == {
            "P1": (["1000"], read["P1"]["rate"]),
            "W1": (["800"], read["W1"]["rate"]),
        }
        # A steady 200 N/s and 160 N/s; the display's step of 1 N over the span makes it no less.
        assert 200.0 <= float(read["P1"]["rate"]) <= 204.0
        assert 160.0 <= float(read["W1"]["rate"]) <= 164.0
        kinds = [
            (e["event"]["kind"], e["event"]["body"].get("piece"))
            for e in asked(server.url, "/api/v1/studies/pegs/events")["events"]
        ]
        assert kinds[4:] == [
            ("reading-entered", PIECES["P1"]),
            ("trace-added", PIECES["P1"]),
            ("reading-entered", PIECES["W1"]),
            ("trace-added", PIECES["W1"]),
        ]
        assert server.stop() == 0
