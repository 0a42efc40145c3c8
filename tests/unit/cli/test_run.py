"""Every ending becomes an exit status and a sentence; none shows a traceback."""

import inspect
from pathlib import Path
from typing import NoReturn

import pytest

from breakwright import bootstrap
from breakwright.cli import check, questions
from breakwright.cli.main import run
from breakwright.model.errors import ImpossibleValue, InputRefused, Problem
from breakwright.usecases.settings import CeilingReading, Settings
from breakwright.version import VERSION

REFUSED = InputRefused(
    [
        Problem("not-a-load", "this is not a load", "a.csv", 3, 2, "load", read="4l2"),
        Problem("unknown-group", "this group is not listed", "a.csv", 5),
    ]
)


def test_version(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["--version"]) == 0
    assert capsys.readouterr().out == f"breakwright {VERSION}\n"


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["nonsense"], "No such command"),
        (["answer"], "Missing argument"),
        (["answer", "a.csv", "--level", "1.5"], "--level"),
        (["answer", "a.csv", "--worth", "1"], "--worth"),
        (["answer", "a.csv", "--worth", "much"], "--worth"),
        (["answer", "a.csv", "--ceiling", "maybe"], "--ceiling"),
        (["answer", "a.csv", "--seed", "-1"], "--seed"),
        (["answer", "a.csv", "--resamples", "3"], "--resamples"),
        (["answer", "a.csv", "--report", "no/such/folder/r.html"], "does not exist; make it first"),
        (["answer", "a.csv", "--unit", "kg"], "kgf or a mass?"),
        (["answer", "a.csv", "--unit", "stone"], "N, kN, kgf or lbf"),
        (["check", "a.csv", "--sharing", "alternating"], "--sharing"),
        (["check", "a.csv", "--capacity", "0"], "--capacity"),
        (["predict"], "Missing argument"),
        (["rig", "nowhere"], "no-such-file"),
        (["scales", "a", "--offer", "0"], "--offer"),
        (["plan", "a", "--seed", "-1"], "--seed"),
        (["plan", "a", "--report", "no/such/folder/r.html"], "does not exist; make it first"),
    ],
)
def test_a_wrong_command_line_is_status_2(
    arguments: list[str], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(arguments) == 2
    printed = capsys.readouterr()
    assert printed.out == ""
    assert said in printed.err


@pytest.mark.parametrize(
    ("raised", "status", "said"),
    [
        (REFUSED, 2, ["a.csv:3:2", "'4l2'", "a.csv:5", "2 problems found"]),
        (ImpossibleValue("no load is negative"), 2, ["breakwright: no load is negative."]),
        (PermissionError(13, "Permission denied", "r.html"), 2, ["r.html: Permission denied"]),
        (OSError(28, "No space left on device"), 2, ["No space left on device"]),
        (KeyboardInterrupt(), 130, ["interrupted"]),
        (
            ModuleNotFoundError("No module named 'uvicorn'", name="uvicorn"),
            2,
            ["this needs uvicorn", "pip install 'breakwright[web]'"],
        ),
    ],
)
def test_what_goes_wrong_inside_is_told(
    raised: BaseException,
    status: int,
    said: list[str],
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    def read(path: Path, options: bootstrap.ReadOptions) -> NoReturn:
        raise raised

    monkeypatch.setattr(questions, "read", read)
    assert run(["check", "a.csv"]) == status
    printed = capsys.readouterr()
    assert printed.out == ""
    for part in said:
        assert part in printed.err
    assert "Traceback" not in printed.err


def test_a_fault_of_ours_is_not_hidden(monkeypatch: pytest.MonkeyPatch) -> None:
    def understand(source: object) -> NoReturn:
        raise ZeroDivisionError

    monkeypatch.setattr(check, "understand", understand)
    monkeypatch.setattr(questions, "read", lambda path, options: path)
    with pytest.raises(ZeroDivisionError):
        run(["check", "a.csv"])


def test_the_defaults_shown_are_those_that_hold() -> None:
    said = Settings()
    assert (
        said.level,
        said.seed,
        said.resamples,
    ) == (bootstrap.LEVEL, bootstrap.SEED, bootstrap.RESAMPLES)
    assert CeilingReading(bootstrap.CEILING) is said.ceiling
    signature = inspect.signature(bootstrap.answer)
    for name in ("level", "seed", "resamples", "ceiling"):
        assert signature.parameters[name].default == getattr(said, name)


def test_options_of_a_sheet_arrive_as_they_were_said(monkeypatch: pytest.MonkeyPatch) -> None:
    seen: list[bootstrap.ReadOptions] = []

    def read(path: Path, options: bootstrap.ReadOptions) -> NoReturn:
        seen.append(options)
        raise REFUSED

    monkeypatch.setattr(questions, "read", read)
    run(["check", "a.csv"])
    run(
        [
            *("check", "a.csv", "--unit", "KGF", "--decimal", "comma", "--negative", "by-size"),
            *("--sharing", "same-moment", "--reference", "plain", "--counts", "pull-out"),
            *("--worth", "1.2", "--resolution", "0.05", "--capacity", "50"),
        ]
    )
    plain, full = seen
    assert plain == bootstrap.ReadOptions()
    assert full == bootstrap.ReadOptions(
        unit=bootstrap.ForceUnit.KGF,
        decimal=bootstrap.Decimal.COMMA,
        pulls_negative=bootstrap.Negative.BY_SIZE,
        sharing=bootstrap.Sharing.SAME_MOMENT,
        reference="plain",
        counts="pull-out",
        worth=1.2,
        resolution=0.05,
        capacity=50.0,
    )


def test_an_interrupted_run_leaves_the_old_report(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    import breakwright.report.page as page

    def page_cut_short(*arguments: object, **named: object) -> NoReturn:
        raise KeyboardInterrupt

    for name in [n for n, v in vars(page).items() if inspect.isfunction(v) and n in page.__all__]:
        monkeypatch.setattr(page, name, page_cut_short)
    sheet = tmp_path / "sheet.csv"
    sheet.write_text("group,load_N\na,1\na,2\na,3\nb,4\nb,5\nb,7\n")
    report = tmp_path / "report.html"
    report.write_text("the old one")
    assert run(["answer", str(sheet), "--resamples", "200", "--report", str(report)]) == 130
    assert capsys.readouterr().out == ""
    assert report.read_text() == "the old one"
    assert sorted(path.name for path in tmp_path.iterdir()) == ["report.html", "sheet.csv"]
