from breakwright.model.errors import Problem
from breakwright.report.problem_words import problem_lines, problems_text


def test_a_problem_says_where_what_and_what_now() -> None:
    problem = Problem(
        "not-a-load",
        "this is not a load",
        "pegs.csv",
        7,
        3,
        "load",
        read="4l2",
        allowed="a number, '>440', '<30' or '405..440'",
        do="Type the load again.",
    )
    lines = problem_lines(problem)
    assert lines[0] == "pegs.csv:7:3: this is not a load [not-a-load]"
    assert [line.split(":")[0].strip() for line in lines[1:]] == [
        "in column",
        "read",
        "allowed",
        "do",
    ]


def test_a_problem_of_the_whole_file_needs_no_line() -> None:
    assert problem_lines(Problem("empty", "there is nothing in it", "a.csv")) == (
        "a.csv: there is nothing in it [empty]",
    )


def test_control_characters_cannot_steer_the_terminal() -> None:
    text = problems_text([Problem("nul", "odd\x1b[31m", "a\x07.csv", read="x\x00y\u202e")])
    assert not any(ord(c) < 32 and c != "\n" for c in text)
    assert "\u202e" not in text
    assert "\\x00" in text


def test_all_problems_are_reported_and_counted() -> None:
    problems = [Problem("a", "first", "s.csv", 1), Problem("b", "second", "s.csv", 2)]
    text = problems_text(problems)
    assert "s.csv:1" in text
    assert "s.csv:2" in text
    assert text.endswith("2 problems found; nothing was reckoned.")
