"""From lines to readings on a server that fails in every way: nothing lost, nothing sent twice."""

import os
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from bench_double import BenchDouble, piece_id
from scripted_device import lines_of, pull

from breakwright.cli.listen_screen import PlainScreen
from breakwright.cli.listening import Decision, Listening, take_every
from breakwright.files.atomic import write_beside
from breakwright.model.errors import InputRefused
from breakwright.model.units import ForceUnit
from breakwright.reading.stream_clock import Clock
from breakwright.reading.stream_line import Format
from breakwright.reading.stream_lines import LineReader
from breakwright.reading.stream_pulls import PullFinder, PullRules
from breakwright.reading.stream_words import Stamps
from breakwright.wire.kept_pulls import KeptPull, KeptPulls, Standing
from breakwright.wire.posting import Poster
from breakwright.wire.recorder import Recorder
from breakwright.wire.server import NotTaken, Server, ServerAway
from breakwright.wire.standard_input import StandardInput
from breakwright.wire.trace_file import TraceFile

THREE = [*pull(1000.0), *pull(1200.0), *pull(900.0)]
TIMED = Format(ForceUnit.N, None, Stamps.S)


@pytest.fixture
def bench() -> Iterator[BenchDouble]:
    made = BenchDouble()
    yield made
    made.close()


def listening(
    folder: Path,
    server: BenchDouble | str | None,
    data: bytes,
    *,
    form: Format = TIMED,
    patience: float = 0.0,
    decide: Callable[[KeptPull, Poster], Decision] | None = None,
) -> Listening:
    read, write = os.pipe()
    os.write(write, data)
    os.close(write)
    pulls = KeptPulls(folder, write=write_beside)
    address = server.address if isinstance(server, BenchDouble) else server
    poster = Poster(Server(address), "pegs", pulls) if address else None
    if isinstance(server, BenchDouble) and poster is not None and server.fail is None:
        poster.look()
    count = len(list(folder.glob("trace-*")))
    recorder = Recorder(
        StandardInput(read),
        LineReader(form, Clock()),
        PullFinder(PullRules(resolution=0.1)),
        TraceFile(folder / f"trace-{count}.csv"),
        pulls,
    )
    return Listening(
        recorder, pulls, PlainScreen(), decide or take_every(None), poster, patience=patience
    )


def standings(folder: Path) -> list[str]:
    pulls = KeptPulls(folder, write=write_beside)
    paths = folder.glob("pull-*.json")
    kept = [pulls.read(path.stem.removeprefix("pull-")) for path in paths]
    return [pull.standing.value for pull in sorted(kept, key=lambda pull: pull.made)]


def lower_of(typed: str) -> float:
    return float(typed.lstrip(">").partition("..")[0])


def test_every_pull_goes_to_the_next_piece(bench: BenchDouble, tmp_path: Path) -> None:
    assert listening(tmp_path, bench, lines_of(THREE)).run([]) == 0
    assert {k: round(lower_of(v)) for k, v in bench.loads().items()} == {
        "A1": 1000,
        "A2": 1200,
        "A3": 900,
    }
    assert standings(tmp_path) == ["sent"] * 3
    assert len(bench.traces) == 3
    trace = next(text for query, text in bench.traces.items() if piece_id("A1") in query)
    assert trace.startswith("time_s,load_N,state\n")
    assert ",1000," in trace


def test_the_whole_trace_is_on_the_disk(bench: BenchDouble, tmp_path: Path) -> None:
    made = listening(tmp_path, bench, lines_of(THREE))
    made.run([])
    rows = made.recorder.trace.path.read_text("ascii").splitlines()
    assert len(rows) == len(THREE) + 1
    assert [float(row.split(",")[1]) for row in rows[1:]] == [round(x, 1) for x in THREE]


@pytest.mark.parametrize("trouble", ["away", "503", "507"])
def test_a_server_that_is_away_at_the_break_gets_it_once_later(
    tmp_path: Path, trouble: str
) -> None:
    bench = BenchDouble()
    made = listening(tmp_path, bench, lines_of(THREE))
    if trouble == "away":
        bench.close()
    else:
        bench.fail = int(trouble)
    assert made.run([]) == 2
    assert bench.events == {}
    assert standings(tmp_path) == ["decided"] * 3

    if trouble == "away":
        bench = BenchDouble(bench.port)
    bench.fail = None
    again = listening(tmp_path, bench, b"")
    earlier, bad = again.pulls.unfinished()
    assert bad == []
    assert again.run(earlier) == 0
    assert {k: round(lower_of(v)) for k, v in bench.loads().items()} == {
        "A1": 1000,
        "A2": 1200,
        "A3": 900,
    }
    assert again.pulls.unfinished() == ([], [])
    bench.close()


def test_a_server_that_comes_back_while_we_try_gets_it(tmp_path: Path) -> None:
    bench = BenchDouble()
    bench.fail = 503
    made = listening(tmp_path, bench, lines_of(pull(1000.0)), patience=30.0)
    assert made.poster is not None
    made.poster.look()
    say = made.screen.say

    def mended_when_told(words: str) -> None:
        say(words)
        if "kept here and sent later" in words:
            bench.fail = None

    made.screen.say = mended_when_told  # type: ignore[method-assign]
    assert made.run([]) == 0
    assert len(bench.events) == 1
    bench.close()


def test_an_answer_lost_on_its_way_makes_no_second_reading(
    bench: BenchDouble, tmp_path: Path
) -> None:
    made = listening(tmp_path, bench, lines_of(pull(1000.0)), patience=30.0)
    bench.lose = True
    assert made.run([]) == 0
    assert len(bench.events) == 1
    assert standings(tmp_path) == ["sent"]


def test_a_server_never_seen_gets_the_pulls_in_their_order(tmp_path: Path) -> None:
    first = BenchDouble()
    first.close()
    made = listening(tmp_path, first.address, lines_of(THREE), patience=30.0)
    say, reborn = made.screen.say, []

    def started_when_told(words: str) -> None:
        say(words)
        if "kept here and sent later" in words:
            reborn.append(BenchDouble(first.port))

    made.screen.say = started_when_told  # type: ignore[method-assign]
    assert made.run([]) == 0
    (bench,) = reborn
    assert [round(lower_of(bench.loads()[p])) for p in ("A1", "A2", "A3")] == [1000, 1200, 900]
    bench.close()


def test_a_pull_that_needs_a_person_is_kept_and_not_sent(
    bench: BenchDouble, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    let_off = [*pull(1000.0, after=0), *[1000.0 - 25.0 * n for n in range(40)], *[0.0] * 30]
    made = listening(tmp_path, bench, lines_of(let_off))
    assert made.run([]) == 2
    assert bench.events == {}
    assert standings(tmp_path) == ["open"]
    said = capsys.readouterr().out
    assert "did it break?" in said
    assert "somebody must say" in said


def test_what_a_person_says_is_done(bench: BenchDouble, tmp_path: Path) -> None:
    answers = iter(["A3", None, "later"])

    def person(kept: KeptPull, poster: Poster) -> Decision:
        answer = next(answers)
        if answer is None:
            return Decision(left=True)
        piece = poster.piece(answer)
        return Decision(piece, failure="shank" if piece else None)

    made = listening(tmp_path, bench, lines_of(THREE), decide=person)
    assert made.run([]) == 2
    assert set(bench.loads()) == {"A3"}
    assert sorted(standings(tmp_path)) == ["left", "open", "sent"]


def test_a_reading_refused_by_the_server_is_open_again(
    bench: BenchDouble, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    made = listening(tmp_path, bench, lines_of(pull(1000.0)))
    bench.fail = 422
    made.run([])
    assert standings(tmp_path) == ["open"]
    assert "it is made to fail" in capsys.readouterr().out


def test_without_a_server_everything_is_recorded_and_nothing_asked_later(tmp_path: Path) -> None:
    made = listening(tmp_path, None, lines_of(THREE))
    assert made.run([]) == 0
    assert standings(tmp_path) == ["left"] * 3
    assert made.pulls.unfinished() == ([], [])


@pytest.mark.parametrize(
    ("data", "form", "code"),
    [
        (b"1\n2\n3\n4\n", Format(), "unit-missing"),
        (b"1 kg\n2 kg\n3 kg\n", Format(), "force-or-mass"),
        (b"1,5\n2,5\n3,5\n", Format(ForceUnit.N), "decimal-unclear"),
        (b"1 2 3\n" * 3, Format(ForceUnit.N), "columns-unclear"),
        (b"412\n" * 60, Format(ForceUnit.N), "times-unknown"),
        (b"0\n412\n0\n", Format(ForceUnit.N), "times-unknown"),
    ],
)
def test_a_question_ends_the_listening(
    tmp_path: Path, data: bytes, form: Format, code: str
) -> None:
    made = listening(tmp_path, None, data, form=form)
    with pytest.raises(InputRefused) as refused:
        made.run([])
    assert [problem.code for problem in refused.value.problems] == [code]
    assert made.recorder.trace.path.exists()


@pytest.mark.parametrize("failure", [OSError(28, "No space left on device"), KeyError("a fault")])
def test_a_failure_while_listening_is_not_taken_for_an_end(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, failure: Exception
) -> None:
    def full(self: TraceFile, samples: object) -> None:
        raise failure

    monkeypatch.setattr(TraceFile, "append", full)
    with pytest.raises(type(failure)):
        listening(tmp_path, None, lines_of(THREE)).run([])


def test_garbage_is_counted_and_shown(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    data = lines_of(pull(1000.0)).replace(b"\r\n2.000", b"\r\n\xff\xfe~~\r\n2.000")
    listening(tmp_path, None, data).run([])
    said = capsys.readouterr().out
    assert "1 line that could not be read" in said


def test_the_token_is_sent_as_a_script_sends_it(bench: BenchDouble) -> None:
    Server(f"{bench.address}/enter?token=abc").studies()
    Server(bench.address, token="def").studies()
    Server(bench.address).studies()
    assert bench.tokens == ["Bearer abc", "Bearer def", None]


def test_what_is_no_address_is_refused() -> None:
    for address in ("bench.local", "ftp://bench", "http://", "file:///etc/passwd"):
        with pytest.raises(InputRefused):
            Server(address)


def test_a_study_that_is_not_there(bench: BenchDouble) -> None:
    with pytest.raises(NotTaken, match="there is no such study"):
        Server(bench.address).study("chairs")


def test_nobody_at_the_address() -> None:
    bench = BenchDouble()
    bench.close()
    with pytest.raises(ServerAway, match="does not answer"):
        Server(bench.address).studies()


def test_a_kept_pull_comes_back_as_it_was(bench: BenchDouble, tmp_path: Path) -> None:
    made = listening(tmp_path, bench, lines_of(THREE[:45]))
    made.run([])
    (kept,), bad = made.pulls.unfinished()
    assert bad == []
    assert kept.standing is Standing.OPEN
    assert made.pulls.read(made.pulls.put(kept).id) == kept
    (tmp_path / "pull-broken.json").write_text("{")
    assert made.pulls.unfinished()[1] == [tmp_path / "pull-broken.json"]
