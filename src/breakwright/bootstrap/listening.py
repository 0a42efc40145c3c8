"""What ``breakwright listen`` is made of: the wire, the trace, the pulls, the way to a server."""

from pathlib import Path

from breakwright.files.atomic import write_beside
from breakwright.reading.stream_clock import Clock
from breakwright.reading.stream_line import Format
from breakwright.reading.stream_lines import LineReader
from breakwright.reading.stream_peak import Doubt, Peak
from breakwright.reading.stream_pulls import Phase, PullFinder, PullRules
from breakwright.reading.stream_words import Fault, Stamps
from breakwright.wire.arrivals import Wire
from breakwright.wire.entry import entry_of, place_of
from breakwright.wire.kept_pulls import KeptPull, KeptPulls, Standing
from breakwright.wire.posting import Poster
from breakwright.wire.recorder import Done, Found, Recorder, Refused, Said, View
from breakwright.wire.serial_port import SerialPort
from breakwright.wire.server import Display, NotTaken, PieceSeen, Server, ServerAway
from breakwright.wire.standard_input import StandardInput
from breakwright.wire.trace_file import TraceFile

__all__ = [
    "Clock",
    "Display",
    "Done",
    "Doubt",
    "Fault",
    "Format",
    "Found",
    "KeptPull",
    "KeptPulls",
    "LineReader",
    "NotTaken",
    "Peak",
    "Phase",
    "PieceSeen",
    "Poster",
    "PullFinder",
    "PullRules",
    "Recorder",
    "Refused",
    "Said",
    "SerialPort",
    "Server",
    "ServerAway",
    "Stamps",
    "StandardInput",
    "Standing",
    "TraceFile",
    "View",
    "Wire",
    "data_folder",
    "entry_of",
    "place_of",
    "write_beside",
]


def data_folder() -> Path:
    """Return the user's own data folder. Raises StoreUnreachable where there is none."""
    from breakwright.store.address import default_folder

    return default_folder()
