"""The pages of films without scripts: brought, marked, looked through, corrected, taken."""

import json
import re
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from film_here import FILM, MARKS, NOW, VIDEO, film_bytes, film_study, read_by_machine
from prepare_client import PrepareClient, fields_of, words_of

from breakwright.bootstrap.folders import Making, export_study, keep_import, read_import
from breakwright.model.event import FilmAccepted, ReadingAmended, SpanCorrected, VideoAdded
from breakwright.usecases.bench.ports import JobState
from breakwright.web.filming.kept import KeptFilms, Note
from breakwright.web.filming.moment import moment_of
from breakwright.web.services import new_id
from breakwright.web.work import tasks_film, tasks_film_review
from breakwright.web.work.film_bundles import open_bundle
from breakwright.web.work.tools import Tell, Tools


class _Here(PrepareClient):
    """With workers that have what tasks of films need: the store and the folder."""

    def __init__(self, folder: Path) -> None:
        super().__init__(folder)
        self.folder = folder
        self.waits: set[str] = set()
        self.work.wake = self.wake  # type: ignore[method-assign]

    def wake(self, kind: str) -> None:
        from breakwright.model.errors import BreakwrightError, InputRefused
        from breakwright.web.work.registry import task_of

        if kind in self.waits:
            return
        job = self.store.take([kind], now="2026-01-31T09:00:00.000Z")
        assert job is not None
        tools = Tools(self.store, study=job.study, job=job.id, folder=self.folder)

        def note(share: float, doing: str, early: str | None) -> bool:
            return self.store.tell(job.id, share=share, doing=doing, early=early, now=job.beat)

        result, trouble = None, None
        try:
            result = json.dumps(task_of(kind)(json.loads(job.given), Tell(note), tools))
        except InputRefused as refused:
            trouble = "; ".join(problem.message for problem in refused.problems)
        except BreakwrightError as error:
            trouble = str(error)
        self.store.finish(job.id, result=result, trouble=trouble, now=job.beat)


@pytest.fixture
def here(tmp_path: Path) -> _Here:
    return _Here(tmp_path)


def page_of(handle: str, more: str = "") -> str:
    return f"/s/{handle}/film/{VIDEO}{more}"


def correction(here: _Here, handle: str, **changes: str) -> Any:
    """Send the form of the span that was read as 9.80, changed."""
    page = here.get(page_of(handle, "?at=6.2"))
    span = re.search(r'<li class="now">.*?</li>', page, re.S)
    assert span is not None
    assert "9.80" in span[0]
    action = page_of(handle, "/correct")
    fields = fields_of(span[0], action) | {"value": "9,00", "reason": "a smear"} | changes
    return here.send(action, fields)


def accepted(here: _Here, handle: str, **changes: str) -> Any:
    action = page_of(handle, "/accept")
    return here.send(action, fields_of(here.get(page_of(handle)), action) | changes)


def test_a_film_is_listed_with_its_piece_and_what_is_to_be_done(here: _Here) -> None:
    handle = film_study(here.services)
    words = words_of(here.get(f"/s/{handle}/films"))
    assert "peg C1.mp4 To be looked through · brought for C1 · 4 bytes" in words


def test_what_was_read_doubts_first_and_the_peak_as_a_reading(here: _Here) -> None:
    handle = film_study(here.services)
    words = words_of(here.get(page_of(handle)))
    assert (
        words.index("Look at this first") < words.index("The pull") < words.index("What was read")
    )
    assert "at least 24.95 kgf: «right scale» went dark 1.0 s before the break" in words
    assert "12.50 + >12.50, kgf" in words
    assert "C1, plain, has a reading" in words


def test_the_moment_shows_every_display_with_its_picture(here: _Here) -> None:
    handle = film_study(here.services)
    part = here.get(page_of(handle, "/moment?at=6.20"))
    assert "6.20 s · together: 19." in words_of(part)
    left = re.findall(r'src="([^"]+)" alt="left scale at 6.00 s"', part)
    assert left
    answer = here.client.get(left[0])
    assert answer.headers["content-type"] == "image/jpeg"
    bundle = open_bundle(here.store, here.folder, here.state(handle).films[0])
    assert answer.content == bundle.crop(left[0].rpartition("/")[2])
    for wrong in ("display-9-at-0006.000s.jpg", "film.json", "..%2Ffilm.json"):
        assert here.client.get(page_of(handle, f"/crop/{FILM}/{wrong}")).status_code == 404


def test_a_correction_keeps_what_the_program_read_and_can_be_taken_back(here: _Here) -> None:
    handle = film_study(here.services)
    assert correction(here, handle).status_code == 303
    film = here.state(handle).films[0]
    (body,) = film.corrections.values()
    assert body == SpanCorrected(FILM, "left scale", 6.0, 6.5, body.shown, "a smear", "9.00")
    page = here.get(page_of(handle, "?at=6.2"))
    assert "9.00 kgf 9.80 kgf" in words_of(page)
    assert "<s>9.80 kgf</s>" in page
    assert "left scale, 6.00 to 6.50 s: 9.00 (a smear)" in words_of(page)
    back = page_of(handle, "/take-back")
    assert here.send(back, fields_of(page, back)).status_code == 303
    assert here.state(handle).films[0].corrections == {}
    assert "<s>" not in here.get(page_of(handle, "?at=6.2"))
    assert here.send(back, fields_of(page, back)).status_code == 409


def test_a_correction_at_the_peak_changes_the_outcome_at_once(here: _Here) -> None:
    handle = film_study(here.services)
    action = page_of(handle, "/correct")
    page = here.get(page_of(handle, "?at=8.5"))
    rows = re.findall(r"<li[ >].*?</li>", page, re.S)
    dark = next(row for row in rows if 'value="right scale"' in row and ">dark<" in row)
    fields = fields_of(dark, action)
    for value, start, end in (("13.00", "8.0", "9.0"), ("0.00", "9.0", "11.0")):
        seen = {"shown": "value", "value": value, "start": start, "end": end, "reason": "faint"}
        here.send(action, fields | seen)
    words = words_of(here.get(page_of(handle)))
    # It was never dark while the load was on: no longer 'at least', no longer C1's lost screen.
    assert "went dark" not in words
    assert re.search(r"between 25\.\d+ and \d\d\.\d+ kgf, read off two displays", words)


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"value": "9.0.0"}, "What the display showed is not a number"),
        ({"value": ""}, "What the display showed is not a number"),
        ({"reason": " "}, "Why? A change of what was noted needs a reason"),
        ({"end": "5"}, "A correction ends after it begins"),
        ({"display": "third scale"}, "No display of this film is called «third scale»"),
    ],
)
def test_a_correction_that_makes_no_sense_is_refused(
    here: _Here, changes: dict[str, str], says: str
) -> None:
    handle = film_study(here.services)
    answer = correction(here, handle, **changes)
    assert answer.status_code == 422
    assert says in words_of(answer.text)
    assert here.state(handle).films[0].corrections == {}


def test_a_pull_is_taken_as_the_reading_of_its_piece_and_taken_back(here: _Here) -> None:
    handle = film_study(here.services)
    before = here.state(handle).piece("C1")
    assert before is not None
    assert before.reading is not None
    typed = before.reading.entry
    assert accepted(here, handle).status_code == 303
    state = here.state(handle)
    piece = state.piece("C1")
    assert piece is not None
    assert piece.reading is not None
    entry = piece.reading.entry
    assert (entry.loads, entry.ended.value) == (("12.50", ">12.50"), "screen-lost")
    # The day, the place in the order and how it broke stay as they were written down.
    assert (entry.date, entry.order, entry.failure) == (typed.date, typed.order, typed.failure)
    (taken,) = state.films[0].accepted.values()
    assert taken == FilmAccepted(FILM, 1, piece.id, piece.reading.event)
    body = next(r.event.body for r in state.events if r.event.id == taken.reading)
    assert isinstance(body, ReadingAmended)
    assert body.reason == "read off peg C1.mp4"
    words = words_of(here.get(page_of(handle)))
    assert "Taken as the reading of C1 . Take it back" in words
    assert "looked through by a person" in here.get(f"/s/{handle}/piece/C1")
    back = page_of(handle, "/take-back")
    here.send(back, fields_of(here.get(page_of(handle)), back))
    again = here.state(handle).piece("C1")
    assert again is not None
    assert again.reading is not None
    assert again.reading.entry == typed


def test_a_correction_after_it_was_taken_says_so_and_is_taken_anew(here: _Here) -> None:
    handle = film_study(here.services)
    accepted(here, handle)
    assert "has changed since" not in here.get(page_of(handle))
    correction(here, handle, start="8.0", end="9.0", value="12.10", reason="it was 12.10")
    assert "has changed since" in here.get(page_of(handle))
    assert accepted(here, handle, reason="corrected").status_code == 303
    piece = here.state(handle).piece("C1")
    assert piece is not None
    assert len(piece.heads) == 1
    assert piece.heads[0].entry.loads[0].startswith("12.10")
    assert len(here.state(handle).films[0].accepted) == 1


def test_a_film_marked_without_scripts_is_read_with_the_facts_of_the_study(
    here: _Here, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    handle = film_study(here.services, read=False, film=film_bytes(tmp_path))
    assert here.client.get(page_of(handle)).headers["location"] == page_of(handle, "/mark")
    page = here.get(page_of(handle, "/mark?t=1.0"))
    assert "up to 50 kgf, steps of 0.05, a new value every 0.25 s" in words_of(page)
    still = here.client.get(page_of(handle, "/still.jpg?t=1.0"))
    assert (still.status_code, still.content[:3]) == (200, b"\xff\xd8\xff")
    asked = {}

    def read(path: Path, marks: Any, *, tell: Any) -> Any:
        asked["marks"] = marks
        tell(1.0, 2.0)
        return read_by_machine(), ()

    monkeypatch.setattr(tasks_film, "read_for_review", read)
    fields = fields_of(page, page_of(handle, "/mark"))
    for place, mark in enumerate(MARKS):
        for corner, (x, y) in enumerate(mark["corners"]):  # type: ignore[misc,arg-type]
            fields |= {f"x{place}-{corner}": str(x), f"y{place}-{corner}": str(y)}
    assert here.send(page_of(handle, "/mark"), fields).status_code == 303
    (film,) = here.state(handle).films
    assert film.read.video == VIDEO
    assert here.store.media(film.read.media) is not None
    marks = asked["marks"]
    assert [m.name for m in marks] == ["left scale", "right scale"]
    assert (marks[0].unit, marks[0].resolution, marks[0].capacity) == ("kgf", 0.05, 50.0)
    assert marks[1].quad.top_left == (180.0, 30.0)
    assert "The pull" in here.get(page_of(handle))
    # The next film of the study begins with these marks.
    other = "ef" * 16
    body = VideoAdded(f"{VIDEO}.mp4", "next.mp4", 9, "c" * 64)
    state = here.state(handle)
    here.services.record([replace(here.services.event(state.id, body), id=other)])
    page = here.get(f"/s/{handle}/film/{other}/mark")
    assert "The marks are those of the film before this one" in page
    assert fields_of(page, f"/s/{handle}/film/{other}/mark")["x1-0"] == "180"


@pytest.mark.parametrize(
    ("fields", "says"),
    [
        ({}, "Mark the digits of one display at least."),
        (
            {"x0-0": "4", "y0-0": "5"},
            "«left scale»: the top right corner of the digits is missing.",
        ),
        (
            dict(zip([f"{a}0-{c}" for c in range(4) for a in "xy"], "19112991", strict=True)),
            "cross",
        ),
    ],
    ids=["none", "half", "crossing"],
)
def test_marks_that_make_no_sense_are_refused_and_stay(
    here: _Here, tmp_path: Path, fields: dict[str, str], says: str
) -> None:
    handle = film_study(here.services, read=False, film=film_bytes(tmp_path))
    answer = here.send(page_of(handle, "/mark"), {"t": "0.5", **fields})
    assert answer.status_code == 422
    assert says in words_of(answer.text)
    there = fields_of(answer.text, page_of(handle, "/mark"))
    assert {name: there[name] for name in fields} == fields
    assert KeptFilms(here.folder).note(VIDEO) is None


def test_a_file_that_is_no_film_says_so(here: _Here) -> None:
    handle = film_study(here.services, read=False, film=b"no film at all" * 100)
    words = words_of(here.get(page_of(handle, "/mark")))
    assert "No picture can be shown." in words
    assert here.client.get(page_of(handle, "/still.jpg")).status_code == 503


def test_a_reading_is_watched_and_stopped(here: _Here, tmp_path: Path) -> None:
    handle = film_study(here.services, read=False, film=film_bytes(tmp_path))
    here.waits.add("film-read")
    fields = {"t": "0.5"}
    for corner, (x, y) in enumerate(MARKS[0]["corners"]):  # type: ignore[misc,arg-type]
        fields |= {f"x0-{corner}": str(x), f"y0-{corner}": str(y)}
    here.send(page_of(handle, "/mark"), fields)
    page = here.get(page_of(handle))
    assert "Being read" in page
    job = re.search(r'data-job="([0-9a-f]{32})"', page)
    assert job is not None
    assert "being read, 0%" in words_of(here.get(f"/s/{handle}/films")).lower()
    here.send(page_of(handle, "/stop"), {})
    stopped = here.store.job(job[1])
    assert stopped is not None
    assert stopped.state is JobState.CANCELLED
    assert "The reading was stopped. 1 display marked: left scale. Read it" in words_of(
        here.get(page_of(handle))
    )


def test_a_film_comes_whole_from_a_page_without_scripts(here: _Here, tmp_path: Path) -> None:
    handle = film_study(here.services)
    piece = here.state(handle).piece("C3")
    assert piece is not None
    answer = here.client.post(
        f"/s/{handle}/films",
        data={"piece": piece.id},
        files={"file": ("pull C3.MOV", b"bytes of a film", "video/quicktime")},
    )
    assert answer.status_code == 303
    key = answer.headers["location"].rpartition("/")[2]
    (video,) = here.state(handle).piece("C3").videos  # type: ignore[union-attr]
    assert (video.file, video.name, video.size) == (f"{key}.mov", "pull C3.MOV", 15)
    assert here.client.get(f"/videos/{video.file}").content == b"bytes of a film"


def test_a_film_off_the_list_leaves_its_file_and_the_readings(here: _Here) -> None:
    handle = film_study(here.services)
    accepted(here, handle)
    here.send(page_of(handle, "/drop"), {})
    assert here.client.get(page_of(handle)).status_code == 404
    assert "No film yet." in here.get(f"/s/{handle}/films")
    assert here.client.get(f"/videos/{VIDEO}.mp4").status_code == 200
    piece = here.state(handle).piece("C1")
    assert piece is not None
    assert piece.reading is not None
    assert piece.reading.entry.loads == ("12.50", ">12.50")


def test_a_film_travels_with_the_study_and_is_looked_through_elsewhere(
    here: _Here, tmp_path: Path
) -> None:
    handle = film_study(here.services)
    correction(here, handle)
    study = tmp_path / "study.zip"
    export_study(here.store, here.state(handle), study)
    other = _Here(tmp_path / "other")
    incoming = read_import(study, name="study.zip", making=Making(NOW, new_id, "here"), handles=())
    keep_import(other.store, incoming, received=NOW)
    words = words_of(other.get(page_of(handle, "?at=6.2")))
    assert "9.00 kgf 9.80 kgf" in words
    assert "12.50 + >12.50, kgf" in words
    assert "Save the film" not in words


def test_a_second_reading_that_fails_leaves_the_first_to_be_looked_through(here: _Here) -> None:
    handle = film_study(here.services)
    KeptFilms(here.folder).put_note(VIDEO, Note(MARKS))
    here.send(page_of(handle, "/read"), {})
    words = words_of(here.get(page_of(handle)))
    assert "Read once more, it came to nothing:" in words
    assert "12.50 + >12.50, kgf" in words


def test_the_chart_is_drawn_with_the_corrections(here: _Here) -> None:
    handle = film_study(here.services)
    page = here.get(page_of(handle))
    address = re.search(r'<img src="([^"]+chart/[^"]+)"', page)
    assert address is not None
    answer = here.client.get(address[1].replace("&amp;", "&"))
    assert answer.headers["content-type"].startswith("image/svg+xml")
    assert "sandbox" in answer.headers["content-security-policy"]
    assert "right scale" in answer.text


def test_evidence_that_is_lost_or_damaged_is_said(here: _Here, tmp_path: Path) -> None:
    handle = film_study(here.services)
    film = here.state(handle).films[0]
    # The large bundle on the disk goes before the small one in the store, unless it is damaged.
    KeptFilms(here.folder).put_bundle(FILM, b"PK no zip")
    assert open_bundle(here.store, here.folder, film).crops
    other = replace(film, event="9" * 32, read=replace(film.read, media=f"{'0' * 64}.zip"))
    with pytest.raises(Exception, match="is not in this store; read the film again"):
        open_bundle(here.store, here.folder, other)


def test_between_two_pictures_the_nearest_one_of_the_span_is_shown() -> None:
    trace = read_by_machine().displays[0]
    told = {"displays": [tasks_film_review._display(trace, trace)], "total": []}
    crops = {1: [(6.0, "a"), (6.4, "b"), (6.5, "c")]}
    from breakwright.model.units import ForceUnit

    for at, crop in ((6.1, "a"), (6.45, "b"), (6.6, "c")):
        row = moment_of(told, crops, at, ForceUnit.KGF).displays[0].row
        assert row is not None
        assert row.crop == crop
