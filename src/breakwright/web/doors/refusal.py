"""The door's own answers, before any page is reached: a page for people, JSON for scripts."""

from starlette.requests import Request
from starlette.responses import Response

from breakwright.model.errors import Problem
from breakwright.web.trouble import trouble_response

__all__ = ["refusal"]

_SAID = {
    "host-unknown": (
        421,
        "This server does not go by the name '{read}'.",
        "Use the address that 'breakwright serve' printed. To open it to the workshop's network, "
        "start it with --lan.",
    ),
    "not-let-in": (
        401,
        "This device has not been let in yet.",
        "Open /devices on the machine that runs Breakwright and point this device's camera at "
        "the square code, or open the whole address that 'breakwright serve --lan' printed. "
        "A script sends the token as 'Authorization: Bearer …'.",
    ),
    "token-wrong": (
        403,
        "This code lets nobody in (any more).",
        "Open /devices on the machine that runs Breakwright and use the code shown there now.",
    ),
    "came-from-elsewhere": (
        403,
        "A change was asked for by a page that is not one of this server's, so nothing was done.",
        "Open the page here, by the address in the address bar, and do it again.",
    ),
    "body-too-large": (
        413,
        "This is larger than the {read} that is taken here.",
        "Send less at once; for a film use the upload of large files.",
    ),
}


def refusal(request: Request, code: str, *, read: str | None = None) -> Response:
    """Return the answer for ``code``, one of those above."""
    status, message, do = _SAID[code]
    problem = Problem(code, message.format(read=read), request.url.path, read=read, do=do)
    headers = {"www-authenticate": "Bearer"} if status == 401 else {}
    return trouble_response(request, status, [problem], headers=headers)
