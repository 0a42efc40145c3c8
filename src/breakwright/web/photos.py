"""Photos made anew before they are kept: upright, of a bearable size, and with nothing in them
but the picture (no place, no time, no camera)."""

import hashlib
import io
import threading
from typing import TYPE_CHECKING

from breakwright.model.errors import InputRefused, Problem
from breakwright.model.event import Event, PhotoAdded
from breakwright.usecases.bench.ports import Media, Receipt
from breakwright.web.services import Services, new_id

if TYPE_CHECKING:
    from PIL.Image import Image as Picture

__all__ = ["keep_photo", "made_anew"]

_LARGEST_SIDE = 2560
_QUALITY = 88
# More than phones make. A JPEG is shrunk while it is decoded; PNG and WebP cannot be: 4 bytes a
# pixel all at once.
_MOST_PIXELS = 80_000_000
_MOST_WHOLE = 40_000_000
_READ = ("JPEG", "PNG", "WEBP")
# A decoded picture is large: one at a time.
_ONE = threading.Lock()


def keep_photo(
    services: Services,
    study: str,
    data: bytes,
    *,
    piece: str | None,
    caption: str | None,
    event_id: str | None = None,
) -> tuple[str, Receipt]:
    """Keep the photo made anew and the event that names it; return its name and the receipt.

    Raises InputRefused where ``data`` is not a picture that is read here. Takes up to a second:
    not for the event loop.
    """
    anew = made_anew(data)
    name = f"{hashlib.sha256(anew).hexdigest()}.jpg"
    services.bench.store.put_media(Media(name, "image/jpeg", anew))
    body = PhotoAdded(name, piece, caption)
    return name, services.record_once(Event(event_id or new_id(), study, services.now(), body))


def made_anew(data: bytes) -> bytes:
    """Return the picture in ``data`` as a JPEG of at most 2560 pixels a side, upright, without
    anything else that the file held. Raises InputRefused."""
    from PIL import Image, ImageOps

    with _ONE:
        try:
            picture = Image.open(io.BytesIO(data), formats=_READ)
            pixels = picture.width * picture.height
            if pixels > (_MOST_PIXELS if picture.format == "JPEG" else _MOST_WHOLE):
                raise _refused(f"this picture has {pixels // 1_000_000} million pixels")
            picture.draft("RGB", (_LARGEST_SIDE, _LARGEST_SIDE))
            picture.thumbnail((_LARGEST_SIDE, _LARGEST_SIDE))
            upright = ImageOps.exif_transpose(picture)
            flat = _on_white(upright)
            out = io.BytesIO()
            # A fresh picture from the pixels alone: nothing of the old file's remarks goes along.
            clean = Image.new("RGB", flat.size)
            clean.paste(flat)
            clean.save(out, "JPEG", quality=_QUALITY, optimize=True)
        except InputRefused:
            raise
        except (Image.DecompressionBombError, Image.DecompressionBombWarning) as bomb:
            raise _refused("this picture has far too many pixels") from bomb
        except Exception as broken:
            # Decoders meet a broken file with errors of every kind.
            raise _refused("this file is not a picture that can be read here") from broken
    return out.getvalue()


def _on_white(picture: "Picture") -> "Picture":
    """Return ``picture`` in RGB; where it was see-through, white shows."""
    from PIL import Image

    if picture.mode in ("RGBA", "LA", "PA") or "transparency" in picture.info:
        rgba = picture.convert("RGBA")
        white = Image.new("RGBA", rgba.size, "white")
        return Image.alpha_composite(white, rgba).convert("RGB")
    return picture.convert("RGB")


def _refused(message: str) -> InputRefused:
    return InputRefused(
        (
            Problem(
                "photo-unreadable",
                message,
                "photo",
                allowed="a JPEG of at most 80 million pixels, a PNG or WebP of at most 40",
                do="Take the photo again, with the phone's camera set to save JPEG pictures.",
            ),
        )
    )
