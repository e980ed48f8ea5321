"""What goes on beside the window while a camera is watched: the light comes up, frames are read and judged.

Reading and judging wait for the camera and take their time, so they have a thread of their own; it hands over
what the station has to know, and touches nothing else.
"""

import time
from collections.abc import Callable
from functools import partial
from queue import Empty, SimpleQueue
from threading import Event, Thread
from types import TracebackType
from typing import Final, Generic, Protocol, Self, TypeVar

from calibration.cameras.watch import Watch
from calibration.errors import AlignmentError
from calibration.frames import Gray
from calibration.photos.sightings import PhotoSighting
from projector.stations.camera import CameraStation, Stage

# WCAG 2.2, success criterion 2.3.1: three flashes in a second are the most, a flash being a pair of opposing
# changes. The light comes and goes once, in a second each; words change less than three times in a second.
FADE_S: Final = 1.0
WORDS_EVERY_S: Final = 0.4
READING_S: Final = 4.0  # a sentence of twenty words, read in passing
PATIENCE_S: Final = 5.0

R = TypeVar("R")
Step = Callable[[CameraStation], CameraStation]


class Frames(Protocol):
    """Where frames come from."""

    def frame(self) -> Gray:
        """The next one; waits for it, and raises AlignmentError where none comes."""


class CameraWork(Generic[R]):
    """Watches until `judge` has made a result of what is seen; `verdict` says it in words.

    `result` is there once the station is done; `failure` is why there will be none.
    """

    def __init__(
        self,
        camera: Frames,
        watch: Watch,
        judge: Callable[[PhotoSighting], R],
        verdict: Callable[[R], str],
        clock: Callable[[], float] = time.monotonic,
    ) -> None:
        self.result: R | None = None
        self.failure: AlignmentError | None = None
        self._camera = camera
        self._watch = watch
        self._judge = judge
        self._verdict = verdict
        self._clock = clock
        self._turned_s: float | None = None  # when the light began to come or to go
        self._steps: SimpleQueue[Step] = SimpleQueue()
        self._hurry, self._leave = Event(), Event()
        self._bug: BaseException | None = None
        self._thread = Thread(target=self._run, daemon=True)

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._leave.set()
        if self._thread.is_alive():
            self._thread.join(PATIENCE_S)

    def keep_up(self, station: CameraStation) -> CameraStation:
        """The station with all that has happened since; does not wait."""
        if self._bug is not None:
            raise self._bug
        was_over, now = station.over, self._clock()
        station = self._told(station)
        if self._turned_s is None or station.over != was_over:
            self._turned_s = now
        if station.hurried:
            self._hurry.set()
            station = station.heard()
        return self._faded(station, now - self._turned_s)

    def _told(self, station: CameraStation) -> CameraStation:
        while True:
            try:
                station = self._steps.get_nowait()(station)
            except Empty:
                return station

    def _faded(self, station: CameraStation, for_s: float) -> CameraStation:
        share = min(for_s / FADE_S, 1.0)
        if not station.over:
            if share == 1.0 and self._thread.ident is None:
                self._thread.start()
            return station.lit(share)
        station = station.lit(1.0 - share)
        return station.told() if station.stage is Stage.DONE and for_s > READING_S else station

    # in the thread

    def _run(self) -> None:
        try:
            self._watch_on()
        except AlignmentError as error:
            self.failure = error
            self._steps.put(partial(CameraStation.failed, reason=str(error)))
        except BaseException as bug:
            self._bug = bug

    def _watch_on(self) -> None:
        watch, said_s = self._watch, -WORDS_EVERY_S
        while not self._leave.is_set():
            watch = watch.after(self._camera.frame())
            if watch.complete:
                if self._judged(watch):
                    return
                watch = self._watch
            elif self._hurry.is_set():
                self._hurry.clear()
                watch = self._hurried(watch)
            elif time.monotonic() - said_s >= WORDS_EVERY_S:
                said_s = time.monotonic()
                self._steps.put(partial(CameraStation.saw, look=watch.look))

    def _judged(self, watch: Watch) -> bool:
        """Whether what was taken makes a result."""
        self._steps.put(partial(CameraStation.saw, look=watch.look))
        self._steps.put(CameraStation.working)
        try:
            self.result = self._judge(watch.sighting())
        except AlignmentError as error:
            self._refuse(error)
            return False
        self._steps.put(partial(CameraStation.done, verdict=self._verdict(self.result)))
        return True

    def _hurried(self, watch: Watch) -> Watch:
        try:
            return watch.hurried()
        except AlignmentError as error:
            self._refuse(error)
            return watch

    def _refuse(self, error: AlignmentError) -> None:
        self._steps.put(partial(CameraStation.refused, reason=str(error)))
        self._leave.wait(READING_S)
