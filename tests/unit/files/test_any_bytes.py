"""Whatever a file holds, it is read or refused with problems: never another exception."""

import contextlib
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reading import read_text

from breakwright.model.errors import InputRefused

CELLS = st.sampled_from(
    [
        *("plain", "wedged", "412", ">440", "440+", "<30", "4..5", "..", "-", "-5", "1,5", "1.234"),
        *("", '"', "nan", "1e999", "2024-01-01", "broke", "#N/A", "\u200b", "0", "٣", "group"),
        "5 kgf",
    ]
)
HEADERS = st.sampled_from(
    [
        *("group", "load", "load_N", "load_1", "load_2_kgf", "load_kg", "void", "ended", "date"),
        *("", "order", "together", "rate", "specimen", "scale", "mass_g", "glue", "failure"),
        "Group",
    ]
)


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("any")


@given(data=st.binary(max_size=200))
def test_any_bytes(folder: Path, data: bytes) -> None:
    with contextlib.suppress(InputRefused):
        read_text(folder, data)


@given(
    header=st.lists(HEADERS, max_size=6),
    rows=st.lists(st.lists(CELLS, max_size=6), max_size=6),
    delimiter=st.sampled_from([",", ";", "\t"]),
)
def test_any_cells(folder: Path, header: list[str], rows: list[list[str]], delimiter: str) -> None:
    text = "\n".join(delimiter.join(row) for row in [["group", "load_N", *header], *rows])
    with contextlib.suppress(InputRefused):
        read_text(folder, text)


@given(
    text=st.text(alphabet="[]{}=\"'.,-\n #abirstumentnogpx0159:", max_size=80)
    | st.sampled_from(
        ["worth", "groups", "instrument", "record", "unit", "invented", "sheet"]
    ).flatmap(
        lambda key: st.sampled_from(
            [
                *("1", "1.5", "nan", "true", '"x"', "[]", "[1]", '["a", 1]', "{}", "{a = 1}"),
                *("[{}]", "2024-01-01", "12:30:00", "99999999999999999999", "[[[]]]", '""'),
            ]
        ).map(lambda value: f"{key} = {value}\n")
    )
)
def test_any_study(tmp_path_factory: pytest.TempPathFactory, text: str) -> None:
    folder = tmp_path_factory.mktemp("study")
    with contextlib.suppress(InputRefused):
        read_text(folder, "group,load_N\nplain,412\nwedged,530\n", study=text)
