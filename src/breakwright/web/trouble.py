"""What went wrong, as an answer: a page for people, JSON for scripts, never a traceback."""

from collections.abc import Mapping, Sequence
from dataclasses import asdict
from typing import Any

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import JSONResponse
from starlette.exceptions import HTTPException
from starlette.responses import Response

from breakwright.model.errors import BreakwrightError, InputRefused, Problem
from breakwright.usecases.bench.ports import IdTaken, StoreFull, StoreUnfit, StoreUnreachable
from breakwright.web.rendering import page

__all__ = ["answer_troubles", "trouble_response"]

_HEADS = {
    401: "Not let in yet",
    403: "Not done",
    404: "Nothing is here",
    405: "Not possible here",
    409: "Not kept: it clashes",
    413: "Too large",
    421: "Not known by this name",
    422: "Not taken",
    500: "Something broke in Breakwright",
    503: "The store does not answer",
    507: "The disk is full",
}
_SAID = {
    400: ("request-unreadable", "Send it again in the form that the page or docs/api.md gives."),
    404: ("not-here", "Go to the list of studies and choose from there."),
    405: ("not-possible-here", "Use the page's own buttons, or see docs/api.md."),
    409: ("out-of-step", "Look at how it stands now, and send what fits."),
    413: ("body-too-large", "Send less at once; for a film use the upload of large files."),
    422: ("impossible", "Correct it and send it again; nothing was kept."),
    415: ("request-unreadable", "Send JSON with 'Content-Type: application/json'."),
}
_AT_FAULT = Problem(
    "broken-inside",
    "Breakwright itself is at fault; what the store had acknowledged is safe.",
    "",
    do="Try again. If it stays, the window in which 'breakwright serve' runs says more: please "
    "send that to the people who make Breakwright.",
)


def trouble_response(
    request: Request,
    status: int,
    problems: Sequence[Problem],
    *,
    headers: Mapping[str, str] | None = None,
) -> Response:
    """Return ``problems`` as JSON where a script asked, as a page where a person did."""
    if request.url.path.startswith("/api/"):
        form = {"problems": [_sendable(problem) for problem in problems]}
        response: Response = JSONResponse(form, status_code=status)
    else:
        response = page(
            request,
            "trouble.html.j2",
            title=_HEADS.get(status, "Not done"),
            status=status,
            context={"problems": problems, "typed": request.method not in ("GET", "HEAD")},
        )
    response.headers.update(headers or {})
    return response


def _sendable(problem: Problem) -> dict[str, Any]:
    # A lone surrogate, which JSON may hold, cannot be sent back.
    return {
        name: value.encode("utf-8", "backslashreplace").decode()
        if isinstance(value, str)
        else value
        for name, value in asdict(problem).items()
    }


def answer_troubles(app: FastAPI) -> None:
    """Have every error of ``app`` answered by this file."""
    for kind, answer in (
        (InputRefused, _refused),
        (BreakwrightError, _trouble),
        (RequestValidationError, _unshaped),
        (HTTPException, _http),
        (RecursionError, _nested),
        (Exception, _broken),
    ):
        app.add_exception_handler(kind, answer)


def _refused(request: Request, error: Exception) -> Response:
    assert isinstance(error, InputRefused)
    return trouble_response(request, 422, error.problems)


def _trouble(request: Request, error: Exception) -> Response:
    status, code, do = _meaning(error)
    where = request.url.path
    return trouble_response(request, status, [Problem(code, str(error), where, do=do)])


def _meaning(error: Exception) -> tuple[int, str, str]:
    match error:
        case IdTaken():
            return 409, "id-taken", "Make a new id for each event and send it again."
        case StoreFull():
            return (
                507,
                "disk-full",
                "Make room on the disk of the machine that runs Breakwright, then send it again. "
                "All that was acknowledged before is safe.",
            )
        case StoreUnreachable():
            return 503, "store-unreachable", "Try again in a moment; nothing of this was kept."
        case StoreUnfit():
            return 503, "store-unfit", "Start the version of Breakwright that made this store."
        case _:
            return 422, "impossible", "Correct it and send it again; nothing was kept."


def _unshaped(request: Request, error: Exception) -> Response:
    assert isinstance(error, RequestValidationError)
    problems = [
        Problem(
            "request-unreadable",
            f"this part of the request cannot be taken: {item['msg']}",
            request.url.path,
            column_name=".".join(str(part) for part in item["loc"]),
            read=_shown(item.get("input")),
            do="Correct it and send it again; nothing was kept.",
        )
        for item in error.errors()
    ]
    return trouble_response(request, 422, problems)


def _shown(value: object) -> str | None:
    return None if value is None else repr(value)[:80]


def _http(request: Request, error: Exception) -> Response:
    assert isinstance(error, HTTPException)
    code, do = _SAID.get(error.status_code, ("not-done", "Go back and try again."))
    said = error.detail if error.detail and error.status_code != 404 else "Nothing is here."
    if error.status_code == 404 and error.detail not in ("", "Not Found"):
        said = error.detail
    if error.status_code == 405:
        said = f"{request.method} is not possible at this address."
    problem = Problem(code, said, request.url.path, do=do)
    return trouble_response(request, error.status_code, [problem], headers=error.headers)


def _nested(request: Request, error: Exception) -> Response:  # noqa: ARG001
    problem = Problem(
        "request-unreadable",
        "this is nested too deeply to be read",
        request.url.path,
        do="Take the nesting out.",
    )
    return trouble_response(request, 422, [problem])


def _broken(request: Request, error: Exception) -> Response:  # noqa: ARG001
    # The server's own log has the traceback.
    return trouble_response(request, 500, [_AT_FAULT])
