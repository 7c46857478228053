"""The words around the figures: the firm's clauses, what is assumed, permits, cautions, acceptance.

A clause that the firm left empty leaves its section out. Cautions are never left out.
"""

from __future__ import annotations

from collections.abc import Iterator

from workbench.job.choices import precharge_rules, run_time_rules
from workbench.job.job import Job
from workbench.job.paper_choices import Answer, Copy, answers
from workbench.report.blocks import Block, Facts, Section, Sign, Ticks, Warn, Words
from workbench.report.estimate_words import level_word, offer_name, printable
from workbench.study.estimate.offer_findings import DOES_NOT_PASS
from workbench.study.evaluate import Results
from workbench.study.findings import Finding, Level
from workbench.study.pricing.money import money
from workbench.units import ALTITUDE, DAILY, FLOW, TIME, Display, Quantity, System
from workbench.words import tr

_DAY = 86_400.0


def clause(key: str, heading: str, text: str) -> Section | None:
    """The firm's own words under a heading."""
    if not text.strip():
        return None
    return Section(key=key, heading=heading, blocks=(Words(text=text.strip()),))


# --- assumptions ---


def assumptions_section(results: Results, display: Display) -> Section:
    """The firm's own, then those that every figure rests on."""
    blocks: list[Block] = []
    if text := results.job.clause_assumptions.strip():
        blocks.append(Words(text=text))
    known = tuple(_assumed(results, display))
    blocks.append(Words(text=tr("The figures rest on these:"), tone="muted"))
    blocks.append(Facts(rows=known))
    return Section(key="assumptions", heading=tr("Assumptions"), blocks=tuple(blocks))


def _assumed(results: Results, display: Display) -> Iterator[tuple[str, str]]:
    job, duty, setting = results.job, results.duty, results.setting
    if duty is not None:
        flow = display.text(duty.pump_flow, FLOW)
        constant = duty.supply.delivery.is_constant
        yield (tr("Flow of the pump, as entered"), flow) if constant else (
            tr("Flow of the pump, mean over the band"), flow)  # fmt: skip
    if results.sizing is not None:
        rule = run_time_rules()[results.sizing.chosen.rule]
        run = display.text(results.sizing.chosen.run_time, TIME)
        yield tr("Run required at no demand"), printable(f"{run}, {rule.label}")
    yield tr("Precharge rule"), printable(precharge_rules()[job.precharge_rule].label)
    if isinstance(job.altitude, Quantity):
        yield tr("Altitude of the site"), printable(display.typed(job.altitude, ALTITUDE))
    if setting is not None:
        slow = tr("slow, no warming") if setting.exponent == 1.0 else tr("as entered")
        exponent = f"{setting.exponent:g}".replace(".", display.mark)
        yield tr("Exponent of the air"), tr("{exponent}, {slow}", exponent=exponent, slow=slow)
    for offer in results.estimate.offers:
        if offer.daily_volume is not None:
            daily = display.text(offer.daily_volume / _DAY, DAILY)
            yield tr("Water of a mean day"), tr("{daily}, watering and leak in it", daily=daily)
            break


# --- permit and licence ---


def permit_section(job: Job) -> Section:
    """The two answers, openly said where they are missing."""
    labels = {one: choice.label for one, choice in answers().items()}
    firm = {
        Answer.OPEN: tr("NOT ANSWERED"),
        Answer.NOT_NEEDED: labels[Answer.NOT_NEEDED],
        Answer.CUSTOMER: labels[Answer.CUSTOMER],
    }
    permit = firm | {Answer.FIRM: tr("needed, we get it")}
    licence = firm | {Answer.FIRM: tr("needed, we hold it")}
    rows = [(tr("Permit"), permit[job.permit]), (tr("Licence"), licence[job.licence])]
    if job.firm_licence.strip():
        rows.append((tr("Our licence"), job.firm_licence.strip()))
    if job.firm_insurance.strip():
        rows.append((tr("Our insurance"), job.firm_insurance.strip()))
    blocks: list[Block] = [Facts(rows=tuple(rows))]
    if job.permit_note.strip():
        blocks.append(Words(text=job.permit_note.strip()))
    return Section(key="permit", heading=tr("Permit and licence"), blocks=tuple(blocks))


# --- cautions ---


def cautions_section(results: Results, display: Display) -> Section:
    """What is open, then what always holds on site. Remedies are for who writes the estimate, so
    they stand on the office copy alone."""
    blocks: list[Block] = [
        Warn(word=level_word(one.level), text=text) for one, text in _open(results, display)
    ]
    blocks.append(Warn(word=tr("On site"), text="\n".join(site_cautions(display))))
    blocks.append(Words(text=tr(
        "The figures of this paper do not replace local codes, the equipment's own instructions or"
        " licensed practice."), tone="strong"))  # fmt: skip
    return Section(key="cautions", heading=tr("Cautions"), blocks=tuple(blocks))


def _open(results: Results, display: Display) -> Iterator[tuple[Finding, str]]:
    """Every caution and stop once, worst first; those of one option with its letter.

    What stands against the job's own band is left out where no option has that band.
    """
    told: dict[str, Finding] = {}
    office = results.job.copy_for is Copy.OFFICE

    def words(one: Finding) -> str:
        return printable(one.sentence(display) if office else one.told(display))

    offers = results.estimate.offers
    at_bands = [one for offer in offers for one in offer.results.findings]
    of_job = [one for one in results.findings if one in at_bands or not offers]
    for one in (*of_job, *results.estimate.findings):
        told.setdefault(words(one), one)
    for offer in offers:
        name = tr("Option {letter}", letter=offer.letter)
        for one in offer.findings:
            text = words(one)
            if one.code != DOES_NOT_PASS:  # whose text begins with the option
                text = tr("{name}: {text}", name=name, text=text)
            told.setdefault(text, one)
    worth = [(one, text) for text, one in told.items() if one.level >= Level.CAUTION]
    return iter(sorted(worth, key=_gravity))


def _gravity(told: tuple[Finding, str]) -> int:
    return -told[0].level


def site_cautions(display: Display) -> tuple[str, ...]:
    """What holds wherever someone sets a switch or a precharge."""
    weight = (
        tr("8.34 lb for each gallon") if display.system is System.US else tr("1 kg for each litre")
    )
    return (
        tr("Before anything is opened: power off, locked out and proven dead."),
        tr("Air is read and set with the tank drained and the gauge at zero, or the gauge of the"
           " air valve shows the water's pressure."),
        tr("Never above the working pressure marked on the tank. A relief valve must be there, with"
           " no valve between it and the tank."),
        tr("A full tank weighs {weight} more than an empty one.",
           weight=weight.replace(".", display.mark)),
    )  # fmt: skip


# --- acceptance ---


def acceptance_section(results: Results) -> Section:
    """A box for each option that has a total, and lines to sign."""
    blocks: list[Block] = []
    steps = tuple(
        tr("{option}, {total}", option=offer_name(offer),
           total=money(offer.priced.totals.total, results.job))
        for offer in results.estimate.offers
        if offer.priced is not None and offer.priced.totals is not None
    )  # fmt: skip
    if steps:
        blocks.append(Ticks(steps=steps, numbered=False))
    if text := results.job.clause_acceptance.strip():
        blocks.append(Words(text=text))
    blocks.append(Sign(lines=(tr("Customer, name and signature"), tr("Date"),
                              tr("For the firm, name and signature"), tr("Date"))))  # fmt: skip
    return Section(key="acceptance", heading=tr("Acceptance"), blocks=tuple(blocks))
