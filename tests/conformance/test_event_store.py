"""What every store of events does."""

import dataclasses
from pathlib import Path

import pytest
from store_samples import NOW, Maker, a_photo, later

from breakwright.model.errors import ImpossibleValue
from breakwright.model.event import Entry, PieceVoided, ReadingAmended, StudyShelved, Undone
from breakwright.usecases.bench.ports import EventStore, IdTaken, Media


def test_an_empty_store_has_nothing(store: EventStore) -> None:
    assert store.last() == 0
    assert store.studies() == ()
    assert store.feed(after=0) == ()
    assert store.events("0" * 32) == ()
    assert store.media("0" * 64 + ".jpg") is None


def test_events_come_back_as_they_were(store: EventStore) -> None:
    make = Maker(1)
    piece, added = make.piece("A1 – ‘spruce’ 木", order=1)
    events = [make.made(), added, make.reading(piece)]
    receipt = store.append(events, received=NOW)
    assert receipt.new == (1, 2, 3)
    assert receipt.known == 0
    found = store.events(make.study)
    assert [r.event for r in found] == events
    assert [(r.seq, r.received) for r in found] == [(1, NOW), (2, NOW), (3, NOW)]
    assert store.events(make.study, after=2) == found[2:]
    assert store.last() == 3


def test_a_repeat_is_harmless(store: EventStore) -> None:
    make = Maker(1)
    first = make.made()
    store.append([first], received=NOW)
    assert store.append([first], received=later(5)).new == ()
    _, added = make.piece("A1")
    receipt = store.append([first, added, added], received=later(6))
    assert (receipt.new, receipt.known) == ((2,), 2)
    assert [(r.seq, r.received) for r in store.feed(after=0)] == [(1, NOW), (2, later(6))]


def test_no_event_at_all_is_no_harm(store: EventStore) -> None:
    receipt = store.append([], received=NOW)
    assert (receipt.new, receipt.known, store.last()) == ((), 0, 0)


def test_an_id_that_says_something_else_is_refused_with_its_whole_call(store: EventStore) -> None:
    make = Maker(1)
    first = make.made()
    store.append([first], received=NOW)
    _, added = make.piece("A1")
    with pytest.raises(IdTaken, match=first.id):
        store.append([added, dataclasses.replace(first, person="Bo")], received=NOW)
    assert store.last() == 1
    with pytest.raises(IdTaken):
        store.append([added, dataclasses.replace(added, device="tablet")], received=NOW)
    assert [r.event for r in store.feed(after=0)] == [first]
    assert store.append([added], received=NOW).new == (2,)


def test_the_feed_goes_through_all_studies_in_order(store: EventStore) -> None:
    one, two = Maker(1), Maker(2)
    events = [one.made("one"), two.made("two"), one.piece("A1")[1], two.piece("B1")[1]]
    for event in events:
        store.append([event], received=NOW)
    first = store.feed(after=0, limit=3)
    assert [r.event for r in first] == events[:3]
    assert [r.event for r in store.feed(after=first[-1].seq, limit=3)] == events[3:]
    assert [r.seq for r in store.events(two.study)] == [2, 4]


def test_studies_are_listed_with_what_was_done(store: EventStore) -> None:
    make, other = Maker(1), Maker(2)
    pieces = [make.piece(f"A{n}", order=n) for n in range(1, 5)]
    readings = [make.reading(piece) for piece, _ in pieces[:3]]
    store.append([make.made(), *(event for _, event in pieces), *readings], received=NOW)
    store.append([other.made("other")], received=later(1))
    (newest, line) = store.studies()
    assert newest.id == other.study
    assert (line.id, line.handle, line.title) == (make.study, "wedge", "Does a wedge help?")
    assert (line.pieces, line.read, line.void, line.clashes) == (4, 3, 0, 0)
    assert (line.last, line.touched, line.made, line.shelved) == (8, NOW, NOW, False)

    first = pieces[0][0]
    amended = [
        make.event(ReadingAmended(first, (readings[0].id,), Entry((load,), "kgf"), "misread"))
        for load in ("413", "421")
    ]
    store.append([make.event(PieceVoided(pieces[1][0], "a knot")), *amended], received=later(2))
    store.append([make.event(StudyShelved())], received=later(3))
    line = store.studies()[0]
    assert (line.id, line.pieces, line.read, line.void) == (make.study, 4, 3, 1)
    assert (line.clashes, line.shelved, line.touched) == (1, True, later(3))

    store.append([make.event(Undone(amended[1].id)), make.event(Undone(readings[2].id))],
                 received=later(4))  # fmt: skip
    line = store.studies()[0]
    assert (line.read, line.clashes) == (2, 0)


def test_a_study_whose_beginning_comes_last_is_listed_then(store: EventStore) -> None:
    make = Maker(1)
    piece, added = make.piece("A1")
    store.append([make.reading(piece), added], received=NOW)
    assert store.studies() == ()
    store.append([make.made()], received=later(1))
    (line,) = store.studies()
    assert (line.pieces, line.read, line.last) == (1, 1, 3)


def test_rebuilding_changes_nothing(store: EventStore) -> None:
    make = Maker(1)
    piece, added = make.piece("A1")
    store.append([make.made(), added, make.reading(piece)], received=NOW)
    before = store.studies(), store.feed(after=0)
    store.rebuild()
    assert (store.studies(), store.feed(after=0)) == before
    store.append([make.piece("A2")[1]], received=NOW)
    assert store.studies()[0].pieces == 2


def test_media_are_kept_once(store: EventStore) -> None:
    photo = a_photo(bytes(range(256)) * 100)
    store.put_media(photo)
    store.put_media(photo)
    assert store.media(photo.name) == photo
    store.put_media(Media(photo.name, "image/png", b"other"))
    assert store.media(photo.name) == photo


def test_a_backup_never_replaces_a_file(store: EventStore, tmp_path: Path) -> None:
    there = tmp_path / "precious.sqlite"
    there.write_text("precious")
    with pytest.raises(ImpossibleValue, match=r"precious\.sqlite"):
        store.backup(there)
    assert there.read_text() == "precious"
    assert [p.name for p in tmp_path.iterdir() if "unfinished" in p.name] == []


def test_closing_twice_is_harmless(store: EventStore) -> None:
    store.close()
    store.close()
