"""The hand-made results of the report's unit tests, for the pages that a browser opens."""

import importlib.util
import sys
from pathlib import Path
from typing import Any

FOLDER = Path(__file__).parents[1] / "unit" / "report"


def load_samples(name: str) -> Any:
    """The module ``name`` beside the report's unit tests, which is no package to import from."""
    spec = importlib.util.spec_from_file_location(f"{name}_for_pages", FOLDER / f"{name}.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module
    spec.loader.exec_module(module)
    return module
