"""What may be asked of the light, for the command line to know without loading what draws it. Inches."""

from typing import Final

LOOK_NAMES: Final = ("light", "dark", "printed", "sheer", "shiny")
LEAST_LINE_IN: Final = 1 / 32  # a pixel of a projector that lights 60 in with 1920
MOST_LINE_IN: Final = 1 / 4  # on a wider one nobody cuts the same edge twice
LEAST_TEXT_IN: Final = 3 / 8  # about the least that is read standing, two steps away
MOST_TEXT_IN: Final = 2.0  # larger words leave no room for the piece
LIMIT_WORDS: Final = {"line": "1/32 in (0.8 mm) to 1/4 in (6.3 mm)", "text": "3/8 in (1 cm) to 2 in (5 cm)"}
