"""The pattern file that a traced piece goes into."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from patterns.cutting.finish import Finish
from patterns.files.editing import change_pattern
from patterns.files.reader import read_pattern
from patterns.files.writer import write_pattern
from patterns.pattern import Pattern
from patterns.piece import Piece
from projector.errors import ProjectorError


def unchanged(pattern: Pattern) -> Pattern:
    """The pattern itself."""
    return pattern


def pattern_without(path: Path, piece: str) -> Pattern | None:
    """The pattern of a file that exists, without the piece; None where there is no file.

    Raises ProjectorError if it has the piece.
    """
    if not path.exists():
        return None
    pattern = read_pattern(path)
    if has_piece(pattern, piece):
        raise ProjectorError(
            f"{path} has a piece {piece} already; trace into another file, or name this one with --piece; "
            "--again takes its outline anew"
        )
    return pattern


def pattern_with(path: Path, piece: str) -> Pattern:
    """The pattern of a file, with the piece; raises ProjectorError if it has none of that name."""
    pattern = read_pattern(path)
    piece_of(pattern, piece, path)
    return pattern


def piece_of(pattern: Pattern, piece: str, path: Path) -> Piece:
    """The piece so named of the pattern in a file; raises ProjectorError if there is none."""
    for one in pattern.pieces:
        if one.name == piece:
            return one
    names = ", ".join(one.name for one in pattern.pieces)
    raise ProjectorError(f"{path} has no piece {piece}; it has {names}: name one with --piece")


def write_piece(path: Path, piece: Piece, then: Callable[[Pattern], Pattern] = unchanged) -> None:
    """Put the piece into the file, in the place of the one of its name or after the last; or begin a file with it.

    `then` changes the pattern further. All else in the file stays as it is, comments too. Raises PatternError,
    with nothing written, where the pattern could not be cut from any more, or the file cannot be written.
    """
    if path.exists():
        change_pattern(path, lambda now: _cuttable(then(with_piece(now, piece, path))))
    else:
        write_pattern(path, _cuttable(then(with_piece(None, piece, path))))


def _cuttable(pattern: Pattern) -> Pattern:
    pattern.drafted()
    return pattern


def has_piece(pattern: Pattern, piece: str) -> bool:
    """Whether the pattern has a piece of that name."""
    return any(one.name == piece for one in pattern.pieces)


def with_piece(pattern: Pattern | None, piece: Piece, path: Path) -> Pattern:
    """The pattern with the piece in the place of the one of its name, or added; a new one, named after its file."""
    if pattern is not None:
        others = tuple(one if one.name != piece.name else piece for one in pattern.pieces)
        return replace(pattern, pieces=others if has_piece(pattern, piece.name) else (*others, piece))
    return Pattern(name=path.stem.replace("_", " "), finish=Finish(), pieces=(piece,))
