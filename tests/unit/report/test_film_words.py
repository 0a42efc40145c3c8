"""What a film told in words, as a table and as pictures."""

import base64
import csv
import io
import itertools
import re
import struct
from dataclasses import replace
from pathlib import Path

import pytest

from breakwright.model.film import FilmDoubt, FilmReading, PeakWindow, Shown
from breakwright.model.units import ForceUnit
from breakwright.report.charts.film import film_figure
from breakwright.report.charts.theme import DARK, LIGHT, PAGE, PHONE, Theme
from breakwright.report.film_crops import FilmCrop, proving_crops, sections
from breakwright.report.film_csv import trace_csv
from breakwright.report.film_doubt_table import FILM_DOUBTS
from breakwright.report.film_refusals import film_problems
from breakwright.report.film_sheet import contact_sheet, contact_sheet_svg
from breakwright.report.film_words import doubt_words, film_lines, peak_words

from . import film_samples

ROOT = Path(__file__).parents[3]
KGF = ForceUnit.KGF
# A JPEG of one gray pixel's worth of header is enough: nothing here looks into it.
JPEG = base64.b64decode(
    "/9j/4AAQSkZJRgABAQEASABIAAD/2wBDAP//////////////////////////////////////////////////////////"
    "////////////////////////////wAALCAABAAEBAREA/8QAFAABAAAAAAAAAAAAAAAAAAAAA//EABQQAQAAAAAAAAAA"
    "AAAAAAAAAAD/2gAIAQEAAD8AN//Z"
)


def peak(reading: FilmReading) -> str:
    return peak_words(reading.breaks[0], reading, KGF)


def test_the_peak_is_a_range_or_at_least_with_its_reason() -> None:
    assert peak(film_samples.broke()) == "between 41.75 and 42.05 kgf, read off two displays"
    words = peak(film_samples.screen_lost())
    assert words == "at least 41.75 kgf: «right scale» went dark 1.3 s before the break"


@pytest.mark.parametrize(
    ("shown", "span", "words"),
    [
        (Shown.OUT_OF_SIGHT, 69, "«right scale» went out of sight 1.3 s before the break"),
        (Shown.OVER_RANGE, 69, "«right scale» ran out of range 1.3 s before the break"),
        (Shown.OVER_RANGE, 68, "«right scale» stood at the end of its range"),
        (Shown.VALUE, 68, "the load was not seen to leave «right scale»"),
    ],
)
def test_each_reason_for_no_upper_end(shown: Shown, span: int, words: str) -> None:
    reading = film_samples.screen_lost()
    found = reading.breaks[0]
    left = found.windows[0]
    window = PeakWindow("right scale", 21.10, None, shown, span)
    told = replace(reading, breaks=(replace(found, windows=(left, window)),))
    assert peak(told) == f"at least 41.75 kgf: {words}"


def test_the_plain_thing_stands_first() -> None:
    lines = film_lines(film_samples.screen_lost(), KGF)
    assert lines[0].startswith("Peak: at least 41.75 kgf")
    assert "«left scale» showed 20.70 kgf" in lines[1]
    assert "«right scale» showed at least 21.10 kgf" in lines[1]
    assert lines[2] == "Loading rate before the peak: 0.91 kgf a second."
    assert any("28.70" in line and "contact sheet" in line for line in lines)


@pytest.mark.parametrize("code", sorted(FILM_DOUBTS))
def test_every_doubt_has_a_whole_sentence_and_a_paragraph(code: str) -> None:
    reading = film_samples.broke()
    for display in ("left scale", None):
        words = doubt_words(FilmDoubt(code, 1.0, 2.5, display, 0.5, "20.70"), reading, KGF)
        assert words.startswith("1.00 s to 2.50 s: ")
        assert not re.search(r"[{}]|None", words)
    told = re.findall(r"^### `([a-z-]+)`", (ROOT / "docs/messages.md").read_text("utf-8"), re.M)
    assert told.count(code) == 1


def test_every_doubt_that_is_raised_has_words() -> None:
    raised: set[str] = set()
    for path in (ROOT / "src/breakwright/reading").glob("film_doubts*.py"):
        raised |= set(re.findall(r'"([a-z]+(?:-[a-z]+)+)"', path.read_text("utf-8")))
    assert len(raised) > 10
    # What is told as text of a doubt, and not as its code.
    assert raised - {"no-contrast", "no-digits", "out-of-sight"} <= set(FILM_DOUBTS)


def test_a_display_never_read_and_wrong_decimals_are_problems() -> None:
    reading = replace(
        film_samples.broke(),
        doubts=(
            FilmDoubt("never-read", 0.0, 25.0, "left scale", 0.96, "no-contrast"),
            FilmDoubt("decimals-doubtful", 9.0, 9.5, "right scale", 10.0, "2070"),
            FilmDoubt("slow-refresh", 9.0, 9.5, "right scale", 1.0),
        ),
    )
    never, wrong = film_problems(reading, film="a.mp4")
    assert never.message == "nothing was read on «left scale»: 96 % of frames had no contrast"
    assert never.do == "Mark the digit row more tightly, or film closer."
    assert "jump by 10 times at 9.00 s" in wrong.message


def test_the_trace_has_a_row_for_each_stretch_without_a_change() -> None:
    reading = film_samples.screen_lost()
    rows = list(csv.DictReader(io.StringIO(trace_csv(reading, KGF))))
    times = [(float(row["time_s"]), float(row["until_s"])) for row in rows]
    assert times[0][0] == 0.0
    assert times[-1][1] == 25.0
    assert all(a[1] == b[0] for a, b in itertools.pairwise(times))
    at_peak = next(row for row in rows if row["time_s"] == "19.750")
    assert (at_peak["left scale_kgf"], at_peak["right scale_kgf"]) == ("20.70", "21.10")
    assert at_peak["load_from_kgf"] == "41.75"
    dark = next(row for row in rows if row["time_s"] == "20.000")
    assert (dark["right scale_kgf"], dark["right scale_shown"]) == ("", "blank")
    assert (dark["load_from_kgf"], dark["load_to_kgf"]) == ("", "")


def crops(reading: FilmReading) -> list[FilmCrop]:
    return [
        FilmCrop(trace.mark.name, span.start + 0.02, JPEG)
        for trace in reading.displays
        for span in trace.spans
    ]


def test_the_contact_sheet_shows_the_peak_and_every_doubt() -> None:
    reading = film_samples.screen_lost()
    found = sections(reading, crops(reading), KGF)
    assert len(found) == 3
    marked = [shot for row in found[0].rows for shot in row.shots if shot.marked]
    assert [shot.read for shot in marked] == ["20.70 kgf", "21.10 kgf"]
    assert [row.display for row in found[1].rows] == ["right scale"]
    assert found[1].rows[0].shots[-1].read == "dark"
    kept = proving_crops(reading, crops(reading), KGF)
    assert 8 <= len(kept) < len(crops(reading)) / 4


def test_the_contact_sheet_is_a_picture_whatever_the_film_is_called() -> None:
    reading = film_samples.screen_lost()
    drawn = contact_sheet(reading, crops(reading), unit=KGF, film="<a> & \x07.mp4")
    assert drawn.startswith(b"\x89PNG")
    width, height = struct.unpack(">II", drawn[16:24])
    assert width == 1770
    assert height > 1000
    svg = contact_sheet_svg(reading, [], unit=KGF, film="a.mp4")
    assert svg.count("(no picture was kept here)") == 3


@pytest.mark.parametrize("size", [PAGE, PHONE])
@pytest.mark.parametrize("colours", [LIGHT, DARK])
def test_the_chart_stays_in_its_plot_and_says_the_peak(size: object, colours: object) -> None:
    reading = film_samples.screen_lost()
    figure = film_figure(reading, Theme(colours, size), unit=KGF)  # type: ignore[arg-type]
    text = str(figure.spec)
    assert "at least" in text
    assert "sum of the displays" in text
    assert "at least 41.75 kgf" in figure.alt
    for layer in figure.spec["layer"]:
        for row in (layer.get("data") or {}).get("values") or []:
            for key in ("x", "x2"):
                if key in row:
                    assert 1.5 <= row[key] <= 23.8


def test_a_film_without_a_break_is_drawn_whole() -> None:
    reading = replace(film_samples.broke(), breaks=())
    figure = film_figure(reading, Theme(LIGHT, PAGE), unit=KGF)
    assert "No break was found" in figure.alt
    assert figure.spec["layer"][0]["encoding"]["x"]["scale"]["domain"] == [0.0, 25.0]
