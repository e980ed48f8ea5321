"""Coded markers: squares of black and white modules that say which sheet or which part of the light is seen.

The codes are those of OpenCV's predefined ArUco dictionaries, so that its detector reads them.
"""

from dataclasses import dataclass

import cv2
import numpy as np

from calibration.sheets.lettering import Modules


@dataclass(frozen=True, slots=True, kw_only=True)
class Family:
    """One predefined dictionary: its OpenCV number, the bits along a side, and how many codes it has."""

    opencv_number: int
    bits: int
    size: int

    @property
    def modules(self) -> int:
        """Modules along the side of a marker: the bits and one black module at either end."""
        return self.bits + 2

    def marker(self, number: int) -> Modules:
        """The black modules of a marker, shape (modules, modules), row 0 at the top."""
        if not 0 <= number < self.size:
            raise ValueError(f"marker {number} is not one of the {self.size} of its family")
        whole = cv2.aruco.getPredefinedDictionary(self.opencv_number)
        bits = cv2.aruco.Dictionary.getBitsFromByteList(whole.bytesList[number : number + 1], self.bits)
        black = np.ones((self.modules, self.modules), dtype=np.bool_)
        black[1:-1, 1:-1] = np.asarray(bits) == 0
        return black


PRINTED = Family(opencv_number=cv2.aruco.DICT_4X4_250, bits=4, size=250)
PROJECTED = Family(opencv_number=cv2.aruco.DICT_5X5_1000, bits=5, size=1000)
