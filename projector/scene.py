"""What is to be seen, in layers: a layer is drawn again only when its key changes."""

from collections.abc import Callable, Hashable
from dataclasses import dataclass
from typing import NamedTuple

from projector.lighting.strokes import Drawing


class Layer(NamedTuple):
    """`key` says all that `draw` depends on within one session: a tile is shown again where the key comes back."""

    name: str
    key: Hashable
    draw: Callable[[], Drawing]


@dataclass(frozen=True, slots=True, kw_only=True)
class Controls:
    """What the session says about the light as a whole; `unheard` is it while keys go to another window."""

    frozen: bool = False
    helping: bool = False
    preview: bool = False
    unheard: bool = False


Scene = tuple[Layer, ...]
