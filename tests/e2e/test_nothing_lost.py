"""What the server has acknowledged is there: killed, crowded, the disk full, on both stores."""

import contextlib
import os
import random
import sqlite3
import subprocess
import threading
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from bench_client import Device, Refused
from serving import Server, serving

from postgres import cluster_or_skip

KILLS = 10
WRITES = 500
DEVICES, READINGS = 20, 2000


@pytest.fixture
def postgres_url() -> Iterator[str]:
    """An empty database on the tests' own PostgreSQL."""
    server = cluster_or_skip()
    url = server.new_database()
    yield url
    server.drop(url)


@contextmanager
def server_on(kind: str, folder: Path, request: pytest.FixtureRequest) -> Iterator[Server]:
    arguments: tuple[str, ...] = ()
    if kind == "postgresql":
        arguments = ("--store", request.getfixturevalue("postgres_url"))
    with serving(folder, *arguments) as server:
        yield server


STORES = pytest.mark.parametrize("kind", ["sqlite", "postgresql"])


@STORES
def test_a_killed_server_keeps_what_it_acknowledged(
    kind: str, tmp_path: Path, request: pytest.FixtureRequest
) -> None:
    dice = random.Random(20260131)
    with server_on(kind, tmp_path, request) as server:
        device = Device(server.url)
        study, pieces = device.make_study(pieces=50)
        acknowledged: list[str] = []
        cut_short = 0
        for _ in range(KILLS):
            # Killed from another thread at some moment of the writing, never between two writes
            # by arrangement.
            moment = dice.randrange(20, WRITES // 2)
            here = threading.Event()

            def kill(here: threading.Event = here) -> None:
                here.wait(60.0)
                server.kill()

            killer = threading.Thread(target=kill)
            killer.start()
            try:
                for k in range(WRITES):
                    if k == moment:
                        here.set()
                    acknowledged.append(device.read(study, pieces[k % 50], f"{40 + k % 60}.5"))
            except OSError:
                cut_short += 1
            here.set()
            killer.join()
            server.start()
            device.close()
            device = Device(server.url)
            kept = Counter(device.kept(study))
            lost = [event for event in acknowledged if kept[event] != 1]
            assert not lost, f"{len(lost)} of {len(acknowledged)} acknowledged readings lost"
        assert cut_short == KILLS, "the server was to be killed while readings were on their way"
        device.close()
        assert server.stop() == 0
    if kind == "sqlite":
        with sqlite3.connect(tmp_path / "bench.sqlite") as raw:
            assert raw.execute("PRAGMA integrity_check").fetchone() == ("ok",)


@STORES
def test_twenty_devices_lose_nothing(
    kind: str, tmp_path: Path, request: pytest.FixtureRequest
) -> None:
    with server_on(kind, tmp_path, request) as server:
        first = Device(server.url)
        study, pieces = first.make_study(pieces=READINGS)
        acknowledged: list[str] = []
        troubles: list[str] = []

        def work(number: int) -> None:
            device = Device(server.url, name=f"phone {number}")
            for piece in pieces[number::DEVICES]:
                try:
                    acknowledged.append(device.read(study, piece, "61.5"))
                except (OSError, Refused) as trouble:
                    troubles.append(str(trouble))
            device.close()

        crowd = [threading.Thread(target=work, args=(n,)) for n in range(DEVICES)]
        for one in crowd:
            one.start()
        for one in crowd:
            one.join()
        assert not troubles, troubles[:3]
        assert len(set(acknowledged)) == READINGS
        kept = Counter(first.kept(study))
        assert all(kept[event] == 1 for event in acknowledged)
        summary = first.call("GET", f"/api/v1/studies/{study}")
        first.close()
        assert sum(piece["standing"] == "read" for piece in summary["pieces"]) == READINGS


def test_a_full_disk_is_said_and_spoils_nothing(tmp_path: Path) -> None:
    """A small disk of its own (tmpfs); only root may make one."""
    if os.geteuid() != 0:
        pytest.skip("only root can mount a small disk; the store's own tests limit its pages")
    disk = tmp_path / "disk"
    disk.mkdir()
    made = subprocess.run(["mount", "-t", "tmpfs", "-o", "size=3m", "tmpfs", str(disk)])
    if made.returncode != 0:
        pytest.skip("no small disk can be mounted here")
    try:
        with serving(disk) as server:
            device = Device(server.url)
            study, pieces = device.make_study(pieces=10)
            acknowledged = [device.read(study, piece, "55.5") for piece in pieces]
            with contextlib.suppress(OSError), (disk / "ballast").open("wb", 0) as ballast:
                while True:
                    ballast.write(bytes(65536))
            refused: Refused | None = None
            for k in range(3000):
                try:
                    acknowledged.append(device.read(study, pieces[k % 10], "56.5"))
                except Refused as trouble:
                    refused = trouble
                    break
            assert refused is not None
            assert refused.status == 507
            assert b"full" in refused.body
            assert set(acknowledged) <= set(device.kept(study)), "reading goes on"
            (disk / "ballast").unlink()
            acknowledged.append(device.read(study, pieces[0], "57.5"))
            server.kill()
            server.start()
            assert set(acknowledged) <= set(device.kept(study))
            device.close()
    finally:
        subprocess.run(["umount", "-l", str(disk)], check=True)
