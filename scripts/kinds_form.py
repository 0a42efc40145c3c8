"""Write what the form for a part asks for, kind by kind, into the package.

    python scripts/kinds_form.py

The server reads this small file in place of the catalogue itself, which needs numerical libraries
that a page does without; a test holds the file to the catalogue.
"""

import json
from pathlib import Path

from breakwright.strength.catalogue import kinds
from breakwright.strength.materials import known_materials
from breakwright.strength.mechanism import Kind
from breakwright.strength.metal_tables import table

FILE = Path(__file__).parents[1] / "src/breakwright/web/preparing/kinds.json"

# Words that the program finds out by itself from the material.
FOUND_OUT = ("material_class", "side_material_class")


def _column(name: str, column: str) -> list[str]:
    return list(dict.fromkeys(row[column] for row in table(name)))


def _suggested() -> dict[str, list[str]]:
    """What a person may choose from where a table decides; other spellings are taken too."""
    materials = list(known_materials())
    numbers = [
        row["material"] for row in table("fasteners.csv") if row["property"] == "diameter_mm"
    ]
    gauges = [name.rsplit(" ", 1)[1] for name in numbers if name.startswith("wood screw no ")]
    threads = [f"{row['size']}" for row in table("threads_metric.csv")]
    inch = [
        f"{row['size']}-{row['coarse_per_in']}"
        for row in table("threads_inch.csv")
        if row["coarse_per_in"]
    ]
    return {
        "material": materials,
        "side_material": materials,
        "dowel_material": materials,
        "metal": _column("metals.csv", "metal"),
        "glue": _column("glues.csv", "glue"),
        "grade": _column("bolts.csv", "grade"),
        "what": _column("ratings.csv", "what"),
        "gauge": list(dict.fromkeys(gauges)),
        "thread": [*threads, *inch],
        "size": [],
    }


def _kind(kind: Kind) -> dict[str, object]:
    return {
        "name": kind.name,
        "meaning": kind.meaning,
        "numbers": [
            {
                "name": key.name,
                "meaning": key.meaning,
                "use": key.use.value,
                "low": key.low,
                "high": key.high,
                "default": key.default,
            }
            for key in kind.keys
        ],
        "words": {
            name: list(allowed) if allowed else None
            for name, allowed in kind.words.items()
            if name not in FOUND_OUT
        },
        "breaks": list(dict.fromkeys(way.name for way in kind.mechanisms)),
    }


def kinds_form() -> str:
    """Return the text of the file."""
    form = {"suggested": _suggested(), "kinds": [_kind(kind) for kind in kinds().values()]}
    return json.dumps(form, indent=1, ensure_ascii=False) + "\n"


if __name__ == "__main__":
    FILE.write_text(kinds_form(), "utf-8")
