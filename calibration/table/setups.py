"""Set-ups: a projector over a table, with its alignment, the tests of it, and the alignments before it."""

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta
from typing import Final

from calibration.errors import AlignmentError
from calibration.table.saved import Alignment
from calibration.trust.closed_loop import LoopTest
from calibration.trust.drift import DriftTest
from calibration.trust.ruler_test import RulerTest, in_64ths
from calibration.trust.surface import Surface

RULER_TEST_LASTS: Final = timedelta(days=30)  # a ceiling moves with the seasons, and lamps are changed
LOOP_OFF_IN: Final = 1 / 16  # what a projected line may be off (common practice)
MOST_PAST: Final = 20
MOST_TESTS: Final = 50
MOST_LETTERS: Final = 40  # of a name: it is said on the table

ScreenSize = tuple[int, int]


@dataclass(frozen=True, slots=True, kw_only=True)
class PastAlignment:
    """What is kept of an alignment that a newer one has replaced."""

    aligned_on: datetime
    p95_in: float
    verdict: str
    sheets: int
    photos: int
    marks: int

    @classmethod
    def of(cls, alignment: Alignment) -> "PastAlignment":
        """Its summary."""
        return cls(
            aligned_on=alignment.aligned_on,
            p95_in=alignment.p95_in,
            verdict=alignment.verdict,
            sheets=alignment.sheets,
            photos=alignment.photos,
            marks=alignment.marks,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Setup:
    """One alignment with what has been found out about it since; tests and past are newest first.

    Raises AlignmentError for a name that cannot be one.
    """

    alignment: Alignment
    ruler_tests: tuple[RulerTest, ...] = ()
    loop_tests: tuple[LoopTest, ...] = ()
    drift_tests: tuple[DriftTest, ...] = ()
    surface: Surface = field(default_factory=Surface)
    past: tuple[PastAlignment, ...] = ()

    def __post_init__(self) -> None:
        if not (self.name.strip() and self.name.isprintable() and len(self.name) <= MOST_LETTERS):
            raise AlignmentError(
                f'"{self.name[:MOST_LETTERS]}" is no name for a set-up; give 1 to {MOST_LETTERS} letters'
            )

    @property
    def name(self) -> str:
        """The name, which is its alignment's."""
        return self.alignment.name

    @property
    def screen_px(self) -> ScreenSize:
        """Width and height of its screen."""
        return self.alignment.map.screen_px

    def in_force(self) -> Alignment:
        """What to draw by: the claim is the worst of forecast, closed loop and failed tests, the map the surface's.

        A ruler test that was passed has checked the size, since its lines are as long as the light. A surface
        above the aligned plane adds its shift, or what is not known of it where that is corrected.
        """
        alignment = replace(self.alignment, p95_in=max(self.alignment.p95_in, *self._claims_in()))
        if self.ruler_tests and self.ruler_tests[0].passed:
            alignment = replace(alignment, size_checked=True)
        if self.surface.corrected:
            alignment = replace(alignment, map=self.surface.corrected_map(alignment.map))
        return replace(alignment, p95_in=self.surface.claim_in(self.alignment.map, alignment.p95_in))

    def warnings(self, now: datetime) -> tuple[str, ...]:
        """Why not to trust the light, in few words for the table, the gravest first; none if all is well."""
        return (*self._moved(), *self._ruler(now), *self._loop(), *self._height())

    def tested(self, test: RulerTest | LoopTest | DriftTest) -> "Setup":
        """The set-up with one more test."""
        match test:
            case RulerTest():
                return replace(self, ruler_tests=(test, *self.ruler_tests)[:MOST_TESTS])
            case LoopTest():
                return replace(self, loop_tests=(test, *self.loop_tests)[:MOST_TESTS])
            case DriftTest():
                return replace(self, drift_tests=(test, *self.drift_tests)[:MOST_TESTS])

    def realigned(self, alignment: Alignment) -> "Setup":
        """The set-up with a newer alignment. No test speaks of that one yet, nor does the surface's height."""
        past = (PastAlignment.of(self.alignment), *self.past)[:MOST_PAST]
        return Setup(alignment=alignment, past=past)

    def _claims_in(self) -> Iterable[float]:
        """What the latest tests leave to be claimed, in inches; a test that was passed says nothing."""
        yield 0.0
        yield from (test.claim_in for test in self.loop_tests[:1])
        yield from (test.worst_in for test in self.ruler_tests[:1] if not test.passed)
        yield from (test.moved_in for test in self._last_sure() if test.moved)

    def _last_sure(self) -> tuple[DriftTest, ...]:
        """The latest drift test that told anything: one that did not takes no alarm back."""
        return tuple(test for test in self.drift_tests if test.sure)[:1]

    def _moved(self) -> Iterable[str]:
        if any(test.moved for test in self._last_sure()):
            yield "MOVED since the alignment"
        elif self.drift_tests and not self.drift_tests[0].sure:
            yield "not sure whether it has moved"

    def _ruler(self, now: datetime) -> Iterable[str]:
        if not self.ruler_tests:
            yield "no ruler test yet"
        elif not self.ruler_tests[0].passed:
            yield "RULER TEST FAILED"
        else:
            age = now - self.ruler_tests[0].tested_on
            if age > RULER_TEST_LASTS:
                yield f"ruler test is {age.days} days old"

    def _loop(self) -> Iterable[str]:
        if self.loop_tests and self.loop_tests[0].claim_in > LOOP_OFF_IN:
            yield "LOOP TEST FAILED"

    def _height(self) -> Iterable[str]:
        height_in = self.surface.height_in
        if height_in:
            place = f"{in_64ths(abs(height_in))} {'above' if height_in > 0 else 'below'} the aligned plane"
            yield f"light set for {place}" if self.surface.corrected else f"cloth is {place}"


@dataclass(frozen=True, slots=True, kw_only=True)
class TableFile:
    """The set-ups of one table file, in the order they were first aligned."""

    setups: tuple[Setup, ...] = ()

    def setup(
        self, name: str | None = None, screen_px: ScreenSize | None = None, screen_name: str = ""
    ) -> Setup:
        """The set-up of that name; without one, the only set-up for the screen, known by size and then by name.

        Raises AlignmentError, listing what there is, where none or several are meant.
        """
        if name is not None:
            named = [setup for setup in self.setups if setup.name == name]
            if not named:
                raise AlignmentError(f'found no set-up "{name}"; there is {self._listed()}')
            return named[0]
        fitting = [setup for setup in self.setups if screen_px in (None, setup.screen_px)]
        named_alike = [setup for setup in fitting if screen_name == setup.alignment.screen_name != ""]
        for meant in (fitting, named_alike):
            if len(meant) == 1:
                return meant[0]
        if fitting:
            raise AlignmentError(
                f"found {len(fitting)} set-ups that may be meant: {_listed(fitting)}; name one with --setup"
            )
        if screen_px is None:
            raise AlignmentError("the table file holds no set-up; align the table first")
        size = sized(screen_px)
        raise AlignmentError(
            f"the screen is {size}, but the table file has {self._listed()}; "
            f"set the screen to its size, or align again at {size}"
        )

    def with_setup(self, setup: Setup) -> "TableFile":
        """The file with the set-up in the place of the one of its name, or added."""
        names = [one.name for one in self.setups]
        if setup.name not in names:
            return replace(self, setups=(*self.setups, setup))
        at = names.index(setup.name)
        return replace(self, setups=(*self.setups[:at], setup, *self.setups[at + 1 :]))

    def with_alignment(self, alignment: Alignment) -> "TableFile":
        """The file with the alignment in the set-up of its name; the one before it goes into the past."""
        for setup in self.setups:
            if setup.name == alignment.name:
                return self.with_setup(setup.realigned(alignment))
        return self.with_setup(Setup(alignment=alignment))

    def _listed(self) -> str:
        return _listed(self.setups) or "none"


def sized(screen_px: ScreenSize) -> str:
    """A screen's size as it is typed: "1920x1080"."""
    width, height = screen_px
    return f"{width}x{height}"


def _listed(setups: Iterable[Setup]) -> str:
    return ", ".join(f'"{setup.name}" ({sized(setup.screen_px)})' for setup in setups)
