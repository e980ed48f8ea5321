"""What a person can mend: the errors that end a command with one sentence and no traceback."""

from calibration.errors import AlignmentError
from patterns.errors import PatternError


class ProjectorError(Exception):
    """About the screen, a window or what was asked of them: what was found, what was needed, what to do."""


class LightLostError(ProjectorError):
    """The projector's display moved, changed or went away: nothing more may be lit in this window."""


MENDABLE = (AlignmentError, PatternError, ProjectorError)
