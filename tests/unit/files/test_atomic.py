"""A file is there whole or not at all."""

import os
import stat
from pathlib import Path

import pytest

from breakwright.files import atomic
from breakwright.files.atomic import write_beside


def test_text_and_bytes_are_written_as_given(tmp_path: Path) -> None:
    write_beside(tmp_path / "a.txt", "grün\r\nzwei\n")
    write_beside(tmp_path / "b.bin", b"\x00\xff" * 100_000)

    assert (tmp_path / "a.txt").read_bytes() == b"gr\xc3\xbcn\r\nzwei\n"
    assert (tmp_path / "b.bin").read_bytes() == b"\x00\xff" * 100_000
    assert sorted(p.name for p in tmp_path.iterdir()) == ["a.txt", "b.bin"]


@pytest.mark.parametrize("stop", [KeyboardInterrupt, SystemExit, OSError])
@pytest.mark.parametrize("where", ["write", "fsync", "close", "replace"])
def test_interrupted_anywhere_the_old_file_stays_and_no_other_is_left(
    stop: type[BaseException], where: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    target = tmp_path / "report.html"
    target.write_text("old")
    real_close = os.close

    def interrupted(*arguments: object) -> None:
        if where == "close":
            monkeypatch.undo()
            real_close(arguments[0])  # type: ignore[arg-type]
        raise stop

    if where == "replace":
        monkeypatch.setattr(Path, "replace", interrupted)
    else:
        monkeypatch.setattr(atomic.os, where, interrupted)

    with pytest.raises(stop):
        write_beside(target, "new")
    monkeypatch.undo()

    assert target.read_text() == "old"
    assert [p.name for p in tmp_path.iterdir()] == ["report.html"]


def test_short_writes_are_gone_on_with(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    real = os.write
    monkeypatch.setattr(atomic.os, "write", lambda handle, data: real(handle, data[:7]))

    write_beside(tmp_path / "a", b"0123456789" * 5)

    assert (tmp_path / "a").read_bytes() == b"0123456789" * 5


def test_permissions_are_those_of_the_old_file_or_of_a_plain_new_one(tmp_path: Path) -> None:
    plain = tmp_path / "plain"
    plain.write_text("")
    kept = tmp_path / "kept"
    kept.write_text("")
    kept.chmod(0o640)

    write_beside(kept, "x")
    write_beside(tmp_path / "new", "x")

    assert stat.S_IMODE(kept.stat().st_mode) == 0o640
    assert (tmp_path / "new").stat().st_mode == plain.stat().st_mode


def test_a_link_stays_a_link(tmp_path: Path) -> None:
    (tmp_path / "real").write_text("old")
    (tmp_path / "link").symlink_to(tmp_path / "real")

    write_beside(tmp_path / "link", "new")

    assert (tmp_path / "link").is_symlink()
    assert (tmp_path / "real").read_text() == "new"


def test_a_missing_folder_is_an_error_of_the_system(tmp_path: Path) -> None:
    with pytest.raises(FileNotFoundError):
        write_beside(tmp_path / "nowhere" / "a", "x")
