"""Steps of money: what a line, a total and a margin come to, written as on the firm's papers."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from workbench.job.job import Job
from workbench.job.options import option
from workbench.job.paper_choices import ItemKind, Rounding
from workbench.study.explain.steps import ending_as
from workbench.study.pricing.money import amount, money, number_text
from workbench.study.pricing.view import Line, Priced, Totals
from workbench.study.working import Step
from workbench.units import Quantity
from workbench.words import tr


def practice() -> str:
    """The source of how amounts are rounded."""
    return tr("common practice, no source: each line rounded to the coin, halves up")


def line_step(line: Line, job: Job) -> Step:
    """The amount of one line."""
    count, unit = number_text(line.quantity, job), line.unit
    formula = tr("quantity × price of one")
    if unit:
        formula = tr("quantity × price of one, by {unit}", unit=unit)
    return Step(
        line.name,
        formula,
        f"{count} × {money(line.each, job)} = {money(line.amount, job)}",
        practice(),
    )


def sum_step(title: str, lines: Sequence[Line], whole: str, job: Job) -> Step:
    """A sum of amounts."""
    parts = " + ".join(money(line.amount, job) for line in lines)
    numbers = f"{parts} = {whole}" if parts else whole
    formula = tr("sum of the amounts") if parts else tr("this job has no such line")
    return Step(title, formula, numbers, tr("arithmetic"))


def of_kind(lines: Iterable[Line], kind: ItemKind) -> tuple[Line, ...]:
    """The lines of one kind."""
    return tuple(line for line in lines if line.kind is kind)


def tax_step(totals: Totals, job: Job) -> Step:
    """The tax on what is taxed."""
    rate = number_text(amount(job.tax), job) if isinstance(job.tax, Quantity) else "0"
    return Step(
        tr("Tax"),
        tr("rate × what is taxed, rounded to the coin"),
        f"{money(totals.taxable, job)} × {rate} % = {money(totals.tax, job)}",
        tr("the rate as entered by the firm"),
    )


def taxed_step(lines: Iterable[Line], totals: Totals, job: Job) -> Step:
    """What is taxed."""
    taxed = tuple(line for line in lines if line.taxed)
    return sum_step(tr("What is taxed"), taxed, money(totals.taxable, job), job)


def rounding_step(totals: Totals, job: Job) -> Step:
    """What the firm's rounding of the total adds or takes."""
    exact = totals.subtotal + totals.tax
    whole, before = money(totals.total, job), money(exact, job)
    return Step(
        tr("Rounding"),
        tr("total, rounded: {rule}, − exact sum", rule=option("rounding").labels[job.rounding]),
        f"{whole} − {before} = {signed_money(totals.rounding < 0, abs(totals.rounding), job)}",
        tr("the firm's rule, as chosen"),
    )


def signed_money(is_below: bool, value: object, job: Job) -> str:
    """An amount with the sign of arithmetic before it."""
    from decimal import Decimal

    text = money(Decimal(str(value)), job)
    return f"−{text}" if is_below else text


def total_steps(priced: Priced, totals: Totals, job: Job) -> tuple[Step, ...]:
    """Parts, labour, fees and tax, and the total that they come to."""
    kinds = (
        (tr("Tanks and parts"), ItemKind.PART, totals.parts),
        (tr("Labour"), ItemKind.LABOUR, totals.labour),
        (tr("Fees"), ItemKind.FEE, totals.fees),
    )
    sums = [
        sum_step(title, of_kind(priced.lines, kind), money(whole, job), job)
        for title, kind, whole in kinds
        if whole
    ]
    added = [money(whole, job) for _, _, whole in kinds if whole]
    exact = " + ".join([*added, money(totals.tax, job)])
    steps = [*sums, taxed_step(priced.lines, totals, job), tax_step(totals, job)]
    before = money(totals.subtotal + totals.tax, job)
    steps.append(Step(tr("Sum with tax"), tr("sum + tax"), f"{exact} = {before}", tr("arithmetic")))
    if job.rounding is Rounding.COIN:
        return tuple(steps)
    rule = option("rounding").labels[job.rounding]
    last = Step(
        tr("Total"), tr("rounded by the firm's rule: {rule}", rule=rule),
        f"{before} → {money(totals.total, job)}", tr("the firm's rule, as chosen"),
    )  # fmt: skip
    return (*steps, last)


def cost_step(lines: Sequence[Line], totals: Totals, job: Job) -> Step | None:
    """What the firm pays for all of it; None where that is not known."""
    costs = [line.cost for line in lines if line.cost is not None]
    if totals.cost is None or len(costs) < len(lines):
        return None
    parts = " + ".join(money(cost, job) for cost in costs)
    return Step(
        tr("Cost"),
        tr("sum of quantity × cost of one over all lines"),
        f"{parts} = {money(totals.cost, job)}",
        tr("the firm's costs, as entered"),
    )


def margin_steps(totals: Totals, job: Job) -> tuple[Step, ...]:
    """What is left over the cost, and its share of the price."""
    if totals.cost is None or totals.margin is None:
        return ()
    paid = totals.subtotal + totals.rounding
    left = signed_money(totals.margin < 0, abs(totals.margin), job)
    price, cost = money(paid, job), money(totals.cost, job)
    adjusted = Step(
        tr("Price without tax"),
        tr("sum + rounding"),
        f"{money(totals.subtotal, job)} {'−' if totals.rounding < 0 else '+'}"
        f" {money(abs(totals.rounding), job)} = {price}",
        tr("arithmetic"),
    )
    margin = Step(tr("Margin"), tr("price − cost"), f"{price} − {cost} = {left}", tr("definition"))
    share = totals.margin_percent
    if share is None:
        return (adjusted, margin)
    percent = number_text(abs(share), job)
    sign = "−" if share < 0 else ""
    last = Step(
        tr("Share of the price"),
        tr("margin / price without tax"),
        f"{left} / {price} = {sign}{percent} %",
        tr("definition"),
    )
    return (adjusted, margin, ending_as(last, f"{percent} %"))
