"""'breakwright read' around the reading itself: what it takes, writes, refuses and keeps."""

import csv
import json
import signal
import zipfile
from pathlib import Path

import jsonschema
import pytest
from read_samples import CORNERS, small_film, stand_in

from breakwright.bootstrap import copy_demo, film_told
from breakwright.cli import read_job
from breakwright.cli.main import run
from breakwright.model.film import FilmDoubt
from breakwright.report.film_json import film_schema
from breakwright.video.film_file import open_film

PICTURES_OF = film_told._pictures
LEFT = ("--display", f"left scale: {CORNERS}; unit=kgf resolution=0.05")
RIGHT = ("--display", "right scale: 60,10 90,10 90,30 60,30 @ 0.2; unit=kgf resolution=0.05")
WRITTEN = {"film.json", "trace.csv", "crops"}
PICTURES = {
    "contact-sheet.png",
    *("chart.svg", "chart.png", "chart-dark.svg", "chart-dark.png"),
}


@pytest.fixture
def film(tmp_path: Path) -> Path:
    return small_film(tmp_path / "pull.mp4")


@pytest.fixture(autouse=True)
def reading(monkeypatch: pytest.MonkeyPatch) -> None:
    """No reading and no drawing: one test shows that the pictures are made."""
    monkeypatch.setattr(read_job, "read_film_file", stand_in())
    monkeypatch.setattr(film_told, "_pictures", lambda _: {})


def read(*words: object) -> int:
    return run(["read", *map(str, words)])


def test_the_peak_is_said_first_and_everything_is_written(
    film: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(film_told, "_pictures", PICTURES_OF)
    assert read(film, *LEFT, *RIGHT) == 0
    said = capsys.readouterr()
    lines = said.out.splitlines()
    assert lines[0] == "pull.mp4"
    assert lines[1].startswith("Peak: between 41.75 and 41.85 kgf, read off two displays.")
    folder = film.with_name("pull-read")
    assert {path.name for path in folder.iterdir()} == WRITTEN | PICTURES
    assert str(folder / "film.json") in said.err
    jsonschema.validate(json.loads((folder / "film.json").read_text("utf-8")), film_schema())
    rows = list(csv.DictReader((folder / "trace.csv").read_text("utf-8").splitlines()))
    assert rows[1]["left scale_kgf"] == "20.70"
    assert len(list((folder / "crops").iterdir())) == 6


def test_json_is_one_document(film: Path, capsysbinary: pytest.CaptureFixture[bytes]) -> None:
    assert read(film, *LEFT, "--json") == 0
    form = json.loads(capsysbinary.readouterr().out)
    assert form["breaks"][0]["windows"][0]["lower"] == 20.70
    assert form["films"][0]["name"] == "pull.mp4"


def test_displays_are_found_beside_the_film(film: Path) -> None:
    text = f'[[display]]\nname = "d"\ncorners = {[[10, 10], [50, 10], [50, 30], [10, 30]]}\n'
    film.with_name("displays.toml").write_text(f'film = "other.mp4"\n{text}')
    assert read(film, "--unit", "kgf", "--decimals", "2") == 2
    film.with_name("pull.displays.toml").write_text(text)
    assert read(film, "--unit", "kgf", "--decimals", "2") == 0
    form = json.loads((film.parent / "pull-read" / "film.json").read_text("utf-8"))
    assert form["displays"][0]["mark"]["decimals"] == 2


def test_a_film_that_was_read_is_passed_over(
    film: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    assert read(film, *LEFT) == 0

    def fail(*_: object, **__: object) -> None:
        raise AssertionError("it was read again")

    monkeypatch.setattr(read_job, "read_film_file", fail)
    capsys.readouterr()
    assert read(film, *LEFT, "--bundle", film.with_name("b.zip")) == 0
    assert "read by an earlier run" in capsys.readouterr().out
    with zipfile.ZipFile(film.with_name("b.zip")) as bundle:
        names = bundle.namelist()
    assert names[:2] == ["trace.csv", "film.json"]
    assert len(names) == 5
    with pytest.raises(AssertionError, match="read again"):
        read(film, *LEFT, "--again")
    with pytest.raises(AssertionError, match="read again"):
        read(film, "--display", f"left scale: {CORNERS}; unit=N")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--display", f"a: {CORNERS}"], "[unit-missing]"),
        (["--display", f"a: {CORNERS}; unit=kg"], "[force-or-mass]"),
        (["--display", "a: 10,10 50,10 50,30; unit=kgf"], "[display-unclear]"),
        (["--display", "a: 10,10 50,30 50,10 10,30; unit=kgf"], "[corners-cross]"),
        (["--display", "a: 10,10 150,10 150,30 10,30; unit=kgf"], "0,0 to 95,63"),
        (["--display", f"a: {CORNERS} @ 99; unit=kgf"], "[display-after-end]"),
        ([], "--propose"),
        (["--displays", "nowhere.toml"], "[no-such-file]"),
        ([*LEFT, "--study", "nowhere"], "nowhere"),
        ([*LEFT, "--piece", "C1"], "need --study"),
        ([*LEFT, "--offset", "1"], "--with FILM"),
    ],
)
def test_bad_input_is_said_and_nothing_is_reckoned(
    film: Path, words: list[str], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert read(film, *words) == 2
    shown = capsys.readouterr()
    assert said in shown.err
    assert "Traceback" not in shown.err
    assert shown.out == ""


def test_corners_that_cannot_be_are_drawn(film: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert read(film, "--display", "a: 10,10 150,10 150,30 10,30; unit=kgf") == 2
    picture = film.parent / "pull-read" / "displays.png"
    assert picture.read_bytes().startswith(b"\x89PNG")
    assert str(picture) in capsys.readouterr().err


@pytest.mark.parametrize("name", ["text.mp4", "none.mp4"])
def test_what_is_no_film_is_refused(
    tmp_path: Path, name: str, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "text.mp4").write_text("no film\n" * 99)
    assert read(tmp_path / name, *LEFT) == 2
    said = capsys.readouterr().err
    assert name in said
    assert "Traceback" not in said


def test_a_display_never_read_is_a_problem_with_a_picture(
    film: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    never = FilmDoubt("never-read", 0.0, 10.0, "left scale", 0.96, "no-contrast")
    monkeypatch.setattr(read_job, "read_film_file", stand_in(doubts=[never]))
    assert read(film, *LEFT) == 2
    said = capsys.readouterr().err
    assert "nothing was read on «left scale»: 96 % of frames had no contrast" in said
    folder = film.with_name("pull-read")
    assert str(folder / "displays.png") in said
    assert {path.name for path in folder.iterdir()} == {*WRITTEN, "displays.png"}


def test_a_film_that_grows_is_said_and_what_was_read_is_kept(
    film: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def grow(path: Path) -> None:
        with path.open("ab") as file:
            file.write(b"more")

    monkeypatch.setattr(read_job, "read_film_file", stand_in(meanwhile=grow))
    assert read(film, *LEFT) == 2
    assert "[film-growing]" in capsys.readouterr().err
    assert (film.parent / "pull-read" / "trace.csv").exists()


@pytest.fixture
def study(tmp_path: Path) -> Path:
    copy_demo(tmp_path / "study")
    return tmp_path / "study"


def row_of(study: Path, piece: str) -> dict[str, str]:
    with (study / "trials.csv").open(encoding="utf-8") as sheet:
        return next(row for row in csv.DictReader(sheet) if row["specimen"] == piece)


def test_a_reading_is_replaced_only_when_asked_and_what_stood_there_is_kept(
    film: Path, study: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    words = (film, *LEFT, *RIGHT, "--study", study, "--piece", "C5")
    before = (study / "trials.csv").read_bytes()
    assert read(*words) == 2
    assert "33.15 + 31.05" in capsys.readouterr().err
    assert (study / "trials.csv").read_bytes() == before
    assert read(*words, "--replace") == 0
    row = row_of(study, "C5")
    assert (row["load_1_kgf"], row["load_2_kgf"], row["ended"]) == ("20.70", "21.10", "broke")
    assert row["note"] == "read off pull.mp4 at 7.50 s"
    kept = json.loads((study / "trials-replaced.jsonl").read_text("utf-8"))
    assert kept["row"]["load_1_kgf"] == "33.15"
    assert kept["because"] == "read off pull.mp4"
    capsys.readouterr()
    assert read(*words) == 0
    assert "says so already; nothing was written" in capsys.readouterr().out


def test_an_empty_row_is_filled_without_a_question(film: Path, study: Path) -> None:
    sheet = study / "trials.csv"
    sheet.write_text(sheet.read_text("utf-8").replace("33.15,31.05,broke,pull-out", ",,,"))
    words = ("--study", study, "--piece", "C5", "--failure", "pull-out")
    assert read(film, *LEFT, *RIGHT, *words) == 0
    assert row_of(study, "C5")["failure"] == "pull-out"
    assert not (study / "trials-replaced.jsonl").exists()


def test_several_pulls_go_to_the_pieces_that_wait_once_a_person_agrees(
    film: Path, study: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(read_job, "read_film_file", stand_in(pulls=3))
    sheet = study / "trials.csv"
    text = sheet.read_text("utf-8")
    for loads in ("33.15,31.05,broke,pull-out", "25.95,26.40,broke,pull-out"):
        text = text.replace(loads, ",,,")
    sheet.write_text(text)
    words = (film, *LEFT, *RIGHT, "--study", study, "--in-order")
    assert read(film, *LEFT, *RIGHT, "--study", study, "--piece", "C5") == 2
    assert "3 pulls were found, and 1 piece was named" in capsys.readouterr().err
    assert read(*words) == 2
    said = capsys.readouterr()
    assert "nobody can be asked here" in said.err
    assert "pull.mp4, 7.5 s: piece C3: 20.70 + 21.10 kgf, broke" in said.out
    assert "pull.mp4, 27.5 s: no piece is left for it" in said.out
    assert sheet.read_text("utf-8") == text
    assert read(*words, "--yes") == 0
    assert row_of(study, "C3")["load_1_kgf"] == row_of(study, "C5")["load_1_kgf"] == "20.70"


def test_a_plan_without_a_sheet_begins_one(film: Path, study: Path) -> None:
    (study / "trials.csv").unlink()
    (study / "specimens.csv").write_text("order,specimen,group,load_1,load_2\n1,P1,plain,,\n")
    assert read(film, *LEFT, *RIGHT, "--study", study, "--piece", "P1") == 0
    assert (study / "trials.csv").read_text("utf-8") == (
        "order,specimen,group,load_1,load_2\n1,P1,plain,20.70,21.10\n"
    )
    assert (study / "specimens.csv").read_text("utf-8").endswith("P1,plain,,\n")


def test_a_folder_of_films_is_read_in_the_order_of_names(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = tmp_path / "films"
    folder.mkdir()
    for name in ("pull-10.mp4", "pull-9.mov"):
        small_film(folder / name)
    (folder / "notes.txt").write_text("no film")
    assert read(folder, *LEFT, "--workers", "1", "-q", "--out", tmp_path / "out") == 0
    said = capsys.readouterr().out.splitlines()
    assert [line.partition(":")[0] for line in said] == ["pull-9.mov", "pull-10.mp4"]
    assert (tmp_path / "out" / "pull-10-read" / "film.json").exists()
    assert read(tmp_path / "out", *LEFT) == 2
    assert "[no-films]" in capsys.readouterr().err


def test_interrupted_once_it_keeps_what_it_has(
    film: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def press(_: Path) -> None:
        signal.raise_signal(signal.SIGINT)

    before = signal.getsignal(signal.SIGINT)
    monkeypatch.setattr(read_job, "read_film_file", stand_in(meanwhile=press))
    other = small_film(film.with_name("second.mp4"))
    assert read(film, other, *LEFT) == 130
    said = capsys.readouterr()
    assert "what was read so far is kept" in said.err
    assert "1 film was not begun" in said.err
    assert (film.parent / "pull-read" / "film.json").exists()
    assert not (film.parent / "second-read").exists()
    assert signal.getsignal(signal.SIGINT) is before


def test_interrupted_twice_it_ends_at_once(film: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def press(_: Path) -> None:
        signal.raise_signal(signal.SIGINT)
        signal.raise_signal(signal.SIGINT)

    monkeypatch.setattr(read_job, "read_film_file", stand_in(meanwhile=press))
    assert read(film, *LEFT) == 130
    assert not (film.parent / "pull-read" / "film.json").exists()


def test_workers_bring_back_what_they_found(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for name in ("a.mp4", "b.mp4", "c.mp4"):
        (tmp_path / name).write_text("no film\n" * 99)
    assert read(tmp_path, *LEFT, "--workers", "2") == 2
    said = capsys.readouterr().err
    assert [said.index(f"{name}.mp4: ") for name in "abc"] == sorted(
        said.index(f"{name}.mp4: ") for name in "abc"
    )
    assert "3 problems found" in said


def test_the_film_as_far_as_it_was_read_says_so(film: Path) -> None:
    stop = iter([False, False, False, True])
    source = film_told._Stoppable(open_film(film), lambda: next(stop))
    times = [frame.time for frame in source.frames()]
    assert times == [0.0, 0.1, 0.2]
    assert source.facts().frames == 3
    assert source.facts().ended_early == "it was stopped by a person at 0.20 s"


OTHER = ("--with-display", f"right scale: {CORNERS}; unit=kgf resolution=0.05")


def test_two_films_of_one_break_are_added_up(
    film: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    other = small_film(film.with_name("right.mp4"), seed=1)
    assert read(film, *LEFT, "--with", other, *OTHER, "--offset", "0.1") == 0
    said = capsys.readouterr().out
    assert said.startswith("pull.mp4 and right.mp4\nPeak: ")
    assert "read off two displays" in said.replace("\n", " ")
    form = json.loads((film.parent / "pull-read-both" / "film.json").read_text("utf-8"))
    jsonschema.validate(form, film_schema())
    assert [one["offset"] for one in form["films"]] == [0.0, 0.1]
    assert [one["mark"]["name"] for one in form["displays"]] == ["left scale", "right scale"]
    assert form["breaks"][0]["lower"] == pytest.approx(41.35 * 9.80665)


def test_without_sound_the_offset_is_asked_for(
    film: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    other = small_film(film.with_name("right.mp4"), seed=1)
    assert read(film, *LEFT, "--with", other, *OTHER) == 2
    said = capsys.readouterr().err
    assert "[film-silent]" in said
    assert "--offset SECONDS" in said
    assert (film.parent / "pull-read" / "film.json").exists()


def test_films_that_do_not_overlap_are_refused(
    film: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    other = small_film(film.with_name("right.mp4"), seed=1)
    assert read(film, *LEFT, "--with", other, *OTHER, "--offset", "500") == 2
    assert "do not overlap" in capsys.readouterr().err
