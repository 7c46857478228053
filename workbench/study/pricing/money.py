"""Money is decimal, exact to the coin, and written as the firm's country writes it.

No binary fraction ever touches an amount: a :class:`decimal.Decimal` is made of the digits that
were typed. Halves of a coin are rounded up, away from zero, as on invoices (common practice).
How a locale writes money, numbers and dates follows the Unicode CLDR, which Babel carries; the
machine's own locale is never asked.
"""

from __future__ import annotations

import datetime
from contextlib import AbstractContextManager
from decimal import ROUND_HALF_UP, Context, Decimal, localcontext

from workbench.job.job import Job
from workbench.job.paper_choices import Rounding
from workbench.units import Quantity

# An entry has 60 characters at most: a product of four such, and the sum of many, has fewer digits.
_EXACT = Context(prec=600, rounding=ROUND_HALF_UP)
_PER_CENT = Decimal("0.01")
_STEPS = {
    Rounding.ONE: Decimal(1),
    Rounding.FIVE: Decimal(5),
    Rounding.TEN: Decimal(10),
}


def exactly() -> AbstractContextManager[Context]:
    """A place in which sums and products of amounts lose no digit, however large they are."""
    return localcontext(_EXACT)


def amount(entry: Quantity) -> Decimal:
    """The very number that was typed; of a percentage, the number before the sign."""
    return Decimal(entry.digits)


def share(entry: Quantity) -> Decimal:
    """A percentage as a part of one.

    >>> from workbench.units import PERCENT, parse
    >>> share(parse("6,25 %", PERCENT, ","))
    Decimal('0.0625')
    """
    with exactly():
        return amount(entry) * _PER_CENT


def coin(job: Job) -> Decimal:
    """The smallest coin of the job's currency."""
    from babel.numbers import get_currency_precision

    return Decimal(1).scaleb(-get_currency_precision(job.currency.value))


def to_step(value: Decimal, step: Decimal) -> Decimal:
    """The multiple of ``step`` that is nearest to ``value``; halves go away from zero.

    >>> to_step(Decimal("2.345"), Decimal("0.01")), to_step(Decimal("-2.5"), Decimal(5))
    (Decimal('2.35'), Decimal('-5'))
    """
    with exactly():
        return (value / step).to_integral_value(ROUND_HALF_UP) * step


def to_coin(value: Decimal, job: Job) -> Decimal:
    """An amount as it can be paid: rounded to the smallest coin, halves away from zero."""
    with exactly():
        return value.quantize(coin(job), ROUND_HALF_UP)


def rounded_total(value: Decimal, job: Job) -> Decimal:
    """A total by the job's rounding rule, with the digits of the smallest coin."""
    step = _STEPS.get(job.rounding)
    return to_coin(value if step is None else to_step(value, step), job)


def money(value: Decimal, job: Job) -> str:
    """An amount as it stands on paper, in the job's currency and its form of writing.

    An amount that is finer than a coin (a price for a foot) keeps all its digits: nothing is
    rounded in silence.

    >>> money(Decimal("1234.5"), Job()), money(Decimal("0.125"), Job())
    ('$1,234.50', '$0.125')
    """
    from babel.numbers import format_currency

    with exactly():
        text: str = format_currency(
            value,
            job.currency.value,
            locale=job.money_form.value,
            decimal_quantization=value == value.quantize(coin(job)),
        )
    return text


def number_text(value: Decimal, job: Job) -> str:
    """A plain number, all its digits and no more, as the job's form of writing has it.

    >>> number_text(Decimal("1234.50"), Job())
    '1,234.5'
    """
    from babel.numbers import format_decimal

    with exactly():
        text: str = format_decimal(value, locale=job.money_form.value, decimal_quantization=False)
    return text


def decimal_mark(job: Job) -> str:
    """The decimal mark of the job's form of writing, "." or ","."""
    from babel import Locale

    mark: str = Locale.parse(job.money_form.value).number_symbols["latn"]["decimal"]
    return mark


def date_text(day: datetime.date, job: Job) -> str:
    """A day with its month in words, as the job's form of writing has it.

    >>> date_text(datetime.date(2026, 3, 31), Job())
    'March 31, 2026'
    """
    from babel.dates import format_date

    text: str = format_date(day, "long", locale=job.money_form.value)
    return text
