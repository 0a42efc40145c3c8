"""The OpenAPI text: the routes' own, with the kinds of events and the token written out."""

from typing import Any

from fastapi import FastAPI
from fastapi.openapi.utils import get_openapi
from pydantic import TypeAdapter

from breakwright.model.event import KINDS
from breakwright.version import VERSION

__all__ = ["whole_schema"]

_ABOUT = (
    "Write what happens at the bench as events, or a reading in the simple form; read studies "
    "as they stand. Same rules and same checks as the pages. See docs/api.md."
)
_REF = "#/components/schemas/{model}"


def whole_schema(app: FastAPI) -> dict[str, Any]:
    """Return the text that /api/v1/openapi.json answers with."""
    schema = get_openapi(title=app.title, version=VERSION, description=_ABOUT, routes=app.routes)
    schema["paths"] = {
        path: item for path, item in schema["paths"].items() if path.startswith("/api/v1/")
    }
    parts = schema["components"]["schemas"]
    parts.pop("HTTPValidationError", None)
    parts.pop("ValidationError", None)
    parts.update(_events())
    parts["EventsIn"]["properties"]["events"]["items"] = {"$ref": _REF.format(model="Event")}
    parts["RecordedOut"]["properties"]["event"] = {"$ref": _REF.format(model="Event")}
    schema["components"]["securitySchemes"] = {
        "token": {
            "type": "http",
            "scheme": "bearer",
            "description": "What 'serve --lan' printed. Programs on the same machine need none.",
        }
    }
    schema["security"] = [{}, {"token": []}]
    return schema


def _events() -> dict[str, Any]:
    """Return the schema of an event: one shape for each kind, told apart by ``kind``."""
    parts: dict[str, Any] = {}
    whole = []
    for word, body in KINDS.items():
        told = TypeAdapter(body).json_schema(ref_template=_REF)
        parts.update(told.pop("$defs", {}))
        told["additionalProperties"] = False
        parts[body.__name__] = told
        name = f"{body.__name__}Event"
        parts[name] = _event(word, body.__name__)
        whole.append({"$ref": _REF.format(model=name)})
    parts["Event"] = {"oneOf": whole}
    return parts


def _event(word: str, body: str) -> dict[str, Any]:
    hexadecimal = {"type": "string", "pattern": "^[0-9a-f]{32}$"}
    return {
        "type": "object",
        "required": ["id", "study", "made", "kind", "body"],
        "additionalProperties": False,
        "properties": {
            "id": {**hexadecimal, "description": "made on the device, at random"},
            "study": hexadecimal,
            "made": {"type": "string", "format": "date-time"},
            "device": {"type": "string", "maxLength": 4000},
            "person": {"anyOf": [{"type": "string", "maxLength": 4000}, {"type": "null"}]},
            "kind": {"type": "string", "enum": [word]},
            "body": {"$ref": _REF.format(model=body)},
        },
    }
