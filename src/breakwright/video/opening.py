"""Open a file as a film, with words for everything that can be wrong with it."""

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from breakwright.video.trouble import FilmRefused, film_problem

__all__ = ["opened", "picture_stream"]

# What the library would also take for a film: text drawn as on a terminal.
_NO_FILMS = ("tty", "bin", "xbin", "idf", "adf")
_LISTS = ("concat", "hls", "dash", "imf", "webvtt")


@contextmanager
def opened(path: Path) -> Iterator[Any]:
    """Yield the container at ``path``. Raises FilmRefused where it is none."""
    av = _library(path)
    if not path.exists():
        raise FilmRefused(
            [
                film_problem(
                    "film-missing",
                    "there is no such file",
                    str(path),
                    do="Check the name; a path is taken from the folder you are in.",
                )
            ]
        )
    if not path.is_file():
        raise _unfit(path, "this is no file", "Name the film itself, not a folder.")
    try:
        # A playlist must not make the program fetch something from the network.
        container = av.open(
            f"file:{path}", metadata_errors="replace", options={"protocol_whitelist": "file"}
        )
    except PermissionError as failed:
        if os.access(path, os.R_OK):
            # What may not be read is a file that this one names.
            raise _list(path) from failed
        raise _unfit(
            path, "you may not read this file", "Allow it, or copy the film to your own folder."
        ) from failed
    except (av.FFmpegError, OSError, ValueError) as failed:
        raise _cannot(path, failed) from failed
    with container:
        yield container


def picture_stream(container: Any, path: Path) -> Any:
    """Return the stream of moving pictures. Raises FilmRefused where there is none."""
    kind = container.format.name
    if kind in _NO_FILMS:
        raise _unfit(path, "this is a text, not a video", "Give the video itself.")
    if kind in _LISTS:
        raise _list(path)
    if kind.endswith("_pipe") or kind == "image2":
        raise _unfit(
            path,
            "this is a single picture, not a video",
            "Film the pull; one picture does not show when the load was shown.",
        )
    moving = [s for s in container.streams.video if not _is_cover(s)]
    if not moving:
        raise FilmRefused(
            [
                film_problem(
                    "film-without-picture",
                    "this file has sound, but no moving picture"
                    if container.streams.audio
                    else "this file has no moving picture",
                    str(path),
                    do="Give the video itself.",
                )
            ]
        )
    if moving[0].codec_context is None:
        raise _unfit(
            path,
            "the video in it is of a kind that cannot be decoded here",
            "Export it on the phone as H.264 or HEVC.",
        )
    return moving[0]


def _is_cover(stream: Any) -> bool:
    return "attached_pic" in str(getattr(stream, "disposition", "")).lower()


def _list(path: Path) -> FilmRefused:
    return _unfit(path, "this is a list of files, not a video", "Give the video itself.")


def _cannot(path: Path, failed: BaseException) -> FilmRefused:
    if path.stat().st_size == 0:
        return _unfit(path, "the file is empty", "Copy it from the phone again.")
    said = str(getattr(failed, "strerror", None) or failed)
    with path.open("rb") as film:
        head = film.read(12)
    if head[4:8] in (b"ftyp", b"moov", b"mdat", b"wide", b"free"):
        return _unfit(
            path,
            f"the film's table of contents is missing or damaged ({said}): the recording or the "
            "copy was cut off before its end",
            "Copy it from the phone again; a recording that was cut off can sometimes be mended "
            "by the app that made it.",
        )
    return _unfit(path, f"this cannot be read as a video ({said})", "Give the video itself.")


def _unfit(path: Path, message: str, do: str) -> FilmRefused:
    return FilmRefused([film_problem("film-unfit", message, str(path), do=do)])


def _library(path: Path) -> Any:
    try:
        import av
        import av.logging
    except ImportError as missing:
        raise FilmRefused(
            [
                film_problem(
                    "extra-missing",
                    "reading a film needs libraries that are not installed",
                    str(path),
                    do="Install them with: pip install 'breakwright[video]'.",
                )
            ]
        ) from missing
    # The decoder's own complaints about damage go into the facts, not onto the terminal.
    av.logging.set_level(None)
    return av
