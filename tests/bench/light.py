"""How long the light takes, beside a reference that draws the same run, and where it falls."""

import sys
import time
from collections.abc import Callable, Iterator, Sequence
from itertools import cycle
from statistics import median
from subprocess import run

import cv2
import numpy as np
from PIL import Image, ImageDraw

from calibration.frames import Array
from patterns.cutting.marks import Line, LineKind
from projector.actions import (
    Action,
    Blank,
    ChangeLine,
    ChangeLook,
    Flip,
    Help,
    Mirror,
    Move,
    ShowGrid,
    ShowRepeats,
    Turn,
)
from projector.cloth.ground import Ground
from projector.lighting.canvas import compose, put, tile, whole
from projector.lighting.light import chalk, chalk_light
from projector.lighting.lit_area import lit_area
from projector.lighting.look import RAMP
from projector.lighting.painter import Painter
from projector.lighting.strokes import Stroke
from projector.session import Session
from projector.stations.cut import CutStation
from tests.bench.row import Row
from tests.outside.test_projective import sections
from tests.unit.projector.samples import a_map, an_alignment, pieces

FRAMES = 120
FLIPS = 12
PRESSES = 40
TURN = 12  # calls of one run before the next has its turn
STARTS = 15
SCREENS = {"1080p": (1920, 1080), "4K": (3840, 2160)}


def milliseconds(run_once: Callable[[], object], times: int) -> float:
    """Median time of one call."""
    return median(_taken_ms(run_once, times))


def in_turns(runs: Sequence[Callable[[], object]], times: int) -> list[list[float]]:
    """Milliseconds of each call of each run. They take turns: what else the machine does slows all alike."""
    taken: list[list[float]] = [[] for _ in runs]
    for _ in range(0, times, TURN):
        for run_once, so_far in zip(runs, taken, strict=True):
            so_far += _taken_ms(run_once, TURN)
    return taken


def _taken_ms(run_once: Callable[[], object], times: int) -> list[float]:
    taken = []
    for _ in range(times):
        start = time.perf_counter()
        run_once()
        taken.append(1000 * (time.perf_counter() - start))
    return taken


class Moving:
    """A session in which a piece goes to and fro, painted into a picture as the window does."""

    def __init__(self, screen_px: tuple[int, int]) -> None:
        alignment = an_alignment(a_map(screen_px=screen_px, sigma=0.3))
        ground = Ground(pieces=tuple(pieces().values()), alignment=alignment, lit=lit_area(alignment.map))
        self.session = Session(CutStation.begun(ground))
        self._painter = Painter(screen_px)
        self._pixels = np.zeros((screen_px[1], screen_px[0]), np.uint32)
        self._colours = (RAMP.astype(np.uint32) << np.array([16, 8, 0], np.uint32)).sum(
            axis=1, dtype=np.uint32
        )
        self._count = 0
        self.paint()

    def step(self) -> None:
        """Move and turn the piece, and paint what changed."""
        way = 1 if self._count // 8 % 2 == 0 else -1
        actions: tuple[Action, ...] = (Move(right=way), Turn(anticlockwise=way))
        self.session.take(actions[self._count % 2])
        self._count += 1
        self.paint()

    def flip(self) -> None:
        """Show the next piece."""
        self.press(Flip(by=1))

    def press(self, action: Action) -> None:
        """Do it, and paint what changed."""
        self.session.take(action)
        self.paint()

    def paint(self) -> None:
        """Into the picture, as a window's memory would take it."""
        for rect, light in self._painter.repaint(self.session.scene()):
            put(self._pixels, rect, light, self._colours)


def plain_redraw(screen_px: tuple[int, int]) -> Callable[[], object]:
    """The same lines by OpenCV alone: mapped, drawn one pixel wide on a whole new frame, no words."""
    moving = Moving(screen_px)
    drawing = [part for part in moving.session.scene()[0].draw() if isinstance(part, Stroke)]
    paths = [np.split(np.rint(part.points * 16).astype(np.int32), part.ends[:-1]) for part in drawing]

    def redraw() -> None:
        frame = np.zeros((screen_px[1], screen_px[0], 4), np.uint8)
        for some in paths:
            cv2.polylines(frame, some, False, (255, 255, 255, 255), 1, cv2.LINE_AA, 4)

    return redraw


def pillow_redraw(screen_px: tuple[int, int]) -> Callable[[], object]:
    """The same lines by Pillow, two pixels wide and not smoothed."""
    moving = Moving(screen_px)
    drawing = [part for part in moving.session.scene()[0].draw() if isinstance(part, Stroke)]
    paths = [np.split(part.points, part.ends[:-1]) for part in drawing]

    def redraw() -> None:
        image = Image.new("RGB", screen_px)
        pen = ImageDraw.Draw(image)
        for some in paths:
            for path in some:
                pen.line([(float(x), float(y)) for x, y in path], fill=(255, 255, 255), width=2)

    return redraw


def moving_a_piece() -> list[Row]:
    """Cost of one frame while a piece is moved and turned."""
    rows: list[Row] = []
    for name, screen_px in SCREENS.items():
        moving = Moving(screen_px)
        redraws = (plain_redraw(screen_px), pillow_redraw(screen_px))
        steps, *others = in_turns((moving.step, *redraws), FRAMES)
        step, plain, pillow = median(steps), *map(median, others)
        rows.append(
            (f"move or turn a piece, {name}", f"{step:.2f} ms", f"{step / plain:.2f} x OpenCV full redraw")
        )
        rows.append(("", "", f"{step / pillow:.2f} x Pillow full redraw"))
        rows.append(("", f"{np.quantile(steps, 0.95):.2f} ms", "or less, 19 frames of 20"))
        flips, plains = in_turns((moving.flip, redraws[0]), FLIPS)
        flip, plain = median(flips), median(plains)
        rows.append(
            (f"flip to the next piece, {name}", f"{flip:.2f} ms", f"{flip / plain:.2f} x OpenCV full redraw")
        )
    return rows


def key_to_light() -> list[Row]:
    """From a key to changed pixels in the window's own memory order: time passed (a frame is 16.7 ms), and CPU's."""
    rows: list[Row] = []
    for name, screen_px in SCREENS.items():
        plain = median(_taken_ms(plain_redraw(screen_px), PRESSES))
        for what, run_once in _keys(Moving(screen_px)):
            started = time.process_time()
            taken = _taken_ms(run_once, PRESSES)
            spent = 1000 * (time.process_time() - started) / PRESSES
            usual, most = median(taken), float(np.quantile(taken, 0.95))
            beside = f"{most:.1f} ms or less, 19 of 20; CPU {spent:.1f} ms; {usual / plain:.1f} x OpenCV full redraw"
            rows.append((f"{what}, {name}", f"{usual:.1f} ms", beside))
    return rows


def _keys(moving: Moving) -> Iterator[tuple[str, Callable[[], object]]]:
    """What a key may ask for, each from where the one before left the session."""

    def pressing(*actions: Action) -> Callable[[], object]:
        following = cycle(actions)
        return lambda: moving.press(next(following))

    yield "move or turn a piece", moving.step
    yield "flip to the next piece", pressing(Flip(by=1))
    yield "mirror", pressing(Mirror())
    yield "another look", pressing(ChangeLook())
    yield "line wider or narrower", pressing(*[ChangeLine(by=1)] * 3, *[ChangeLine(by=-1)] * 3)
    yield "repeats on and off", pressing(ShowRepeats())
    yield "keys on and off", pressing(Help())
    yield "light off and on", pressing(Blank())
    yield "grids on and off", pressing(ShowGrid())
    for action in (ChangeLook(), ChangeLook(), ShowRepeats(), ShowGrid()):
        moving.press(action)
    yield "move, printed look, all added", moving.step


def starting() -> list[Row]:
    """From the command to its help."""
    pure = milliseconds(lambda: run([sys.executable, "-c", "pass"], check=True), STARTS)
    ours = milliseconds(
        lambda: run([sys.executable, "-m", "projector", "--help"], check=True, capture_output=True), STARTS
    )
    return [("--help", f"{ours:.0f} ms", f"{ours / pure:.1f} x python -c pass")]


def line_places() -> list[Row]:
    """Distance of the drawn lines' centres from the exactly mapped ones."""
    lit = lit_area(a_map(k1=0.02))
    found: list[Array] = []
    for angle in np.linspace(0, np.pi, 12, endpoint=False):
        half = 14 * np.array([np.cos(angle), np.sin(angle)])
        line = Line(kind=LineKind.CUT, points=np.array([-half, half]))
        light = compose(
            [tile(chalk_light(chalk((line,), lit.span_in), lit), (1920, 1080))], whole((1920, 1080))
        )
        t = np.linspace(0.03, 0.97, 800)[:, None]
        exact = lit.projector_map.screen_from_table(-half + 2 * half * t)
        found.append(np.abs(sections(light / 255.0, exact)))
    errors = np.concatenate(found)
    return [
        (
            "cut line's centre off the exact line",
            f"{errors.mean():.3f} px mean",
            f"{errors.max():.3f} px at worst",
        )
    ]
