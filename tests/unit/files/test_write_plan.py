"""specimens.csv: every piece in order, and read again as a sheet once its loads are filled in."""

from pathlib import Path

import pytest
from reading import read_text

from breakwright.files.write_plan import PlannedPiece, refuse_changed, specimens_csv, write_all
from breakwright.model.errors import ImpossibleValue

PIECES = (
    PlannedPiece(1, "VK", "wedged", "A", 1, None, None),
    PlannedPiece(2, "HC", "plain, dry", None, 1, None, None),
    PlannedPiece(3, "TK", "wedged", "B", 2, "me", "P1"),
)


def test_columns_that_the_plan_does_not_use_are_left_out() -> None:
    plain = [PlannedPiece(1, "VK", "wedged", None, 1, None, None)]

    assert specimens_csv(plain, scales=1) == (
        "order,specimen,group,load,ended,failure,void,note\n1,VK,wedged,,,,,\n"
    )


def test_all_columns() -> None:
    assert specimens_csv(PIECES, scales=2).splitlines() == [
        "order,specimen,group,block,planned_day,operator,pair,load_1,load_2,ended,failure,void,note",
        "1,VK,wedged,A,day 1,,,,,,,,",
        '2,HC,"plain, dry",,day 1,,,,,,,,',
        "3,TK,wedged,B,day 2,me,P1,,,,,,",
    ]


def test_filled_in_it_is_a_sheet(tmp_path: Path) -> None:
    rows = specimens_csv(PIECES, scales=1).splitlines()
    head = rows[0].split(",").index("load")
    filled = [rows[0]]
    for number, row in enumerate(rows[1:], start=41):
        cells = row.replace('"plain, dry"', "plain").split(",")
        cells[head] = str(number)
        filled.append(",".join(cells))

    study = read_text(tmp_path, "\n".join(filled) + "\n", study='unit = "kgf"\n').study

    assert [(t.specimen, t.group, t.order) for t in study.trials] == [
        ("VK", "wedged", 1),
        ("HC", "plain", 2),
        ("TK", "wedged", 3),
    ]


def test_a_file_that_says_something_else_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / "a").write_text("mine", "utf-8")
    wanted = {tmp_path / "a": "theirs", tmp_path / "b": "new"}

    with pytest.raises(ImpossibleValue, match=r"a is there already.*--replace"):
        refuse_changed(wanted)

    assert (tmp_path / "a").read_text("utf-8") == "mine"
    assert not (tmp_path / "b").exists()


def test_the_same_again_is_no_trouble(tmp_path: Path) -> None:
    wanted = {tmp_path / "a": "é\n"}
    assert write_all(wanted) == (tmp_path / "a",)
    refuse_changed(wanted)
    assert (tmp_path / "a").read_bytes() == "é\n".encode()
