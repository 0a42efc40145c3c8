"""One reading put into a sheet: only its row changes, and it reads back as what was meant."""

import csv
import importlib.resources
import io
import json
from pathlib import Path

import pytest

from breakwright.files.findings import Findings
from breakwright.files.replaced_rows import keep_replaced
from breakwright.files.sheet_row import PutIn, put_in, waiting_pieces
from breakwright.files.study_file import StudyFile, read_study_text
from breakwright.model.errors import InputRefused
from breakwright.model.event import Entry
from breakwright.model.trial import Ending

TWO = """
unit = "kgf"
sharing = "same-moment"
[[instrument]]
name = "left"
[[instrument]]
name = "right"
"""
LOST = Entry(("20.70", ">21.10"), "kgf", Ending.SCREEN_LOST, decimal="point", note="read off a.mp4")


def study(text: str = TWO) -> StudyFile:
    found = read_study_text(text, Findings("study.toml"))
    assert found is not None
    return found


def demo_sheet() -> str:
    return importlib.resources.files("breakwright.demo").joinpath("trials.csv").read_text("utf-8")


def put(text: str, entry: Entry, piece: str, *, toml: str = TWO) -> PutIn:
    return put_in(text, study(toml), entry, piece=piece, file="trials.csv")


def test_only_the_row_of_the_piece_changes() -> None:
    before = demo_sheet()
    found = put(before, Entry(("30.10..30.35", "29.95"), "kgf", decimal="point"), "C5")
    changed = [
        (a, b) for a, b in zip(before.splitlines(), found.text.splitlines(), strict=True) if a != b
    ]
    assert len(changed) == 1
    assert changed[0][1].split(",")[5:8] == ["30.10..30.35", "29.95", "broke"]
    assert found.was == "33.15 + 31.05"
    assert found.before[1][2] == "C5"


def test_an_old_rate_does_not_count_the_gap_twice() -> None:
    found = put(demo_sheet(), Entry(("30.10..30.35", "29.95"), "kgf"), "C5")
    row = next(r for r in csv.DictReader(io.StringIO(found.text)) if r["specimen"] == "C5")
    assert row["rate_kgf_s"] == ""
    plain = put(demo_sheet(), Entry(("30.10", "29.95"), "kgf", rate="0.93"), "C5")
    assert ",0.93," in plain.text


def test_what_the_sheet_says_already_is_left_as_it_is() -> None:
    entry = Entry(("20.7", "21.1"), "kgf", Ending.SCREEN_LOST, rate="0.9", note="read off a.mp4")
    text = demo_sheet().replace("20.70,>21.10", "20.70,21.10")
    found = put(text, entry, "C1")
    assert found.same
    assert found.text == text


@pytest.mark.parametrize("newline", ["\n", "\r\n"])
def test_a_sheet_keeps_its_marks_and_gets_the_columns_it_needs(newline: str) -> None:
    text = '\ufeffspecimen;group;load_1;load_2\nA;"x;y";3,05;4,10\n\nB;plain;;\n'
    found = put(text.replace("\n", newline), LOST, "B")
    assert found.text == (
        '\ufeffspecimen;group;load_1;load_2;ended\nA;"x;y";3,05;4,10;\n\n'
        "B;plain;20,70;>21,10;screen-lost\n"
    ).replace("\n", newline)
    assert found.was == ""


def test_a_note_is_added_once() -> None:
    text = "specimen,group,load_1,load_2,ended,note\nA,x,,,,knot beside the peg\n"
    once = put(text, LOST, "A").text
    assert once.endswith("screen-lost,knot beside the peg; read off a.mp4\n")
    twice = put(once, Entry(("21.00", "21.10"), "kgf", note="read off b.mp4"), "A").text
    assert twice.endswith("knot beside the peg; read off b.mp4\n")


def test_a_study_with_one_scale_of_several_names_it() -> None:
    toml = TWO.replace('sharing = "same-moment"\n', "")
    text = "specimen,group,load\nA,x,\nB,x,3\n"
    found = put(text, Entry(("27.35",), "kgf", scale="right"), "A", toml=toml)
    assert found.text == "specimen,group,load,scale\nA,x,27.35,right\nB,x,3,\n"


@pytest.mark.parametrize(
    ("text", "piece", "code"),
    [
        ("specimen,group,load_1,load_2\nA,x,1,2\n", "B", "unknown-piece"),
        ("specimen,group,load_1,load_2\nA,x,1,2\nA,x,1,2\n", "A", "unknown-piece"),
        ("specimen,group,load\nA,x,1\n", "A", "display-count"),
        ("specimen,group,load_1_N,load_2_N\nA,x,1,2\n", "A", "unit-disagrees"),
        ("group\nx\n", "A", "delimiter-unclear"),
    ],
)
def test_a_sheet_that_cannot_take_it_is_refused(text: str, piece: str, code: str) -> None:
    with pytest.raises(InputRefused) as caught:
        put(text, LOST, piece)
    assert caught.value.problems[0].code == code
    assert caught.value.problems[0].do


def test_the_pieces_that_wait_come_in_the_planned_order() -> None:
    text = "order,specimen,group,load,void\n3,C,x,,\n1,A,x,5,\n2,B,x,,\n4,D,x,,split\n10,E,x,,\n"
    assert waiting_pieces(text, file="trials.csv") == ("B", "C", "E")


def test_replaced_rows_are_added_to_what_was_kept_before(tmp_path: Path) -> None:
    for load in ("1", "2"):
        path = keep_replaced(
            tmp_path, when="2024-03-10T10:00:00Z", because="b", header=("load",), row=(load,)
        )
    lines = [json.loads(line) for line in path.read_text("utf-8").splitlines()]
    assert [line["row"] for line in lines] == [{"load": "1"}, {"load": "2"}]
