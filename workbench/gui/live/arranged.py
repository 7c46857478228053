"""How the live tank's picture is arranged: wide where there is room for it, else tall."""

from __future__ import annotations

from typing import Any

from workbench.gui.live.places import ROW, Places, dial_end, scale_volume
from workbench.gui.live.scene import Scene
from workbench.gui.live.sketch import line_height, text_width
from workbench.gui.live.tall import TallPlaces, least_tall
from workbench.units import VOLUME
from workbench.words import tr


def wide_width(scene: Scene) -> float:
    """The least width [px] of the wide arrangement."""
    left, right = _columns(scene)
    return left + right + 8.6 * line_height()


def least_size(scene: Scene, width: float) -> tuple[float, float]:
    """The least width of any arrangement, and the least height at this width [px]."""
    line = line_height()
    least = least_tall(line, _columns(scene)[0], _names(scene))
    if width >= wide_width(scene):
        return least, (28.0 + ROW * len(scene.really)) * line
    return least, _tall(scene, max(width, least), 0.0).needed


def places_for(scene: Scene, width: float, height: float) -> Places:
    """The lay-out of a scene in a picture of this size [px]."""
    more = width - wide_width(scene)
    if more < 0.0:
        return _tall(scene, width, height)
    left, right = _columns(scene)
    return Places(
        left=left + 0.28 * more, right=right + 0.1 * more, **_shared(scene, width, height)
    )


def _tall(scene: Scene, width: float, height: float) -> TallPlaces:
    left, _ = _columns(scene)
    return TallPlaces(left=left, right=_names(scene), **_shared(scene, width, height))


def _shared(scene: Scene, width: float, height: float) -> dict[str, Any]:
    return {
        "width": float(width),
        "height": float(height),
        "line": line_height(),
        "dial": dial_end(scene.rig, scene.display),
        "scale": scale_volume(scene.volume),
        "flow": scene.handle("steady_draw").high,
        "really": len(scene.really),
    }


def _columns(scene: Scene) -> tuple[float, float]:
    """The least widths of the columns at the left and at the right, for their texts."""
    line, told = line_height(), {handle.entry: handle for handle in scene.handles}
    left = _widest(*(told[one].told(scene.display) for one in ("cut_in", "cut_out", "precharge")))
    right = _widest(*(told[one].name for one in ("altitude", "live_air", "steady_draw")))
    return max(left + 2.5 * line, 8.5 * line), max(right + 1.6 * line, 6.6 * line)


def _names(scene: Scene) -> float:
    """The least width of the column that names what is in the tank."""
    whole = scene.display.text(scene.volume, VOLUME)
    names = _widest(tr("Air"), tr("Membrane"), tr("Water"))
    if scene.above > 0.0:
        names = max(names, _widest(tr("{water} on it", water=whole)))
    return max(names, text_width(whole, bold=True)) + 0.8 * line_height()


def _widest(*texts: str) -> float:
    return max(text_width(text) for text in texts)
