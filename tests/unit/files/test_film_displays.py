"""Where the displays of a film stand: displays.toml, the option, what the study adds."""

import re
from dataclasses import replace
from pathlib import Path

import pytest

from breakwright.files.display_asked import DisplayAsked
from breakwright.files.display_marks import display_marks, instrument_facts_text, with_defaults
from breakwright.files.display_option import read_display_option
from breakwright.files.displays_file import displays_text, read_displays, read_displays_text
from breakwright.files.findings import Findings
from breakwright.model.errors import InputRefused, Problem
from breakwright.model.film import DisplayMark

CORNERS = ((412.0, 300.0), (640.5, 302.0), (639.0, 380.0), (411.0, 377.0))
STUDY = """
unit = "kgf"
[[instrument]]
name = "left scale"
capacity = 50.0
resolution = 0.05
refresh_s = 0.25
tare = 2.0
[[instrument]]
name = "cell"
unit = "N"
"""
WHOLE = """
film = "a.mp4"
study = "."
[[display]]
name = "left scale"
corners = [[412, 300], [640.5, 302], [639, 380], [411, 377]]
time = 0.5
instrument = "left scale"
unit = "kgf"
decimals = 2
resolution = 0.05
capacity = 50
refresh_s = 0.25
digits = 4
"""


def refused(text: str) -> tuple[Problem, ...]:
    with pytest.raises(InputRefused) as caught:
        read_displays_text(text, file="displays.toml")
    return caught.value.problems


def test_every_key_is_read_and_written_back() -> None:
    found = read_displays_text(WHOLE, file="displays.toml")
    one = found.displays[0]
    assert (found.film, found.study) == ("a.mp4", ".")
    assert (one.corners, one.time, one.digits, one.capacity) == (CORNERS, 0.5, 4, 50.0)
    again = read_displays_text(displays_text([one], film="a.mp4"), file="displays.toml")
    assert again.displays == (replace(one, line=3),)


@pytest.mark.parametrize("name", ['say "ah"', "tab\there", "größe\x7f", "a\\b"])
def test_any_name_survives_the_file(name: str) -> None:
    text = displays_text([DisplayAsked(name, CORNERS)])
    assert read_displays_text(text, file="x").displays[0].name == name


@pytest.mark.parametrize(
    ("broken", "code", "line"),
    [
        (WHOLE.replace("corners", "corner"), "unknown-key", 6),
        (WHOLE.replace("time = 0.5", "time = -1"), "wrong-type", 7),
        (WHOLE.replace("[640.5, 302], ", ""), "wrong-type", 6),
        (WHOLE.replace("decimals = 2", 'decimals = "2"'), "wrong-type", 10),
        (WHOLE.replace("digits = 4", "digits = true"), "wrong-type", 14),
        (WHOLE.replace("[[display]]", "[display]"), "wrong-type", 4),
        (WHOLE.replace('name = "left scale"', ""), "missing-key", 4),
        ('film = "a.mp4"', "display-missing", None),
        (WHOLE + "\nfoo", "toml-syntax", None),
        (WHOLE.replace("0.05", "inf"), "wrong-type", 11),
    ],
)
def test_what_cannot_be_is_refused_with_its_line(broken: str, code: str, line: int | None) -> None:
    problem = refused(broken)[-1]
    assert problem.code == code
    assert problem.allowed
    assert problem.do
    if line is not None:
        assert problem.line == line


def test_a_file_that_is_not_there_is_named(tmp_path: Path) -> None:
    with pytest.raises(InputRefused, match="no-such-file"):
        read_displays(tmp_path / "displays.toml")


def test_a_display_on_the_command_line() -> None:
    findings = Findings("--display")
    text = (
        "left scale: 412,300 640.5,302  639,380 411,377 @ 0.5 s; unit=kgf "
        'instrument="left scale" decimals=2 resolution=.05'
    )
    found = read_display_option(text, findings)
    assert not len(findings)
    assert found is not None
    assert (found.name, found.corners, found.time) == ("left scale", CORNERS, 0.5)
    assert (found.instrument, found.decimals, found.resolution) == ("left scale", 2, 0.05)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("412,300 640,302 639,380 411,377", "does not name a display"),
        ("left: 412,300 640,302 639,380", "has 3 corners, not four"),
        ("left: 1,1 2,1 2,2 1,2; bright", "'bright' is no key=value"),
        ("left: 1,1 2,1 2,2 1,2; unt=kgf", "'unt' is not known"),
        ("left: 1,1 2,1 2,2 1,2; resolution=0", "'resolution' cannot have this value"),
        ("left: 1,1 2,1 2,2 1,2; decimals=9", "'decimals' cannot have this value"),
    ],
)
def test_a_display_that_is_unclear_is_refused(text: str, words: str) -> None:
    findings = Findings("--display")
    assert read_display_option(text, findings) is None
    (problem,) = findings.problems()
    assert words in problem.message
    assert problem.allowed


def marks(*displays: DisplayAsked, study: str = STUDY) -> tuple[DisplayMark, ...]:
    findings = Findings("displays")
    found = display_marks(displays, instrument_facts_text(study), findings, study="study.toml")
    findings.refuse_if_any()
    return found


def test_the_study_says_what_the_display_does_not() -> None:
    (mark,) = marks(DisplayAsked("links", CORNERS, instrument="left scale"))
    # The capacity is what is left after the tare; 0.05 has two decimals.
    assert (mark.name, mark.unit, mark.capacity) == ("left scale", "kgf", 48.0)
    assert (mark.resolution, mark.decimals, mark.refresh) == (0.05, 2, 0.25)
    (same,) = marks(DisplayAsked("left scale", CORNERS))
    assert same == mark


def test_what_the_display_says_goes_before_the_study() -> None:
    (mark,) = marks(DisplayAsked("left scale", CORNERS, resolution=0.1, decimals=3))
    assert (mark.resolution, mark.decimals, mark.capacity) == (0.1, 3, 48.0)
    # In another unit the study's loads would be numbers of another size.
    (other,) = marks(DisplayAsked("left scale", CORNERS, unit="N"))
    assert (other.unit, other.resolution, other.capacity, other.refresh) == ("N", None, None, 0.25)


def test_what_is_said_of_all_fills_the_gaps_only() -> None:
    said = DisplayAsked("", (), unit="N", decimals=1)
    one, two = with_defaults(
        [DisplayAsked("a", CORNERS, unit="kgf"), DisplayAsked("b", CORNERS)], said
    )
    assert (one.unit, one.decimals, two.unit) == ("kgf", 1, "N")


@pytest.mark.parametrize(
    ("displays", "code"),
    [
        ([DisplayAsked("a", CORNERS)], "unit-missing"),
        ([DisplayAsked("a", CORNERS, unit="kg")], "force-or-mass"),
        ([DisplayAsked("a", CORNERS, instrument="left scal")], "unknown-scale"),
        (
            [DisplayAsked("a", CORNERS, unit="N"), DisplayAsked("a", CORNERS, unit="N")],
            "display-twice",
        ),
        (
            [DisplayAsked("a", (CORNERS[0], CORNERS[2], CORNERS[1], CORNERS[3]), unit="N")],
            "corners-cross",
        ),
        ([DisplayAsked("a", CORNERS[::-1], unit="N")], "corners-cross"),
    ],
)
def test_displays_that_cannot_be_read_are_refused(displays: list[DisplayAsked], code: str) -> None:
    with pytest.raises(InputRefused) as caught:
        marks(*displays)
    assert [problem.code for problem in caught.value.problems] == [code]
    assert caught.value.problems[0].message.startswith("«a»")


def test_the_examples_of_the_docs_are_read() -> None:
    page = (Path(__file__).parents[3] / "docs" / "read.md").read_text("utf-8")
    (toml,) = re.findall(r"```toml\n(.*?)```", page, re.DOTALL)
    one = read_displays_text(toml, file="displays.toml").displays[0]
    assert all(getattr(one, name) is not None for name in DisplayAsked.__dataclass_fields__)
    (option,) = re.findall(r'--display "([^"]+)"', page)
    findings = Findings("--display")
    assert read_display_option(option, findings) is not None
    assert not len(findings)
