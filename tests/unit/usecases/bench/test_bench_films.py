"""Films that were read, corrected, accepted: what stands of them after undoings, in any order."""

import json
from dataclasses import replace

import pytest
from bench_log import added, entered, event, id_of, made, recorded, state, undone
from hypothesis import given
from hypothesis import strategies as st

from breakwright.bootstrap.bench import check_events
from breakwright.model.errors import InputRefused
from breakwright.model.event import Body, FilmAccepted, FilmRead, SpanCorrected, VideoAdded
from breakwright.model.film import Shown
from breakwright.usecases.bench.fold import fold
from breakwright.usecases.bench.fold_on import fold_on

MARKS = json.dumps([{"name": "left"}, {"name": "right"}])
READ = FilmRead("c" * 64, "pull.mp4", f"{'d' * 64}.zip", MARKS)
FIXED = SpanCorrected(id_of("film"), "left", 1.0, 1.25, Shown.VALUE, "a smear", "20.70")
TAKEN = FilmAccepted(id_of("film"), 1, id_of("A1"), id_of("r1"))

LOG = (
    made(),
    added("A1"),
    event("film", READ),
    event("fix", FIXED),
    entered("r1", "A1"),
    event("taken", TAKEN),
)


def test_a_film_with_its_corrections_and_pulls() -> None:
    (film,) = state(*LOG).films
    assert (film.event, film.read) == (id_of("film"), READ)
    assert film.corrections == {id_of("fix"): FIXED}
    assert film.accepted == {id_of("taken"): TAKEN}


@pytest.mark.parametrize(
    ("gone", "corrections", "accepted"),
    [("fix", 0, 1), ("taken", 1, 0), ("r1", 1, 0)],
    ids=["correction", "acceptance", "the reading it led to"],
)
def test_what_is_taken_back_no_longer_stands(gone: str, corrections: int, accepted: int) -> None:
    back = undone("back", gone)
    (film,) = state(*LOG, back).films
    assert (len(film.corrections), len(film.accepted)) == (corrections, accepted)
    (again,) = state(*LOG, back, undone("forth", "back")).films
    assert (len(again.corrections), len(again.accepted)) == (1, 1)


def test_a_film_taken_back_is_gone_and_the_piece_keeps_its_reading() -> None:
    after = state(*LOG, undone("back", "film"))
    assert after.films == ()
    piece = after.piece("A1")
    assert piece is not None
    assert piece.reading is not None


@given(st.permutations(LOG[1:]), st.integers(1, len(LOG) - 1))
def test_events_come_in_any_order_and_in_any_parts(later: list[object], cut: int) -> None:
    log = recorded(LOG[0], *later)  # type: ignore[arg-type]
    whole = fold(log)
    assert fold_on(fold(log[:cut]), log[cut:]) == whole
    assert whole.films == tuple(
        replace(film, corrections={id_of("fix"): FIXED}) for film in whole.films
    )
    assert len(whole.films) == 1
    assert whole.films[0].accepted == {id_of("taken"): TAKEN}


@pytest.mark.parametrize(
    ("body", "code", "column"),
    [
        (replace(READ, sha256="short"), "film-event-unfit", "sha256"),
        (replace(READ, marks="no list"), "film-event-unfit", "marks"),
        (replace(READ, marks="[]"), "film-event-unfit", "marks"),
        (replace(READ, video=id_of("film")), "film-event-unfit", "video"),
        (replace(READ, video=id_of("nowhere")), "event-too-early", None),
        (replace(FIXED, film=id_of("nowhere")), "event-too-early", None),
        (replace(FIXED, film=id_of("r1")), "film-event-unfit", "film"),
        (replace(FIXED, display="middle"), "span-unfit", "display"),
        (replace(FIXED, end=1.0), "span-unfit", "end"),
        (replace(FIXED, value="20,70"), "span-unfit", "value"),
        (replace(FIXED, value=None), "span-unfit", "value"),
        (replace(FIXED, shown=Shown.BLANK), "span-unfit", "value"),
        (replace(FIXED, reason="  "), "reason-missing", "reason"),
        (replace(TAKEN, number=0), "film-event-unfit", "number"),
        (replace(TAKEN, reading=id_of("film")), "film-event-unfit", "reading"),
        (replace(TAKEN, reading=id_of("nowhere")), "event-too-early", None),
        (replace(TAKEN, film=id_of("r1")), "film-event-unfit", "film"),
    ],
)
def test_what_makes_no_sense_is_refused_at_the_door(
    body: Body, code: str, column: str | None
) -> None:
    with pytest.raises(InputRefused) as refused:
        check_events(state(*LOG), [event("new", body)])
    assert [(p.code, p.column_name) for p in refused.value.problems] == [(code, column)]


def test_what_makes_sense_is_taken() -> None:
    video = event("video", VideoAdded("f.mp4", "pull.mp4", 9, "c" * 64))
    check_events(
        state(*LOG),
        [
            video,
            event("film 2", replace(READ, video=id_of("video"))),
            event("fix 2", replace(FIXED, shown=Shown.BLANK, value=None)),
            event("fix 3", replace(FIXED, value="-0.05")),
            event("taken 2", TAKEN),
        ],
    )
