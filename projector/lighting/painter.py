"""Redraws only what changed: a moved piece costs its own tile, never the whole screen."""

from collections import OrderedDict
from collections.abc import Hashable, Iterable
from typing import Final

from calibration.frames import Gray
from projector.lighting.canvas import EMPTY, Rect, Tile, compose, tile
from projector.scene import Layer, Scene

MOST_KEPT: Final = 8  # tiles of a layer: of a piece flipped away, of words that come back to where they were


class Painter:
    """Keeps the tile of each layer until the layer's key changes, and for a while after."""

    def __init__(self, screen_px: tuple[int, int]) -> None:
        self._screen_px = screen_px
        self._shown: dict[str, Tile] = {}
        self._kept: dict[str, OrderedDict[Hashable, Tile]] = {}

    def repaint(self, scene: Scene) -> list[tuple[Rect, Gray]]:
        """The parts of the screen that change, each with its new linear light; as a redraw of everything."""
        before, self._shown = self._shown, {layer.name: self._tile(layer) for layer in scene}
        tiles = list(self._shown.values())
        dirty = [
            tiles_of.get(name, EMPTY).rect
            for name in dict.fromkeys((*before, *self._shown))
            if before.get(name) is not self._shown.get(name)
            for tiles_of in (before, self._shown)
        ]
        return [(rect, compose(tiles, rect)) for rect in _apart(dirty)]

    def forget(self) -> None:
        """Draw everything anew: another session's layers may have the same keys and show something else."""
        self._kept.clear()

    def _tile(self, layer: Layer) -> Tile:
        kept = self._kept.setdefault(layer.name, OrderedDict())
        drawn = kept.pop(layer.key, None)
        if drawn is None:
            drawn = tile(layer.draw(), self._screen_px)
        kept[layer.key] = drawn
        if len(kept) > MOST_KEPT:
            kept.popitem(last=False)
        return drawn


def _apart(rects: Iterable[Rect]) -> list[Rect]:
    """Rects that hold all of these: two of them in one, unless much lies between them."""
    apart: list[Rect] = []
    for rect in rects:
        joined = rect
        while near := [other for other in apart if joined.join(other).area <= joined.area + other.area]:
            apart.remove(near[0])
            joined = joined.join(near[0])
        if not joined.is_empty:
            apart.append(joined)
    return apart
