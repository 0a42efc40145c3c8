"""docs/materials.md names every material, and what it says of the tables is so."""

import re
from pathlib import Path

from breakwright.strength.materials import find_material
from breakwright.strength.names import plain
from breakwright.strength.tables import material_names

DOC = (Path(__file__).parents[3] / "docs" / "materials.md").read_text(encoding="utf-8")


def test_every_material_is_named_under_its_sort() -> None:
    by_sort = dict(
        re.findall(r"^\| (hardwood|softwood|plywood|fibreboard|plastic) \| (.+) \|$", DOC, re.M)
    )
    for names in material_names():
        assert names.name in by_sort[names.category], names.name


def test_every_name_of_the_document_is_known() -> None:
    for sort, listed in re.findall(
        r"^\| (\w+) \| (sugar.+|douglas.+|birch.+|mdf.+) \|$", DOC, re.M
    ):
        for entry in re.split(r", (?![^(]*\))", listed):
            name, also = re.fullmatch(r"([^(]+?)(?: \((.+)\))?", entry).groups()  # type: ignore[union-attr]
            assert find_material(name).category == sort
            for said in (also or "").split(", "):
                if said and not said.startswith(("of the", "its ")):
                    assert plain(find_material(said).name) == plain(name)
