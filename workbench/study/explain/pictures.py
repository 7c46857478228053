"""Small pictures of the ideas behind figures, as sizes and labels; the window draws them by name.

``air``: the air of a tank at two pressures. ``turn``: one run and one rest. ``head``: what the pump
lifts against. ``spread``: a deviation that is anywhere within its limits. ``gauge``: a gauge
reading on the scale that begins at no pressure at all.
"""

from __future__ import annotations

from workbench.study.explain.explanation import Picture
from workbench.study.setting import Setting
from workbench.units import HEAD, PRESSURE, TIME, Display
from workbench.words import tr


def air(setting: Setting, display: Display) -> Picture:
    """The air at cut-in and at cut-out; the water between them is the drawdown."""
    low, high = (display.text(p, PRESSURE) for p in (setting.cut_in, setting.cut_out))
    shares = [
        min(((setting.precharge + setting.ambient) / (p + setting.ambient)), 1.0)
        ** (1.0 / setting.exponent)
        for p in (setting.cut_in, setting.cut_out)
    ]
    before, after = (f"{100.0 * share:.0f} %" for share in shares)
    told = tr(
        "The air fills {before} of the tank at {low} and {after} at {high}; the water that comes in"
        " between is the drawdown.",
        before=before,
        low=low,
        after=after,
        high=high,
    )
    labels = (
        tr("cut-in {pressure}", pressure=low),
        tr("cut-out {pressure}", pressure=high),
        tr("air {share}", share=before),
        tr("air {share}", share=after),
        tr("drawdown"),
    )
    return Picture("air", tuple(shares), labels, told)


def turn(run: float, rest: float, display: Display) -> Picture:
    """Two turns of the pump, its run [s] and rest [s] to scale."""
    shown, pause = display.text(run, TIME), display.text(rest, TIME)
    told = tr("The pump runs {run}, then rests {rest}, and so on.", run=shown, rest=pause)
    labels = (tr("runs {time}", time=shown), tr("rests {time}", time=pause))
    return Picture("turn", (run, rest), labels, told)


def head(parts: tuple[tuple[str, float], ...], display: Display) -> Picture:
    """Heads [m] one upon the other, each with its name."""
    shown = [(name, display.text(size, HEAD)) for name, size in parts]
    labels = tuple(tr("{name} {head}", name=name, head=text) for name, text in shown)
    told = tr("One upon the other: {parts}.", parts=", ".join(labels))
    return Picture("head", tuple(max(size, 0.0) for _, size in parts), labels, told)


def spread(half: str, name: str) -> Picture:
    """A deviation with equal chance anywhere within ± ``half``."""
    told = tr(
        "{name}: anywhere within ±{half} with equal chance, never beyond.", name=name, half=half
    )
    return Picture("spread", (), (f"−{half}", "0", f"+{half}", name), told)


def gauge(reading: float, ambient: float, display: Display) -> Picture:
    """A gauge reading [Pa] on top of the air pressure [Pa]."""
    shown, air_text, total = (
        display.text(p, PRESSURE) for p in (reading, ambient, reading + ambient)
    )
    told = tr(
        "The gauge begins at the air's own {air}: {reading} on it are {total} absolute.",
        air=air_text,
        reading=shown,
        total=total,
    )
    labels = (
        tr("air {pressure}", pressure=air_text),
        tr("gauge {pressure}", pressure=shown),
        tr("absolute {pressure}", pressure=total),
    )
    return Picture("gauge", (ambient, reading), labels, told)
