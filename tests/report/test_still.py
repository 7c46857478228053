"""A still of the live tank on paper: every figure of its moment, its drawings, one page."""

from __future__ import annotations

import pytest

from tests.report.reading import alternatives, fonts, packed, reader, tags, text_of
from tests.study.build import COMMA, METRIC, US
from workbench.job.job import Job
from workbench.report.blocks import Facts, PaperContent, Picture, Words
from workbench.report.still import Still, still_content
from workbench.report.svg import Canvas
from workbench.report.typeset import images, pdf
from workbench.study.evaluate import Results, evaluate
from workbench.study.live.recording import Recording
from workbench.study.live.rig import Rig
from workbench.study.live.words import state_text, what_happens
from workbench.units import FLOW, PRESSURE, VOLUME, Display

SYSTEMS = pytest.mark.parametrize("display", [US, METRIC, COMMA], ids=["us", "metric", "comma"])


def drawing(name: str, width: float = 300.0) -> str:
    canvas = Canvas(width, width)
    canvas.text((10.0, 40.0), name)
    return canvas.svg()


def found(**entries: object) -> Results:
    return evaluate(Job().changed(**({"live_volume": "40 gal"} | entries)), None)


def still(results: Results, seconds: float = 30.0, above: float = 0.0) -> Still:
    rig = results.live.rig
    assert rig is not None
    rig = Rig(rig.system, rig.setting, rig.tank_name, water_above=above)
    recording = Recording(rig, results.live.tap or 0.0)
    events = recording.advance(seconds)
    last = events[-1] if events else None
    drawings = (drawing("tank here"), drawing("trace here", 200.0), drawing("path here", 200.0))
    return Still(rig, recording.moment, recording.tap, last, *drawings)


def facts(paper: PaperContent) -> dict[str, str]:
    rows = [row for part in paper.sections for one in part.blocks if isinstance(one, Facts)
            for row in one.rows]  # fmt: skip
    return dict([*paper.facts, *rows])


@SYSTEMS
@pytest.mark.parametrize("seconds", [0.0, 30.0, 400.0])
def test_every_figure_of_the_moment_stands_on_it(display: Display, seconds: float) -> None:
    results = found()
    one = still(results, seconds)
    paper = still_content(results, one, display)
    told, moment = facts(paper), one.moment
    assert told["Gauge"] == display.text(moment.pressure, PRESSURE)
    ambient = one.rig.system.ambient
    assert told["Absolute pressure"] == display.text(moment.pressure + ambient, PRESSURE)
    assert told["Water in the tank"] == display.text(moment.water, VOLUME)
    assert told["Air in the tank"] == display.text(moment.air, VOLUME)
    assert told["Pump gives"] == display.text(moment.pump_flow, FLOW)
    assert told["Tap gives"] == display.text(moment.tap_flow, FLOW)
    assert told["Contacts"] == ("closed" if moment.closed else "open")
    assert told["Cut-in"] == display.text(one.rig.setting.cut_in, PRESSURE)
    assert told["Precharge"] == display.text(one.rig.system.precharge, PRESSURE)
    assert "Water above the membrane" not in told
    (words,) = (b for b in paper.sections[0].blocks if isinstance(b, Words))
    assert words.text == what_happens(one.rig, moment, one.tap, one.last_event, display)


def test_water_above_a_pinholed_membrane_is_told() -> None:
    results = found()
    paper = still_content(results, still(results, above=0.01), METRIC)
    assert facts(paper)["Water above the membrane"] == "10.0 L"


@SYSTEMS
def test_the_page_holds_words_drawings_and_figures_and_is_tagged(display: Display) -> None:
    results = found(altitude="5000 ft")
    one = still(results)
    paper = still_content(results, one, display)
    data = pdf(paper)
    read = text_of(data)
    for text in ("tank here", "trace here", "path here", paper.title, paper.foot):
        assert packed(text) in read
    for name, value in facts(paper).items():
        assert packed(name) in read
        assert packed(value) in read
    assert len(reader(data).pages) == 1
    assert tags(data)["Figure"] == 3
    state = state_text(one.rig, one.moment, one.tap, one.last_event, display)
    assert packed(state) in [packed(told) for told in alternatives(data)]
    assert all(fonts(data).values())
    assert len(images(paper, 60.0)) == 1


def test_the_same_moment_is_the_same_paper_and_another_is_another() -> None:
    results = found()
    first = pdf(still_content(results, still(results), US))
    assert pdf(still_content(results, still(results), US)) == first
    assert pdf(still_content(results, still(results, 31.0), US)) != first


@pytest.mark.parametrize("paper", ["us_letter", "a4"])
def test_it_is_set_on_the_sheet_of_the_job(paper: str) -> None:
    results = found(paper=paper)
    made = still_content(results, still(results), US)
    width = float(reader(pdf(made)).pages[0].mediabox.width)
    assert round(width) == {"us_letter": 612, "a4": 595}[paper]


def test_each_drawing_says_what_it_shows() -> None:
    results = found()
    made = still_content(results, still(results), US)
    pictures = [b for part in made.sections for b in part.blocks if isinstance(b, Picture)]
    assert len({one.told for one in pictures}) == 3
