"""What card and chart have in common: the firm's name at its head, the line at its foot.

Both hang on a wall, so the head is small: the firm and how it is reached, no logo.
"""

from __future__ import annotations

from collections.abc import Iterable

from workbench import __version__
from workbench.job.job import Job
from workbench.job.labels import label_of
from workbench.report.blocks import Letterhead
from workbench.study.findings import Finding
from workbench.units import Display
from workbench.words import tr

NO_BREAK = "\u00a0"
LANGUAGE = "en"  # of the program's own words; a translation brings its own


def small_head(job: Job) -> Letterhead:
    """The firm's name, and its contact in one line."""
    contact = " · ".join(line.strip() for line in job.firm_contact.splitlines() if line.strip())
    return Letterhead(name=job.firm_name.strip(), lines=(contact,) if contact else ())


def foot_line(fingerprint: str) -> str:
    """The program's version, and by what the inputs are known."""
    return tr(
        "Tank workbench {version} · inputs {fingerprint}",
        version=__version__,
        fingerprint=fingerprint,
    )


def withheld(stops: Iterable[Finding], display: Display, paper: str) -> str:
    """Why there is no paper: each stop at its entry, with its remedy."""
    told = []
    for stop in stops:
        sentence = stop.sentence(display)
        told.append(f"{label_of(stop.field)}: {sentence}" if stop.field else sentence)
    every = " ".join(dict.fromkeys(told))
    return tr("{paper} Mend first: {stops}", paper=paper, stops=every)
