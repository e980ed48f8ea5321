"""Files are written whole or not at all."""

import os
from contextlib import suppress
from pathlib import Path

import cv2
import numpy as np
import numpy.typing as npt

from projector.errors import ProjectorError

GOOD_JPEG = 90
FAST_PNG = 1  # compression level: a frame is mostly black and small anyway


def write_bytes(path: Path, content: bytes) -> None:
    """Write a file so that a reader sees the old or the new one, never a part; a link stays one.

    What is no file, such as a pipe or a terminal, is written into. ProjectorError where it cannot be.
    """
    if path.is_dir():
        raise ProjectorError(f"{path}: found a folder where a file is to be written; name a file in it")
    try:
        if path.exists() and not path.is_file():
            path.write_bytes(content)
        else:
            _write_whole(path.resolve(), content)
    except OSError as error:
        raise ProjectorError(
            f"{path}: cannot be written ({error.strerror}); choose a folder that exists and is yours to write in"
        ) from error


def _write_whole(path: Path, content: bytes) -> None:
    part = path.with_name(f".{path.name}.{os.getpid()}.part")
    try:
        with part.open("wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())  # or a power cut could leave the name with nothing under it
        part.replace(path)
        _settle(path.parent)
    finally:
        part.unlink(missing_ok=True)


def _settle(folder: Path) -> None:
    """Have the names in a folder on the disk: or a power cut could bring back what was written before."""
    with suppress(OSError):  # some systems and network folders know no such thing
        number = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(number)
        finally:
            os.close(number)


def write_text(path: Path, content: str) -> None:
    """The same for text."""
    write_bytes(path, content.encode("utf-8"))


def write_picture(path: Path, pixels: npt.NDArray[np.uint8]) -> None:
    """A PNG file, or JPEG where the name ends so, of grey (h, w) or red, green, blue (h, w, 3) pixels."""
    stored = pixels[:, :, ::-1] if pixels.ndim == 3 else pixels
    if path.suffix == ".jpg":
        done, content = cv2.imencode(".jpg", stored, [cv2.IMWRITE_JPEG_QUALITY, GOOD_JPEG])
    else:
        done, content = cv2.imencode(".png", stored, [cv2.IMWRITE_PNG_COMPRESSION, FAST_PNG])
    if not done:
        raise OSError(f"{path}: the picture could not be encoded")
    write_bytes(path, content.tobytes())


def made_folder(path: Path) -> None:
    """The folder, made where it is not there; ProjectorError where it cannot be."""
    try:
        path.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise ProjectorError(
            f"{path}: cannot be made a folder ({error.strerror}); name another with --out"
        ) from error
