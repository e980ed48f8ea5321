"""Redraws only what changed: a moved piece costs its own tile, never the whole screen."""

from collections import OrderedDict
from collections.abc import Hashable, Iterator, Sequence
from typing import Final

from calibration.frames import Gray
from projector.lighting.canvas import EMPTY, Rect, Tile, compose, tile
from projector.scene import Layer, Scene

MOST_KEPT: Final = 12  # tiles, or all that are shown: of a piece flipped away, of a light that is blank


class Painter:
    """Keeps the tile of each layer until the layer's key changes, and for a while after."""

    def __init__(self, screen_px: tuple[int, int]) -> None:
        self._screen_px = screen_px
        self._shown: dict[str, Tile] = {}
        self._kept: OrderedDict[tuple[str, Hashable], Tile] = OrderedDict()

    def repaint(self, scene: Scene) -> list[tuple[Rect, Gray]]:
        """The parts of the screen that change, each with its new linear light; as a redraw of everything."""
        before, self._shown = self._shown, {layer.name: self._tile(layer) for layer in scene}
        while len(self._kept) > max(MOST_KEPT, len(self._shown)):
            self._kept.popitem(last=False)
        tiles = list(self._shown.values())
        dirty = [
            rect
            for name in before.keys() | self._shown.keys()
            for rect in _changed(before.get(name, EMPTY), self._shown.get(name, EMPTY))
        ]
        return [(rect, compose(tiles, rect)) for rect in _apart(dirty)]

    def forget(self) -> None:
        """Draw everything anew: another session's layers may have the same keys and show something else."""
        self._kept.clear()

    def _tile(self, layer: Layer) -> Tile:
        key = (layer.name, layer.key)
        drawn = self._kept.pop(key, None)
        if drawn is None:
            drawn = tile(layer.draw(), self._screen_px)
        self._kept[key] = drawn
        return drawn


def _changed(old: Tile, new: Tile) -> Iterator[Rect]:
    """What of the screen two tiles of a layer cover: one part, or two where much lies between them."""
    if old is new:
        return
    joined = old.rect.join(new.rect)
    parts = [joined] if joined.area <= old.rect.area + new.rect.area else [old.rect, new.rect]
    yield from (rect for rect in parts if not rect.is_empty)


def _apart(rects: Sequence[Rect]) -> list[Rect]:
    """The rects without those that lie within another."""
    kept: list[Rect] = []
    for rect in sorted(rects, key=lambda one: -one.area):
        if not any(rect.meet(larger) == rect for larger in kept):
            kept.append(rect)
    return kept
