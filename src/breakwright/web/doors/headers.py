"""What every answer says about itself to the browser."""

from starlette.datastructures import MutableHeaders
from starlette.types import Message, Send

__all__ = ["POLICY", "with_headers"]

POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; "
    "connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'; "
    "worker-src 'self'; manifest-src 'self'"
)
_NOTHING = "default-src 'none'; frame-ancestors 'none'"
_PERMISSIONS = (
    "camera=(), display-capture=(), geolocation=(), microphone=(), payment=(), serial=(), "
    "usb=(), screen-wake-lock=(self)"
)


def with_headers(send: Send, *, path: str, trusted: bool) -> Send:
    """Return ``send``, adding to each answer the headers it does not set itself.

    ``trusted``: the browser takes this address for safe (HTTPS or this machine). Elsewhere it
    would complain of the opener policy on every page.
    """

    async def send_with_headers(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            api = path.startswith("/api/")
            headers.setdefault("content-security-policy", _NOTHING if api else POLICY)
            headers.setdefault("x-content-type-options", "nosniff")
            headers.setdefault("referrer-policy", "same-origin")
            headers.setdefault("permissions-policy", _PERMISSIONS)
            headers.setdefault("cross-origin-resource-policy", "same-origin")
            headers.setdefault("cache-control", "no-store" if api else "no-cache")
            if trusted:
                headers.setdefault("cross-origin-opener-policy", "same-origin")
        await send(message)

    return send_with_headers
