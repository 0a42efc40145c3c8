"""How to let another phone or tablet in: the address as a square code."""

import io

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse

from breakwright.web.doors.guard import Doors
from breakwright.web.rendering import page

__all__ = ["code_drawing", "enter_address", "router"]

router = APIRouter(include_in_schema=False)


def enter_address(doors: Doors) -> str | None:
    """Return the address that lets a device in; None where the server is not open to others."""
    if doors.token is None or doors.address is None:
        return None
    return f"{doors.address}/enter?token={doors.token}"


def code_drawing(text: str) -> str:
    """Return ``text`` as a QR code in SVG, dark on light whatever the page's colours."""
    import segno

    out = io.BytesIO()
    code = segno.make(text, error="m", micro=False)
    colours = {"dark": "#000", "light": "#fff"}
    names = {"svgclass": None, "lineclass": None}
    code.save(out, kind="svg", xmldecl=False, omitsize=True, border=4, **colours, **names)
    return out.getvalue().decode("utf-8")


@router.get("/devices", response_class=HTMLResponse)
def devices(request: Request) -> HTMLResponse:
    """The page to show to the next phone's camera."""
    doors: Doors = getattr(request.app.state, "doors", Doors())
    address = enter_address(doors)
    answer = page(
        request,
        "devices.html.j2",
        title="Let another device in",
        context={
            "address": address,
            "drawing": None if address is None else code_drawing(address),
            "secure": request.url.scheme == "https",
        },
    )
    answer.headers["cache-control"] = "no-store"
    return answer
