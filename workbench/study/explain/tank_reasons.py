"""The figures of the sentences that say why a tank passes or does not."""

from __future__ import annotations

from collections.abc import Iterator

from workbench.catalog.tank import Tank
from workbench.study.ranking import CODE_VOLUME, DOOR_CLEARANCE, Fails, Judged, Notes, Ranking
from workbench.study.working import Step
from workbench.units import LENGTH, PRESSURE, VOLUME, Display, Kind, distinct
from workbench.words import tr


def failure_steps(one: Judged, ranking: Ranking, display: Display) -> tuple[Step, ...]:
    """What each limit that is broken compares, those of drawdown and run apart."""
    return (*_body(one, ranking, display), *_pressures(one, ranking, display))


def note_steps(one: Judged, ranking: Ranking, display: Display) -> tuple[Step, ...]:
    """The figures of what a person should know of it."""
    charges = (_charge(tank, ranking, display) for tank in one.kinds)
    return (*_code(one, display), *charges)


def _against(title: str, formula: str, sides: tuple[str, str], source: str) -> Step:
    """A figure of the tank that breaks a limit."""
    is_there, limit = sides
    return Step(title, formula, tr("{there} against {limit}", there=is_there, limit=limit), source)


def _sides(a: float, b: float, kind: Kind, display: Display) -> tuple[str, str]:
    return distinct(a, b, kind, display)


def _row() -> str:
    return tr("the catalogue's row; the limit as entered")


def _body(one: Judged, ranking: Ranking, display: Display) -> Iterator[Step]:
    stands = [part for part in one.parts if not part.kind.in_ground]
    door, headroom = ranking.limits.door_width, ranking.limits.headroom
    if Fails.DOOR in one.fails and door is not None:
        wide = max(part.diameter for part in stands)
        width, spare, left = (
            display.text(size, LENGTH) for size in (door, DOOR_CLEARANCE, door - DOOR_CLEARANCE)
        )
        yield Step(
            tr("What the door leaves"),
            tr("width of the door − clearance"),
            f"{width} − {spare} = {left}",
            tr("clearance: common practice, no source"),
        )
        sides = _sides(wide, door - DOOR_CLEARANCE, LENGTH, display)
        yield _against(tr("Diameter"), tr("at most what the door leaves"), sides, _row())
    if Fails.HEADROOM in one.fails and headroom is not None:
        high = max(p.diameter if p.kind.horizontal else p.height for p in stands)
        sides = _sides(high, headroom, LENGTH, display)
        yield _against(tr("Height"), tr("at most the headroom"), sides, _row())


def _pressures(one: Judged, ranking: Ranking, display: Display) -> Iterator[Step]:
    setting, margin = ranking.setting, ranking.limits.pressure_margin
    if Fails.WORKING_PRESSURE in one.fails:
        marked = min(part.max_working_pressure for part in one.parts)
        high, more, needs = (
            display.text(p, PRESSURE) for p in (setting.cut_out, margin, setting.cut_out + margin)
        )
        yield Step(
            tr("Working pressure that is needed"),
            tr("cut-out + margin"),
            f"{high} + {more} = {needs}",
            tr("the margin: as entered"),
        )
        sides = _sides(marked, setting.cut_out + margin, PRESSURE, display)
        yield _against(tr("Marked working pressure"), tr("at least what is needed"), sides, _row())
    if Fails.PRECHARGE_TOO_HIGH in one.fails:
        limits = [p.highest_precharge for p in one.parts if p.highest_precharge is not None]
        sides = _sides(min(limits), setting.precharge, PRESSURE, display)
        title, formula = tr("Highest precharge"), tr("at least the precharge to set")
        yield _against(title, formula, sides, _row())


def _code(one: Judged, display: Display) -> Iterator[Step]:
    if Notes.ABOVE_CODE_VOLUME not in one.notes:
        return
    largest = max(part.total_volume for part in one.parts)
    limit = Display(mark=display.mark).text(CODE_VOLUME, VOLUME, 0)
    sides = display.text(largest, VOLUME), limit
    source = tr("Idaho Administrative Code 58.01.08.547")
    yield _against(tr("Total volume"), tr("above it many states ask for a stamp"), sides, source)


def _charge(tank: Tank, ranking: Ranking, display: Display) -> Step:
    """How far the factory charge is from the one to set."""
    wanted, comes = ranking.setting.precharge, tank.factory_precharge
    to_set, factory, change = (
        display.text(p, PRESSURE) for p in (wanted, comes, abs(wanted - comes))
    )
    if wanted >= comes:
        formula, numbers = tr("to set − as it comes"), f"{to_set} − {factory} = {change}"
    else:
        formula, numbers = tr("as it comes − to set"), f"{factory} − {to_set} = {change}"
    title = tr("Air to add or to let out, {tank}", tank=tank.name)
    return Step(title, formula, numbers, tr("the catalogue's row; the job's precharge rule"))
