"""The outline of a traced garment over its photo laid flat, for a person to judge it by."""

from dataclasses import dataclass
from pathlib import Path
from typing import Final

import cv2
import numpy as np

from calibration.frames import Array
from calibration.garment.silhouette import Picture, Silhouette
from patterns.cutting.drafted import DraftedEdge
from patterns.cutting.placement import Placement
from patterns.parts import Kind
from patterns.pattern import Pattern
from patterns.piece import Piece
from projector.lighting.dashes import dashed
from projector.lighting.letters import words_outline, words_width
from projector.lighting.strokes import joined, split
from projector.outputs import write_picture

LONGEST_PX: Final = 1600
MARGIN_IN: Final = 1.5
FINER: Final = 2
SHIFT: Final = 4
WORDS_PX: Final = 18.0
ASIDE_PX: Final = 12.0  # from an edge to its name, inwards
DASH_PX: Final = 9

LINE: Final = (255, 176, 32)
UNDER: Final = (16, 18, 24)
FOLD: Final = (120, 214, 255)
HIDDEN: Final = (255, 84, 72)
BESIDE: Final = ((150, 230, 140), (224, 150, 255))
BESIDE_DASHES_PX: Final = (16, 4)
BESIDE_GAP_PX: Final = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class Outline:
    """A piece where its garment lies; `beside` are the traces that it lies between, if it is their average."""

    piece: Piece
    placement: Placement
    beside: tuple[Piece, ...] = ()


def write_traced_picture(path: Path, photo: Picture, found: Silhouette, outline: Outline | None) -> None:
    """Write it; without an outline only the contour is drawn."""
    write_picture(path, traced_picture(photo, found, outline))


def traced_picture(photo: Picture, found: Silhouette, outline: Outline | None) -> Picture:
    """(h, w, 3) red, green, blue: edges and their names, the fold dashed, hidden parts red.

    Traces beside it are thinner: the first in long dashes, the second in short ones.
    """
    view = _View(found)
    picture = view.flat(photo)
    if outline is None:
        _stroke(picture, view.pixels(found.contour_in), LINE, closed=True)
        return _smaller(picture)
    for piece, colour, dash_px in zip(outline.beside, BESIDE, BESIDE_DASHES_PX, strict=False):
        for edge in _edges(piece):
            if edge.kind is Kind.FOLD:
                continue  # all lie on one
            path = view.pixels(outline.placement.placed(edge.points))
            _dash(picture, path, colour, (dash_px, BESIDE_GAP_PX))
    edges = _edges(outline.piece)
    for edge in edges:
        path = view.pixels(outline.placement.placed(edge.points))
        if edge.kind is Kind.FOLD:
            _dash(picture, path, FOLD, (DASH_PX, DASH_PX))
        else:
            _stroke(picture, path, LINE, closed=False)
        cv2.circle(picture, np.rint(path[0]).astype(int).tolist(), 4 * FINER, LINE, FINER, cv2.LINE_AA)
    middle = view.pixels(found.contour_in).mean(axis=0)
    for edge in edges:
        halfway = edge.curve.points_at(np.array([0.49, 0.5, 0.51]) * edge.length_in)
        _write(picture, edge.name, view.pixels(outline.placement.placed(halfway)), middle)
    for bridge in found.bridges:
        _stroke(picture, view.pixels(np.stack([bridge.start_in, bridge.end_in])), HIDDEN, closed=False)
    return _smaller(picture)


def _edges(piece: Piece) -> tuple[DraftedEdge, ...]:
    drafted = Pattern(name="traced", pieces=(piece,)).drafted()
    return tuple(drafted.pieces[piece.name].edges.values())


class _View:
    """Table inches to the picture's fine pixels, turned by quarters until it stands as the photo does."""

    def __init__(self, found: Silhouette) -> None:
        self.found = found
        self.turned = as_in_photo(found)
        lying = found.contour_in @ self.turned
        self.low, self.high = lying.min(axis=0) - MARGIN_IN, lying.max(axis=0) + MARGIN_IN
        self.per_in = FINER * LONGEST_PX / float((self.high - self.low).max())
        width, height = np.ceil((self.high - self.low) * self.per_in / FINER).astype(int) * FINER
        self.size = (int(width), int(height))

    def pixels(self, points_in: Array) -> Array:
        """(n, 2) table inches to (n, 2) pixels."""
        at: Array = (points_in @ self.turned - (self.low[0], self.high[1])) * (self.per_in, -self.per_in)
        return at

    def flat(self, photo: Picture) -> Picture:
        """The photo laid flat; the map is bent so little that every eighth pixel of it will do."""
        width, height = self.size
        coarse = (width // 8 + 2, height // 8 + 2)
        u, v = np.meshgrid(np.arange(coarse[0]) * 8 + 3.5 - 8, np.arange(coarse[1]) * 8 + 3.5 - 8)
        places = np.stack([u.ravel(), v.ravel()], axis=1) / (self.per_in, -self.per_in)
        places = (places + (self.low[0], self.high[1])) @ self.turned.T
        seen = self.found.camera.camera_from_table(places)
        fine = cv2.resize(
            seen.reshape(coarse[1], coarse[0], 2).astype(np.float32), (coarse[0] * 8, coarse[1] * 8),
            interpolation=cv2.INTER_LINEAR,
        )[8 : 8 + height, 8 : 8 + width]  # fmt: skip
        flat = cv2.remap(photo, fine[..., 0], fine[..., 1], cv2.INTER_LINEAR, borderValue=UNDER)
        return np.ascontiguousarray(flat, dtype=np.uint8)


def as_in_photo(found: Silhouette) -> Array:
    """(2, 2) by which rows of table inches are turned so that the photo's right is the picture's, nearly."""
    middle = found.contour_in.mean(axis=0)
    here, right = found.camera.camera_from_table([middle, middle + (1.0, 0.0)])
    quarters = round(float(np.degrees(np.arctan2(-(right - here)[1], (right - here)[0]))) / 90) % 4
    turned: Array = np.linalg.matrix_power(np.array([[0.0, 1.0], [-1.0, 0.0]]), quarters)
    return turned


def _stroke(picture: Picture, path_px: Array, colour: tuple[int, int, int], *, closed: bool) -> None:
    ends = [np.rint(path_px * 2**SHIFT).astype(np.int32)]
    cv2.polylines(picture, ends, closed, UNDER, 3 * FINER, cv2.LINE_AA, SHIFT)
    cv2.polylines(picture, ends, closed, colour, FINER, cv2.LINE_AA, SHIFT)


def _dash(picture: Picture, path_px: Array, colour: tuple[int, int, int], dash_px: tuple[int, int]) -> None:
    points, ends = dashed(*joined([path_px]), (dash_px[0] * FINER, dash_px[1] * FINER))
    for part in split(points, ends):
        _stroke(picture, part, colour, closed=False)


def _write(picture: Picture, text: str, halfway_px: Array, middle_px: Array) -> None:
    """A word inside of an edge, beside its middle: (3, 2) pixels along it there."""
    before, at_px, after = halfway_px
    along = (after - before) / max(float(np.hypot(*(after - before))), 1e-9)
    inwards = np.array([-along[1], along[0]])
    inwards *= 1 if inwards @ (middle_px - at_px) > 0 else -1
    height = WORDS_PX * FINER
    width = words_width(text) * height
    aside = ASIDE_PX * FINER + (abs(inwards[0]) * width + abs(inwards[1]) * height) / 2
    left_base = at_px + inwards * aside + (-width / 2, height / 2)
    outline = words_outline(text)
    middle = left_base + (width / 2, -height / 2)
    contours = [
        np.rint(one * 2**SHIFT).astype(np.int32)
        for one in split(outline.points * (height, -height) + middle, outline.ends)
    ]
    cv2.polylines(picture, contours, True, UNDER, 3 * FINER, cv2.LINE_AA, SHIFT)
    cv2.fillPoly(picture, contours, (255, 255, 255), cv2.LINE_AA, SHIFT)


def _smaller(picture: Picture) -> Picture:
    height, width = picture.shape[:2]
    size = (width // FINER, height // FINER)
    return np.asarray(cv2.resize(picture, size, interpolation=cv2.INTER_AREA), dtype=np.uint8)
