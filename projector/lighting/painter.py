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
        self._keys: dict[str, Hashable] = {}  # of what is shown
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
        return [(rect, compose(tiles, rect)) for rect in _apart(dict.fromkeys(dirty))]

    def forget(self) -> None:
        """Draw everything anew: another session's layers may have the same keys and show something else."""
        self._kept.clear()
        self._keys.clear()

    def _tile(self, layer: Layer) -> Tile:
        if layer.name in self._shown and self._keys.get(layer.name) == layer.key:
            return self._shown[layer.name]
        self._keys[layer.name] = layer.key
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
        if rect.is_empty:
            continue
        joined = rect
        while (near := next((other for other in apart if _one_is_less(joined, other)), None)) is not None:
            apart.remove(near)
            joined = joined.join(near)
        apart.append(joined)
    return apart


def _one_is_less(rect: Rect, other: Rect) -> bool:
    """Whether one rect round both, neither of them empty, holds no more pixels than the two."""
    left, top, right, bottom = rect
    wide = max(right, other[2]) - min(left, other[0])
    high = max(bottom, other[3]) - min(top, other[1])
    return wide * high <= (right - left) * (bottom - top) + other.area
