from pathlib import Path

import pytest

import breakwright.strength.metal_tables as metal_tables
from breakwright.strength.metal_tables import table

MINE = (
    "bolts.csv",
    "glues.csv",
    "metals.csv",
    "ratings.csv",
    "threads_inch.csv",
    "threads_metric.csv",
)


@pytest.mark.parametrize("name", MINE)
def test_every_row_has_its_source_and_status(name: str) -> None:
    for row in table(name):
        assert row["source"], row
        assert row["status"] in ("verified", "memory"), row
        assert None not in row, row


@pytest.mark.parametrize("name", ["metals.csv", "ratings.csv", "glues.csv"])
def test_what_was_not_read_in_a_source_says_so(name: str) -> None:
    assert {row["status"] for row in table(name)} == {"memory"}


def test_the_tables_travel_with_the_package() -> None:
    folder = Path(metal_tables.__file__).parent / "data"
    assert set(MINE) <= {path.name for path in folder.glob("*.csv")}
