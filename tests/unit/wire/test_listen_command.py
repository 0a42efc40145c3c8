"""The command itself, at a pseudo-terminal: a device that fails, a person who answers."""

import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import IO

import pytest
from bench_double import BenchDouble
from scripted_device import ScriptedDevice, lines_of, pull

COMMAND = [str(Path(sys.executable).parent / "breakwright"), "listen"]


@pytest.fixture
def bench() -> Iterator[BenchDouble]:
    made = BenchDouble()
    yield made
    made.close()


@pytest.fixture
def device(tmp_path: Path) -> Iterator[ScriptedDevice]:
    made = ScriptedDevice(tmp_path)
    yield made
    made.unplug()


def said_until(stream: IO[str], words: str) -> str:
    """Read until ``words`` were said; the test's own time limit ends one that waits in vain."""
    said = ""
    for line in stream:
        said += line
        if words in line:
            return said
    raise AssertionError(f"{words!r} was not said in:\n{said}")


def recorded(folder: Path, *, rows: int) -> None:
    """Return when the trace on the disk has so many rows: no system tells of that."""
    (trace,) = folder.glob("trace-*.csv")
    while trace.read_bytes().count(b"\n") < rows:
        time.sleep(0.005)


def start(*arguments: str | Path, stdin: int | None = None) -> subprocess.Popen[str]:
    return subprocess.Popen(
        [*COMMAND, *map(str, arguments)],
        stdin=subprocess.DEVNULL if stdin is None else stdin,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        env={**os.environ, "PYTHONUNBUFFERED": "1"},
    )


def test_a_bad_day_at_the_bench(bench: BenchDouble, device: ScriptedDevice, tmp_path: Path) -> None:
    where = ("--to", bench.address, "--save", tmp_path / "kept")
    how = ("--unit", "N", "--stamps", "s", "--resolution", "0.1", "--yes")
    running = start("--serial", device.port, *where, *how)
    assert running.stdout is not None
    said_until(running.stdout, "listening to")

    # The rest of a line that began before we listened, garbage, and a clean pull.
    device.say(b"77.5\r\n\xff\xfe~~\r\n" + lines_of(pull(1000.0), start=100.0))
    said_until(running.stdout, "sent: piece A1")

    # The cable comes out on the way up, and goes in again when the piece has broken.
    device.say(lines_of(pull(2000.0)[:35], start=200.0) + b"203.5 1")
    recorded(tmp_path / "kept", rows=1 + 75 + 35)
    device.unplug()
    said_until(running.stdout, "is gone")
    device.plug()
    said_until(running.stdout, "is back")
    # Started again, its time begins anew.
    device.say(lines_of([0.0] * 40, start=0.0))
    second = said_until(running.stdout, "sent: piece A2")
    assert "may have gone on rising" in second

    # Beyond the range.
    rise = lines_of(pull(800.0, after=0), start=300.0)
    device.say(rise + b"305.1 OL\r\n305.2 OL\r\n" + lines_of([0.0] * 30, start=305.3))
    said_until(running.stdout, "sent: piece A3")
    running.send_signal(signal.SIGINT)
    last = running.stdout.read()
    running.stdout.close()
    assert running.wait() == 130
    assert "1 line that could not be read" in last

    assert bench.loads() == {"A1": "999.95..1025.09", "A2": ">1249.95", "A3": ">799.95"}
    ended = [event["body"]["entry"]["ended"] for event in bench.events.values()]
    assert ended == ["broke", "screen-lost", "over-range"]
    (trace,) = (tmp_path / "kept").glob("trace-*.csv")
    rows = trace.read_text("ascii").splitlines()
    # Lost: the half line, the garbage, the line cut by the cable and the first one after it.
    assert len(rows) == 1 + 75 + 35 + (40 - 1) + 50 + 2 + 30
    assert sum("no number" in row for row in rows) == 2
    assert sum("after a gap" in row for row in rows) == 1


def test_a_person_at_the_terminal_is_asked(
    bench: BenchDouble, device: ScriptedDevice, tmp_path: Path
) -> None:
    master, slave = os.openpty()
    running = subprocess.Popen(
        [
            *(*COMMAND, "--serial", device.port, "--to", bench.address, "--stamps", "s"),
            *("--unit", "N", "--save", tmp_path / "kept"),
        ],
        stdin=slave,
        stdout=slave,
        stderr=slave,
        env={**os.environ, "TERM": "xterm", "COLUMNS": "120"},
    )
    os.close(slave)
    seen = b""

    def until(words: bytes) -> None:
        nonlocal seen
        while words not in seen:
            seen += os.read(master, 4096)
        seen = seen.partition(words)[2]

    until(b"listening to")
    device.say(b"half\r\n" + lines_of(pull(1000.0)))
    until(b"Is this the reading of piece A1 (plain)?")
    os.write(master, b"p\n")
    until(b"Label of the piece")
    os.write(master, b"A9\n")
    until(b"There is no piece 'A9'")
    os.write(master, b"p\n")
    until(b"Label of the piece")
    os.write(master, b"A2\n")
    until(b"Is this the reading of piece A2 (plain)?")
    os.write(master, b"y\n")
    until(b"How did it break?")
    os.write(master, b"shank\n")
    until(b"sent: piece A2")
    # A pull may begin and end while somebody thinks about the one before.
    device.say(lines_of([*pull(700.0), *pull(600.0)], start=100.0))
    until(b"Is this the reading of piece A1 (plain)?")
    os.write(master, b"n\n")
    until(b"Is this the reading of piece A1 (plain)?")
    os.write(master, b"s\n")
    until(b"sent: piece A1")
    running.send_signal(signal.SIGINT)
    until(b"interrupted")
    assert running.wait() == 130
    os.close(master)
    entries = {k: e["body"]["entry"] for k, e in zip("21", bench.events.values(), strict=True)}
    assert entries["2"]["failure"] == "shank"
    assert (entries["1"]["ended"], entries["1"]["loads"][0].split("..")[0]) == ("stopped", "600")


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        ([], "Give either --serial PORT, or -"),
        (["-", "--serial", "/dev/null"], "Give either --serial PORT, or -"),
        (["-"], "Nobody can be asked here"),
        (["-", "--unit", "kg", "--dry-run"], "kgf or a mass?"),
        (["--serial", "/dev/ttyNONE", "--dry-run"], "there is no such port"),
        (["-", "--yes", "--to", "nowhere"], "not the address of a server"),
        (["-", "--yes", "--to", "http://127.0.0.1:9"], "does not answer"),
        (["-", "--yes", "--study", "chairs"], "there is no such study"),
        (["-", "--yes", "--scale", "left"], "there is no display 'left'"),
    ],
)
def test_what_is_refused_at_once(
    bench: BenchDouble,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    arguments: list[str],
    words: str,
) -> None:
    from breakwright.cli.main import run

    if "--to" not in arguments:
        arguments = [*arguments, "--to", bench.address]
    assert run(["listen", *arguments, "--save", str(tmp_path / "kept")]) == 2
    assert words in " ".join(capsys.readouterr().err.split())
