"""A state brought up to date is the state folded anew, whatever came in whatever order."""

from bench_log import NOW, STUDY, added, id_of, made
from hypothesis import given
from hypothesis import strategies as st

from breakwright.model.event import (
    Body,
    Entry,
    Event,
    PhotoAdded,
    PieceAdded,
    PieceMeasured,
    PieceVoided,
    ReadingAmended,
    ReadingEntered,
    Recorded,
    TraceAdded,
    Undone,
)
from breakwright.usecases.bench import fold_on as module
from breakwright.usecases.bench.fold import fold
from breakwright.usecases.bench.fold_on import fold_on

PIECES = st.sampled_from(("A1", "A2", "A3", "late")).map(id_of)
NAMES = st.integers(0, 14).map(lambda n: id_of(f"e{n}"))
ENTRIES = st.builds(Entry, st.just(("412",)), st.just("N"))
PHOTO = "f" * 64 + ".jpg"
BODIES: st.SearchStrategy[Body] = st.one_of(
    st.builds(ReadingEntered, PIECES, ENTRIES),
    st.builds(ReadingEntered, PIECES, ENTRIES),
    st.builds(ReadingAmended, PIECES, st.lists(NAMES, max_size=2).map(tuple), ENTRIES, st.just("")),
    st.builds(Undone, NAMES),
    st.builds(PieceMeasured, PIECES, st.dictionaries(st.sampled_from("ab"), st.sampled_from(" 1"))),
    st.builds(PieceVoided, PIECES, st.just("pilot")),
    st.builds(PhotoAdded, st.just(PHOTO), st.none() | PIECES),
    st.builds(TraceAdded, st.just(PHOTO), PIECES),
    st.just(PieceAdded(id_of("late"), "late", "plain")),
)


@given(st.lists(BODIES, min_size=1, max_size=15), st.data())
def test_the_same_as_folding_anew(bodies: list[Body], data: st.DataObject) -> None:
    later = [Event(id_of(f"e{n}"), STUDY, NOW, body) for n, body in enumerate(bodies)]
    events = [made(), added("A1"), added("A2", "wedged"), added("A3"), *later]
    log = [Recorded(seq, NOW, event) for seq, event in enumerate(events, start=1)]
    cuts = sorted(data.draw(st.lists(st.integers(4, len(log)), max_size=5)))
    state, done = fold(log[:4]), 4
    for cut in (*cuts, len(log)):
        if cut > done:
            state, done = fold_on(state, log[done:cut]), cut
    assert state == fold(log)


def test_a_reading_is_put_on_without_folding_the_rest(monkeypatch) -> None:  # type: ignore[no-untyped-def]
    log = [Recorded(s, NOW, e) for s, e in enumerate((made(), added("A1"), added("A2")), start=1)]
    state = fold(log)
    monkeypatch.setattr(module, "fold", lambda _: 1 / 0)
    reading = Event(id_of("r"), STUDY, NOW, ReadingEntered(id_of("A1"), Entry(("412",), "N")))
    after = fold_on(state, [Recorded(4, NOW, reading)])
    assert after == fold([*log, Recorded(4, NOW, reading)])
