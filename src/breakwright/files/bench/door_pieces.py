"""What speaks against a piece's label, group, measurements or the reason it is left out for."""

from collections.abc import Mapping

from breakwright.files.bench.defined import defined
from breakwright.files.bench.known import Known
from breakwright.files.columns import Role, normalised, read_header
from breakwright.files.extras import is_measured
from breakwright.files.findings import Findings
from breakwright.files.nearest import listed, near_words
from breakwright.files.numerals import Decimal, is_number, parse_number
from breakwright.files.text_cells import is_reason
from breakwright.model.errors import Problem

__all__ = [
    "RESERVED",
    "group_problems",
    "label_problems",
    "measured_problems",
    "text_problems",
    "void_problems",
]

PIECE = "piece"
# Columns of the tables that are no measurement; those of the load are known by their header.
RESERVED = ("operator", "pair", "planned_day")
_LONGEST_LABEL = 80
# A header with one of these in a name does not show what parts its columns.
_PARTS = set(',;\t\n\r"')


def label_problems(known: Known, label: str, piece: str) -> list[Problem]:
    """Return what speaks against ``label`` for the piece with this id."""
    if not label.strip() or label != label.strip() or "\n" in label or len(label) > _LONGEST_LABEL:
        return [
            Problem(
                "specimen-missing",
                "this is not a label that a piece can bear",
                PIECE,
                column_name="label",
                read=label,
                allowed=f"1 to {_LONGEST_LABEL} characters on one line, no spaces at the ends",
                do="Give the piece a label of its own, such as A1.",
            )
        ]
    if any(p.live and p.label == label and p.id != piece for p in known.pieces.values()):
        return [
            Problem(
                "duplicate-specimen",
                f"another piece is called '{label}'",
                PIECE,
                column_name="label",
                read=label,
                allowed="a label of its own for each piece",
                do="Choose another label.",
            )
        ]
    return []


def group_problems(known: Known, group: str) -> list[Problem]:
    """Return what speaks against ``group``, given the study's list of groups."""
    assert known.toml is not None
    groups = defined(known.toml).groups
    if group in groups or (not groups and group.strip() == group != ""):
        return []
    near = near_words(group, groups)
    return [
        Problem(
            "unknown-group",
            "this group is not one of the groups in study.toml",
            PIECE,
            column_name="group",
            read=group,
            allowed=listed(groups) if groups else "a word or two, no spaces at the ends",
            do=(f"Did you mean '{near[0]}'? " if near else "")
            + "Choose one of these, or add the group to the study first.",
        )
    ]


def measured_problems(values: Mapping[str, str]) -> list[Problem]:
    """Return what speaks against these columns and what was measured."""
    problems: list[Problem] = []
    for name, value in values.items():
        problems += _column_problems(name) or _value_problems(name, value)
    return problems


def _column_problems(name: str) -> list[Problem]:
    findings = Findings(PIECE)
    column = read_header(["specimen", "group", "load_N", name], 1, findings)[3:]
    reserved = (
        not column
        or column[0].role is not Role.OTHER
        or normalised(name) in RESERVED
        or bool(_PARTS & set(name))
    )
    if reserved or len(findings):
        return [
            Problem(
                "column-reserved",
                "a measurement cannot go by this name, which means something else here",
                PIECE,
                column_name=name,
                read=name,
                allowed="a name with its unit, such as mass_g, width_mm or moisture_pct",
                do="Choose another name.",
            )
        ]
    return []


def _value_problems(name: str, value: str) -> list[Problem]:
    text = value.strip()
    if not text:
        return []
    number = parse_number(text, Decimal.POINT)
    plain = number is not None and abs(number) < 1e300 and "," not in text
    if plain or not (is_number(text) or is_measured(normalised(name))):
        return []
    return [
        Problem(
            "not-a-number",
            "this is not a number with a decimal point",
            PIECE,
            column_name=name,
            read=value,
            allowed="a number such as 412 or 412.5, without spaces and thousands marks",
            do="Write the number with a point; the unit stands in the column's name.",
        )
    ]


def void_problems(reason: str) -> list[Problem]:
    """Return what speaks against a reason for leaving a piece out."""
    if is_reason(reason.strip()):
        return []
    return [
        Problem(
            "void-reason",
            "a piece is left out only with a reason in words",
            PIECE,
            column_name="reason",
            read=reason,
            allowed="a reason, such as 'pilot' or 'split while clamping'",
            do="Write why the piece does not count.",
        )
    ]


def text_problems(text: str, name: str, *, code: str) -> list[Problem]:
    """Return the problem with this code where ``text`` says nothing."""
    if text.strip():
        return []
    return [
        Problem(
            code,
            "why? A change of what was noted needs a reason",
            PIECE,
            column_name=name,
            read=text,
            allowed="a few words, such as 'typed 142 for 412'",
            do="Write the reason.",
        )
    ]
