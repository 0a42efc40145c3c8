"""What comes from outside: edited tables, hand-made folders, lone sheets, hostile archives."""

import dataclasses
import io
import zipfile
from collections.abc import Callable, Mapping
from pathlib import Path

import pytest
from bench_study import NOW, SHARED, added, entered, event, fresh_ids, made

from breakwright.bootstrap.bench import demo_events, source_of
from breakwright.bootstrap.folders import Making, export_study, keep_import, read_import
from breakwright.files.bench import bundle
from breakwright.files.numerals import Decimal
from breakwright.files.options import Negative, ReadOptions
from breakwright.files.source import Source, read_source
from breakwright.model.errors import InputRefused
from breakwright.model.event import Entry, Event, PhotoAdded, PieceAdded, PieceVoided
from breakwright.model.trial import Sharing
from breakwright.model.units import ForceUnit
from breakwright.store.memory import MemoryStore
from breakwright.usecases.bench.bench import Bench
from breakwright.usecases.bench.state import StudyState

DEMO = Path(__file__).parents[4] / "src" / "breakwright" / "demo"
MAKING = Making(NOW, fresh_ids(7))
LOG = (
    made(SHARED),
    added("A1"),
    added("A2", "wedged"),
    entered("r1", "A1", Entry(("21.30", "19.85"), "kgf")),
    entered("r2", "A2", Entry(("30.50", ">50"), "kgf", note="slow")),
)


def kept(source: bytes | Path, **asked: object) -> tuple[MemoryStore, StudyState]:
    store = MemoryStore()
    incoming = read_import(source, name="pegs.csv", making=MAKING, **asked)  # type: ignore[arg-type]
    keep_import(store, incoming, received=NOW)
    (line,) = store.studies()
    state = Bench(store).state(line.id)
    assert state is not None
    return store, state


def refusals(source: bytes | Path) -> list[tuple[str, str, int | None]]:
    try:
        read_import(source, name="pegs.zip", making=MAKING)
    except InputRefused as refused:
        return [(p.code, p.file, p.line) for p in refused.problems]
    return []


def exported(folder: Path, *events: Event) -> Path:
    store = MemoryStore()
    store.append(events or LOG, received=NOW)
    (line,) = store.studies()
    state = Bench(store).state(line.id)
    assert state is not None
    export_study(store, state, folder)
    return folder


def zipped(files: Mapping[str, bytes | str]) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in files.items():
            archive.writestr(name, data)
    return out.getvalue()


def alike(one: Source, other: Source) -> bool:
    """The same study; what was typed may be written with another decimal mark."""

    def plain(source: Source) -> object:
        trials = [
            dataclasses.replace(
                t, line=None, readings=tuple(dataclasses.replace(r, text="") for r in t.readings)
            )
            for t in source.study.trials
        ]
        return dataclasses.replace(source.study, trials=tuple(trials), title="")

    return plain(one) == plain(other)


def test_the_demo_is_the_same_study_through_the_store_and_a_folder(tmp_path: Path) -> None:
    events = demo_events(NOW, fresh_ids())
    original = read_source(DEMO, ReadOptions())
    folder = exported(tmp_path, *events)

    again = read_source(folder, ReadOptions())

    assert again.study == original.study
    assert again.notices == original.notices
    _, state = kept(folder)
    assert source_of(state).study == original.study


def test_an_import_twice_changes_nothing(tmp_path: Path) -> None:
    folder = exported(tmp_path)
    store, state = kept(folder)

    receipt = keep_import(
        store,
        read_import(folder, name="x", making=MAKING, handles=[("pegs", state.id)]),
        received=NOW,
    )

    assert (receipt.new, receipt.known) == ((), len(LOG))
    with pytest.raises(InputRefused) as refused:
        read_import(folder, name="x", making=MAKING, handles=[("pegs", "0" * 32)])
    assert [p.code for p in refused.value.problems] == ["handle-taken"]


Edit = Callable[[str], str]


@pytest.mark.parametrize(
    ("file", "edit"),
    [
        ("trials.csv", lambda t: t.replace(",", ";").replace("\n", "\r\n")),
        ("trials.csv", lambda t: t.replace("21.30", "21.3")),
        ("trials.csv", lambda t: "\ufeff" + t),
        ("trials.csv", lambda t: "\n".join([t.splitlines()[0], *t.splitlines()[:0:-1]])),
        ("study.toml", lambda t: t.replace("\n", "\r\n")),
    ],
)
def test_saved_again_is_not_edited(file: str, edit: Edit, tmp_path: Path) -> None:
    folder = exported(tmp_path)
    text = (folder / file).read_text("utf-8")
    (folder / file).write_text(edit(text), "utf-8", newline="")
    assert (folder / file).read_bytes() != text.encode()

    assert len(read_import(folder, name="x", making=MAKING).events) == len(LOG)


@pytest.mark.parametrize(
    ("file", "edit", "line", "word"),
    [
        ("trials.csv", lambda t: t.replace("21.30", "22.30"), 2, "21.30"),
        ("trials.csv", lambda t: t.replace("A2", "A9"), 3, "A9"),
        ("trials.csv", lambda t: t.replace("A2", "A1"), 3, "A1"),
        ("trials.csv", lambda t: "".join(t.splitlines(keepends=True)[:-1]), None, "A2"),
        ("trials.csv", lambda t: t.replace("note", "remark"), 1, "columns"),
        ("specimens.csv", lambda t: t.replace("wedged", "plain"), 3, "wedged"),
        ("study.toml", lambda t: t.replace("Pegs", "Dowels"), None, "changed"),
    ],
)
def test_an_edited_table_is_refused_by_row(
    file: str, edit: Edit, line: int | None, word: str, tmp_path: Path
) -> None:
    folder = exported(tmp_path)
    (folder / file).write_text(edit((folder / file).read_text("utf-8")), "utf-8")

    with pytest.raises(InputRefused) as refused:
        read_import(folder, name="x", making=MAKING)

    found = [p for p in refused.value.problems if p.line == line and word in p.message]
    assert found
    assert {(p.code, p.file) for p in refused.value.problems} == {("tables-edited", file)}
    assert "--as-new" in (found[0].do or "")


def test_edited_tables_taken_as_a_new_study(tmp_path: Path) -> None:
    folder = exported(tmp_path)
    text = (folder / "trials.csv").read_text("utf-8").replace("21.30", "22.30")
    (folder / "trials.csv").write_text(text, "utf-8")

    _, state = kept(folder, as_new=True, handles=[("pegs", "5" * 32)])

    assert state.handle == "pegs-2"
    assert state.id != made(SHARED).study
    assert state.pieces[0].reading is not None
    assert state.pieces[0].reading.entry.loads == ("22.30", "19.85")


SHEETS = {
    "kgf, commas, semicolons": (
        "group;load_kgf;mass_g;void;note\nplain;41,25;31,5;;\nwedged;>50;30;;slow\n"
        "plain;12;29;split;\n",
        ReadOptions(),
    ),
    "unit and decimal by option": (
        "specimen,group,load\nA,plain,1.234\nB,wedged,2.345\n",
        ReadOptions(unit=ForceUnit.KN, decimal=Decimal.POINT),
    ),
    "thousands": (
        'specimen,group,load_N,width_mm\nA,plain,"1,234.5","1,000.5"\nB,wedged,2345.25,9\n',
        ReadOptions(),
    ),
    "two displays": (
        "group,load_1_N,load_2_kN,together_N,rate_N_s,ended\nplain,412,0.4,700,5,broke\n"
        "wedged,500,>0.4,,,over-range\n",
        ReadOptions(sharing=Sharing.SEPARATE_PEAKS),
    ),
    "one display described": (
        "group,load_N,order,date,operator\nplain,412,2,2024-05-31,Mara\nwedged,440,1,,Jo\n",
        ReadOptions(capacity=440.0, resolution=2.0, worth=1.2, reference="wedged"),
    ),
    "pulls are negative": (
        "group,load_N,failure\nplain,-412,pull-out\nwedged,-450,shank\n",
        ReadOptions(pulls_negative=Negative.BY_SIZE, counts="pull-out"),
    ),
}


@pytest.mark.parametrize("name", SHEETS)
def test_a_lone_sheet_becomes_the_study_that_it_was(name: str, tmp_path: Path) -> None:
    text, options = SHEETS[name]
    (tmp_path / "pegs.csv").write_text(text, "utf-8")
    original = read_source(tmp_path / "pegs.csv", options)

    _, state = kept(text.encode(), options=options)
    _, from_file = kept(tmp_path / "pegs.csv", options=options)

    words = {"operator"} if "operator" in text else set()
    found = source_of(state)
    assert alike(found, original)
    assert alike(source_of(from_file), original)
    assert {w for t in found.study.trials for w in t.words} == words
    assert state.title == "pegs"


def test_a_hand_made_folder(tmp_path: Path) -> None:
    (tmp_path / "study.toml").write_text(
        'title = "Pegs"\ngroups = ["plain", "wedged"]\nsheet = "mine.csv"\n'
        'sharing = "same-moment"\n',
        "utf-8",
    )
    (tmp_path / "mine.csv").write_text(
        "specimen,group,load_1_N,load_2_N,void\nA2,wedged,41,5,\nA1,plain,40,4,\n"
        "A4,plain,,,fell down\n",
        "utf-8",
    )
    (tmp_path / "specimens.csv").write_text(
        "order,specimen,group,block,planned_day,mass_g,load_1,load_2,ended,void\n"
        "1,A1,plain,b1,day 1,31.5,,,,\n2,A2,wedged,b1,day 2,,,,,\n3,A3,plain,b2,,,,,,\n",
        "utf-8",
    )
    original = read_source(tmp_path, ReadOptions())

    _, state = kept(tmp_path)

    assert [p.label for p in state.pieces] == ["A1", "A2", "A3", "A4"]
    assert [p.block for p in state.pieces] == ["b1", "b1", "b2", None]
    assert [p.day for p in state.pieces] == [1, 2, None, None]
    assert state.pieces[0].measured == {"mass_g": "31.5"}
    assert state.pieces[3].void == "fell down"
    assert "sheet" not in state.toml
    found = {t.specimen: [r.shown for r in t.readings] for t in source_of(state).study.trials}
    assert found == {t.specimen: [r.shown for r in t.readings] for t in original.study.trials}
    assert source_of(state).study.instruments == original.study.instruments


def test_a_folder_in_which_nothing_was_read_yet(tmp_path: Path) -> None:
    (tmp_path / "study.toml").write_text(SHARED, "utf-8")
    (tmp_path / "specimens.csv").write_text("order,specimen,group\n1,A1,plain\n", "utf-8")

    _, state = kept(tmp_path)

    assert [p.label for p in state.pieces] == ["A1"]
    assert state.next_piece is not None


@pytest.mark.parametrize(
    ("files", "codes"),
    [
        ({"trials.csv": "a,b\n1,2\n"}, {"missing-column", "delimiter-unclear"}),
        ({"study.toml": "groups = [", "trials.csv": "x"}, {"toml-syntax"}),
        ({"study.toml": "groups = ["}, {"toml-syntax"}),
        ({"study.toml": 'sheet = "../x.csv"\n'}, {"study-without-sheet"}),
        ({"notes.txt": "x"}, {"no-study-here"}),
        ({"history.jsonl": "{}\n"}, {"event-unreadable"}),
        ({"history.jsonl": "[\n"}, {"history-unreadable"}),
        ({"history.jsonl": ""}, {"history-unreadable"}),
        ({"../trials.csv": "x"}, {"zip-unsafe"}),
        ({"/etc/trials.csv": "x"}, {"zip-unsafe"}),
        ({"a\\..\\trials.csv": "x"}, {"zip-unsafe"}),
        ({"C:/trials.csv": "x"}, {"zip-unsafe"}),
    ],
)
def test_what_an_archive_is_refused_for(files: dict[str, str], codes: set[str]) -> None:
    found = {code for code, _, _ in refusals(zipped(files))}

    assert found
    assert found <= codes


def test_a_history_that_is_not_of_one_study_from_its_beginning(tmp_path: Path) -> None:
    lines = (exported(tmp_path) / "history.jsonl").read_text("utf-8").splitlines(keepends=True)
    other = lines[1].replace("5" * 32, "6" * 32)

    for text in ("".join(lines[1:]), "".join([*lines, lines[2]]), "".join([*lines, other])):
        assert refusals(zipped({"history.jsonl": text})) == [
            ("history-unreadable", "history.jsonl", None)
        ]
    broken = "".join([lines[0], "{not json\n", *lines[1:]])
    assert refusals(zipped({"history.jsonl": broken})) == [
        ("history-unreadable", "history.jsonl", 2)
    ]


def test_a_link_in_an_archive_leads_nowhere() -> None:
    link = zipfile.ZipInfo("trials.csv")
    link.external_attr = 0o120777 << 16
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        archive.writestr(link, "/etc/passwd")

    assert refusals(out.getvalue()) == [("zip-unsafe", "trials.csv", None)]


def test_a_link_in_a_folder_is_not_followed(tmp_path: Path) -> None:
    (tmp_path / "secret.csv").write_text("group,load_N\nplain,1\nwedged,2\n", "utf-8")
    (tmp_path / "in").mkdir()
    (tmp_path / "in" / "trials.csv").symlink_to(tmp_path / "secret.csv")

    assert [code for code, _, _ in refusals(tmp_path / "in")] == ["no-study-here"]


def test_a_bomb_is_counted_while_it_unpacks(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(bundle, "_LARGEST", 1_000_000)
    data = zipped({"trials.csv": b"0" * 1_000_001})
    assert len(data) < 5000

    assert refusals(data) == [("import-too-large", "trials.csv", None)]
    monkeypatch.setattr(bundle, "_LARGEST_OF_ALL", 1_000_000)
    assert refusals(data) == [("import-too-large", "pegs.zip", None)]


def test_an_archive_that_lies_about_a_size() -> None:
    data = zipped({"trials.csv": b"0" * 100_000})
    size = (100_000).to_bytes(4, "little")
    assert data.count(size) == 2

    codes = [code for code, _, _ in refusals(data.replace(size, (10).to_bytes(4, "little")))]
    assert codes == ["zip-damaged"]


def test_an_archive_cut_off() -> None:
    data = zipped({"trials.csv": "group,load_N\n" + "plain,1\n" * 5000})

    assert [code for code, _, _ in refusals(data[:-30])] == ["zip-damaged"]
    middle = bytearray(data)
    middle[60:90] = bytes(30)
    assert [code for code, _, _ in refusals(bytes(middle))] == ["zip-damaged"]


def test_a_folder_zipped_by_hand_has_its_name_on_top(tmp_path: Path) -> None:
    folder = exported(tmp_path)
    files = {f"pegs/{p.name}": p.read_bytes() for p in folder.iterdir()}

    _, state = kept(zipped({**files, "__MACOSX/._x": b"", "pegs/.DS_Store": b""}))

    assert state.id == made(SHARED).study


@pytest.mark.parametrize("data", [b"\x89PNG\r\n\x1a\n other", b"<script>"])
def test_a_picture_that_is_not_what_it_is_called(data: bytes, tmp_path: Path) -> None:
    name = "a" * 64 + ".png"
    folder = exported(tmp_path, *LOG, event("f", PhotoAdded(name)))
    (folder / "media").mkdir()
    (folder / "media" / name).write_bytes(data)

    assert refusals(folder) == [("media-damaged", f"media/{name}", None)]


def test_what_is_taken_passes_the_door() -> None:
    text = "specimen,group,load_N,void\nA,plain,5,\nB,wedged,6,pilot\nC,wedged,7,\n"

    incoming = read_import(text.encode(), name="pegs.csv", making=MAKING)

    bodies = [event.body for event in incoming.events]
    assert [body.label for body in bodies if isinstance(body, PieceAdded)] == ["A", "B", "C"]
    assert [body.reason for body in bodies if isinstance(body, PieceVoided)] == ["pilot"]
    long = f"specimen,group,load_N,note\nA,plain,5,{'x' * 5000}\nB,wedged,6,\n"
    assert refusals(long.encode()) == [("event-unreadable", "pegs.zip", None)]
