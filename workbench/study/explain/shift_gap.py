"""How the seconds come about in which the taps falter: fall, pump's start, filling the pipes."""

from __future__ import annotations

import math
from dataclasses import replace

from workbench.physics.gap import NoWater
from workbench.physics.system import System
from workbench.study.explain.system_steps import fine, give_text, held_at
from workbench.study.shift.view import AtCharge, Shift
from workbench.study.shift.words import gap_text, seconds_text
from workbench.study.working import Step
from workbench.units import FLOW, PRESSURE, SHORT_TIME, VOLUME, Display
from workbench.words import tr

_TEN = 10 * PRESSURE.units["psi"].factor


def steps(shift: Shift, at: AtCharge, display: Display) -> tuple[Step, ...]:
    """The pieces of the gap at one precharge; none where it is not known."""
    if at.gap is None or shift.rig is None or not shift.tap:
        return ()
    system = replace(shift.rig.system, precharge=at.precharge)
    found = _Gap(system, shift.tap, at.gap, display)
    if math.isinf(at.gap.falter):
        return (found.endless(),)
    return found.steps()


def basis_steps(system: System, display: Display) -> tuple[Step, ...]:
    """What the seconds rest on, as entered."""
    source = tr("as entered: measure it where it matters")
    give, fall = display.text(system.line_give * _TEN, VOLUME, 4), display.text(_TEN, PRESSURE)
    start = seconds_text(system.start_delay, display)
    return (
        Step(tr("What the pipes give"), tr("C: water for each fall in pressure"),
             tr("{give} for {fall}", give=give, fall=fall), source),
        Step(tr("The pump's start"), tr("from the closing of the contacts until it gives"), start,
             source),
    )  # fmt: skip


class _Gap:
    """One gap, told piece by piece."""

    def __init__(self, system: System, tap: float, gap: NoWater, display: Display) -> None:
        self._system, self._tap, self._gap, self._display = system, tap, gap, display
        self._spare = system.starts_at - system.emptied_at  # water before the tank is empty [m³]
        self._until = -self._spare / tap + system.start_delay

    def endless(self) -> Step:
        """Why the tank never takes water again."""
        system, display = self._system, self._display
        charge, high = (display.text(p, PRESSURE) for p in (system.precharge, system.cut_out))
        if system.precharge >= system.cut_out:
            numbers = f"{charge} ≥ {high} → {gap_text(self._gap, display)}"
            formula = tr("Pp ≥ Pout: the pump stops before the tank takes water")
        else:
            most, draw = (display.text(flow, FLOW) for flow in (system.pump_flow(0.0), self._tap))
            numbers = f"{most} ≤ {draw} → {gap_text(self._gap, display)}"
            formula = tr("the pump gives no more than is drawn: the pipes do not fill")
        return Step(tr("Taps falter in each cycle"), formula, numbers, _source())

    def steps(self) -> tuple[Step, ...]:
        """Fall, start, what is left in the pipes, filling, and their sum."""
        if self._gap.falter == 0.0:
            return (*self._water_left(), self._in_time())
        first = self._fall() if self._spare < 0.0 else (*self._water_left(), self._too_late())
        return (*first, *self._left(), self._refill(), *self._sum())

    # --- until the pump gives ---

    def _fall(self) -> tuple[Step, ...]:
        """Overcharged: from the tank's last water to cut-in, on the pipes alone."""
        system, display = self._system, self._display
        high, low = (display.number(p, PRESSURE, 2) for p in (system.precharge, system.cut_in))
        water = self._volume(-self._spare)
        return (
            Step(
                tr("The pipes give while the pressure falls to cut-in"),
                tr("C × (Pp − Pin), C in {volume} for 1 {pressure}",
                   volume=display.symbol(VOLUME), pressure=display.symbol(PRESSURE)),
                f"{give_text(system, display)} × ({high} − {low}) = {water}",
                _source(),
            ),
            Step(
                tr("Fall, then the pump's start"),
                tr("T = C (Pp − Pin) / q + start"),
                f"{water} / {self._draw()} + {self._start()} = {self._seconds(self._until)}",
                _source(),
            ),
        )  # fmt: skip

    def _water_left(self) -> tuple[Step, ...]:
        """At or below cut-in: what tank and pipes still give before the tank is empty."""
        system, display = self._system, self._display
        held, give = system.water(system.cut_in), give_text(system, display)
        high, low = (display.number(p, PRESSURE, 2) for p in (system.cut_in, system.precharge))
        water = fine(float(display.value(held, VOLUME)), display)
        return (
            held_at(system, tr("Left in the tank at cut-in"), system.cut_in, display),
            Step(
                tr("Tank and pipes give before the tank is empty"),
                tr("w + C × (Pin − Pp), C in {volume} for 1 {pressure}",
                   volume=display.symbol(VOLUME), pressure=display.symbol(PRESSURE)),
                f"{water} + {give} × ({high} − {low}) = {self._volume(self._spare)}",
                _source(),
            ),
        )  # fmt: skip

    def _in_time(self) -> Step:
        lasts = self._spare / self._tap
        numbers = f"{self._volume(self._spare)} / {self._draw()} = {self._seconds(lasts)}"
        return Step(
            tr("It lasts longer than the pump's start"),
            tr("w / q ≥ start: the taps do not falter"),
            tr("{numbers}, at least {start}: {gap}", numbers=numbers, start=self._start(),
               gap=gap_text(self._gap, self._display)),
            _source(),
        )  # fmt: skip

    def _too_late(self) -> Step:
        spare = self._volume(self._spare)
        return Step(
            tr("The pump gives only so long after the tank's last water"),
            tr("T = start − w / q"),
            f"{self._start()} − {spare} / {self._draw()} = {self._seconds(self._until)}",
            _source(),
        )

    # --- until the tank takes water ---

    def _left(self) -> tuple[Step, ...]:
        system, display = self._system, self._display
        held = self._volume(system.emptied_at)
        drawn = f"{self._draw()} × {self._seconds(self._until)}"
        pipes = Step(
            tr("Water in the pipes at the precharge"),
            tr("C × Pp"),
            f"{give_text(system, display)} × {display.number(system.precharge, PRESSURE, 2)}"
            f" = {held}",
            _source(),
        )
        if self._gap.dry > 0.0:
            return (
                pipes,
                Step(
                    tr("Of these without any pressure"),
                    tr("dry = T − C Pp / q"),
                    f"{self._seconds(self._until)} − {held} / {self._draw()}"
                    f" = {self._seconds(self._gap.dry)}",
                    _source(),
                ),
            )
        rest = system.emptied_at - self._tap * self._until
        left = Step(
            tr("Left in the pipes when the pump gives"),
            tr("C Pp − q T"),
            f"{held} − {drawn} = {self._volume(rest)}",
            _source(),
        )
        return (pipes, left)

    def _refill(self) -> Step:
        system, display = self._system, self._display
        start = max(system.emptied_at - self._tap * self._until, 0.0)
        filled, took = system.emptied_at - start, self._gap.falter - self._until
        most, least = (system.pump_flow(at) for at in (start, system.emptied_at))
        title = tr("Filling the pipes until the tank takes water")
        water, draw = self._volume(filled), self._draw()
        if math.isclose(most, least, rel_tol=1e-9):
            flow = display.text(most, FLOW, 2)
            numbers = f"{water} / ({flow} − {draw}) = {self._seconds(took)}"
            return Step(title, tr("filled / (Q − q)"), numbers, _source())
        flows = f"{display.text(most, FLOW)} … {display.text(least, FLOW)}"
        return Step(
            title,
            tr("∫ dS / (Q(S) − q)"),
            f"{water}, {flows}, {draw} → {self._seconds(took)}",
            _source(),
        )

    def _sum(self) -> tuple[Step, ...]:
        took = self._gap.falter - self._until
        parts = f"{self._seconds(self._until)} + {self._seconds(took)}"
        shown = gap_text(self._gap, self._display)
        return (
            Step(
                tr("Taps falter in each cycle"),
                tr("T + filling"),
                f"{parts} = {self._seconds(self._gap.falter)}",
                _source(),
            ),
            Step(
                tr("Shown"),
                tr("the seconds that falter, and those of them that are dry"),
                shown,
                _source(),
            ),
        )

    # --- numbers ---

    def _volume(self, si: float) -> str:
        number = fine(float(self._display.value(si, VOLUME)), self._display)
        return f"{number} {self._display.symbol(VOLUME)}"

    def _draw(self) -> str:
        return self._display.text(self._tap, FLOW, 2)

    def _start(self) -> str:
        return self._display.text(self._system.start_delay, SHORT_TIME, 2)

    def _seconds(self, seconds: float) -> str:
        return self._display.text(seconds, SHORT_TIME, 3)


def _source() -> str:
    return tr("mass balance of tank and pipes; no publication is known to us")
