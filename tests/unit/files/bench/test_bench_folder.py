"""A study out to a folder or a zip file and in again: nothing is lost, nothing is made up."""

import contextlib
import csv
import hashlib
import json
from pathlib import Path

import pytest
from bench_study import (
    NOW,
    ONE,
    SHARED,
    TURNS,
    added,
    entered,
    event,
    fresh_ids,
    id_of,
    made,
    state,
)
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from breakwright.bootstrap.bench import check_events, source_of
from breakwright.bootstrap.folders import Making, export_study, keep_import, read_import
from breakwright.files.options import ReadOptions
from breakwright.files.source import read_source
from breakwright.model.errors import ImpossibleValue, InputRefused
from breakwright.model.event import (
    Body,
    Entry,
    Event,
    PhotoAdded,
    PieceAdded,
    PieceChanged,
    PieceMeasured,
    PieceRestored,
    PieceVoided,
    PreparationLogged,
    ReadingAmended,
    ReadingEntered,
    SafetyRead,
    StudyChanged,
    StudyShelved,
    Undone,
    VideoAdded,
)
from breakwright.model.trial import Ending
from breakwright.store.memory import MemoryStore
from breakwright.usecases.bench.bench import Bench
from breakwright.usecases.bench.ports import Media
from breakwright.usecases.bench.state import StudyState

MAKING = Making(NOW, fresh_ids())
PIXEL = b"\x89PNG\r\n\x1a\n of a peg"
PHOTO = hashlib.sha256(PIXEL).hexdigest() + ".png"


def store_of(*events: Event) -> MemoryStore:
    store = MemoryStore()
    store.put_media(Media(PHOTO, "image/png", PIXEL))
    store.append(events, received=NOW)
    return store


def only(store: MemoryStore) -> StudyState:
    (line,) = store.studies()
    state = Bench(store).state(line.id)
    assert state is not None
    return state


def imported(source: bytes | Path, *, as_new: bool = False) -> MemoryStore:
    store = MemoryStore()
    incoming = read_import(source, name="pegs", making=MAKING, as_new=as_new)
    keep_import(store, incoming, received=NOW)
    return store


def bytes_under(folder: Path) -> dict[str, bytes]:
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


TEXTS = st.text(st.sampled_from('abc ,;"\n\r\t=é€'), min_size=1, max_size=8)
LOADS = st.sampled_from(
    ("412", "41,25", "1.234,5", "1,234", "1.234", ">50", "40..41", "440+", "", "x", "12e-1")
)
LABELS = ("A1", "A2", "B 3", "Ä,4", "5")
KEYS = st.sampled_from(LABELS).map(id_of)


@st.composite
def entries(draw: st.DrawFn) -> Entry:
    return Entry(
        loads=tuple(draw(st.lists(LOADS, min_size=1, max_size=2))),
        unit=draw(st.sampled_from(("N", "kN", "kgf", "lbf"))),
        ended=draw(st.sampled_from(Ending)),
        failure=draw(st.none() | TEXTS),
        note=draw(st.none() | TEXTS),
        decimal=draw(st.sampled_from((None, "point", "comma"))),
        scale=draw(st.sampled_from((None, "crane", "spring"))),
        together=draw(st.none() | LOADS),
        rate=draw(st.none() | LOADS),
        date=draw(st.none() | st.just("2026-01-31")),
        order=draw(st.none() | st.integers(1, 9)),
    )


@st.composite
def logs(draw: st.DrawFn) -> list[Event]:
    """Any order of what people do, sensible or not, on a study of some pieces."""
    toml = draw(st.sampled_from((ONE, SHARED, TURNS, ONE.replace('unit = "kgf"\n', ""))))
    bodies: list[Body] = [PieceAdded(id_of(name), name, "plain") for name in LABELS[:3]]
    ids = st.integers(0, 12).map(lambda n: id_of(f"e{n}"))
    bodies += draw(
        st.lists(
            st.one_of(
                st.builds(ReadingEntered, KEYS, entries()),
                st.builds(ReadingEntered, KEYS, entries()),
                st.builds(
                    ReadingAmended, KEYS, st.lists(ids, max_size=2).map(tuple), entries(), TEXTS
                ),
                st.builds(Undone, ids, st.none() | TEXTS),
                st.builds(PieceVoided, KEYS, TEXTS),
                st.builds(PieceRestored, KEYS, TEXTS),
                st.builds(
                    PieceAdded,
                    KEYS,
                    st.sampled_from(LABELS),
                    st.sampled_from(("plain", "wedged")),
                    block=st.none() | TEXTS,
                    order=st.none() | st.integers(1, 9),
                    day=st.none() | st.integers(1, 3),
                    operator=st.none() | TEXTS,
                ),
                st.builds(PieceChanged, KEYS, group=st.just("wedged"), reason=TEXTS),
                st.builds(
                    PieceMeasured,
                    KEYS,
                    st.dictionaries(
                        st.sampled_from(("mass_g", "board", "Width mm")),
                        st.sampled_from(("1.234", "31,5", "left", "", "1e3")),
                        max_size=3,
                    ),
                ),
                st.builds(PhotoAdded, st.just(PHOTO), st.none() | KEYS, st.none() | TEXTS),
                st.builds(
                    PreparationLogged,
                    TEXTS,
                    st.lists(KEYS, max_size=2).map(tuple),
                    st.just("2026-01-30T08:00:00+01:00"),
                    st.none() | st.floats(0, 100),
                ),
                st.builds(StudyChanged, st.just(toml + "# changed\n"), ids),
                st.builds(
                    VideoAdded, TEXTS, TEXTS, st.integers(0, 10**10), st.just("c" * 64), KEYS
                ),
                st.builds(SafetyRead, st.just("2026-01-31")),
                st.just(StudyShelved()),
            ),
            max_size=10,
        )
    )
    return [made(toml), *(event(f"e{i}", body) for i, body in enumerate(bodies))]


@settings(max_examples=30, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(log=logs())
def test_nothing_is_lost_on_the_way_out_and_in(
    log: list[Event], tmp_path_factory: pytest.TempPathFactory
) -> None:
    tmp = tmp_path_factory.mktemp("round")
    store = store_of(*log)
    export_study(store, only(store), tmp / "one")
    export_study(store, only(store), tmp / "one.zip")

    # Whatever was typed, each row of the tables is one piece.
    for name, pieces in (
        ("trials.csv", [p for p in only(store).pieces if p.reading or p.void is not None]),
        ("specimens.csv", only(store).pieces),
    ):
        with (tmp / "one" / name).open(encoding="utf-8", newline="") as file:
            assert [row["specimen"] for row in csv.DictReader(file)] == [p.label for p in pieces]
    again = imported(tmp / "one")
    zipped = imported((tmp / "one.zip").read_bytes())

    assert only(again) == only(store)
    assert only(zipped) == only(store)
    export_study(again, only(again), tmp / "two")
    export_study(zipped, only(zipped), tmp / "two.zip")
    assert bytes_under(tmp / "two") == bytes_under(tmp / "one")
    assert (tmp / "two.zip").read_bytes() == (tmp / "one.zip").read_bytes()


LOG = (
    made(SHARED),
    added("A1"),
    added("A2", "wedged"),
    event("m", PieceMeasured(id_of("A1"), {"mass_g": "1.234"})),
    entered("r1", "A1", Entry(("412,5", "1.234,5"), "N", rate="9.80665")),
    entered("r2", "A2", Entry(("30.50", ">50"), "kgf", note='a;b\n"c"')),
    event("f", PhotoAdded(PHOTO, id_of("A1"))),
)


def test_tables_in_the_unit_of_the_study(tmp_path: Path) -> None:
    store = store_of(*LOG)

    export_study(store, only(store), tmp_path)

    lines = (tmp_path / "trials.csv").read_text("utf-8").splitlines()
    assert lines[0] == "specimen,group,load_1_kgf,load_2_kgf,ended,rate_kgf_s,mass_g,void,note"
    # 412.5 N and 1234.5 N over 9.80665 N a kgf, in full; what was typed in kgf stays as typed.
    assert lines[1] == f"A1,plain,{412.5 / 9.80665!r},{1234.5 / 9.80665!r},broke,1.0,1.2340,,"
    assert lines[2].startswith("A2,wedged,30.50,>50,broke,,,")
    source = read_source(tmp_path, ReadOptions())
    assert source.study == source_of(only(store)).study
    assert source.study.trials[0].covariates == {"mass_g": 1.234}
    assert source.study.trials[1].note == 'a;b\n"c"'
    assert (tmp_path / "media" / PHOTO).read_bytes() == PIXEL


def test_the_package_says_what_the_files_hold(tmp_path: Path) -> None:
    film = VideoAdded("f1", "pull.mp4", 3_000_000_000, "d" * 64, id_of("A1"))
    store = store_of(*LOG, event("v", film))

    made_files = export_study(store, only(store), tmp_path)

    package = json.loads((tmp_path / "datapackage.json").read_text("utf-8"))
    assert made_files.films == ("pull.mp4",)
    assert package["name"] == "pegs"
    assert package["videos"] == [
        {"name": "pull.mp4", "bytes": 3_000_000_000, "hash": "sha256:" + "d" * 64}
    ]
    # Data Package standard 2.0, 'Data Resource': path, name (lower case), bytes, hash.
    for resource in package["resources"]:
        data = (tmp_path / resource["path"]).read_bytes()
        assert resource["bytes"] == len(data)
        assert resource["hash"] == "sha256:" + hashlib.sha256(data).hexdigest()
        assert resource["name"] == resource["name"].lower()
    names = [r["path"] for r in package["resources"]]
    assert sorted([*names, "datapackage.json"]) == sorted(bytes_under(tmp_path))
    # 'Table Schema': a field for each column, in order; a type that its cells have.
    tables = {r["path"]: r["schema"] for r in package["resources"] if "schema" in r}
    for path, schema in tables.items():
        header = (tmp_path / path).read_text("utf-8").splitlines()[0].split(",")
        assert [field["name"] for field in schema["fields"]] == header
        assert schema["missingValues"] == [""]
    types = {f["name"]: f["type"] for f in tables["trials.csv"]["fields"]}
    assert types["load_1_kgf"] == "number"
    assert types["load_2_kgf"] == "string"
    assert "licenses" not in package


def test_a_clash_exports_the_one_in_use_and_says_so(tmp_path: Path) -> None:
    store = store_of(*LOG, entered("r3", "A2", Entry(("33", "34"), "kgf")))

    exported = export_study(store, only(store), tmp_path)

    assert exported.clashes == ("A2",)
    assert "30.50" in (tmp_path / "trials.csv").read_text("utf-8")
    package = json.loads((tmp_path / "datapackage.json").read_text("utf-8"))
    assert "A2" in package["description"]
    notices = {n.code: n.pieces for n in source_of(only(store)).notices}
    assert notices["readings-clash"] == ("A2",)


def test_two_definitions_are_told_of() -> None:
    changes = [
        event(name, StudyChanged(SHARED + f"# {name}\n", id_of("made"))) for name in ("c1", "c2")
    ]

    codes = [n.code for n in source_of(only(store_of(*LOG, *changes))).notices]

    assert "definitions-clash" in codes


def test_what_is_there_is_not_written_over(tmp_path: Path) -> None:
    store = store_of(*LOG)
    (tmp_path / "trials.csv").write_text("mine")

    with pytest.raises(ImpossibleValue, match=r"trials\.csv is there already"):
        export_study(store, only(store), tmp_path)
    assert bytes_under(tmp_path) == {"trials.csv": b"mine"}
    export_study(store, only(store), tmp_path, over=["trials.csv"])
    export_study(store, only(store), tmp_path)


def test_a_picture_that_was_never_sent_is_named(tmp_path: Path) -> None:
    name = "e" * 64 + ".jpg"
    store = store_of(*LOG, event("f2", PhotoAdded(name)))

    assert export_study(store, only(store), tmp_path).missing == (name,)
    incoming = read_import(tmp_path, name="pegs", making=MAKING)
    assert incoming.missing == (name,)
    assert [media.name for media in incoming.media()] == [PHOTO]


def test_a_study_whose_text_no_reader_takes_still_comes_out(tmp_path: Path) -> None:
    store = store_of(made("groups = ["), *LOG[1:])

    export_study(store, only(store), tmp_path)

    assert only(imported(tmp_path)) == only(store)


# What a sheet as a whole may still lack while the testing goes on.
_WHOLE = {"no-rows", "group-without-pieces", "one-group", "all-void"}


@settings(max_examples=40)
@given(log=logs())
def test_what_passes_the_door_can_be_read(log: list[Event]) -> None:
    kept: list[Event] = []
    for sent in log:
        there = state(*kept) if kept else None
        with contextlib.suppress(InputRefused):
            check_events(there, [sent])
            kept.append(sent)

    found: set[str] = set()
    try:
        source = source_of(state(*kept))
        pieces = [p for p in state(*kept).pieces if p.reading or p.void is not None]
        assert [t.specimen for t in source.study.trials] == [p.label for p in pieces]
    except InputRefused as refused:
        found = {problem.code for problem in refused.problems}

    assert found <= _WHOLE
