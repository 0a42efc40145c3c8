"""Studies: a new one from the short form, the demo, a sheet and a zip brought along, the shelf."""

import io
import zipfile
from pathlib import Path

import pytest
from prepare_client import PrepareClient, words_of

from breakwright.bootstrap.prepare import plan_text

DEMO = Path(__file__).parents[3] / "src/breakwright/demo"

NEW = {
    "question": "Does a wedge make a peg hold better?",
    "groups": "plain\nwedged\n",
    "counts": "pull-out",
    "worth": "1,2",
    "unit": "kgf",
    "scale0": "crane scale",
    "capacity0": "600",
    "resolution0": "0.2",
}


@pytest.fixture
def bench(tmp_path: Path) -> PrepareClient:
    return PrepareClient(tmp_path)


def test_an_empty_bench_says_what_a_study_is(bench: PrepareClient) -> None:
    assert "A study is one question" in words_of(bench.get("/"))


def test_the_short_form_makes_a_study_that_reads(bench: PrepareClient) -> None:
    reply = bench.fill("/new", "/new", **NEW)
    assert (reply.status_code, reply.headers["location"]) == (
        303,
        "/s/does-a-wedge-make-a-peg-hold-better/prepare",
    )
    study = plan_text(bench.state("does-a-wedge-make-a-peg-hold-better").toml).study
    assert (study.groups, study.reference, study.worth) == (("plain", "wedged"), "plain", 1.2)
    again = bench.fill("/new", "/new", **NEW)
    assert again.headers["location"] == "/s/does-a-wedge-make-a-peg-hold-better-2/prepare"
    assert words_of(bench.get("/")).count("no pieces yet") == 2


@pytest.mark.parametrize(
    ("field", "typed", "says"),
    [
        ("question", "", "What do you want to know?"),
        ("groups", "plain", "Name two groups or more"),
        ("groups", "a\na", "Two groups have the same name"),
        ("reference", "glued", "The reference is one of the groups: plain, wedged"),
        ("worth", "1", "This must be above 1"),
        ("worth", "1,234", "Is this 1.234 or 1234?"),
        ("unit", "", "In which unit do your scales show the load?"),
        ("capacity0", "much", "This is not a number"),
    ],
)
def test_what_is_wrong_is_said_and_what_was_typed_stays(
    bench: PrepareClient, field: str, typed: str, says: str
) -> None:
    reply = bench.fill("/new", "/new", **{**NEW, field: typed})
    assert reply.status_code == 422
    assert says in words_of(reply.text)
    assert 'value="crane scale"' in reply.text
    assert bench.services.bench.studies() == ()


def test_the_demo_is_made_once_and_then_opened(bench: PrepareClient) -> None:
    first = bench.send("/demo", {})
    second = bench.send("/demo", {})
    assert first.headers["location"] == second.headers["location"]
    assert len(bench.services.bench.studies()) == 1
    page = words_of(bench.get("/"))
    assert "Invented." in page
    assert "Coat-rail pegs in ash" in page


def test_a_zip_and_a_sheet_are_taken_in(bench: PrepareClient) -> None:
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w") as archive:
        for name in ("study.toml", "trials.csv"):
            archive.write(DEMO / name, name)
    files = {"file": ("pegs.zip", packed.getvalue())}
    reply = bench.client.post("/import", files=files)
    assert reply.status_code == 303, words_of(reply.text)
    sheet = "specimen,group,load_kgf\na,plain,41\nb,wedged,57\n"
    reply = bench.client.post("/import", files={"file": ("my pegs.csv", sheet)})
    assert reply.status_code == 303, words_of(reply.text)
    rows = len((DEMO / "trials.csv").read_text("utf-8").splitlines()) - 1
    assert {line.pieces for line in bench.services.bench.studies()} == {rows, 2}


def test_a_sheet_that_cannot_be_read_is_named_with_its_line(bench: PrepareClient) -> None:
    sheet = "specimen,group,load_kgf\na,plain,4l2\n"
    reply = bench.client.post("/import", files={"file": ("pegs.csv", sheet)})
    assert reply.status_code == 422
    words = words_of(reply.text)
    assert "pegs.csv was not taken in" in words
    assert "line 2" in words
    assert "4l2" in words
    assert bench.services.bench.studies() == ()


def test_the_shelf_keeps_a_study_whole(bench: PrepareClient) -> None:
    bench.fill("/new", "/new", **NEW)
    handle = "does-a-wedge-make-a-peg-hold-better"
    bench.fill("/", f"/s/{handle}/shelve")
    assert bench.state(handle).shelved
    assert "On the shelf (1)" in words_of(bench.get("/"))
    bench.fill("/", f"/s/{handle}/take-up")
    assert not bench.state(handle).shelved
    assert bench.client.post("/s/nobody/shelve").status_code == 404
