"""Inches become projector pixels here, and nowhere else."""

import numpy as np
from calibration.frames import Array
from patterns.marks import Label, Line, Marks

from projector.clipping import clipped
from projector.dashes import dashed
from projector.letters import words_outline
from projector.lit_area import LitArea
from projector.look import LABEL_LIGHT, NAME_HEIGHT_IN, NAME_LIGHT, STYLES, LineStyle
from projector.strokes import Drawing, Ends, Patch, Stroke, joined, split


def light(marks: Marks, lit: LitArea) -> Drawing:
    """Marks in table inches as strokes and letters in projector pixels."""
    strokes = (stroke for line in marks.lines for stroke in line_light(line, lit))
    words = (patch for label in marks.labels for patch in label_light(label, _label_light(label), lit))
    return (*strokes, *words)


def line_light(line: Line, lit: LitArea) -> Drawing:
    """One line in its kind's style; empty when all of it is off the screen."""
    path = np.vstack([line.points, line.points[:1]]) if line.closed else line.points
    return path_light(path, STYLES[line.kind], lit)


def path_light(path_in: Array, style: LineStyle, lit: LitArea) -> Drawing:
    """A path of shape (n, 2) table inches in a style; empty when all of it is off the screen."""
    fine = subdivided(path_in, lit.span_in)
    points, ends = dashed(fine, style.dash_in) if style.dash_in else (fine, np.array([len(fine)]))
    if lit.reaches(points).max() > 0:
        visible = [part for path in split(points, ends) for part in clipped(path, lit)]
        if not visible:
            return ()
        points, ends = joined(visible)
    width_px = style.width_in * lit.pixels_per_inch(points)
    on_screen = lit.projector_map.screen_from_table(points)
    return (Stroke(points=on_screen, ends=ends, width_px=width_px, light=style.light),)


def label_light(label: Label, brightness: float, lit: LitArea) -> Drawing:
    """Words centred on the label's place, read along its direction; letters far off the screen are left out."""
    outline = words_outline(label.text)
    if not len(outline.points):
        return ()
    along = np.asarray(label.along, dtype=np.float64)
    up = np.array([-along[1], along[0]])
    points = outline.points @ (label.height_in * np.vstack([along, up])) + label.at
    points, ends = _whole_letters(points, outline.ends, outline.letters, lit)
    if not len(points):
        return ()
    return (Patch(points=lit.projector_map.screen_from_table(points), ends=ends, light=brightness),)


def _label_light(label: Label) -> float:
    return NAME_LIGHT if label.height_in >= NAME_HEIGHT_IN else LABEL_LIGHT


def _whole_letters(points: Array, ends: Ends, letters: Ends, lit: LitArea) -> tuple[Array, Ends]:
    """Without the letters that reach beyond the margin; `letters` has the letter of each contour."""
    outside = lit.reaches(points) > 0
    if not outside.any():
        return points, ends
    contours = split(points, ends)
    beyond = {
        int(letter)
        for letter, out in zip(letters, split(outside.astype(np.float64), ends), strict=True)
        if out.any()
    }
    kept = [c for c, letter in zip(contours, letters, strict=True) if int(letter) not in beyond]
    return joined(kept) if kept else (points[:0], ends[:0])


def subdivided(path: Array, span_in: float) -> Array:
    """The path with points added so that none of its straight pieces is longer than `span_in`."""
    step = np.diff(path, axis=0)
    length = np.hypot(step[:, 0], step[:, 1])
    if length.max(initial=0.0) <= span_in:
        return path
    parts = np.maximum(1, np.ceil(length / span_in)).astype(np.intp)
    ends = np.cumsum(parts)
    within = np.arange(ends[-1]) - np.repeat(ends - parts, parts)
    fraction = within / np.repeat(parts, parts)
    index = np.repeat(np.arange(len(step)), parts)
    fine: Array = np.vstack([path[index] + fraction[:, None] * step[index], path[-1:]])
    return fine
