"""A study folder: what study.toml says, and how options go with it."""

from pathlib import Path

import pytest
from reading import codes, problems_of, read_text

from breakwright.files.source import ReadOptions, read_source
from breakwright.files.toml_lines import key_line
from breakwright.model.errors import InputRefused
from breakwright.model.trial import Sharing
from breakwright.model.units import ForceUnit

TRIALS = (
    "specimen,group,load_1,load_2,failure\n"
    "a,plain,20,21,pull-out\nb,wedged,30,31,shank\nc,wedged,33,31,pull-out\n"
)
STUDY = """
title = "Pegs"
question = "Does a wedge help?"
groups = ["wedged", "plain"]
reference = "plain"
counts = "pull-out"
worth = 1.2
unit = "kgf"
sharing = "separate-peaks"
invented = true

[record]
material = "ash"
date = 2024-05-31

[[instrument]]
name = "left"
capacity = 50
resolution = 0.05
refresh_s = 0.25
tare = 1
factor = [0.9, 1.0]

[[instrument.weight]]
true = 20
shown = 19.9
tolerance = 0.1

[[instrument]]
name = "right"
unit = "N"
capacity = 500
"""


def test_everything_that_study_toml_can_say(tmp_path: Path) -> None:
    source = read_text(tmp_path, TRIALS, study=STUDY)
    study = source.study

    assert (study.title, study.question, study.invented) == ("Pegs", "Does a wedge help?", True)
    assert (study.groups, study.reference) == (("wedged", "plain"), "plain")
    assert (study.counts, study.worth, study.unit) == ("pull-out", 1.2, ForceUnit.KGF)
    assert study.sharing is Sharing.SEPARATE_PEAKS
    assert dict(study.record) == {"material": "ash", "date": "2024-05-31"}
    left, right = study.instruments
    assert left.capacity == pytest.approx(490.3325)
    assert left.resolution == pytest.approx(0.4903325)
    assert (left.refresh, left.factor) == (0.25, (0.9, 1.0))
    assert left.tare == pytest.approx(9.80665)
    assert left.weights[0].true == pytest.approx(196.133)
    assert left.weights[0].shown == pytest.approx(195.152335)
    assert left.weights[0].tolerance == pytest.approx(0.980665)
    assert (right.capacity, right.resolution) == (500.0, 0.0)
    assert [r.instrument for r in study.trials[0].readings] == ["left", "right"]
    assert codes(source) == ["one-piece-group"]


def test_the_file_the_folder_and_the_trials_alone_can_be_given(tmp_path: Path) -> None:
    folder = read_text(tmp_path, TRIALS, study=STUDY)

    assert read_source(tmp_path / "study.toml", ReadOptions()) == folder
    alone = read_source(
        tmp_path / "trials.csv",
        ReadOptions(unit=ForceUnit.N, sharing=Sharing.SAME_MOMENT),
    )
    assert alone.study.title == ""
    assert "study-not-used" in codes(alone)


def test_a_folder_with_trials_only_is_like_a_sheet(tmp_path: Path) -> None:
    (tmp_path / "trials.csv").write_text("group,load_N\nplain,412\nwedged,530\n")

    assert read_source(tmp_path, ReadOptions()).study.groups == ("plain", "wedged")


def test_the_study_may_name_another_sheet(tmp_path: Path) -> None:
    (tmp_path / "study.toml").write_text('sheet = "pegs.csv"\n')
    (tmp_path / "pegs.csv").write_text("group,load_N\nplain,412\nwedged,530\n")

    assert len(read_source(tmp_path, ReadOptions()).study.trials) == 2


def test_an_option_goes_before_the_study_and_it_is_said(tmp_path: Path) -> None:
    options = ReadOptions(
        reference="wedged", counts="shank", worth=1.5, sharing=Sharing.SAME_MOMENT
    )

    source = read_text(tmp_path, TRIALS, options, study=STUDY)

    study = source.study
    assert (study.reference, study.counts, study.worth) == ("wedged", "shank", 1.5)
    assert study.sharing is Sharing.SAME_MOMENT
    said = {n.facts["key"] for n in source.notices if n.code == "option-over-study"}
    assert said == {"reference", "counts", "worth", "sharing"}


def test_an_option_that_says_the_same_is_not_remarked_on(tmp_path: Path) -> None:
    options = ReadOptions(reference="plain", counts="pull-out", worth=1.2)

    assert "option-over-study" not in codes(read_text(tmp_path, TRIALS, options, study=STUDY))


def test_groups_that_look_alike_are_two_where_the_study_lists_both(tmp_path: Path) -> None:
    text = "group,load_N\nA1,412\na1,530\n"

    study = read_text(tmp_path, text, study='groups = ["A1", "a1"]\n').study

    assert study.groups == ("A1", "a1")


def test_each_row_may_name_its_scale(tmp_path: Path) -> None:
    text = "group,load_N,scale\nplain,412,small\nwedged,530,big\n"
    toml = '[[instrument]]\nname = "small"\n[[instrument]]\nname = "big"\n'

    trials = read_text(tmp_path, text, study=toml).study.trials

    assert [t.readings[0].instrument for t in trials] == ["small", "big"]


def test_a_scale_column_without_described_instruments_is_kept_as_words(tmp_path: Path) -> None:
    source = read_text(tmp_path, "group,load_N,scale\nplain,412,red\nwedged,530,blue\n")

    assert dict(source.study.trials[0].words) == {"scale": "red"}
    assert "column-kept-as-words" in codes(source)


def test_an_instrument_without_unit_has_that_of_the_sheet(tmp_path: Path) -> None:
    text = "group,load_kgf\nplain,41\nwedged,53\n"
    toml = '[[instrument]]\nname = "scale"\ncapacity = 100\n'

    (scale,) = read_text(tmp_path, text, study=toml).study.instruments

    assert scale.capacity == 980.665


def test_problems_of_both_files_are_reported_together(tmp_path: Path) -> None:
    toml = 'worth = 0.5\n[[instrument]]\nname = "s"\ncapacity = -1\n[record]\nx = "y"\n'

    problems = problems_of(tmp_path, "group,load_N\nplain,4l2\nwedged,530\n", study=toml)

    assert [(Path(p.file).name, p.code, p.line) for p in problems] == [
        ("study.toml", "bad-worth", 1),
        ("study.toml", "bad-instrument", 4),
        ("study.toml", "unknown-key", 6),
        ("trials.csv", "not-a-load", 2),
    ]


def test_a_study_that_cannot_be_read_still_lets_the_sheet_be_looked_at(tmp_path: Path) -> None:
    problems = problems_of(tmp_path, "group,load_N\nplain,412,7\n", study="worth = \n")

    assert [p.code for p in problems] == ["toml-syntax", "ragged-row"]


@pytest.mark.parametrize(
    ("path", "line"),
    [
        (["worth"], 7),
        (["record", "material"], 13),
        (["instrument", 0, "tare"], 21),
        (["instrument", 0, "weight", 0, "shown"], 26),
        (["instrument", 1, "unit"], 31),
        (["instrument", 1, "tare"], 29),
        (["nowhere"], None),
    ],
)
def test_keys_are_found_on_their_lines(path: list[str | int], line: int | None) -> None:
    assert key_line(STUDY, path) == line


def test_a_file_that_may_not_be_read_is_a_problem(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def forbidden(path: Path) -> bytes:
        raise PermissionError(13, "Permission denied")

    (tmp_path / "sheet.csv").write_text("group,load_N\n")
    monkeypatch.setattr(Path, "read_bytes", forbidden)

    with pytest.raises(InputRefused) as caught:
        read_source(tmp_path / "sheet.csv", ReadOptions())
    assert caught.value.problems[0].code == "no-permission"


def test_a_failing_disk_is_a_problem(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def failing(path: Path) -> bytes:
        raise OSError(5, "Input/output error")

    (tmp_path / "sheet.csv").write_text("group,load_N\n")
    monkeypatch.setattr(Path, "read_bytes", failing)

    with pytest.raises(InputRefused) as caught:
        read_source(tmp_path / "sheet.csv", ReadOptions())
    (problem,) = caught.value.problems
    assert problem.code == "cannot-read"
    assert "Input/output error" in problem.message


@pytest.mark.parametrize("name", ["x" * 5000, "a\x00b", "nowhere/sheet.csv"])
def test_impossible_paths_are_problems(name: str, tmp_path: Path) -> None:
    with pytest.raises(InputRefused) as caught:
        read_source(tmp_path / name, ReadOptions())
    assert caught.value.problems[0].code in {"cannot-read", "no-such-file"}


def test_a_device_is_not_a_sheet() -> None:
    with pytest.raises(InputRefused) as caught:
        read_source(Path("/dev/null"), ReadOptions())
    assert caught.value.problems[0].code == "not-a-file"


def test_a_file_far_too_large_is_not_even_opened(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with (tmp_path / "sheet.csv").open("wb") as file:
        file.truncate(300 * 1024 * 1024)
    monkeypatch.delattr(Path, "read_bytes")

    with pytest.raises(InputRefused) as caught:
        read_source(tmp_path / "sheet.csv", ReadOptions())
    (problem,) = caught.value.problems
    assert (problem.code, problem.message) == ("file-too-large", "the file has 315 MB")
