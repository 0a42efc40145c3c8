"""'breakwright listen' put together from what was asked for on the command line."""

import secrets
import sys
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from breakwright.bootstrap.listening import (
    Clock,
    Display,
    Format,
    KeptPull,
    KeptPulls,
    LineReader,
    NotTaken,
    Poster,
    PullFinder,
    PullRules,
    Recorder,
    SerialPort,
    Server,
    ServerAway,
    StandardInput,
    Standing,
    TraceFile,
    Wire,
    data_folder,
    place_of,
    write_beside,
)
from breakwright.cli.listen_screen import MovingScreen, PlainScreen, Screen
from breakwright.cli.listening import Listening, ask_person, take_every
from breakwright.model.errors import InputRefused, Problem
from breakwright.model.units import ForceUnit

__all__ = ["Wanted", "listen_as_wanted"]

# A pull begins at about 5 kgf, or at 2 % of a stated capacity: common practice, no source.
_THRESHOLD_N = 50.0
_THRESHOLD_SHARE = 0.02
# How far a device's clock may run ahead of the lines' arrival: buffers on the way hold some time.
_AHEAD_S = 5.0


@dataclass(frozen=True, slots=True)
class Wanted:
    """Loads in N. ``port`` None: standard input; ``address`` None: nothing is sent; ``asks``:
    somebody sits at the terminal and wants to be asked."""

    port: str | None
    baud: int
    address: str | None
    study: str | None
    token: str | None
    certificate: Path | None
    scale: str | None
    form: Format
    every: float | None
    sign: float
    capacity: float | None
    resolution: float | None
    threshold: float | None
    rate: float | None
    stay: float
    failure: str | None
    save: Path | None
    patience: float
    asks: bool


def listen_as_wanted(wanted: Wanted) -> int:
    """Listen until the lines end; return the exit status. Raises as ``Listening.run`` does, and
    InputRefused for a server, a study or a port that cannot be had."""
    screen: Screen = MovingScreen() if sys.stdout.isatty() else PlainScreen()
    try:
        pulls = KeptPulls(wanted.save or _data_folder(), write=write_beside)
        poster = _poster(wanted, pulls, screen)
        display = _display(poster, wanted.scale)
        # The port comes last: what was refused so far has not touched it.
        wire = _wire(wanted)
        screen.say(f"listening to {wire.name}; traces go to {pulls.folder}")
        reader = LineReader(
            wanted.form,
            Clock(wanted.every, ahead=_AHEAD_S if wire.live else None),
            mid_line=wire.mid_line,
        )
        name = f"trace-{datetime.now():%Y%m%d-%H%M%S}-{secrets.token_hex(2)}.csv"
        listening = Listening(
            Recorder(
                wire,
                reader,
                PullFinder(_rules(wanted, display)),
                TraceFile(pulls.folder / name),
                pulls,
            ),
            pulls,
            screen,
            ask_person(wanted.failure) if wanted.asks else take_every(wanted.failure),
            poster,
            scale=wanted.scale,
            unit=_shown_unit(wanted, poster),
            patience=wanted.patience,
        )
        earlier, undecided = _kept_before(pulls, poster, screen)
        return listening.run(earlier, undecided=undecided if wanted.asks else ())
    finally:
        screen.close()


def _data_folder() -> Path:
    from breakwright.usecases.bench.ports import StoreUnreachable

    try:
        return data_folder() / "listen"
    except ImportError as missing:
        raise InputRefused(
            [
                Problem(
                    code="extra-missing",
                    message="finding the folder of your data needs a library that is not installed",
                    file="--save",
                    do="Name a folder with --save, or install 'breakwright[web]'.",
                )
            ]
        ) from missing
    except StoreUnreachable as no_folder:
        raise InputRefused(
            [
                Problem(
                    code="no-data-folder",
                    message=str(no_folder),
                    file="--save",
                    do="Name a folder with --save.",
                )
            ]
        ) from no_folder


def _poster(wanted: Wanted, pulls: KeptPulls, screen: Screen) -> Poster | None:
    if wanted.address is None:
        return None
    server = Server(wanted.address, token=wanted.token, certificate=wanted.certificate)
    try:
        poster = Poster(server, wanted.study or _only_study(server), pulls)
        study = poster.look()
        place_of(study, wanted.scale)
    except NotTaken as no:
        raise InputRefused(
            [
                Problem(
                    code="server-says-no",
                    message=str(no),
                    file=server.address,
                    do="Look at --to, --study, --scale and --token, or record without sending: "
                    "--dry-run.",
                )
            ]
        ) from no
    except ServerAway as away:
        if wanted.study is None:
            raise InputRefused(
                [
                    Problem(
                        code="server-away",
                        message=str(away),
                        file=server.address,
                        do="Start 'breakwright serve', or give --study HANDLE to begin without "
                        "it: what is recorded is sent when it is there.",
                    )
                ]
            ) from away
        screen.say(f"{away}; what comes is kept here and sent later")
        return Poster(server, wanted.study, pulls)
    screen.say(f"for the study '{study.title or study.handle}' on {server.address}")
    return poster


def _only_study(server: Server) -> str:
    handles = server.studies()
    if len(handles) == 1:
        return handles[0]
    if not handles:
        raise NotTaken("there is no study yet; make one on the page first")
    known = ", ".join(handles[:10])
    raise NotTaken(f"which study is it? Give --study with one of {known}")


def _display(poster: Poster | None, scale: str | None) -> Display | None:
    study = poster.study if poster is not None else None
    if study is None or not study.displays:
        return None
    return study.displays[place_of(study, scale)]


def _rules(wanted: Wanted, display: Display | None) -> PullRules:
    capacity, resolution = wanted.capacity, wanted.resolution
    if display is not None:
        capacity = capacity or display.capacity
        resolution = display.resolution if resolution is None else resolution
    begin = wanted.threshold or (_THRESHOLD_SHARE * capacity if capacity else _THRESHOLD_N)
    return PullRules(
        threshold=begin,
        stay=wanted.stay,
        resolution=resolution,
        capacity=capacity,
        rate=wanted.rate,
        sign=wanted.sign,
    )


def _wire(wanted: Wanted) -> Wire:
    if wanted.port is None:
        return StandardInput()
    return SerialPort(wanted.port, baud=wanted.baud)


def _shown_unit(wanted: Wanted, poster: Poster | None) -> ForceUnit:
    if poster is not None and poster.study is not None:
        return poster.study.unit
    return wanted.form.unit or ForceUnit.N


def _kept_before(
    pulls: KeptPulls, poster: Poster | None, screen: Screen
) -> tuple[list[KeptPull], list[KeptPull]]:
    """Return the pulls of earlier runs that are to be sent, and those to be asked about."""
    if poster is None:
        return [], []
    found, bad = pulls.unfinished()
    here = poster.server.address
    earlier = [pull for pull in found if pull.waits and pull.server == here]
    elsewhere = [pull for pull in found if pull.waits and pull.server != here]
    undecided = [pull for pull in found if pull.standing is Standing.OPEN]
    if earlier:
        screen.say(f"from an earlier run, still to be sent: {len(earlier)}")
    for pull in elsewhere:
        screen.say(f"piece {pull.label} waits for another server: --to {pull.server}")
    if undecided:
        screen.say(f"from an earlier run, nobody has said yet what they are: {len(undecided)}")
    for path in bad:
        screen.say(f"{path} cannot be read; it is left as it is")
    return earlier, undecided
