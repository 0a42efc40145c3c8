"""Which part of Breakwright brings a library that is not there."""

from collections.abc import Mapping

__all__ = ["missing_words"]

# The library as it is imported -> the extra that installs it (see pyproject.toml).
_EXTRAS: Mapping[str, str] = {
    "alembic": "web",
    "cryptography": "web",
    "fastapi": "web",
    "PIL": "web",
    "platformdirs": "web",
    "python_multipart": "web",
    "segno": "web",
    "sqlalchemy": "web",
    "starlette": "web",
    "tomlkit": "web",
    "uvicorn": "web",
    "psycopg": "postgres",
    "serial": "serial",
    "av": "video",
    "cv2": "video",
    "onnxruntime": "video",
}


def missing_words(module: str | None) -> str | None:
    """Return what to say where ``module`` cannot be found; None where no extra brings it.

    >>> missing_words("fastapi.responses")
    "this needs fastapi, which is not installed: pip install 'breakwright[web]' brings it"
    >>> missing_words("breakwright.nothing") is None
    True
    """
    library = (module or "").partition(".")[0]
    extra = _EXTRAS.get(library)
    if extra is None:
        return None
    return (
        f"this needs {library}, which is not installed: pip install 'breakwright[{extra}]' "
        "brings it"
    )
