"""Listening in a thread of its own: everything goes to the disk first, whoever is being asked."""

import queue
import threading
from collections import deque
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import UTC, datetime

from breakwright.model.errors import Problem
from breakwright.reading.stream_lines import LineReader, Sample
from breakwright.reading.stream_peak import peak_of
from breakwright.reading.stream_pulls import Phase, Pull, PullFinder
from breakwright.reading.stream_words import Fault
from breakwright.wire.arrivals import Arrival, Back, Data, Ended, Gone, Wire
from breakwright.wire.kept_pulls import KeptPull, KeptPulls
from breakwright.wire.questions import question_of, times_question
from breakwright.wire.trace_file import TraceFile

__all__ = ["Done", "Found", "News", "Recorder", "Refused", "Said", "View"]

_QUESTIONS_BELIEVED = 3
_GARBAGE_BELIEVED = 30
# No device prints this many lines in this time while somebody watches: they came in a heap.
_HEAP, _HEAP_S = 50, 0.005
_LEAD_IN = 20


@dataclass(frozen=True, slots=True)
class Found:
    """A pull was found, and is on the disk."""

    pull: KeptPull


@dataclass(frozen=True, slots=True)
class Said:
    """Something a person should know."""

    words: str


@dataclass(frozen=True, slots=True)
class Refused:
    """The lines cannot be read without an answer; listening has ended."""

    problem: Problem


@dataclass(frozen=True, slots=True)
class Done:
    """Listening has ended; ``failed`` says why where that was not in order."""

    failed: Exception | None = None


News = Found | Said | Refused | Done


@dataclass(frozen=True, slots=True)
class View:
    """What is seen at this moment; loads in N."""

    phase: Phase
    load: float | None
    peak: float
    lines: int
    gone: bool
    silent: float


@dataclass(slots=True)
class Recorder:
    """``news`` is read by whoever talks to the person. ``clock`` gives the time of day."""

    wire: Wire
    reader: LineReader
    finder: PullFinder
    trace: TraceFile
    pulls: KeptPulls
    clock: Callable[[], datetime] = lambda: datetime.now(UTC)
    news: "queue.Queue[News]" = field(default_factory=queue.Queue)
    _stop: threading.Event = field(default_factory=threading.Event)
    _thread: threading.Thread | None = None
    _gone: bool = False
    _last_at: float | None = None
    _now: float = 0.0
    _told: set[str] = field(default_factory=set)
    _heap: "deque[float]" = field(default_factory=lambda: deque(maxlen=_HEAP))

    def start(self) -> None:
        """Begin listening."""
        self._thread = threading.Thread(target=self._run, name="listening", daemon=True)
        self._thread.start()

    def stop(self) -> None:
        """End listening; a pull that is going on is kept as cut off. Returns when all is kept."""
        self._stop.set()
        if self._thread is not None:
            self._thread.join()

    def view(self) -> View:
        """Return what to show now."""
        silent = 0.0 if self._last_at is None else max(0.0, self._now - self._last_at)
        finder = self.finder
        return View(finder.phase, finder.load, finder.peak, self.reader.lines, self._gone, silent)

    def _run(self) -> None:
        failed: Exception | None = None
        try:
            refused = self._listen()
            if refused is not None:
                self.news.put(Refused(refused))
        except Exception as error:  # told to the person by the other thread, whatever it is
            failed = error
        finally:
            self.wire.close()
            try:
                self._keep(self.finder.end())
                self.trace.close()
            except OSError as error:
                failed = failed or error
            self.news.put(Done(failed))

    def _listen(self) -> Problem | None:
        while not self._stop.is_set():
            arrival = self.wire.read()
            self._now = arrival.at
            problem = self._hear(arrival)
            if problem is not None:
                return problem
            if isinstance(arrival, Ended):
                break
        return None

    def _hear(self, arrival: Arrival) -> Problem | None:
        match arrival:
            case Data(data, at):
                self._last_at = at
                return self._take(self.reader.feed(data, at))
            case Gone(why):
                self.reader.lost()
                self.trace.safe()
                self._gone = True
                self.news.put(Said(f"{self.wire.name} is gone: {why}. Waiting for it to come back"))
            case Back():
                self._gone = False
                self.news.put(Said(f"{self.wire.name} is back"))
            case Ended(at):
                return self._take(self.reader.finish(at), ended=True)
            case _:
                return None
        return None

    def _take(self, samples: list[Sample], *, ended: bool = False) -> Problem | None:
        self.trace.append(samples)
        for sample in samples:
            self._heap.append(sample.time)
            problem = self._in_a_heap(ended=False)
            if problem is not None:
                return problem
            self._keep(self.finder.feed(sample))
        if ended:
            problem = self._in_a_heap(ended=True)
            if problem is not None:
                return problem
        return self._unread(ended=ended)

    def _in_a_heap(self, *, ended: bool) -> Problem | None:
        reader = self.reader
        if self.wire.live or reader.stamped or reader.clock.every is not None:
            return None
        times = self._heap
        enough = len(times) == _HEAP or (ended and len(times) >= 3)
        if not enough or times[-1] - times[0] > _HEAP_S:
            return None
        return times_question(self.wire.name, columns=reader.columns)

    def _keep(self, pull: Pull | None) -> None:
        if pull is None:
            return
        now = self.clock()
        made = now.astimezone(UTC).isoformat(timespec="milliseconds")[:-6] + "Z"
        day = now.astimezone().date().isoformat()
        peak = peak_of(pull, self.finder.rules)
        self.trace.safe()
        samples = (*pull.rest[-_LEAD_IN:], *pull.samples)
        self.news.put(Found(self.pulls.keep(peak, samples, made=made, day=day)))

    def _unread(self, *, ended: bool) -> Problem | None:
        """Say what stands in the way where nothing could be read so far."""
        reader = self.reader
        if reader.samples:
            self._tell_of_stamps()
            return None
        for fault, times in reader.faults.items():
            if fault.asks and (ended or times >= _QUESTIONS_BELIEVED):
                return question_of(fault, reader.first_of[fault.value], self.wire.name)
        if reader.faults.get(Fault.GARBAGE, 0) >= _GARBAGE_BELIEVED:
            self._say_once(
                "garbage",
                "nothing that came so far could be read. Is the speed right (--baud)? The first "
                f"line was {reader.first_of[Fault.GARBAGE.value]!r}",
            )
        return None

    def _tell_of_stamps(self) -> None:
        reader = self.reader
        if reader.columns > 1 and not reader.stamped and reader.form.stamps is None:
            self._say_once(
                "stamps",
                "each line has a second number in front of the load. If that is the device's "
                "time, say in what: --stamps s, ms or us; until then the time of arrival counts",
            )

    def _say_once(self, key: str, words: str) -> None:
        if key not in self._told:
            self._told.add(key)
            self.news.put(Said(words))
