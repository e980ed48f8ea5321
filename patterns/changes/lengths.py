"""The changes of length: of the body, of the sleeve, and by a band at the hem."""

from dataclasses import dataclass, field, replace
from typing import ClassVar, Final

from patterns.alterations.hems import HEM, banded, hem_lowered
from patterns.alterations.sleeves import SIDE, SLEEVE_HEM, Sleeve
from patterns.alterations.spreading import spread
from patterns.changes.change import OPENING, ByLength, OfPieces, check_positive
from patterns.changes.draft import Draft, EdgeRef, Strip
from patterns.changes.facings import JOINING_IN
from patterns.measures import Length
from patterns.shape import Shape

BAND_SEAM_IN: Final = (
    1 / 2
)  # allowance of the seam that joins a band on, as of a plain seam (common practice)


@dataclass(frozen=True, slots=True, kw_only=True)
class _BodyLength(ByLength):
    """The body longer or shorter at its hem, or spread or folded up `at` a level below the high shoulder point.

    At the hem, that is moved straight down or up, and the edges beside it run on in their own directions or are
    cut off. At a level, all below it is moved, and the sides are re-joined there, straight ones straight and
    curved ones smoothly.
    """

    measure: ClassVar[str] = "a length"
    edges: ClassVar[tuple[str, ...]] = (HEM,)
    at: Length | None = None

    def check(self) -> None:
        """PatternError unless both lengths are more than nothing."""
        ByLength.check(self)
        check_positive(self.at, "a level below the high shoulder point")

    def changed(self, shape: Shape) -> Shape:
        """The piece of that length; PatternError where nothing is left or the level does not run once through it."""
        if self.at is None:
            return hem_lowered(shape, self.signed_in)
        return spread(shape, self.at.inches, self.signed_in)


@dataclass(frozen=True, slots=True, kw_only=True)
class Lengthen(_BodyLength):
    """`lengthen: L`: the body longer by `by`."""

    opens: ClassVar[str] = "lengthen"
    keeps: ClassVar[str] = "the hem's form, square to the fold as it was; all above it, or above the level"
    sign: ClassVar[int] = 1
    outcome: ClassVar[str] = "a body {} longer"


@dataclass(frozen=True, slots=True, kw_only=True)
class Shorten(_BodyLength):
    """`shorten: L`: the body shorter by `by`."""

    opens: ClassVar[str] = "shorten"
    keeps: ClassVar[str] = "the hem's form, square to the fold as it was; all above it, or above the level"
    sign: ClassVar[int] = -1
    outcome: ClassVar[str] = "a body {} shorter"


@dataclass(frozen=True, slots=True, kw_only=True)
class _SleeveLength(ByLength):
    """The overarm longer, straight on, or shorter, and the sleeve hem moved along with it."""

    measure: ClassVar[str] = "a length"
    edges: ClassVar[tuple[str, ...]] = (SLEEVE_HEM, SIDE)

    def changed(self, shape: Shape) -> Shape:
        """The piece with that sleeve; PatternError where it would be cut off at the body."""
        return Sleeve.of(shape).lengthened(self.signed_in)


@dataclass(frozen=True, slots=True, kw_only=True)
class LengthenSleeve(_SleeveLength):
    """`lengthen sleeve: L`: the sleeve longer by `by` along the overarm."""

    opens: ClassVar[str] = "lengthen sleeve"
    keeps: ClassVar[str] = "the slant of the sleeve hem; overarm and underarm run on in their own directions"
    sign: ClassVar[int] = 1
    outcome: ClassVar[str] = "a sleeve {} longer"


@dataclass(frozen=True, slots=True, kw_only=True)
class ShortenSleeve(_SleeveLength):
    """`shorten sleeve: L`: the sleeve shorter by `by` along the overarm."""

    opens: ClassVar[str] = "shorten sleeve"
    keeps: ClassVar[str] = "the slant of the sleeve hem; overarm and underarm as they were up to it"
    sign: ClassVar[int] = -1
    outcome: ClassVar[str] = "a sleeve {} shorter"


@dataclass(frozen=True, slots=True, kw_only=True)
class HemBand(OfPieces):
    """`hem band: L`: a band or lace, of which `depth` will show, joined on at the hem.

    The piece is shortened by that and given an allowance for the seam, so that the finished length is what it
    was. The band itself is a strip: its depth and the allowance wide, once round the hem and 1 in long.
    """

    opens: ClassVar[str] = "hem band"
    keeps: ClassVar[str] = "the finished length; the hem's form"
    edges: ClassVar[tuple[str, ...]] = (HEM,)
    depth: Length = field(metadata=OPENING)
    allowance: Length | None = None

    def check(self) -> None:
        """PatternError unless both lengths are more than nothing."""
        check_positive(self.depth, "a depth")
        check_positive(self.allowance, "an allowance")

    @property
    def what(self) -> str:
        """The change in a few words with an article, for a refusal."""
        return f"a hem band of {self.depth.words}"

    @property
    def allowance_in(self) -> float:
        """The allowance of the seam that joins it on, in inches."""
        return BAND_SEAM_IN if self.allowance is None else self.allowance.inches

    def changed(self, shape: Shape) -> Shape:
        """The piece shortened for the band; PatternError where nothing would be left."""
        return banded(shape, self.depth.inches, self.allowance_in)

    def apply(self, draft: Draft) -> Draft:
        """The draft with the pieces shortened, and the band; PatternError where nothing would be left."""
        edges = tuple(EdgeRef(piece=name, edge=HEM) for name in self.pieces)
        for ref in edges:
            draft.check_bare(ref)
        draft = OfPieces.apply(self, draft)
        strip = Strip(
            name="hem band",
            edges=edges,
            width_in=self.depth.inches + self.allowance_in,
            joining_in=JOINING_IN,
        )
        return replace(draft, unmeasured=(*draft.unmeasured, strip))
