"""One option of an estimate: its band, its tank there, its starts a day, its price."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from math import isclose

from workbench.job.job import Job
from workbench.study.at_band import at_band, one_band
from workbench.study.chosen import chosen
from workbench.study.day.plan import day_plan
from workbench.study.estimate.found import Found
from workbench.study.estimate.offer_findings import about_band, about_tank
from workbench.study.evaluate import Results
from workbench.study.findings import Finding, Level
from workbench.study.pricing.view import Priced, price
from workbench.study.ranking import Judged
from workbench.study.reader import Reader
from workbench.study.sizing import PrechargeToSet
from workbench.units import Bands, Quantity
from workbench.words import tr

LETTERS = ("A", "B", "C")


@dataclass(frozen=True, eq=False)
class Offer:
    """One option.

    ``results``: those of the job at the option's band. ``one``: its tank or tanks; None where there
    is none. ``band_name`` is as typed, "30/50 psi". ``band_moves``: the switch must be set to get
    there, see :func:`offers`. ``precharge``: None while a stop stands against it.
    ``starts_per_day`` [1/s]: at most so many on a mean day, whose water is ``daily_volume`` [m³].
    """

    letter: str
    label: str
    results: Results
    one: Judged | None
    band_name: str
    band_moves: bool
    precharge: PrechargeToSet | None
    starts_per_day: float | None
    daily_volume: float | None
    priced: Priced | None
    findings: tuple[Finding, ...]

    @property
    def entry(self) -> str:
        """What the names of its entries begin with."""
        return entry_of(self.letter)

    @property
    def stops(self) -> tuple[Finding, ...]:
        """What keeps its setting from being an instruction."""
        every = (*self.results.findings, *self.findings)
        return tuple(one for one in every if one.level is Level.STOP)


def entry_of(letter: str) -> str:
    """What the names of the entries of an option begin with."""
    return f"offer_{letter.lower()}"


def offers(results: Results, found: Found, reader: Reader) -> tuple[Offer, ...]:
    """The options that the job describes.

    The switch of an option moves where its band differs from today's by more than a gauge can tell
    (the tolerance of the job's gauge). Today's band is the one that was found on site; where it was
    not read, the job's.
    """
    job = results.job
    relief = reader.above_zero("relief_setting", needed=False)
    options = []
    for letter in LETTERS:
        name = entry_of(letter)
        if letter == LETTERS[0] or getattr(job, f"{name}_tank"):
            options.append(_offer(results, found, relief, letter))
        elif getattr(job, f"{name}_band") is not None or getattr(job, f"{name}_label").strip():
            reader.report(
                Level.CAUTION,
                "offer_without_tank",
                f"{name}_tank",
                tr("Option {letter} has no tank, so it is not offered.", letter=letter),
                tr("Choose its tank, or empty its band and name."),
            )
    _report_twins(options, reader)
    return tuple(options)


def _report_twins(options: list[Offer], reader: Reader) -> None:
    """Two options that are one are no choice."""
    for place, offer in enumerate(options):
        for other in options[:place]:
            if offer.one and other.one and _what(offer) == _what(other):
                reader.report(
                    Level.CAUTION,
                    "same_option",
                    f"{offer.entry}_tank",
                    tr("Options {first} and {second} are the same tank at the same band.",
                       first=other.letter, second=offer.letter),
                    tr("Choose another tank or band, or no tank."),
                )  # fmt: skip


def _what(offer: Offer) -> tuple[str, object]:
    return key_of(offer.one) if offer.one else "", offer.results.setting


def _offer(results: Results, found: Found, relief: float | None, letter: str) -> Offer:
    name = entry_of(letter)
    at, band_findings = _at_its_band(results, name)
    one, tank_findings = (None, ()) if at is None else _tank(at, relief, letter)
    there = results if at is None else at
    moves = at is not None and _moves(results, there, found)
    daily, starts, day_findings = (None, None, ()) if one is None else _day(there, one)
    own = (*band_findings, *tank_findings)
    stopped = any(finding.level is Level.STOP for finding in own)
    return Offer(
        letter=letter,
        label=getattr(results.job, f"{name}_label").strip() or tr("Option {letter}", letter=letter),
        results=there,
        one=one,
        band_name=_band_name(results.job, there.job, name),
        band_moves=moves,
        precharge=None if stopped or one is None else there.precharge,
        starts_per_day=starts,
        daily_volume=daily,
        priced=None if one is None else price(there.job, one, band_moves=moves),
        findings=(*own, *day_findings),
    )


# --- the band ---


def _at_its_band(results: Results, name: str) -> tuple[Results | None, tuple[Finding, ...]]:
    """The results at the option's band; None, with a stop, where the band is none."""
    field = f"{name}_band"
    entry = getattr(results.job, field)
    if entry is None:
        return results, ()
    band = one_band(entry)
    if band is None:
        if isinstance(entry, Bands):
            why = tr("An option has one switch band.")
            return None, (
                Finding(
                    Level.STOP,
                    "one_band",
                    field,
                    why,
                    tr("Type one, as 40/60."),
                ),
            )
        return None, (Finding(Level.STOP, "unread", field, entry.why, entry.remedy),)
    setting = results.setting
    same = setting is not None and (
        isclose(setting.cut_in, band[0].cut_in) and isclose(setting.cut_out, band[0].cut_out)
    )
    if same:
        return results, ()
    there = at_band(results, *band)
    return there, about_band(results, there, field)


def _band_name(job: Job, there: Job, name: str) -> str:
    entry = getattr(job, f"{name}_band")
    return band_of(there) if entry is None else str(entry)


def band_of(job: Job) -> str:
    """The job's own band as typed: "30/50 psi", or "2 bar / 50 psi" in two units."""
    low, high = job.cut_in, job.cut_out
    if isinstance(low, Quantity) and isinstance(high, Quantity) and low.unit == high.unit:
        return f"{low.digits}/{high.digits} {high.unit}"
    return f"{low} / {high}"


def _moves(results: Results, there: Results, found: Found) -> bool:
    wanted, set_now = there.setting, results.setting
    if wanted is None:
        return False
    if found.band is not None:
        today = found.band
    elif set_now is not None:
        today = set_now.cut_in, set_now.cut_out
    else:
        return False
    apart = (abs(wanted.cut_in - today[0]), abs(wanted.cut_out - today[1]))
    least = found.gauge_tolerance * (1.0 + 1e-9)
    return max(apart) > least


# --- the tank ---


def _tank(
    there: Results, relief: float | None, letter: str
) -> tuple[Judged | None, tuple[Finding, ...]]:
    """The option's tank in the ranking of its band."""
    field = f"{entry_of(letter)}_tank"
    ranking = there.ranking
    if there.candidates is None or not len(there.candidates):
        text, remedy = tr("There is no tank to offer."), tr("Open a catalogue that has tanks.")
        return None, (Finding(Level.STOP, "no_tank", field, text, remedy),)
    if ranking is None:
        return None, ()  # a stop of the job says why
    if not getattr(there.job, field) and ranking.passing == 0:
        text = tr("No tank of the catalogue passes at this band.")
        remedy = tr("Choose one, to offer it with the reason told; or change band or limits.")
        return None, (Finding(Level.STOP, "none_passes", field, text, remedy),)
    one, found = chosen(there, field)
    if one is None:
        return None, found
    return one, (*found, *about_tank(one, ranking, relief, letter))


def key_of(one: Judged) -> str:
    """What names an arrangement in a job."""
    return " + ".join(part.id for part in one.parts)


def _day(there: Results, one: Judged) -> tuple[float | None, float | None, tuple[Finding, ...]]:
    """The water of a mean day [m³], the most starts that it takes [1/s], and what is missing.

    Between two starts a whole drawdown is drawn at least, so no day with this water has more.
    """
    job = replace(there.job, first_tank=key_of(one), second_tank="")
    plan, found = day_plan(replace(there, job=job))
    if plan is not None:
        volume = plan.house.mean_volume
        return volume, volume / plan.tanks[0].drawdown / _DAY, ()
    return None, None, tuple(_not_told(found))


_DAY = 86_400.0
_OF_TANKS = ("first_tank", "second_tank")


def _not_told(found: Iterable[Finding]) -> Iterator[Finding]:
    """The stops of a day, as cautions: an estimate can do without its starts."""
    for one in found:
        if one.level is Level.STOP and one.field not in _OF_TANKS:
            text = tr("Starts a day are not told: {why}", why=one.text)
            yield replace(one, level=Level.CAUTION, code="no_starts_a_day", text=text)
