"""What a person can ask for, whichever key, pedal or mouse it came from."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Move:
    """One step to the right (+1) or left (-1), or away from the person (+1) or nearer (-1)."""

    right: int = 0
    away: int = 0
    other_step: bool = False  # the step size that is not in force


@dataclass(frozen=True, slots=True, kw_only=True)
class Turn:
    """One step anticlockwise (+1) or clockwise (-1), seen from above."""

    anticlockwise: int
    other_step: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Grab:
    """The mouse button goes down: the drag that follows is one thing to undo."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Drag:
    """The mouse moved with its button down; projector pixels."""

    from_px: tuple[float, float]
    to_px: tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Aim:
    """The pointer is there now, whether a button is down or not; projector pixels."""

    at_px: tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeOffset:
    """The cross at the next usual place beside the pointer."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeStep:
    """From coarse steps to fine ones, or back."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Mirror:
    """Turn the piece over."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Open:
    """From half on the fold to opened full, or back."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenAll:
    """Every piece on the fold opened full, for a single layer of cloth; or all of them half again."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeLayers:
    """All copies of the piece by halves through two layers of cloth, or one by one again."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Home:
    """Back to the middle of the light, upright."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Flip:
    """So many pieces on."""

    by: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Show:
    """The piece with this number, counted from 1."""

    number: int


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeSide:
    """The person walked round the table by a quarter turn: words and steps turn towards them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Accept:
    """The cross lies on the mark, or what was typed is right."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SetCurve:
    """A point of a curve is where the cross is."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TakeUp:
    """Take up the cross that disagrees with the others, or the point nearest to the cross, to place it again."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PutDown:
    """Leave what is in hand where it is."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Insert:
    """One point more, between those that are there."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Remove:
    """One point fewer."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TurnPoint:
    """From a corner to a curve point, or back."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Smooth:
    """Run the edge through few points."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Straighten:
    """Run the edge straight from end to end."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MoveEdge:
    """Move the edge out or in, by a length that is asked for."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NameEdge:
    """Ask for the edge's name."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """Another of the usual answers in place of what was typed."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Cancel:
    """No answer to what is asked for."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Finish:
    """Good enough: keep the result and leave."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Type:
    """Write this sign where words or numbers are asked for."""

    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeTool:
    """The arrow keys work on something else."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeVersion:
    """Draft another version of the pattern: first all changes, then each that is named."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeSeams:
    """Another finish of the seams, and the allowances that go with it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeHems:
    """Hems folded once, or twice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AddChange:
    """Ask for a change more, after the one that is chosen."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rewrite:
    """Ask for all that the chosen change says."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SwitchChange:
    """The chosen change off, or on again."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Undo:
    """Take the last change back."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Redo:
    """Make the change again that was taken back last."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Next:
    """On to the next thing to do, in order; what is to be done here is done."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Back:
    """The thing before, as it stands; nothing is taken back."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stand:
    """Back to where the work stands."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Untick:
    """What was ticked off last is not done after all."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeLook:
    """The next of the looks: for another kind of cloth."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeLine:
    """So many steps wider (+1) or narrower (-1)."""

    by: int


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeText:
    """So many steps larger (+1) or smaller (-1)."""

    by: int


@dataclass(frozen=True, slots=True, kw_only=True)
class ShowRepeats:
    """Repeats of the cut line beside it, or none."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ShowGrid:
    """A grid of inches, of centimetres, or none."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OtherSide:
    """To the other side of a line of the cloth, turned about and not turned over."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeEdge:
    """Marks lie on another edge of the cloth: the fold, the selvedge, a thread."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LayOn:
    """The piece that is lit laid by the marks that are set."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Forget:
    """Marks forgotten, to be set anew."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LayGauge:
    """The seam gauge laid at the cross, or lifted."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CutInReaches:
    """A piece larger than the light cut in reaches, or no longer so."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FindCloth:
    """The cloth found again by its two crosses."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Freeze:
    """Hold the light still, or let it move again."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Blank:
    """Light off, or on again."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Help:
    """The keys, on the table."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Quit:
    """Leave; what was placed is kept."""


Action = (
    Move | Turn | Grab | Drag | Aim | ChangeOffset | ChangeStep | Mirror | Open | Home | Flip | Show | ChangeSide
    | Accept | SetCurve | TakeUp | PutDown | Insert | Remove | TurnPoint | Smooth | Straighten | MoveEdge | NameEdge
    | ChangeTool | ChangeVersion | AddChange | Rewrite | SwitchChange | Offer | Cancel | Finish | Type | ChangeSeams
    | ChangeHems | Undo | Redo | Freeze | Blank | ChangeLook | ChangeLine | ChangeText | ShowRepeats | ShowGrid | Help
    | Quit | Next | Back | Stand | Untick | OpenAll | ChangeLayers | OtherSide | ChangeEdge | LayOn | Forget
    | LayGauge | CutInReaches | FindCloth
)  # fmt: skip
