"""The plot as data: drawdown against total volume for the user's band and the usual ones.

Without the membrane's limit drawdown is proportional to total volume, so a band is a straight line
through the origin and one factor says it all.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from workbench.job.job import Job
from workbench.physics.tank import drawdown_factor
from workbench.study.findings import Finding, Level
from workbench.study.setting import Setting, pressures
from workbench.units import Band, Bands, Quantity, Unread
from workbench.words import tr


@dataclass(frozen=True, slots=True)
class BandLine:
    """One switch band: name in its unit, setting, drawdown per total volume [-], whose it is."""

    name: str
    unit: str
    setting: Setting
    factor: float
    is_users: bool


def band_lines(job: Job, setting: Setting) -> tuple[BandLine, ...]:
    """The user's band first, then the others in their order; one equal to the user's is left out.

    Every band has its own precharge, as far below its cut-in as the user's is, but not below zero.
    """
    bands = job.bands.bands if isinstance(job.bands, Bands) else ()
    unit = job.bands.unit if isinstance(job.bands, Bands) else ""
    others = (
        _line(band.name, unit, _moved(setting, band), is_users=False)
        for band in bands
        if (band.cut_in, band.cut_out) != (setting.cut_in, setting.cut_out)
    )
    return (_line(*_users_name(job), setting, is_users=True), *others)


def bands_finding(job: Job, setting: Setting | None) -> tuple[Finding, ...]:
    """What stands in the way of drawing the usual bands."""
    if isinstance(job.bands, Unread):
        return (Finding(Level.CAUTION, "unread", "bands", job.bands.why, job.bands.remedy),)
    low = [
        band.name
        for band in job.bands.bands
        if setting is not None and band.cut_in < setting.below_cut_in
    ]
    if not low:
        return ()
    text = tr(
        "Too low for the precharge rule, drawn with no precharge: {names}.", names=", ".join(low)
    )
    return (Finding(Level.NOTE, "band_low", "bands", text),)


def _line(name: str, unit: str, setting: Setting, *, is_users: bool) -> BandLine:
    precharge, cut_in, cut_out = pressures(setting)
    factor = float(drawdown_factor(precharge, cut_in, cut_out, setting.exponent))
    return BandLine(name, unit, setting, factor, is_users)


def _moved(setting: Setting, band: Band) -> Setting:
    precharge = max(band.cut_in - setting.below_cut_in, 0.0)
    return replace(setting, cut_in=band.cut_in, cut_out=band.cut_out, precharge=precharge)


def _users_name(job: Job) -> tuple[str, str]:
    """ "30/50" and its unit when both pressures were typed in one, else both in full."""
    cut_in, cut_out = job.cut_in, job.cut_out
    assert isinstance(cut_in, Quantity)  # noqa: S101 - a setting exists only if both were read
    assert isinstance(cut_out, Quantity)  # noqa: S101
    if cut_in.unit == cut_out.unit:
        return f"{cut_in.digits}/{cut_out.digits}", cut_in.unit
    return f"{cut_in} / {cut_out}", ""
