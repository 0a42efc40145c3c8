"""From a path to text: everything that can be wrong with a file before its first line is read."""

import codecs
from pathlib import Path

from breakwright.files.findings import Findings
from breakwright.files.nearest import near_words

__all__ = ["read_text", "text_of"]

_LARGEST = 256 * 1024 * 1024

_SAVE_AS = (
    "Open it in the program that made it, choose 'Save as' or 'Export', and take "
    "'CSV UTF-8 (comma delimited)'."
)
_NOT_TEXT = {
    b"PK\x03\x04": "an Excel or OpenDocument workbook (or another zip file), whatever it is called",
    b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1": "an old Excel workbook, whatever it is called",
    b"%PDF": "a PDF document",
    b"\x1f\x8b": "a gzip-compressed file",
    b"{\\rtf": "a rich-text document",
    b"\x89PNG": "a picture",
    b"\xff\xd8\xff": "a picture",
}
# The four-byte marks first: UTF-32's begins with UTF-16's.
_WIDE_MARKS = (
    codecs.BOM_UTF32_LE,
    codecs.BOM_UTF32_BE,
    codecs.BOM_UTF16_LE,
    codecs.BOM_UTF16_BE,
)


def read_text(path: Path, findings: Findings) -> str | None:
    """Return the file's text without a byte-order mark, None where a problem was noted."""
    data = _read_bytes(path, findings)
    return None if data is None else text_of(data, findings)


def text_of(data: bytes, findings: Findings) -> str | None:
    """Return ``data`` as text without a byte-order mark, None where a problem was noted."""
    return _decoded(data, findings) if _is_text(data, findings) else None


def _read_bytes(path: Path, findings: Findings) -> bytes | None:
    try:
        if not path.exists():
            _missing(path, findings)
            return None
        if not path.is_file():
            findings.problem(
                "not-a-file",
                "this is neither a file nor a study folder",
                allowed="a CSV sheet, or a folder with study.toml and trials.csv",
                do="Give the path of the sheet or of the study folder.",
            )
            return None
        if path.stat().st_size > _LARGEST:
            findings.problem(
                "file-too-large",
                f"the file has {path.stat().st_size / 1e6:.0f} MB",
                allowed=f"up to {_LARGEST / 1e6:.0f} MB, some millions of rows",
                do="Check that it is the sheet; if so, split it.",
            )
            return None
        return path.read_bytes()
    except PermissionError:
        findings.problem(
            "no-permission",
            "you are not allowed to read this file",
            do="Ask its owner, or change its permissions, then try again.",
        )
    except OSError as error:
        findings.problem(
            "cannot-read",
            f"the file could not be read: {error.strerror or type(error).__name__}",
            do="Check the path and the disk, then try again.",
        )
    return None


def _missing(path: Path, findings: Findings) -> None:
    near: tuple[str, ...] = ()
    if path.parent.is_dir():
        near = near_words(path.name, sorted(entry.name for entry in path.parent.iterdir()))
    hint = f" Did you mean {' or '.join(near)}?" if near else ""
    findings.problem(
        "no-such-file",
        "there is no such file or folder",
        allowed="a CSV sheet, or a folder with study.toml and trials.csv",
        do=f"Check the path.{hint}",
    )


def _is_text(data: bytes, findings: Findings) -> bool:
    for magic, what in _NOT_TEXT.items():
        if data.startswith(magic):
            findings.problem(
                "not-a-sheet",
                f"this is {what}, not text",
                allowed="a text file: CSV in UTF-8",
                do=_SAVE_AS,
            )
            return False
    if data.startswith(_WIDE_MARKS):
        _refuse_wide(findings)
        return False
    nul = data.find(b"\x00")
    if nul < 0:
        return True
    # Western text in UTF-16 without its mark has a zero in about every second byte.
    if data[:2000].count(b"\x00") * 3 >= len(data[:2000]):
        _refuse_wide(findings)
        return False
    line, column = _place(data, nul)
    findings.problem(
        "nul-byte",
        "there is a NUL byte here, which no text holds: the file is damaged or is not a sheet",
        line=line,
        column=column,
        do="Export the sheet again; if it came off a failing card or disk, use a copy.",
    )
    return False


def _refuse_wide(findings: Findings) -> None:
    findings.problem(
        "not-utf8",
        "the file is written in UTF-16 or UTF-32 ('Unicode text')",
        line=1,
        allowed="UTF-8, with or without a byte-order mark",
        do=_SAVE_AS,
    )


def _decoded(data: bytes, findings: Findings) -> str | None:
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        # The codec's position does not count a byte-order mark it has taken off.
        start = error.start + (3 if data.startswith(codecs.BOM_UTF8) else 0)
        line, column = _place(data, start)
        around = data[max(0, start - 12) : start + 12].split(b"\n")
        piece = next((p for p in around if data[start : start + 1] in p), data[start : start + 1])
        findings.problem(
            "not-utf8",
            f"the byte 0x{data[start]:02x} here is not UTF-8; the sheet was probably saved in an "
            "older Windows encoding",
            line=line,
            column=column,
            read=piece.decode("cp1252", errors="replace").strip(),
            allowed="UTF-8, with or without a byte-order mark",
            do=_SAVE_AS,
        )
        return None


def _place(data: bytes, position: int) -> tuple[int, int]:
    before = data[:position].replace(b"\r\n", b"\n").replace(b"\r", b"\n")
    return before.count(b"\n") + 1, position - max(
        data.rfind(b"\n", 0, position), data.rfind(b"\r", 0, position)
    )
