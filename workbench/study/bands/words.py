"""What the comparison of bands says, in words: for the page, its plot and the command line."""

from __future__ import annotations

from decimal import Decimal

from workbench.physics.forgiving import SAME
from workbench.study.bands.tank import Replacement
from workbench.study.bands.view import BandColumn, BandsView, LeftAsIs
from workbench.units import (
    HEAD,
    PERCENT,
    PRESSURE,
    SHORT_TIME,
    STARTS_PER_HOUR,
    TIME,
    VOLUME,
    Display,
    Kind,
)
from workbench.words import tr

_FEW = 1.0  # shown units of volume under which two decimals are told


def band_name(column: BandColumn, display: Display) -> str:
    """A band as it was typed, with its unit, such as "30/50 psi"."""
    return f"{column.name} {column.unit}".strip().replace(".", display.mark)


def in_shown_units(column: BandColumn, display: Display) -> str:
    """Cut-in and cut-out in the shown unit, where the band was typed in another; else ""."""
    if column.unit == display.symbol(PRESSURE):
        return ""
    low, high = (display.number(at, PRESSURE) for at in (column.band.cut_in, column.band.cut_out))
    return f"{low}/{high} {display.symbol(PRESSURE)}"


def tank_name(view: BandsView, display: Display) -> str:
    """Today's tank by its name, or by its total volume where it was typed."""
    if view.tank is None:
        return ""
    volume = display.text(view.tank.total_volume, VOLUME)
    if not view.tank.parts:
        return tr("{volume} tank, as typed", volume=volume)
    return tr("{name}, {volume}", name=view.tank.name, volume=volume)


def water(volume: float, display: Display) -> str:
    """A drawdown; with a decimal more where it is small."""
    few = abs(float(display.value(volume, VOLUME))) < _FEW
    return display.text(volume, VOLUME, 2 if few else None)


def signed(si: float, kind: Kind, display: Display, decimals: int | None = None) -> str:
    """A change with its sign, such as "+10.0 psi" or "−1.6 gal"; "0.0 psi" has none."""
    text = display.text(abs(si), kind, decimals)
    if not text.strip("0.,").startswith(tuple("123456789")):
        return text
    return f"{'−' if si < 0.0 else '+'}{text}"


def share_text(share: float, display: Display) -> str:
    """A change of drawdown in per cent."""
    return signed(share, PERCENT, display, 0)


def less_or_more(change: float, display: Display) -> str:
    """A change of drawdown as a customer hears it."""
    amount = water(abs(change), display)
    if not amount.strip("0.,").startswith(tuple("123456789")):
        return tr("the same water")
    if change < 0.0:
        return tr("{amount} less", amount=amount)
    return tr("{amount} more", amount=amount)


def why_no_cycle(column: BandColumn) -> str:
    """Why there is no drawdown at a band, in a few words."""
    if column.never_stops:
        return tr("never stops")
    return tr("not known")


def against_today(column: BandColumn, view: BandsView, display: Display) -> str:
    """What a band costs or gains, in a sentence or two."""
    gives, today = column.gives, view.today
    if gives is None:
        if column.never_stops and column.pump is not None and column.pump.shut_off is not None:
            most = display.text(column.pump.shut_off, PRESSURE)
            return tr("The pump reaches {most} at most, so it would never stop.", most=most)
        return tr("Not known: a stop stands against this band.")
    if column.is_today or today is None or today.gives is None or column.share is None:
        return " ".join((tr("{water} a cycle.", water=water(gives.drawdown, display)),
                         *_run_sentence(column, None, display)))  # fmt: skip
    first = tr(
        "{water} a cycle in place of {before} ({share}).",
        water=water(gives.drawdown, display),
        before=water(today.gives.drawdown, display),
        share=share_text(column.share, display),
    )
    return " ".join((first, *_run_sentence(column, today, display)))


def _run_sentence(
    column: BandColumn, today: BandColumn | None, display: Display
) -> tuple[str, ...]:
    gives = column.gives
    if gives is None or gives.run is None or gives.starts is None:
        return ()
    starts = display.number(gives.starts, STARTS_PER_HOUR)
    run = display.text(gives.run, TIME)
    if today is None or today.gives is None or today.gives.run is None:
        return (
            tr("The pump runs {run} and starts {starts} times an hour at worst.",
               run=run, starts=starts),
        )  # fmt: skip
    return (
        tr(
            "The pump runs {run}, not {before}, and starts {starts} times an hour at worst.",
            run=run,
            before=display.text(today.gives.run, TIME),
            starts=starts,
        ),
    )


def charge_sentence(column: BandColumn, display: Display) -> str:
    """The precharge to set at a band, and how far it moves; "" while it is withheld."""
    charge = column.precharge
    if charge is None:
        return ""
    setting = display.text(charge.in_service, PRESSURE)
    if charge.where_set is not None:
        where = display.text(charge.where_set, PRESSURE)
        setting = tr("{where} where it is set, {setting} in service", where=where, setting=setting)
    if column.moves is None:
        return tr("Precharge {setting}.", setting=setting)
    if abs(column.moves) <= SAME * charge.in_service:
        return tr("The precharge stays {setting}.", setting=setting)
    moves = display.text(abs(column.moves), PRESSURE)
    if column.moves > 0.0:
        return tr("Precharge {setting}, {moves} more than today.", setting=setting, moves=moves)
    return tr("Precharge {setting}, {moves} less than today.", setting=setting, moves=moves)


def left_sentence(left: LeftAsIs, display: Display) -> str:
    """What comes of a precharge that is left as it was."""
    charge = display.text(left.precharge, PRESSURE)
    if left.drawdown <= 0.0:
        return tr("Left at {charge} no water enters the tank.", charge=charge)
    told = tr(
        "Left at {charge} it gives {water} ({share}).",
        charge=charge,
        water=water(left.drawdown, display),
        share=share_text(-left.share, display),
    )
    if left.gap <= 0.0:
        return told
    told += " " + tr(
        "It is empty {gap} above cut-in: a moment of no water at every start.",
        gap=display.text(left.gap, PRESSURE),
    )
    if left.lasts is None or left.sooner is None:
        return told
    return (
        told
        + " "
        + tr(
            "At the steady draw that is {lasts} after the stop, {sooner} too early.",
            lasts=display.text(left.lasts, SHORT_TIME),
            sooner=display.text(left.sooner, SHORT_TIME),
        )
    )


def head_sentence(column: BandColumn, display: Display) -> str:
    """What cut-out asks of the pump."""
    head = display.text(column.head, HEAD)
    if column.is_today:
        return tr("Cut-out is {head} of head.", head=head)
    more = signed(column.head_more, HEAD, display)
    return tr("Cut-out is {head} of head ({more}).", head=head, more=more)


def replacement_sentence(column: BandColumn, display: Display) -> str:
    """What keeps today's run at a band; "" where that is not known."""
    if column.keeps_run is None:
        return ""
    if column.keeps_run:
        return tr("Today's tank keeps its run of today.")
    found = column.replacement
    if found is None:
        return tr("No tank of the catalogue that passes runs as long as today's does today.")
    return tr(
        "Smallest that runs as long as today: {name}, {volume}{price}.",
        name=found.one.name,
        volume=display.text(found.one.total_volume, VOLUME),
        price=_priced(found, display),
    )


def _priced(found: Replacement, display: Display) -> str:
    text = price_text(found, display)
    return f", {text}" if text else ""


def price_text(found: Replacement, display: Display) -> str:
    """The difference of catalogue prices, or the price alone; "" where there is none."""
    if found.price_more is not None:
        amount, currency = money(abs(found.price_more), display), found.currency
        if found.price_more < 0:
            return tr("{amount} {currency} less", amount=amount, currency=currency)
        return tr("{amount} {currency} more", amount=amount, currency=currency)
    if found.price is not None:
        return f"{money(found.price, display)} {found.currency}"
    return ""


def money(amount: Decimal, display: Display) -> str:
    """A catalogue price as the tank table shows it: two decimals, the reader's decimal mark."""
    return f"{amount:.2f}".replace(".", display.mark)


def sentences(column: BandColumn, view: BandsView, display: Display) -> str:
    """All of a band, to be read aloud."""
    parts = [tr("{band}:", band=band_name(column, display)), against_today(column, view, display)]
    parts += [charge_sentence(column, display)]
    if column.left is not None:
        parts.append(left_sentence(column.left, display))
    return " ".join(filter(None, parts))
