"""Schemathesis over the application in this process: what its own schema allows, and what it does
not, is answered as the schema says, and never with a status of 500 or above."""

import shutil
import tempfile
from pathlib import Path
from typing import Any

import schemathesis
from doors_here import LAN, STUDY, services_at
from hypothesis import HealthCheck, Phase, settings
from schemathesis.specs.openapi.checks import (
    content_type_conformance,
    response_headers_conformance,
    response_schema_conformance,
    status_code_conformance,
)

from breakwright.web.app import guarded, make_app
from breakwright.web.doors.guard import Doors

EXAMPLES = 12
CHECKS = [
    schemathesis.checks.not_a_server_error,
    status_code_conformance,
    content_type_conformance,
    response_schema_conformance,
    response_headers_conformance,
]
TOKEN = {"Authorization": f"Bearer {LAN.token}"}


def map_path_parameters(context: Any, path_parameters: Any) -> Any:
    """Half of the random studies are the one that is there, or nothing behind it were tried."""
    if path_parameters and len(str(path_parameters.get("key", "odd"))) % 2 == 0:
        path_parameters["key"] = STUDY
    return path_parameters


FOLDER = Path(tempfile.mkdtemp())


def teardown_module() -> None:
    shutil.rmtree(FOLDER)


def loaded() -> Any:
    app = make_app(services_at(FOLDER))
    app.state.news.over = True  # a stream that is over at once: the rest of it is tried elsewhere
    behind = guarded(app, Doors(names=frozenset({"testserver"}), token=LAN.token))
    made = schemathesis.openapi.from_asgi("/api/v1/openapi.json", behind, headers=TOKEN)
    made.hook(map_path_parameters)
    return made


# Tests are made from it one by one, so it is loaded before any fixture could be.
schema = loaded()


@schema.parametrize()
@settings(
    max_examples=EXAMPLES,
    phases=[Phase.explicit, Phase.generate],
    suppress_health_check=list(HealthCheck),
)
def test_any_request_is_answered_as_the_schema_says(case: schemathesis.Case) -> None:
    case.call_and_validate(headers=TOKEN, checks=CHECKS)
