"""Each row of the package's property tables carries its value exactly as the fact sheet has it."""

import csv
from pathlib import Path

import pytest

from breakwright.strength.tables import Row, material_names, rows

FACTS = Path(__file__).parents[2] / "validation" / "facts" / "properties.csv"
TABLES = ("wood", "green", "moisture", "scatter", "boards", "fasteners")

with FACTS.open(encoding="utf-8") as lines:
    BY_FACT = {f"{r['category']}/{r['item']}/{r['property']}": r for r in csv.DictReader(lines)}

ALL = [(table, row) for table in TABLES for row in rows(table)]


@pytest.mark.parametrize(
    ("table", "row"), ALL, ids=[f"{t}:{r.material}:{r.property}" for t, r in ALL]
)
def test_row_is_the_source_row(table: str, row: Row) -> None:
    fact = BY_FACT[row.fact]
    assert (row.text, row.unit, row.status, row.source) == (
        fact["value"],
        fact["unit"],
        fact["status"],
        fact["source"],
    )


def test_no_value_is_listed_twice() -> None:
    for table in TABLES:
        keys = [(r.material, r.property) for r in rows(table)]
        assert len(keys) == len(set(keys)), table


def test_every_wood_value_of_the_fact_sheet_is_used() -> None:
    used = {row.fact for _, row in ALL}
    wood = {f for f in BY_FACT if f.startswith(("wood_12pct/", "wood_green/", "moisture/"))}
    assert wood <= used


def test_every_material_of_the_tables_has_a_name() -> None:
    named = {n.name for n in material_names()}
    for table in ("wood", "green", "boards"):
        for row in rows(table):
            assert row.material in named or row.material.startswith("any "), row.material


def test_the_item_of_the_fact_belongs_to_the_material() -> None:
    # 'maple_sugar' and 'sugar maple' hold the same words; a slip of the copying hand would not.
    for row in (*rows("wood"), *rows("green")):
        item = row.fact.split("/")[1].replace("_coast", "")
        assert set(item.split("_")) == set(row.material.split()), row
