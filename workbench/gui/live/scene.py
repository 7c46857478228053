"""All that the picture of the live tank shows at one moment."""

from __future__ import annotations

from dataclasses import dataclass, field

from workbench.gui.live.handles import Handle
from workbench.gui.live.really import really
from workbench.physics.system import Moment
from workbench.study.live.rig import Rig
from workbench.units import Display


@dataclass
class Scene:
    """What is shown: the system, the moment, the handles, and which of them is chosen ("": none).

    ``turn`` [turns] of the pump's wheel and ``flowed`` [m³] through the pipes and out of the tap
    are only there to be seen moving.
    """

    rig: Rig
    moment: Moment
    handles: tuple[Handle, ...]
    display: Display
    chosen: str = ""
    grips: bool = True
    turn: float = 0.0
    flowed: dict[str, float] = field(
        default_factory=lambda: {"pump": 0.0, "tank": 0.0, "tap": 0.0, "back": 0.0}
    )

    @property
    def volume(self) -> float:
        """The whole tank [m³], with the water that lies above its membrane."""
        return self.rig.system.volume + self.rig.water_above

    @property
    def below(self) -> float:
        """Share of the tank below its membrane."""
        return min(self.moment.water / self.volume, 1.0)

    @property
    def above(self) -> float:
        """Share of the tank that is water on its membrane."""
        return min(self.rig.water_above / self.volume, 1.0 - self.below)

    @property
    def into_tank(self) -> float:
        """Flow into the tank [m³/s], below zero out of it."""
        one = self.moment
        if one.is_empty and one.pump_flow < one.tap_flow + one.back_flow:
            return 0.0  # the last that flows comes out of the pipes
        return one.stored_flow

    @property
    def relieves(self) -> bool:
        """Whether the relief valve is open."""
        return self.moment.pressure >= self.rig.system.relief * (1.0 - 1e-9)

    @property
    def really(self) -> dict[str, float]:
        """What is not as it was set, by its entry: gauge pressure [Pa] as it really is."""
        return really(self.rig, self.display)

    def handle(self, entry: str) -> Handle:
        """One of the handles by its entry."""
        return next(one for one in self.handles if one.entry == entry)

    def flow_on(self, seconds: float, turns: float) -> None:
        """Let what is seen moving move: so many seconds of flow, so many turns of the wheel."""
        one = self.moment
        self.flowed["pump"] += (one.pump_flow - one.back_flow) * seconds
        self.flowed["tank"] += self.into_tank * seconds
        self.flowed["tap"] += one.tap_flow * seconds
        if one.gives:
            self.turn = (self.turn + turns) % 1.0
