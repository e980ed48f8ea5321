"""The changes of length: of the body, of the sleeve, and by a band at the hem."""

from dataclasses import dataclass, field, replace
from typing import ClassVar, Final

from patterns.changes.change import OPENING, OfPieces, check_positive
from patterns.changes.draft import Draft, EdgeRef, Strip
from patterns.changes.facings import JOINING_IN
from patterns.hems import HEM, banded, hem_lowered
from patterns.measures import Length
from patterns.shape import Shape
from patterns.sleeves import SIDE, SLEEVE_HEM, Sleeve
from patterns.spreading import spread

BAND_SEAM_IN: Final = (
    1 / 2
)  # allowance of the seam that joins a band on, as of a plain seam (common practice)


@dataclass(frozen=True, slots=True, kw_only=True)
class Lengthen(OfPieces):
    """`lengthen: L`: the body longer by `by` at its hem, or spread by it `at` a level.

    At the hem, that is moved straight down and the edges beside it run on in their own directions. With `at`, a
    distance below the high shoulder point, all below that level is moved down and the sides are re-joined,
    straight ones straight and curved ones smoothly.
    """

    opens: ClassVar[str] = "lengthen"
    keeps: ClassVar[str] = (
        "the form of the hem, square to the fold as it was; all above it or above the level"
    )
    edges: ClassVar[tuple[str, ...]] = (HEM,)
    by: Length = field(metadata=OPENING)
    at: Length | None = None

    def __post_init__(self) -> None:
        check_positive(self.by, "a length")
        check_positive(self.at, "a level below the high shoulder point")

    @property
    def what(self) -> str:
        """The change in a few words with an article, for a refusal."""
        return f"a body {self.by.words} longer"

    def changed(self, shape: Shape) -> Shape:
        """The piece lengthened; PatternError where the level does not run once through it."""
        by = self.by.inches
        return hem_lowered(shape, by) if self.at is None else spread(shape, self.at.inches, by)


@dataclass(frozen=True, slots=True, kw_only=True)
class Shorten(OfPieces):
    """`shorten: L`: the body shorter by `by` at its hem, or with that folded away `at` a level.

    At the hem, that is moved straight up and the edges beside it are cut off there. With `at`, a distance below
    the high shoulder point, all below that level is moved up and the sides are re-joined.
    """

    opens: ClassVar[str] = "shorten"
    keeps: ClassVar[str] = (
        "the form of the hem, square to the fold as it was; all above it or above the level"
    )
    edges: ClassVar[tuple[str, ...]] = (HEM,)
    by: Length = field(metadata=OPENING)
    at: Length | None = None

    def __post_init__(self) -> None:
        check_positive(self.by, "a length")
        check_positive(self.at, "a level below the high shoulder point")

    @property
    def what(self) -> str:
        """The change in a few words with an article, for a refusal."""
        return f"a body {self.by.words} shorter"

    def changed(self, shape: Shape) -> Shape:
        """The piece shortened; PatternError where nothing would be left or the level does not run through it."""
        by = -self.by.inches
        return hem_lowered(shape, by) if self.at is None else spread(shape, self.at.inches, by)


@dataclass(frozen=True, slots=True, kw_only=True)
class LengthenSleeve(OfPieces):
    """`lengthen sleeve: L`: the overarm longer by `by`, straight on, and the sleeve hem moved along with it."""

    opens: ClassVar[str] = "lengthen sleeve"
    keeps: ClassVar[str] = "the slant of the sleeve hem; overarm and underarm run on in their own directions"
    edges: ClassVar[tuple[str, ...]] = (SLEEVE_HEM, SIDE)
    by: Length = field(metadata=OPENING)

    def __post_init__(self) -> None:
        check_positive(self.by, "a length")

    @property
    def what(self) -> str:
        """The change in a few words with an article, for a refusal."""
        return f"a sleeve {self.by.words} longer"

    def changed(self, shape: Shape) -> Shape:
        """The piece with the sleeve longer; PatternError where its hem would not meet the side."""
        return Sleeve.of(shape).lengthened(self.by.inches)


@dataclass(frozen=True, slots=True, kw_only=True)
class ShortenSleeve(OfPieces):
    """`shorten sleeve: L`: the overarm shorter by `by`, and the sleeve hem moved along with it."""

    opens: ClassVar[str] = "shorten sleeve"
    keeps: ClassVar[str] = "the slant of the sleeve hem; overarm and underarm as they were up to it"
    edges: ClassVar[tuple[str, ...]] = (SLEEVE_HEM, SIDE)
    by: Length = field(metadata=OPENING)

    def __post_init__(self) -> None:
        check_positive(self.by, "a length")

    @property
    def what(self) -> str:
        """The change in a few words with an article, for a refusal."""
        return f"a sleeve {self.by.words} shorter"

    def changed(self, shape: Shape) -> Shape:
        """The piece with the sleeve shorter; PatternError where it would be cut off at the body."""
        return Sleeve.of(shape).lengthened(-self.by.inches)


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

    def __post_init__(self) -> None:
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
        draft = OfPieces.apply(self, draft)
        strip = Strip(
            name="hem band",
            edges=tuple(EdgeRef(piece=name, edge=HEM) for name in self.pieces),
            width_in=self.depth.inches + self.allowance_in,
            joining_in=JOINING_IN,
        )
        return replace(draft, unmeasured=(*draft.unmeasured, strip))
