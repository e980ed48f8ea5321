"""What is moved at the lay station."""

from enum import Enum


class Tool(Enum):
    """What the arrow keys and the mouse work on."""

    PIECE = "the piece"
    CLOTH = "the cloth"
    MARKS = "marks on the cloth"
