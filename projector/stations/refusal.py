"""Instead of cut lines that cannot be trusted: the reason."""

from dataclasses import dataclass, replace

from projector.actions import Action, ChangeSide
from projector.bindings import BLANK, QUIT, SIDE, Binding
from projector.lighting.look import WARNING_LIGHT
from projector.person import FAR, across
from projector.scene import Controls, Layer, Scene
from projector.words.messages import message_light


@dataclass(frozen=True, slots=True, kw_only=True)
class RefusalStation:
    """Shows why nothing is projected; in pixels, since there is no map to rely on."""

    reason: str
    screen_px: tuple[int, int]
    side: int = 0

    @property
    def bindings(self) -> tuple[Binding, ...]:
        """What switches the light, and turns the words."""
        return (SIDE, BLANK, QUIT)

    @property
    def finished(self) -> bool:
        """It stays until the person leaves."""
        return False

    def after(self, action: Action) -> "RefusalStation":
        """The words turned; nothing else changes it."""
        return replace(self, side=across(self.side)) if isinstance(action, ChangeSide) else self

    def scene(self, controls: Controls) -> Scene:
        """The reason, and how to leave."""
        words, upside_down = f"{self.reason}\n\nq leaves", self.side == FAR
        return (
            Layer(
                name="main",
                key=(words, upside_down),
                draw=lambda: message_light(words, self.screen_px, WARNING_LIGHT, upside_down=upside_down),
            ),
        )
