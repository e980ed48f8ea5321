"""Instead of cut lines that cannot be trusted: the reason."""

from dataclasses import dataclass

from projector.actions import Action
from projector.bindings import BLANK, QUIT, Binding
from projector.lighting.look import WARNING_LIGHT
from projector.scene import Controls, Layer, Scene
from projector.words.messages import message_light


@dataclass(frozen=True, slots=True, kw_only=True)
class RefusalStation:
    """Shows why nothing is projected; in pixels, since there is no map to rely on."""

    reason: str
    screen_px: tuple[int, int]

    @property
    def bindings(self) -> tuple[Binding, ...]:
        """Only what switches the light."""
        return (BLANK, QUIT)

    @property
    def finished(self) -> bool:
        """It stays until the person leaves."""
        return False

    def after(self, action: Action) -> "RefusalStation":
        """Nothing changes it."""
        return self

    def scene(self, controls: Controls) -> Scene:
        """The reason, and how to leave."""
        words = f"{self.reason}\n\nq leaves"
        return (
            Layer(
                name="main",
                key=words,
                draw=lambda: message_light(words, self.screen_px, WARNING_LIGHT),
            ),
        )
