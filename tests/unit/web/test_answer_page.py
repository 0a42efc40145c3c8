"""The Answer page over a bench in memory: what it says while work waits, is done, or fails."""

import io
import json
import re
import zipfile

import pytest
from answer_samples import NOW, Client, Idle, bench, demo, handle_of, settled

from breakwright.model.event import Event, ReadingEntered, StudyChanged, StudyMade, Undone
from breakwright.report.settle_words import PEEKING
from breakwright.usecases.bench.ports import JobState
from breakwright.web.work import tasks_answer


@pytest.fixture(autouse=True, scope="module")
def _few_resamples():
    # What is simulated is tested elsewhere; here 400 experiments tell as much.
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(tasks_answer, "RESAMPLES", 400)
        yield


@pytest.fixture(scope="module")
def done(_few_resamples, tmp_path_factory):
    """The whole demo, calibrated: services and the page's text. Nothing may be added to it."""
    services = bench(tmp_path_factory.mktemp("done"))
    return services, settled(Client(services), handle_of(services))


def parts_of(text):
    return set(re.findall(r'data-part="([a-z-]+)"', text))


def test_before_the_first_reading_nothing_is_computed(tmp_path):
    hands = Idle()
    services = bench(tmp_path, hands=hands, events=demo(0))
    found = Client(services).get(f"/s/{handle_of(services)}/answer")
    assert found.status_code == 200
    assert "No piece has been broken yet" in found.text
    assert f"/s/{handle_of(services)}/break" in found.text
    assert hands.woken == []


def test_the_quick_answer_says_that_it_is_quick(tmp_path):
    services = bench(tmp_path, events=demo(12))
    services.hands.lanes = ("quick",)
    text = Client(services).get(f"/s/{handle_of(services)}/answer").text
    # ``ask`` returned before the work was done in this process; the next look finds it.
    text = Client(services).get(f"/s/{handle_of(services)}/answer").text
    assert "<strong>Quick:</strong>" in text
    assert "Calibrated:</strong>" not in text
    assert "Calibrated answer: waiting for its turn" in text
    assert PEEKING.split(".")[0] in text
    assert 'data-busy="yes"' in text


def test_the_calibrated_answer_takes_its_place(done):
    services, text = done
    handle = handle_of(services)
    assert "<strong>Calibrated:</strong>" in text
    assert "<strong>Quick:</strong>" not in text
    assert parts_of(text) >= {"verdict", "more", "charts", "breaks", "care", "tables", "take-home"}
    assert "«wedged» held" in text
    assert "In, at the load they broke at" in text
    assert "Out altogether" in text
    # Each piece leads to its own page.
    piece = services.bench.state(handle).pieces[0]
    assert f'<a href="/s/{handle}/piece/{piece.id}">{piece.label}</a>' in text


def test_the_same_readings_are_computed_once(done):
    services, _ = done
    client, handle = Client(services), handle_of(services)
    said = list(services.hands.said)
    client.get(f"/s/{handle}/answer")
    assert services.hands.said == said


def test_a_new_reading_makes_the_old_computation_give_way(tmp_path):
    services = bench(tmp_path, hands=Idle(), events=demo(10))
    client, handle = Client(services), handle_of(services)
    client.get(f"/s/{handle}/answer/now")
    state = services.bench.state(handle)
    first = services.jobs.newest(state.id, "answer")
    services.bench.store.append(demo(11), received=NOW)
    client.get(f"/s/{handle}/answer/now")
    second = services.jobs.newest(state.id, "answer")
    assert second.id != first.id
    assert services.jobs.job(first.id).state is JobState.CANCELLED
    assert second.state is JobState.QUEUED


def test_stop_and_again(tmp_path):
    services = bench(tmp_path, hands=Idle(), events=demo(10))
    client, handle = Client(services), handle_of(services)
    client.get(f"/s/{handle}/answer/now")
    study = services.bench.state(handle).id
    job = services.jobs.newest(study, "answer")
    found = client.post(f"/s/{handle}/answer/stop", data={"job": job.id})
    assert (found.status_code, found.headers["location"]) == (303, f"/s/{handle}/answer")
    text = client.get(f"/s/{handle}/answer").text
    assert "was stopped" in text
    assert services.jobs.newest(study, "answer").id == job.id  # a look does not begin it anew
    client.post(f"/s/{handle}/answer/again")
    assert services.jobs.newest(study, "answer").state is JobState.QUEUED
    assert services.jobs.newest(study, "answer").id != job.id


def test_a_failure_is_shown_with_its_words(tmp_path):
    services = bench(tmp_path, hands=Idle(), events=demo(10))
    client, handle = Client(services), handle_of(services)
    client.get(f"/s/{handle}/answer/now")
    job = services.jobs.take(["answer"], now=NOW)
    services.jobs.finish(job.id, result=None, trouble="The machine ran out of memory.", now=NOW)
    text = client.get(f"/s/{handle}/answer").text
    assert "could not be computed. The machine ran out of memory." in text
    assert "Try again" in text


def test_what_stands_in_the_way_is_said_with_what_to_do(tmp_path):
    events = demo(10)
    made = next(e for e in events if isinstance(e.body, StudyMade))
    # A group that pieces belong to vanishes from the study.
    toml = made.body.toml.replace('["plain", "wedged"]', '["plain", "waxed"]')
    change = StudyChanged(toml.replace("{ wedged = 1.3 }", "{ waxed = 1.3 }"), made.id)
    services = bench(tmp_path, events=[*events, Event("e" * 32, made.study, NOW, change)])
    text = settled(Client(services), handle_of(services))
    assert "<strong>Not yet.</strong>" in text
    assert 'class="problems"' in text
    assert "wedged" in text


def test_loads_are_shown_in_the_persons_unit(done):
    services, own = done
    client, handle = Client(services), handle_of(services)
    other = client.get(f"/s/{handle}/answer", headers={"cookie": "breakwright-unit=kN"}).text
    assert re.search(r"\d+\.\d\xa0kgf", own)
    assert re.search(r"0\.\d+\xa0kN", other)
    assert not re.search(r"\d\xa0kgf", other.split('data-part="tables"')[1])


def test_charts_as_data_and_as_pictures(done):
    services, text = done
    client, handle = Client(services), handle_of(services)
    job = re.search(r'id="charts"[^>]* data-job="(\w+)"', text)[1]
    query = f"job={job}&unit=kgf&theme=dark&size=phone"
    charts = client.get(f"/s/{handle}/answer/charts?{query}").json()["charts"]
    names = re.findall(r'class="chart" data-name="(\w+)"', text)
    assert [chart["name"] for chart in charts] == names
    assert all(chart["alt"] for chart in charts)
    drawn = client.get(f"/s/{handle}/answer/chart/ratio.svg?{query}")
    assert drawn.headers["content-type"] == "image/svg+xml"
    assert drawn.text.lstrip().startswith("<svg")
    assert "sandbox" in drawn.headers["content-security-policy"]
    assert client.get(f"/s/{handle}/answer/chart/other.svg?{query}").status_code == 404
    wrong = query.replace("dark", "pink")
    assert client.get(f"/s/{handle}/answer/charts?{wrong}").status_code == 404


def test_each_download_opens(done):
    services, _ = done
    client, handle = Client(services), handle_of(services)
    for kind in ("report", "pictures", "package"):
        assert client.post(f"/s/{handle}/answer/make", data={"kind": kind}).status_code == 303
    text = client.get(f"/s/{handle}/answer").text
    links = dict(re.findall(r'id="get-(\w+)" href="([^"]+)"', text))
    assert set(links) == {"report", "pictures", "package"}
    report = client.get(links["report"])
    assert f'{handle}-report.html"' in report.headers["content-disposition"]
    assert report.text.startswith("<!DOCTYPE html>")
    with zipfile.ZipFile(io.BytesIO(client.get(links["pictures"]).content)) as archive:
        assert archive.testzip() is None
        assert any(name.endswith("ratio-dark.png") for name in archive.namelist())
    with zipfile.ZipFile(io.BytesIO(client.get(links["package"]).content)) as archive:
        assert any(name.endswith("datapackage.json") for name in archive.namelist())
        assert any(name.endswith("trials.csv") for name in archive.namelist())
    answer = json.loads(client.get(f"/s/{handle}/answer/answer.json").text)
    assert answer["schema"] == "breakwright/answer/1"


def test_nothing_is_made_of_an_answer_that_is_not_there(tmp_path):
    services = bench(tmp_path, hands=Idle(), events=demo(10))
    client, handle = Client(services), handle_of(services)
    assert client.post(f"/s/{handle}/answer/make", data={"kind": "report"}).status_code == 409
    assert client.post(f"/s/{handle}/answer/make", data={"kind": "virus"}).status_code == 409
    assert client.get(f"/s/{handle}/answer/answer.json").status_code == 409


def test_other_studies_jobs_are_not_shown(tmp_path):
    services = bench(tmp_path, hands=Idle(), events=demo(10))
    client, handle = Client(services), handle_of(services)
    assert client.get(f"/s/{handle}/answer/file/{'0' * 32}").status_code == 404
    assert client.post(f"/s/{handle}/answer/stop", data={"job": "0" * 32}).status_code == 404
    assert client.get("/s/no-such-study/answer").status_code == 404


def test_an_undone_reading_leaves_the_answer_of_before(tmp_path):
    services = bench(tmp_path, hands=Idle(), events=demo(10))
    client, handle = Client(services), handle_of(services)
    client.get(f"/s/{handle}/answer/now")
    study = services.bench.state(handle).id
    before = services.jobs.newest(study, "answer").key
    readings = [e for e in demo(11) if isinstance(e.body, ReadingEntered)]
    undo = Event("f" * 32, study, NOW, Undone(readings[-1].id))
    services.bench.store.append([readings[-1], undo], received=NOW)
    client.get(f"/s/{handle}/answer/now")
    assert services.jobs.newest(study, "answer").key == before


def test_without_scripts_a_busy_page_looks_again_by_itself(done, tmp_path):
    services = bench(tmp_path, hands=Idle(), events=demo(10))
    handle = handle_of(services)
    busy = Client(services).get(f"/s/{handle}/answer").text
    # Without the address, a browser that stands at a place within the page would not load it.
    assert f'<meta http-equiv="refresh" content="3; url=/s/{handle}/answer">' in busy
    assert "http-equiv" not in done[1]


def test_no_inline_script_or_style(done):
    _, text = done
    assert "<style" not in text
    assert not re.search(r"\sstyle=", text)
    assert re.findall(r"<script(?![^>]*src=)[^>]*>", text) == []


def test_the_drawing_library_is_written_once(tmp_path):
    services = bench(tmp_path, events=demo(0))
    client = Client(services)
    found = client.get("/assets/vega.js")
    assert found.headers["content-type"].startswith("text/javascript")
    assert "window.vegaEmbed" in found.text
    said = list(services.hands.said)
    client.get("/assets/vega.js")
    assert services.hands.said == said
