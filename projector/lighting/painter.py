"""Redraws only what changed: a moved piece costs its own tile, never the whole screen."""

from collections.abc import Hashable

from calibration.frames import Gray
from projector.lighting.canvas import EMPTY, Rect, Tile, compose, tile
from projector.scene import Scene


class Painter:
    """Keeps the tile of each layer until the layer's key changes."""

    def __init__(self, screen_px: tuple[int, int]) -> None:
        self._screen_px = screen_px
        self._tiles: dict[str, tuple[Hashable, Tile]] = {}

    def repaint(self, scene: Scene) -> list[tuple[Rect, Gray]]:
        """The parts of the screen that change, each with its new linear light; as a redraw of everything."""
        before = self._tiles
        self._tiles = {}
        for layer in scene:
            kept = before.get(layer.name)
            if kept is None or kept[0] != layer.key:
                kept = (layer.key, tile(layer.draw(), self._screen_px))
            self._tiles[layer.name] = kept
        tiles = [one for _, one in self._tiles.values()]
        changed = []
        for name in before.keys() | self._tiles.keys():
            old = before.get(name, (None, EMPTY))[1]
            new = self._tiles.get(name, (None, EMPTY))[1]
            rect = old.rect.join(new.rect)
            if old is not new and not rect.is_empty:
                changed.append((rect, compose(tiles, rect)))
        return changed
