"""Prepare as plain forms: each step changes what it says and leaves the rest as it was."""

import importlib.util
import tomllib
from pathlib import Path

import pytest
from prepare_client import PrepareClient, fields_of, words_of

from breakwright.model.event import Entry, PieceMeasured, ReadingEntered, StudyChanged, StudyMade
from breakwright.report.page_parts import dark_colours
from breakwright.usecases.bench.state import Standing

ROOT = Path(__file__).parents[3]
DEMO = (ROOT / "src/breakwright/demo/study.toml").read_text("utf-8")
HOME = "/s/pegs/prepare"
# Nothing to foretell from, so that counting is quick.
QUICK = """\
title = "x"
groups = ["plain", "wedged"]
worth = 1.5
unit = "kgf"
expected = { cv = 0.2, median = 50 }
wish = { pieces = 6 }
instrument = [{ name = "crane scale", capacity = 300 }]
"""


@pytest.fixture
def bench(tmp_path: Path) -> PrepareClient:
    client = PrepareClient(tmp_path)
    services = client.services
    services.record([services.event("a" * 32, StudyMade(DEMO, "pegs"))])
    return client


def planned(bench: PrepareClient, pieces: int = 4) -> None:
    reply = bench.fill(f"{HOME}/order", f"{HOME}/order", pieces=pieces)
    assert reply.status_code == 303, words_of(reply.text)
    assert bench.send(f"{HOME}/order/take", {}).status_code == 303


def test_the_form_of_every_kind_is_that_of_the_catalogue() -> None:
    script = ROOT / "scripts/kinds_form.py"
    spec = importlib.util.spec_from_file_location("kinds_form", script)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    assert module.FILE.read_text("utf-8") == module.kinds_form()


def test_every_colour_of_a_light_chart_has_its_dark_one() -> None:
    css = (ROOT / "src/breakwright/web/assets/prepare-charts.css").read_text("utf-8")
    for light, dark in dark_colours():
        assert f'svg [fill="{light}"] {{ fill: {dark}; }}' in css
        assert f'svg [stroke="{light}"] {{ stroke: {dark}; }}' in css


def test_the_first_page_says_what_is_missing(bench: PrepareClient) -> None:
    words = words_of(bench.get(HOME))
    # The demo's mistakes, as 'breakwright plan' finds them: margins 0.70 and 1.43, scales to 92.
    assert "'rail over its supports' is too weak: it holds 0.7 times" in words
    assert "'screws of the beam' is too weak: it holds 1.4 times" in words
    assert "No piece is planned" in words
    assert "was never checked" not in words


def test_a_scale_without_checks_is_pointed_out(bench: PrepareClient) -> None:
    page, action = f"{HOME}/scales/new", f"{HOME}/scales/new"
    reply = bench.fill(page, action, name="old scale", capacity="200", resolution="0,5")
    assert reply.status_code == 303
    assert tomllib.loads(bench.state("pegs").toml)["instrument"][2] == {
        "name": "old scale",
        "capacity": 200,
        "resolution": 0.5,
    }
    assert "'old scale' was never checked with a known weight." in words_of(bench.get(HOME))
    one = f"{HOME}/scales/2"
    assert bench.fill(one, one, true0="20", shown0="19.5", tolerance0="0.1").status_code == 303
    assert "was never checked" not in words_of(bench.get(HOME))
    assert bench.fill(one, one, shown0="").status_code == 422
    assert bench.fill(one, one, remove="yes").status_code == 303
    assert bench.state("pegs").toml == DEMO


def test_opening_and_saving_a_form_changes_nothing(bench: PrepareClient) -> None:
    for step in ("question", "scales", "scales/0", "rig", *(f"rig/{i}" for i in range(6))):
        page = f"{HOME}/{step}"
        reply = bench.fill(page, page)
        assert reply.status_code == 303, (step, words_of(reply.text)[:500])
        assert bench.state("pegs").toml == DEMO, step
    assert len(bench.state("pegs").definitions) == 1


def test_a_group_gets_another_name_everywhere(bench: PrepareClient) -> None:
    planned(bench)
    page = f"{HOME}/question"
    assert bench.fill(page, page, group1="with a wedge").status_code == 303
    state = bench.state("pegs")
    table = tomllib.loads(state.toml)
    assert table["groups"] == ["plain", "with a wedge"]
    assert table["expected"]["ratio"] == {"with a wedge": 1.3}
    assert {piece.group for piece in state.pieces} == {"plain", "with a wedge"}
    reply = bench.fill(page, page, group0="")
    assert reply.status_code == 422
    assert "'plain' has 4 pieces; it cannot go." in words_of(reply.text)


def test_a_size_changes_one_line_and_the_margin(bench: PrepareClient) -> None:
    page = f"{HOME}/rig/1"
    live = f"{HOME}/rig/look/1"
    form = {"kind": "plate with hole", "name": "rail over its supports", "word:material": "ash"}
    sizes = {"number:width_mm": "30", "number:thickness_mm": "20", "number:hole_mm": "14"}
    before = words_of(bench.send(live, {**form, **sizes, "number:span_mm": "450"}).text)
    after = words_of(bench.send(live, {**form, **sizes, "number:span_mm": "100"}).text)
    assert "0.7 times the strongest piece: too weak" in before
    # Bending: the load goes with 1/span, so 450 to 100 mm gives 4.5 times 0.697.
    assert "3.1 times the strongest piece: enough" in after
    assert bench.state("pegs").toml == DEMO
    assert bench.fill(page, page, **{"number:span_mm": "100"}).status_code == 303
    old, new = DEMO.splitlines(), bench.state("pegs").toml.splitlines()
    pairs = [(a, b) for a, b in zip(old, new, strict=True) if a != b]
    assert pairs == [("span_mm = 450", "span_mm = 100")]


def test_the_first_part_alone_has_a_load_and_no_margin(bench: PrepareClient) -> None:
    text = f"{HOME}/text"
    assert bench.fill(text, text, toml='groups = ["a", "b"]\nunit = "N"\n').status_code == 303
    form = {"kind": "glued lap", "name": "peg", "tested": "yes", "word:material": "ash"}
    form |= {"word:glue": "pva", "number:width_mm": "44", "number:overlap_mm": "20"}
    reply = bench.send(f"{HOME}/rig/look/new", form)
    assert reply.status_code == 200
    assert "A piece breaks at about" in words_of(reply.text)
    assert "Weakest link" not in words_of(reply.text)


@pytest.mark.parametrize(
    ("typed", "key", "value"),
    [("4 in", "span_in", 4), ("10,5 cm", "span_cm", 10.5), ("100", "span_mm", 100)],
)
def test_a_size_may_be_typed_in_another_unit(
    bench: PrepareClient, typed: str, key: str, value: float
) -> None:
    page = f"{HOME}/rig/1"
    assert bench.fill(page, page, **{"number:span_mm": typed}).status_code == 303
    part = tomllib.loads(bench.state("pegs").toml)["part"][1]
    assert {k: v for k, v in part.items() if k.startswith("span")} == {key: value}


@pytest.mark.parametrize(
    ("field", "typed", "says"),
    [
        ("number:span_mm", "9000", "9000 is outside what is possible: 5 to 3000 mm"),
        ("number:span_mm", "4 kN", "'kN' is not a unit that fits here"),
        ("number:span_mm", "long", "This is not a number"),
        ("word:material", "asch", "unknown-material"),
        ("name", "", "Give the part a name of its own"),
        ("name", "jack", "two parts have this name"),
    ],
)
def test_a_part_that_cannot_be_is_refused_with_what_is_allowed(
    bench: PrepareClient, field: str, typed: str, says: str
) -> None:
    page = f"{HOME}/rig/1"
    reply = bench.fill(page, page, **{field: typed})
    assert reply.status_code == 422
    assert says.casefold() in words_of(reply.text).casefold()
    assert f'value="{typed}"' in reply.text
    assert bench.state("pegs").toml == DEMO


def test_parts_are_added_moved_and_taken_out(bench: PrepareClient) -> None:
    new = f"{HOME}/rig/new"
    reply = bench.fill(
        f"{new}?kind=rated part",
        new,
        name="shackle",
        **{"word:what": "shackle", "number:rated_N": "5 kN"},
    )
    assert reply.status_code == 303, words_of(reply.text)
    base = bench.state("pegs").heads[-1].event
    moved = {"index": "6", "by": "-1", "base": base}
    assert bench.send(f"{HOME}/rig/move", moved).status_code == 303
    parts = tomllib.loads(bench.state("pegs").toml)["part"]
    assert parts[5] == {"name": "shackle", "kind": "rated part", "what": "shackle", "rated_kN": 5}
    page = f"{HOME}/rig/5"
    assert bench.fill(page, page, remove="yes").status_code == 303
    assert tomllib.loads(bench.state("pegs").toml) == tomllib.loads(DEMO)


def test_the_order_drawn_is_the_order_taken_and_makes_room(bench: PrepareClient) -> None:
    planned(bench)
    first = [(p.order, p.label, p.group) for p in bench.state("pegs").pieces]
    assert [order for order, _, _ in first] == list(range(1, 9))
    assert sorted(group for _, _, group in first) == ["plain"] * 4 + ["wedged"] * 4
    piece = bench.state("pegs").pieces[0]
    services = bench.services
    entry = Entry(("40", "41"), "kgf")
    services.record([services.event("a" * 32, ReadingEntered(piece.id, entry))])
    bench.fill(f"{HOME}/order", f"{HOME}/order", seed=7)
    page = words_of(bench.get(f"{HOME}/order?drawn=1"))
    assert "7 planned pieces make room" in page
    bench.send(f"{HOME}/order/take", {})
    state = bench.state("pegs")
    assert len(state.pieces) == 9
    assert state.pieces[0].id == piece.id
    assert state.pieces[0].standing is Standing.READ
    assert [p.order for p in state.pieces[1:]] == list(range(2, 10))
    assert len({p.label for p in state.pieces}) == 9


def test_pieces_by_hand_are_added_changed_left_out_and_taken_back(bench: PrepareClient) -> None:
    new = f"{HOME}/order/new"
    assert bench.fill(new, new, label="X1", group="plain").status_code == 303
    assert bench.fill(new, new, label="X1", group="plain").status_code == 422
    piece = bench.state("pegs").pieces[0]
    page = f"{HOME}/order/{piece.id}"
    assert bench.fill(page, page, label="X2", block="B").status_code == 303
    changed = bench.state("pegs").pieces[0]
    assert (changed.label, changed.block, changed.group) == ("X2", "B", "plain")
    assert bench.fill(page, page, void="yes").status_code == 422
    assert bench.fill(page, page, void="yes", reason="split").status_code == 303
    assert bench.state("pegs").pieces[0].void == "split"
    assert bench.fill(page, page, remove="yes").status_code == 422
    assert bench.fill(page, page, restore="yes", reason="it holds").status_code == 303
    assert bench.fill(page, page, remove="yes").status_code == 303
    assert bench.state("pegs").pieces == ()


def test_work_logged_on_a_group_makes_its_pieces_wait(bench: PrepareClient) -> None:
    planned(bench)
    page = f"{HOME}/log"
    started = {"started": bench.services.now()[:16], "offset": "0"}
    reply = bench.fill(page, page, work="glued", wait_h="48", group="1", **started)
    assert reply.status_code == 303, words_of(reply.text)
    log = bench.state("pegs").preparations[0].log
    wedged = {p.id for p in bench.state("pegs").pieces if p.group == "wedged"}
    assert (set(log.pieces), log.wait_h, log.started[-6:]) == (wedged, 48.0, "+00:00")
    assert "4 pieces are still curing" in words_of(bench.get(HOME))
    for wrong, says in (
        ({"work": ""}, "What was done?"),
        ({"group": "9"}, "Choose the pieces"),
        ({"started": "soon"}, "When was it done?"),
        ({"wait_h": "-1"}, "outside what is possible"),
    ):
        typed = {"work": "oiled", "group": "0", **started, **wrong}
        reply = bench.fill(page, page, **typed)
        assert (reply.status_code, says in words_of(reply.text)) == (422, True), wrong
    undo = {"event": bench.state("pegs").preparations[0].event}
    bench.send(f"{HOME}/log/undo", undo)
    assert bench.state("pegs").preparations == ()


def test_only_cells_that_changed_are_kept(bench: PrepareClient) -> None:
    planned(bench)
    page = f"{HOME}/measure"
    one, two = bench.state("pegs").pieces[:2]
    cells = {f"{one.id}:mass_g": "310,5", f"{two.id}:mass_g": "290"}
    assert bench.fill(page, page, **cells).status_code == 303
    assert bench.state("pegs").pieces[0].measured == {"mass_g": "310.5"}
    open_page = bench.get(page)
    services = bench.services
    services.record([services.event("a" * 32, PieceMeasured(two.id, {"mass_g": "299"}))])
    fields = fields_of(open_page, page) | {f"{one.id}:mass_g": "", f"{one.id}:moisture_pct": "9"}
    before = bench.state("pegs").last
    bench.send(page, fields)
    state = bench.state("pegs")
    assert state.last == before + 1
    assert state.pieces[0].measured == {"moisture_pct": "9"}
    assert state.pieces[1].measured == {"mass_g": "299"}
    reply = bench.fill(page, page, **{f"{one.id}:mass_g": "heavy"})
    assert reply.status_code == 422
    assert 'value="heavy"' in reply.text


def test_a_column_of_ones_own_has_its_unit(bench: PrepareClient) -> None:
    planned(bench)
    assert "Rail width, mm" in words_of(bench.get(f"{HOME}/measure?column=Rail+width&of=mm"))
    assert bench.client.get(f"{HOME}/measure?column=group").status_code == 422


def test_the_bench_sheet_and_the_labels_have_the_studys_own_pieces(bench: PrepareClient) -> None:
    planned(bench)
    labels = [piece.label for piece in bench.state("pegs").pieces]
    sheet = bench.client.get(f"{HOME}/bench-sheet")
    assert "sandbox" in sheet.headers["content-security-policy"]
    assert all(label in words_of(sheet.text) for label in labels)
    hidden = bench.get(f"{HOME}/labels?group=hide&skip=2&across=3&down=4")
    assert all(f">{label}<" in hidden for label in labels)
    assert "wedged" not in words_of(hidden)
    assert "wedged" in words_of(bench.get(f"{HOME}/labels?group=show"))
    assert bench.client.get(f"{HOME}/labels?across=none").status_code == 422


def test_the_text_shows_each_problem_with_its_line(bench: PrepareClient) -> None:
    page = f"{HOME}/text"
    broken = DEMO.replace("capacity = 50.0", "capacity = -50.0", 1)
    reply = bench.fill(page, page, toml=broken)
    assert reply.status_code == 422
    line = broken[: broken.index("capacity = -50.0")].count("\n") + 1
    assert f"Line {line} : capacity = -50.0" in words_of(reply.text)
    assert "capacity = -50.0" in reply.text.partition("<textarea")[2]
    assert bench.state("pegs").toml == DEMO
    assert bench.fill(page, page, toml=DEMO + "# mine\n").status_code == 303
    assert bench.state("pegs").toml == DEMO + "# mine\n"


def test_changes_of_two_people_to_different_steps_both_stay(bench: PrepareClient) -> None:
    page = f"{HOME}/scales/0"
    fields = fields_of(bench.get(page), page) | {"tare": "2"}
    question = f"{HOME}/question"
    assert bench.fill(question, question, worth="1.3").status_code == 303
    assert bench.send(page, fields).status_code == 303
    state = bench.state("pegs")
    table = tomllib.loads(state.toml)
    assert (len(state.heads), table["worth"], table["instrument"][0]["tare"]) == (1, 1.3, 2)


def test_changes_of_two_people_to_the_same_step_are_settled(bench: PrepareClient) -> None:
    services = bench.services
    base = bench.state("pegs").heads[-1].event
    texts = [DEMO.replace("worth = 1.1", f"worth = {worth}") for worth in (1.2, 1.3)]
    services.record([services.event("a" * 32, StudyChanged(text, base)) for text in texts])
    later = StudyChanged(texts[1] + "# more\n", bench.state("pegs").heads[-1].event)
    services.record([services.event("a" * 32, later)])
    assert "Two people changed the study" in words_of(bench.get(HOME))
    page = words_of(bench.get(f"{HOME}/text"))
    assert "worth = 1.2" in page
    assert "worth = 1.3" in page
    first = bench.state("pegs").heads[0].event
    bench.send(f"{HOME}/settle", {"keep": first})
    state = bench.state("pegs")
    assert [head.event for head in state.heads] == [first]
    assert state.toml == texts[0]


def test_the_count_is_asked_for_once_and_shown(bench: PrepareClient) -> None:
    page = f"{HOME}/numbers"
    text = f"{HOME}/text"
    assert bench.fill(text, text, toml=QUICK).status_code == 303
    reply = bench.fill(page, f"{page}/count", offers="150 300")
    assert reply.headers["location"] == f"{page}?offers=150+300#count"
    words = words_of(bench.get(f"{page}?offers=150+300"))
    assert "How many pieces" in words
    assert "Break 6" in words
    assert bench.get(f"{page}?offers=150+300").count("<svg role") == 4
    assert bench.work.asked.count("before") == 1
    assert bench.fill(page, page, pieces="9", cv="25").status_code == 303
    table = tomllib.loads(bench.state("pegs").toml)
    assert (table["wish"]["pieces"], table["expected"]["cv"]) == (9, 0.25)
    assert "was changed since it was last counted" in words_of(bench.get(page))


@pytest.mark.parametrize("path", ["", "/question", "/rig", "/rig/99", "/order/none", "/scales/9"])
def test_what_is_not_there_is_said_to_be_missing(bench: PrepareClient, path: str) -> None:
    study = "pegs" if path.endswith(("99", "none", "9")) else "nobody"
    assert bench.client.get(f"/s/{study}/prepare{path}").status_code == 404


def test_a_text_that_cannot_be_read_still_opens_every_page(bench: PrepareClient) -> None:
    services = bench.services
    broken = bench.state("pegs").heads[-1].event
    services.bench.record(
        [services.event("a" * 32, StudyChanged("groups = 7\nworth = ", broken))],
        received=services.now(),
    )
    for step in ("", *(f"/{key}" for key in ("question", "scales", "rig", "numbers", "order"))):
        bench.get(f"{HOME}{step}")
    assert "cannot be read" in words_of(bench.get(HOME))
