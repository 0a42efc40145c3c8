"""The evidence of a film in one zip file: crops, trace and the film's checksum, not the film."""

import io
import zipfile
from collections.abc import Mapping

__all__ = ["film_bundle"]

# A zip file needs a time for each of its files; the same evidence gives the same bytes.
_ALWAYS = (1980, 1, 1, 0, 0, 0)
_PACKED_ALREADY = (".jpg", ".png")


def film_bundle(files: Mapping[str, bytes], *, crops: Mapping[str, bytes]) -> bytes:
    """Return a zip file of ``files`` by name and, under ``crops/``, the pictures by name."""
    out = io.BytesIO()
    whole = {**files, **{f"crops/{name}": data for name, data in crops.items()}}
    with zipfile.ZipFile(out, "w") as archive:
        for name, data in whole.items():
            entry = zipfile.ZipInfo(name, _ALWAYS)
            packed = name.endswith(_PACKED_ALREADY)
            entry.compress_type = zipfile.ZIP_STORED if packed else zipfile.ZIP_DEFLATED
            entry.external_attr = 0o644 << 16
            archive.writestr(entry, data)
    return out.getvalue()
