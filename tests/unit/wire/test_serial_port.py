"""A serial port over a pseudo-terminal: bytes, a pulled cable, and what is said when it fails."""

import errno
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from scripted_device import ScriptedDevice

from breakwright.model.errors import InputRefused
from breakwright.wire.arrivals import Arrival, Back, Data, Gone, Quiet
from breakwright.wire.serial_port import SerialPort


@pytest.fixture
def device(tmp_path: Path) -> Iterator[ScriptedDevice]:
    made = ScriptedDevice(tmp_path)
    yield made
    made.unplug()


def until(port: SerialPort, kind: type[Arrival]) -> Arrival:
    while True:
        arrival = port.read()
        if isinstance(arrival, kind):
            return arrival


def problem_of(refused: pytest.ExceptionInfo[InputRefused]) -> tuple[str, str]:
    (problem,) = refused.value.problems
    return problem.code, problem.do or ""


def test_bytes_arrive_with_times_that_do_not_go_back(device: ScriptedDevice) -> None:
    port = SerialPort(str(device.port), baud=115200)
    got, times = b"", []
    for text in (b"1.0\r\n", b"2.0\r\n3", b".0\r\n"):
        device.say(text)
        arrival = until(port, Data)
        assert isinstance(arrival, Data)
        got += arrival.data
        times.append(arrival.at)
    while len(got) < 15:
        arrival = until(port, Data)
        assert isinstance(arrival, Data)
        got += arrival.data
    assert got == b"1.0\r\n2.0\r\n3.0\r\n"
    assert times == sorted(times)
    assert isinstance(port.read(), Quiet)
    port.close()
    port.close()


def test_a_pulled_cable_is_told_and_waited_for(device: ScriptedDevice) -> None:
    port = SerialPort(str(device.port), baud=9600, every=0.05)
    device.say(b"1.0\n")
    until(port, Data)
    device.unplug()
    gone = until(port, Gone)
    assert isinstance(gone, Gone)
    assert gone.why
    assert isinstance(port.read(), Quiet)
    device.plug()
    until(port, Back)
    device.say(b"2.0\n")
    again = until(port, Data)
    assert isinstance(again, Data)
    assert again.data.startswith(b"2")
    port.close()


def test_no_such_port(tmp_path: Path) -> None:
    with pytest.raises(InputRefused) as refused:
        SerialPort(str(tmp_path / "ttyUSB9"), baud=9600)
    assert problem_of(refused)[0] == "port-missing"


def test_a_port_that_another_program_reads(device: ScriptedDevice) -> None:
    first = SerialPort(str(device.port), baud=9600)
    with pytest.raises(InputRefused) as refused:
        SerialPort(str(device.port), baud=9600)
    assert problem_of(refused)[0] == "port-busy"
    first.close()


def test_a_file_is_no_port(tmp_path: Path) -> None:
    plain = tmp_path / "plain.txt"
    plain.write_text("412\n")
    with pytest.raises(InputRefused) as refused:
        SerialPort(str(plain), baud=9600)
    assert problem_of(refused)[0] == "port-unfit"


def test_a_forbidden_port_names_the_group(monkeypatch: pytest.MonkeyPatch) -> None:
    # The tests may run as a user who may open everything, so the system's answer is put in.
    def forbidden(port: SerialPort) -> None:
        raise PermissionError(errno.EACCES, "Permission denied")

    monkeypatch.setattr(SerialPort, "_open", forbidden)
    with pytest.raises(InputRefused) as refused:
        SerialPort("/dev/ttyUSB0", baud=9600)
    code, do = problem_of(refused)
    assert code == "port-forbidden"
    assert "dialout" in do


def test_a_missing_library_names_the_extra(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "serial", None)
    with pytest.raises(InputRefused) as refused:
        SerialPort("/dev/ttyUSB0", baud=9600)
    code, do = problem_of(refused)
    assert code == "extra-missing"
    assert "breakwright[serial]" in do
