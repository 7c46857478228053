"""What is said of an answer that is no error we know: how far off it is, and what to look at first.

Nothing is claimed: the answer may be off by just such a factor for another reason.
"""

from __future__ import annotations

from workbench.study.exercises.exercise import Figure
from workbench.units import (
    DAILY,
    FLOW,
    HEAD,
    PRESSURE,
    SHORT_TIME,
    STARTS_PER_DAY,
    STARTS_PER_HOUR,
    VOLUME,
    Display,
)
from workbench.words import tr

_NEAR = 0.015  # how near to a factor an answer must be to bring it to mind
_FAR_OFF = 20.0  # times: from here on "times" is said and not percent


def suspicion(figure: Figure, value: float, display: Display) -> tuple[str, str]:
    """How far off, and the first thing to check."""
    return _how_far(figure, value, display), _first_check(figure, value)


def _how_far(figure: Figure, value: float, display: Display) -> str:
    right = figure.right
    told = tr("This is none of the usual errors.")
    if right * value <= 0.0:
        return told + " " + tr("Even the sign or the order of magnitude is another.")
    ratio = value / right
    if ratio > _FAR_OFF or ratio < 1.0 / _FAR_OFF:
        times = f"{max(ratio, 1.0 / ratio):.0f}"
        more = tr("It is about {times} times too much.", times=times)
        less = tr("It is about {times} times too little.", times=times)
        return told + " " + (more if ratio > 1.0 else less)
    share = f"{abs(ratio - 1.0) * 100.0:.2g}".replace(".", display.mark)
    if abs(ratio - 1.0) >= 1.0:
        share = f"{abs(ratio - 1.0) * 100.0:.0f}"
    more = tr("It is {share} % too much.", share=share)
    less = tr("It is {share} % too little.", share=share)
    return told + " " + (more if ratio > 1.0 else less)


def _first_check(figure: Figure, value: float) -> str:
    usual = tr("Go through the working line by line; look first at what each figure stands for.")
    if figure.right * value <= 0.0:
        return tr("Check first which figure was taken from which.")
    ratio = value / figure.right
    for factor, check in _factors(figure):
        for times in (factor, 1.0 / factor):
            if abs(ratio / times - 1.0) <= _NEAR:
                return check
    near = abs(value - figure.right) <= 3.0 * figure.tolerance
    return tr("It is near: check the rounding in between, and that no step was left out.") if (
        near
    ) else usual  # fmt: skip


def _factors(figure: Figure) -> tuple[tuple[float, str], ...]:
    """Factors that a mixed unit leaves behind, by kind; and the lost decimal place."""
    decimal = tr("Check the decimal mark first: it is ten times off.")
    hundred = tr("Check the decimal mark or percent first: it is a hundred times off.")
    sixty = tr("Check minutes and seconds, or hours and minutes, first: it is sixty times off.")
    gallons = tr("Check gallons and litres first: a US gallon is 3.785 L.")
    imperial = tr("Check first which gallon is meant: an Imperial one is 1.20 US gallons.")
    of_kind = {
        PRESSURE.name: (
            (14.504, tr("Check bar and psi first: 1 bar is 14.5 psi.")),
            (6.8948, tr("Check kPa and psi first: 1 psi is 6.9 kPa.")),
            (2.309, tr("Check feet of water and psi first: 1 psi is 2.31 ft.")),
        ),
        VOLUME.name: ((3.785, gallons), (1.2010, imperial), (4.546, gallons), (60.0, sixty)),
        FLOW.name: ((3.785, gallons), (1.2010, imperial), (4.546, gallons), (60.0, sixty)),
        DAILY.name: (
            (3.785, gallons),
            (60.0, sixty),
            (1440.0, tr("Check minutes and days first: a day has 1440 minutes.")),
            (86400.0, tr("Check seconds and days first: a day has 86,400 seconds.")),
        ),
        HEAD.name: (
            (3.281, tr("Check feet and metres first: 1 m is 3.28 ft.")),
            (2.309, tr("Check feet of water and psi first: 1 psi is 2.31 ft.")),
        ),
        SHORT_TIME.name: ((60.0, sixty),),
        STARTS_PER_HOUR.name: ((60.0, sixty), (24.0, tr("Check hours and days first."))),
        STARTS_PER_DAY.name: ((60.0, sixty), (1440.0, tr("Check minutes and days first."))),
    }
    return (*of_kind.get(figure.kind.name, ()), (10.0, decimal), (100.0, hundred))
