"""Good sheets in every form they come in, and what is remarked on."""

import datetime as dt
from pathlib import Path

import pytest
from reading import codes, problems_of, read_text, spans

from breakwright.files.source import Decimal, ReadOptions
from breakwright.model.notice import Weight
from breakwright.model.trial import Ending

PLAIN = "group,load_N\nplain,412\nwedged,530.5\nplain,398\nwedged,512\n"
LOADS = [(412.0, 412.0), (530.5, 530.5), (398.0, 398.0), (512.0, 512.0)]


@pytest.mark.parametrize(
    "text",
    [
        PLAIN,
        PLAIN.replace(",", ";"),
        PLAIN.replace(",", "\t"),
        PLAIN.replace(",", ";").replace(".", ","),
        PLAIN.replace("530.5", '"530,5"'),
        PLAIN.replace("\n", "\r\n"),
        PLAIN.replace("\n", "\r"),
        PLAIN.rstrip("\n"),
        "\ufeff" + PLAIN,
        "\n\n" + PLAIN + "\n \n,\n",
        PLAIN.replace(",", " , "),
        PLAIN.replace("group", "GROUP").replace("load_N", "Load [N]"),
        PLAIN.replace("\n", ",,\n"),
        PLAIN.replace("plain", '"plain"'),
    ],
    ids=lambda text: repr(text[:40]),
)
def test_the_same_sheet_in_many_dresses(text: str, tmp_path: Path) -> None:
    study = read_text(tmp_path, text).study

    assert spans(study.trials) == LOADS
    assert study.groups == ("plain", "wedged")
    assert [t.group for t in study.trials] == ["plain", "wedged"] * 2


def test_everything_a_row_can_hold(tmp_path: Path) -> None:
    text = (
        "specimen,group,load_N,ended,failure,block,order,date,note,mass_g,glue\n"
        'a,plain,412,Over range,pull-out,board 1,3,2024-02-29,"hummed, then ""cracked""",12.5,pva\n'
        "b,wedged,530,,,,,,,,\n"
        "c,wedged,510,broke,,,,,,,hide\n"
    )

    first, second, _ = read_text(tmp_path, text).study.trials

    assert (first.specimen, first.ending, first.failure) == ("a", Ending.OVER_RANGE, "pull-out")
    assert (first.block, first.order, first.date) == ("board 1", 3, dt.date(2024, 2, 29))
    assert first.note == 'hummed, then "cracked"'
    assert dict(first.covariates) == {"mass_g": 12.5}
    assert dict(first.words) == {"glue": "pva"}
    assert first.line == 2
    assert (second.ending, second.failure, second.block) == (Ending.BROKE, None, None)
    assert dict(second.covariates) == {}
    assert dict(second.words) == {}


def test_a_line_break_in_quotes_does_not_shift_the_line_numbers(tmp_path: Path) -> None:
    text = 'group,load_N,note\nplain,412,"two\nlines"\nwedged,530,\n'

    assert [t.line for t in read_text(tmp_path, text).study.trials] == [2, 4]


def test_pieces_without_labels_are_numbered_and_it_is_said(tmp_path: Path) -> None:
    source = read_text(tmp_path, PLAIN)

    assert [t.specimen for t in source.study.trials] == ["p1", "p2", "p3", "p4"]
    assert "specimens-numbered" in codes(source)


def test_the_first_group_is_the_reference_and_it_is_said(tmp_path: Path) -> None:
    source = read_text(tmp_path, PLAIN)

    assert source.study.reference == "plain"
    assert "reference-from-order" in codes(source)


def test_a_reference_that_was_given_is_not_remarked_on(tmp_path: Path) -> None:
    source = read_text(tmp_path, PLAIN, ReadOptions(reference="wedged"))

    assert source.study.reference == "wedged"
    assert "reference-from-order" not in codes(source)


def test_a_group_of_one_piece_is_warned_about_not_refused(tmp_path: Path) -> None:
    source = read_text(tmp_path, "group,load_N\nplain,412\nwedged,530\nwedged,512\n")

    (notice,) = [n for n in source.notices if n.code == "one-piece-group"]
    assert (notice.groups, notice.weight) == (("plain",), Weight.WARNING)


def test_a_group_left_out_whole_is_warned_about(tmp_path: Path) -> None:
    text = "group,load_N,void\nplain,412,pilot\nwedged,530,\nwedged,512,\n"

    assert "group-all-void" in codes(read_text(tmp_path, text))


def test_a_column_of_words_and_numbers_is_kept_as_words_and_it_is_said(tmp_path: Path) -> None:
    source = read_text(tmp_path, "group,load_N,clamp\nplain,412,3\nwedged,530,tight\n")

    (notice,) = [n for n in source.notices if n.code == "column-kept-as-words"]
    assert dict(notice.facts) == {"column": "clamp", "numbers": 1, "cells": 2}
    assert dict(source.study.trials[0].words) == {"clamp": "3"}


def test_the_failure_that_counts_may_differ_in_case(tmp_path: Path) -> None:
    text = "group,load_N,failure\nplain,412,pull-out\nwedged,530,shank\n"

    assert read_text(tmp_path, text, ReadOptions(counts="Pull-Out")).study.counts == "Pull-Out"


def test_an_unclear_number_takes_the_mark_of_the_other_columns_and_it_is_said(
    tmp_path: Path,
) -> None:
    source = read_text(tmp_path, "group;load_N;mass_g\nplain;1,234;12,5\nwedged;2,345;13,5\n")

    assert spans(source.study.trials)[0] == (1.234, 1.234)
    assert "decimal-from-sheet" in codes(source)


@pytest.mark.parametrize(("decimal", "load"), [(Decimal.POINT, 1234.0), (Decimal.COMMA, 1.234)])
def test_the_question_of_the_decimal_mark_can_be_answered(
    decimal: Decimal, load: float, tmp_path: Path
) -> None:
    text = "group;load_N\nplain;1,234\nwedged;2,345\n"

    source = read_text(tmp_path, text, ReadOptions(decimal=decimal))

    assert spans(source.study.trials)[0] == (load, load)


def test_columns_that_disagree_on_the_mark_do_not_settle_a_third(tmp_path: Path) -> None:
    text = "group;load_N;mass_g;width_mm\nplain;1,234;12,5;9.5\nwedged;2,345;13,5;9.5\n"

    assert [p.code for p in problems_of(tmp_path, text)] == ["decimal-unclear"]


def test_resolution_and_capacity_describe_the_one_display(tmp_path: Path) -> None:
    text = "group,load_kgf\nplain,41\nwedged,53\n"

    study = read_text(tmp_path, text, ReadOptions(resolution=0.5, capacity=100.0)).study

    (scale,) = study.instruments
    assert (scale.resolution, scale.capacity) == (4.903325, 980.665)
    assert study.trials[0].readings[0].instrument == scale.name


def test_several_problems_are_all_reported_in_the_order_of_the_sheet(tmp_path: Path) -> None:
    text = (
        "specimen,group,load_N,date,ended,mass_g\n"
        "a,plain,412,2024-13-01,broke,12\n"
        "a,plain,4l2,2024-01-01,broke,12\n"
        "b,,nan,2024-01-01,snapped,wet\n"
        "c,Plain,1e400,2024-01-01,broke,12,7\n"
        "d,wedged,,2024-01-01,broke,12\n"
        "e,Wedged,500,2024-01-01,broke,12\n"
    )

    found = [(p.line, p.column, p.code) for p in problems_of(tmp_path, text)]

    assert found == [
        (2, 4, "bad-date"),
        (3, 1, "duplicate-specimen"),
        (3, 3, "not-a-load"),
        (4, 2, "group-missing"),
        (4, 3, "not-a-load"),
        (4, 5, "unknown-ending"),
        (4, 6, "not-a-number"),
        (5, 7, "ragged-row"),
        (6, 3, "load-missing"),
        (7, 2, "group-spelling"),
    ]


def test_very_many_kinds_of_problem_are_cut_off_with_a_count(tmp_path: Path) -> None:
    header = ",".join(f"m{i}_mm" for i in range(100))
    cells = ",".join(["wet"] * 100)

    problems = problems_of(
        tmp_path, f"group,load_N,{header}\nplain,412,{cells}\nwedged,5,{cells}\n"
    )

    assert len(problems) == 61
    assert problems[-1].code == "more-problems"
    assert "140 more" in problems[-1].message


def test_a_problem_in_the_header_is_on_its_line_below_blank_ones(tmp_path: Path) -> None:
    (problem,) = problems_of(tmp_path, "\n\ngroup,load\nplain,412\nwedged,530\n")

    assert (problem.code, problem.line) == ("unit-missing", 3)


def test_six_of_one_kind_are_shown_rather_than_five_and_a_count_of_one(tmp_path: Path) -> None:
    problems = problems_of(tmp_path, "group,load_N\n" + "plain,wet\n" * 6 + "wedged,5\n")

    assert [p.line for p in problems] == [2, 3, 4, 5, 6, 7]
    assert all(p.read == "wet" for p in problems)
