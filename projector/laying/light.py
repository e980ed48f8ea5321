"""The cloth of a lay in light: its edges and folds with their words, the other pieces, the sign at a broken rule."""

import textwrap
from collections.abc import Iterator, Sequence
from typing import Final

import numpy as np

from calibration.frames import Array
from patterns.cutting.labels import Label
from patterns.cutting.signs import ARROW_IN as ARROWHEAD_IN
from patterns.cutting.signs import arrowhead
from patterns.laying.folded import Folded
from patterns.laying.folding import Fold
from patterns.laying.lay import PieceOnCloth
from patterns.saying import Say
from projector.cloth.cloth_place import ClothPlace
from projector.lighting.letters import words_width
from projector.lighting.light import labels_light, words_light
from projector.lighting.lit_area import LitArea
from projector.lighting.look import WARNING_LIGHT, LineStyle
from projector.lighting.strokes import Drawing
from projector.person import Person
from projector.tracing.light import RING, stroked

FOLD: Final = LineStyle(width_in=1 / 10, light=0.9, dash_in=(1.5, 1 / 4, 1 / 4, 1 / 4))
EDGE: Final = LineStyle(width_in=1 / 24, light=0.5)
TURNED: Final = LineStyle(width_in=1 / 20, light=0.7, dash_in=(1 / 2, 1 / 2))  # where the layer above ends
FAINT: Final = LineStyle(width_in=1 / 32, light=0.12)
OTHER: Final = LineStyle(width_in=1 / 32, light=0.2, dash_in=(1 / 4, 1 / 4))
TURNING_AT: Final = 0.75  # of the length
ARROW_IN: Final = 1.0
SIGN: Final = LineStyle(width_in=1 / 8, light=WARNING_LIGHT)
SIGN_IN: Final = 0.9  # half its width
WORDS_IN: Final = 0.75
WORDS_LIGHT: Final = 0.45
SMALL_IN: Final = 0.5
SMALL_LIGHT: Final = 0.25
CLEAR_IN: Final = 0.35  # between a line and its words
SAID_IN: Final = 0.6
MIRRORED: Final = "mirrored"
GONE: Final = "cut out"
SAID_WIDTH: Final = 34  # letters in a row beside the sign
SPACING: Final = 1.6


def cloth_light(folded: Folded, cloth: ClothPlace, lit: LitArea) -> Drawing:
    """Its ends, edges and folds, faint: to see where the pieces lie on it."""
    left, bottom, right, top = folded.box_in
    box = np.array([(left, bottom), (right, bottom), (right, top), (left, top), (left, bottom)])
    folds = [cloth.on_table(np.array(fold.ends_in)) for fold in folded.folds]
    inner = [cloth.on_table(line) for line in turned_edges(folded)]
    return (
        *stroked([cloth.on_table(box), *inner], FAINT, lit),
        *(stroked(folds, FOLD, lit) if folds else ()),
    )


def fold_light(folded: Folded, cloth: ClothPlace, say: Say, lit: LitArea, person: Person) -> Drawing:
    """Where the fold and the selvedges must lie, with words on every line."""
    left, bottom, right, top = folded.box_in
    folds = [cloth.on_table(np.array(fold.ends_in)) for fold in folded.folds]
    edges = [np.array([(left, bottom), (right, bottom)])]
    edges += [np.array([(x, bottom), (x, top)]) for x in _still_edges(folded)]
    drawn: list[Drawing] = [stroked([cloth.on_table(edge) for edge in edges], EDGE, lit)]
    turned = [cloth.on_table(line) for line in turned_edges(folded)]
    far = [] if folded.folding.far_in else [cloth.on_table(np.array([(left, top), (right, top)]))]
    if turned or far:
        drawn.append(stroked([*turned, *far], TURNED, lit))
    if folds:
        drawn.append(stroked(folds, FOLD, lit))
    if turned:
        drawn.append(stroked([cloth.on_table(path) for path in turning(folded)], EDGE, lit))
    words = edge_words(folded, cloth, say, person)
    drawn.append(words_light(words, [WORDS_LIGHT] * len(words), lit))
    return tuple(part for drawing in drawn for part in drawing)


def others_light(outlines_in: Sequence[Array], names: Sequence[str], lit: LitArea, person: Person) -> Drawing:
    """The pieces that are not at hand: outline and name, faint."""
    if not outlines_in:
        return ()
    rings = [np.vstack([outline, outline[:1]]) for outline in outlines_in]
    labels = [name_label(name, outline, person) for outline, name in zip(outlines_in, names, strict=True)]
    return (*stroked(rings, OTHER, lit), *words_light(labels, [SMALL_LIGHT] * len(labels), lit))


def name_label(name: str, outline_in: Array, person: Person) -> Label:
    """The name of a piece that is not at hand, in its middle."""
    middle = (outline_in.min(axis=0) + outline_in.max(axis=0)) / 2
    return Label(text=name, at=middle, height_in=SMALL_IN, along=person.axes[0])


def words_of(one: PieceOnCloth, cloth: ClothPlace, lit: LitArea, person: Person) -> Drawing:
    """The words of a piece as it lies on the cloth; of a half it is not said that its fold mirrors it."""
    labels = person.labels(one.piece, cloth.laid(one.placement))
    return labels_light([label for label in labels if not (one.on_fold and label.text == MIRRORED)], lit)


def sign_light(at_in: Array, off_in: Array, sentence: str, lit: LitArea, person: Person) -> Drawing:
    """A crossed ring where a rule is broken, and beside it the rule, off a place (2,) if it has room."""
    ring = person.on_table(SIGN_IN * RING) + at_in
    arms = SIGN_IN * np.sqrt(0.5) * np.array([[[-1.0, -1.0], [1.0, 1.0]], [[-1.0, 1.0], [1.0, -1.0]]])
    cross = [person.on_table(arm) + at_in for arm in arms]
    rows = textwrap.wrap(sentence, SAID_WIDTH)
    widest = max(words_width(row) for row in rows) * SAID_IN
    (right, away), (right_off, _) = person.seen(np.array([at_in, off_in])).tolist()
    border = person.seen(lit.border_in)[:, 0]
    reach = SIGN_IN + CLEAR_IN + widest
    rightwards = (
        right >= right_off if border.min() + reach <= right <= border.max() - reach else right < border.mean()
    )
    across = right + (1 if rightwards else -1) * (reach - widest / 2)
    labels = []
    for number, row in enumerate(rows):
        down = away + ((len(rows) - 1) / 2 - number) * SAID_IN * SPACING
        at = person.on_table(np.array([[across, down]]))[0]
        labels.append(Label(text=row, at=at, height_in=SAID_IN, along=person.axes[0]))
    words = words_light(labels, [WARNING_LIGHT] * len(labels), lit)
    return (*stroked([ring, *cross], SIGN, lit), *words)


def _still_edges(folded: Folded) -> Iterator[float]:
    """x of the selvedges that are not turned over."""
    folding = folded.folding
    if not folding.left_in:
        yield 0.0
    if not folding.right_in:
        yield folding.cloth.width_in


def turned_edges(folded: Folded) -> Iterator[Array]:
    """Where the selvedges that are turned over come to lie, (2, 2) cloth inches each."""
    folding, (_, bottom, _, top) = folded.folding, folded.box_in
    if folding.left_in:
        yield np.array([(2 * folding.left_in, bottom), (2 * folding.left_in, top)])
    if folding.right_in:
        x = folding.cloth.width_in - 2 * folding.right_in
        yield np.array([(x, bottom), (x, top)])


def turning(folded: Folded) -> Iterator[Array]:
    """An arrow from each fold to where its selvedge comes to lie, cloth inches."""
    _, bottom, _, top = folded.box_in
    y = bottom + TURNING_AT * (top - bottom)
    for line in turned_edges(folded):
        tip = np.array([line[0, 0], y])
        fold = min(folded.folds, key=lambda edge: abs(edge.ends_in[0][0] - tip[0]))
        foot = np.array([fold.ends_in[0][0], y])
        yield np.array([foot, tip])
        yield tip + ARROW_IN / ARROWHEAD_IN * arrowhead(np.zeros(2), foot - tip)


def edge_words(folded: Folded, cloth: ClothPlace, say: Say, person: Person) -> list[Label]:
    """The words of each line, inside of the cloth, and the width of each part across it."""
    folding, (_, bottom, _, top) = folded.folding, folded.box_in
    middle = (bottom + top) / 2
    widest = max(folded.spans, key=lambda span: span.width_in)
    lines: list[tuple[str, tuple[float, float], tuple[float, float]]] = [
        ("squared end", ((widest.start_in + widest.end_in) / 2, bottom), (0.0, 1.0)),
    ]
    for fold in folded.folds:
        (x0, y0), (x1, y1) = fold.ends_in
        inwards = (-fold.outwards[0], -fold.outwards[1])
        lines.append(("fold", ((x0 + x1) / 2, (y0 + y1) / 2), inwards))
    meet = folding.fold is Fold.SELVEDGES
    if not folding.left_in:
        both = "both selvedges" if meet else "left selvedge"
        lines.append((both, (0.0, middle), (1.0, 0.0)))
    else:
        lines.append(("left selvedge, turned over", (2 * folding.left_in, middle), (-1.0, 0.0)))
    if not folding.right_in:
        lines.append(("right selvedge", (folding.cloth.width_in, middle), (-1.0, 0.0)))
    elif not meet:
        x = folding.cloth.width_in - 2 * folding.right_in
        lines.append(("right selvedge, turned over", (x, middle), (1.0, 0.0)))
    labels = [_beside(text, np.array(at), np.array(inwards), cloth, person) for text, at, inwards in lines]
    for span in folded.spans:
        text = f"{say(span.width_in)} {'double' if span.layers == 2 else 'single'}"
        at = cloth.on_table(np.array([((span.start_in + span.end_in) / 2, bottom + (top - bottom) / 4)]))[0]
        labels.append(Label(text=text, at=at, height_in=WORDS_IN, along=person.axes[0]))
    return labels


def _beside(text: str, at_in: Array, inwards: Array, cloth: ClothPlace, person: Person) -> Label:
    """Words on the inner side of a line at a place of the cloth, along the line, to be read by the person."""
    at, off = cloth.on_table(np.array([at_in, at_in + inwards * (CLEAR_IN + WORDS_IN / 2)]))
    across = (off - at) / np.hypot(*(off - at))
    along = np.array([-across[1], across[0]])
    seen = person.seen(along[None])[0]
    if seen[0] < -1e-9 or (abs(seen[0]) <= 1e-9 and seen[1] < 0):
        along = -along
    return Label(text=text, at=off, height_in=WORDS_IN, along=along)
