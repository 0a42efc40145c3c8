"""The loop of 'breakwright listen': show, ask, send, until the lines end."""

import queue
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

import click

from breakwright.bootstrap.listening import (
    Done,
    Found,
    KeptPull,
    KeptPulls,
    NotTaken,
    PieceSeen,
    Poster,
    Recorder,
    Refused,
    Said,
    ServerAway,
    entry_of,
    place_of,
)
from breakwright.cli.listen_screen import Screen
from breakwright.cli.listen_words import finder_lines, peak_lines, reader_lines
from breakwright.model.errors import InputRefused
from breakwright.model.trial import Ending
from breakwright.model.units import ForceUnit

__all__ = ["Decision", "Listening", "ask_person", "take_every"]

_TICK_S = 0.2
_LONGEST_PAUSE_S = 10.0
BAD_INPUT = 2


@dataclass(frozen=True, slots=True)
class Decision:
    """What a pull is: a reading of ``piece`` that ended so, or nothing (``piece`` None: keep it
    for later; ``left``: it is no reading)."""

    piece: PieceSeen | None = None
    ended: Ending | None = None
    failure: str | None = None
    left: bool = False


Decider = Callable[[KeptPull, Poster], Decision]


def take_every(failure: str | None) -> Decider:
    """Return a decider that gives each pull to the next piece, but for those that need a person."""

    def decide(pull: KeptPull, poster: Poster) -> Decision:
        if any(doubt.holds for doubt in pull.peak.doubts):
            return Decision()
        return Decision(poster.next_piece(), failure=failure)

    return decide


def ask_person(failure: str | None) -> Decider:
    """Return a decider that asks at the terminal."""

    def decide(pull: KeptPull, poster: Poster) -> Decision:
        piece = poster.next_piece()
        while True:
            name = f"{piece.label} ({piece.group})" if piece else "(no piece is waiting)"
            click.echo(f"Is this the reading of piece {name}?")
            said = click.prompt(
                "y: yes, p: of another piece, s: yes, but stopped before it broke, "
                "n: no reading, k: keep it for later",
                type=click.Choice(["y", "p", "s", "n", "k"]),
                show_choices=False,
            )
            if said == "n":
                return Decision(left=True)
            if said == "k":
                return Decision()
            if said == "p":
                label = click.prompt("Label of the piece")
                piece = poster.piece(label) or piece
                if piece is None or label not in (piece.label, piece.id):
                    click.echo(f"There is no piece {label!r} in this study.")
                continue
            if piece is None:
                continue
            if said == "s":
                return Decision(piece, Ending.STOPPED)
            way = failure
            if way is None and pull.peak.ending is Ending.BROKE:
                way = click.prompt("How did it break? (Enter: not said)", default="").strip()
            return Decision(piece, failure=way or None)

    return decide


@dataclass(slots=True)
class Listening:
    """``poster`` None: nothing is sent. ``scale`` names the study's display that the cell is.
    ``patience`` is for how long (s) sending is tried after the lines have ended."""

    recorder: Recorder
    pulls: KeptPulls
    screen: Screen
    decide: Decider
    poster: Poster | None
    scale: str | None = None
    unit: ForceUnit = ForceUnit.N
    patience: float = 10.0
    _open: list[KeptPull] = field(default_factory=list)
    _waiting: list[KeptPull] = field(default_factory=list)
    _pause: float = 0.0
    _next_try: float = 0.0
    _away: bool = False
    _found: int = 0
    _kept: int = 0

    def run(self, earlier: Sequence[KeptPull], *, undecided: Sequence[KeptPull] = ()) -> int:
        """Listen to the end; return the exit status. Raises InputRefused for a question that the
        lines raise, OSError where the disk takes no more, KeyboardInterrupt after all is kept.

        ``earlier``: pulls of earlier runs, decided, that go to the same server; ``undecided``
        those to ask about first.
        """
        if self.poster is not None:
            self.poster.claim(list(earlier))
        self._waiting, self._open = list(earlier), list(undecided)
        self.recorder.start()
        refused: Refused | None = None
        try:
            while True:
                news = self._news()
                if isinstance(news, Refused):
                    refused = news
                elif isinstance(news, Done):
                    if news.failed is not None:
                        raise news.failed
                    break
                elif news is not None:
                    self._hear(news)
                self._move_on()
            if refused is not None:
                raise InputRefused([refused.problem])
            self._last_tries()
        except (KeyboardInterrupt, click.Abort):
            self.recorder.stop()
            self._keep_rest()
            self._sum_up()
            raise
        self._sum_up()
        return BAD_INPUT if self._waiting or self._open or self._kept else 0

    def _news(self) -> Found | Said | Refused | Done | None:
        target = self._target()
        try:
            return self.recorder.news.get(timeout=_TICK_S)
        except queue.Empty:
            return None
        finally:
            self.screen.show(self.recorder.view(), unit=self.unit, target=target)

    def _target(self) -> str:
        if self.poster is None:
            return "nobody: nothing is sent"
        piece = self.poster.next_piece()
        if piece is None:
            return "no piece that is known to wait"
        return f"piece {piece.label} ({piece.group})"

    def _hear(self, news: Found | Said) -> None:
        if isinstance(news, Said):
            self.screen.say(news.words)
            return
        self._found += 1
        first, *others = peak_lines(news.pull.peak, self.unit)
        self.screen.say(first)
        for line in others:
            self.screen.say(f"  {line}")
        if self.poster is None:
            # A run that sends nothing leaves nothing to ask about.
            self.pulls.leave(news.pull)
        else:
            self._open.append(news.pull)

    def _move_on(self) -> None:
        """Decide and send what can be, unless the server was away a moment ago."""
        if self.poster is None:
            return
        if time.monotonic() < self._next_try:
            if self._away:
                self._decide_open(self.poster)
            return
        if self._open or self._waiting:
            try:
                self.poster.look()
            except ServerAway as away:
                self._decide_open(self.poster)
                self._say_away(str(away))
                return
            except NotTaken as no:
                self.screen.say(f"{no}; what comes is kept here")
                self._next_try = time.monotonic() + _LONGEST_PAUSE_S
                return
        self._decide_open(self.poster)
        while self._waiting:
            pull = self._waiting.pop(0)
            try:
                self._send(self.poster, pull)
            except ServerAway as away:
                # What of it has been acknowledged meanwhile stands in its file.
                self._waiting.insert(0, self.pulls.read(pull.id))
                self._say_away(str(away))
                return
            except NotTaken as no:
                self._kept += 1
                self.screen.say(f"not taken: {no}")
        if self._away:
            self._away = False
            self.screen.say(f"{self.poster.server.address} answers again")
        self._pause = 0.0

    def _say_away(self, words: str) -> None:
        if not self._away:
            self._away = True
            kept = "what comes is kept here and sent later"
            self.screen.say(f"{words}; {kept}")
        self._pause = min(max(0.5, 2.0 * self._pause), _LONGEST_PAUSE_S)
        self._next_try = time.monotonic() + self._pause

    def _decide_open(self, poster: Poster) -> None:
        study = poster.study
        if study is None:
            return  # never seen: which piece is next cannot be known yet
        try:
            place = place_of(study, self.scale)
        except NotTaken as no:
            self.screen.say(f"not sent: {no}")
            self._next_try = time.monotonic() + _LONGEST_PAUSE_S
            return
        while self._open:
            pull = self._open[0]
            with self.screen.aside():
                decision = self.decide(pull, poster)
            self._open.pop(0)
            if decision.left:
                self.pulls.leave(pull)
                self.screen.say("left out; its trace stays in " + str(self.pulls.folder))
            elif decision.piece is None:
                self._kept += 1
                self.screen.say("not sent: somebody must say first what it is")
            else:
                entry = entry_of(
                    pull.peak,
                    study,
                    place=place,
                    day=pull.day,
                    ended=decision.ended,
                    failure=decision.failure,
                )
                self._waiting.append(poster.decide(pull, decision.piece, entry))

    def _send(self, poster: Poster, pull: KeptPull) -> None:
        sent = poster.send(pull)
        assert pull.entry is not None
        typed = next(text for text in pull.entry.loads if text)
        words = f"piece {pull.label}: {typed} {pull.entry.unit}, {pull.entry.ended.value}"
        self.screen.say(f"sent: {words}" if sent.new else f"the server has it: {words}")
        for line in sent.understood:
            self.screen.say(f"  understood: {line}")
        if pull.entry.loads.count("") > 0:
            self.screen.say("  the other displays of this piece are still to be typed in")
        if sent.trace_trouble is not None:
            self.screen.say(f"  the trace stays here: {sent.trace_trouble}")

    def _last_tries(self) -> None:
        until = time.monotonic() + self.patience
        self._move_on()
        while (self._waiting or self._open) and time.monotonic() < until:
            time.sleep(min(_TICK_S, self.patience))
            self._move_on()

    def _keep_rest(self) -> None:
        """Take what the recorder put aside at the end; it is on the disk, nobody is asked."""
        while True:
            try:
                news = self.recorder.news.get_nowait()
            except queue.Empty:
                return
            if isinstance(news, Found | Said):
                self._hear(news)

    def _sum_up(self) -> None:
        for line in (
            *reader_lines(self.recorder.reader),
            *finder_lines(self.recorder.finder, self.unit, pulls=self._found),
        ):
            self.screen.say(line)
        self.screen.say(f"the trace is in {self.recorder.trace.path}")
        if self._waiting:
            count = len(self._waiting)
            noun = "1 reading waits" if count == 1 else f"{count} readings wait"
            self.screen.say(f"{noun} in {self.pulls.folder}; the next 'breakwright listen' sends")
        if self._open or self._kept:
            count = len(self._open) + self._kept
            noun = "1 pull is" if count == 1 else f"{count} pulls are"
            self.screen.say(f"{noun} kept in {self.pulls.folder}; a run without --yes asks")
