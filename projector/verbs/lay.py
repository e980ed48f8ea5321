"""The verb `lay`: how to fold the cloth, where each piece lies on it, what to buy, what stays whole."""

import json
import sys
from argparse import Namespace
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType
from typing import Any, Final

from patterns import read_pattern
from patterns.cutting.drafted import DraftedPattern
from patterns.errors import PatternError
from patterns.laying.buying import Buying, left_to_lay_in
from patterns.laying.cloth import SELVEDGE_IN, Cloth, Flaw, Repeat, Shrinkage
from patterns.laying.folding import FOLD_WORDS, Fold
from patterns.laying.lay import GAP_IN, Lay, Terms
from patterns.laying.recipe import lay_recipe
from patterns.laying.report import cloth_lines
from patterns.laying.rules import violations
from patterns.planning.one_fold import Prefer
from patterns.planning.plan import Compared
from patterns.saying import Say, lengths_said_in
from projector.errors import ProjectorError
from projector.laying.lay_file import lay_path, read_lay, write_lay
from projector.laying.searching import Searched, Wanted, searched
from projector.pictures.lay_pictures import plan_of, write_lay_pictures
from projector.progress import on_terminal, quiet
from projector.usage.lay import BEST

FIRST_SEED: Final = 1


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Report:
    """All that is told of a lay."""

    drafted: DraftedPattern
    lay: Lay
    buying: Buying
    searched: Searched
    say: Say
    broken: tuple[str, ...]
    scarf_in: tuple[float, float] | None
    written: tuple[Path, ...]


def lay_of(arguments: Namespace) -> int:
    """Run the verb; the exit code."""
    drafted = read_pattern(arguments.pattern).drafted(arguments.version)
    found, say = _found(arguments, drafted)
    lay = chosen(found)
    report = _Report(
        drafted=drafted,
        lay=lay,
        buying=Buying.of(lay),
        searched=found,
        say=say,
        broken=tuple(str(one) for one in violations(lay)),
        scarf_in=arguments.scarf,
        written=tuple(_written(arguments, drafted, lay, say)),
    )
    if found.stopped:
        print("stopped: this is the best so far", file=sys.stderr)
    print(json.dumps(_result(report)) if arguments.json else "\n".join(_lines(report)))
    return 0


def _found(arguments: Namespace, drafted: DraftedPattern) -> tuple[Searched, Say]:
    """What is planned for a width; without one the lay that is kept, as it was moved by hand."""
    if arguments.width is not None:
        return planned(arguments, drafted), Say(arguments.width.own_unit)
    lay, unit = read_lay(lay_path(arguments.pattern), arguments.version, drafted)
    return Searched(compared=(Compared(fold=lay.folding.fold, lay=lay),)), Say(unit)


def planned(arguments: Namespace, drafted: DraftedPattern) -> Searched:
    """The folds that were asked for, searched as it was asked."""
    wanted, folds = asked(arguments, drafted)
    with lengths_said_in(wanted.say.unit), quiet() if arguments.json else on_terminal() as progress:
        return searched(wanted, folds, progress)


def asked(arguments: Namespace, drafted: DraftedPattern) -> tuple[Wanted, tuple[Fold, ...]]:
    """What is to be laid on what, and the folds to be tried."""
    folds = tuple(Fold) if arguments.fold in (None, BEST) else (Fold(arguments.fold),)
    return _wanted(arguments, drafted, Say(arguments.width.own_unit)), folds


def chosen(found: Searched) -> Lay:
    """The best lay; PatternError with the reasons where there is none."""
    if found.best is None:
        raise _none_fits(found)
    return found.best


def _wanted(arguments: Namespace, drafted: DraftedPattern, say: Say) -> Wanted:
    with lengths_said_in(say.unit):
        along, across = arguments.repeat or (None, None)
        shrinkage = Shrinkage(**arguments.shrink._asdict()) if arguments.shrink else Shrinkage()
        cloth = Cloth(
            bought_width_in=arguments.width.inches,
            selvedge_in=SELVEDGE_IN if arguments.selvedge is None else arguments.selvedge,
            length_in=None if arguments.length is None else left_to_lay_in(arguments.length, shrinkage),
            has_nap=arguments.nap,
            shrinkage=shrinkage,
            repeat=Repeat(along_in=along, across_in=across),
            flaws=tuple(Flaw(**flaw._asdict()) for flaw in arguments.flaw),
        )
        terms = Terms(
            gap_in=GAP_IN if arguments.gap is None else arguments.gap,
            crosswise_grain=arguments.crosswise,
            match_points=MappingProxyType(dict(_match_points(arguments, drafted))),
            sold_by=say.unit,
        )
    return Wanted(
        pattern=drafted,
        cloth=cloth,
        terms=terms,
        prefer=Prefer.REMNANT if arguments.remnant_first else Prefer.LENGTH,
        seed=FIRST_SEED if arguments.seed is None else arguments.seed,
        seconds=arguments.seconds,
        say=say,
    )


def _match_points(arguments: Namespace, drafted: DraftedPattern) -> Iterator[tuple[str, tuple[float, float]]]:
    for match in arguments.match:
        if match.piece not in drafted.pieces:
            raise ProjectorError(
                f'found no piece "{match.piece}" to match; the pattern has {", ".join(drafted.pieces)}'
            )
        yield match.piece, (match.x_in, match.y_in)


def _none_fits(found: Searched) -> PatternError:
    """The reasons why no fold serves; of one that was asked for, its own."""
    reasons = {str(one.why_not): one for one in found.compared}
    if len(reasons) == 1:
        return PatternError(next(iter(reasons)))
    listed = (f"{one.fold.value}: {reason}" for reason, one in reasons.items())
    return PatternError("\n".join(("the pieces cannot be laid on this cloth in any fold", *listed)))


def _written(arguments: Namespace, drafted: DraftedPattern, lay: Lay, say: Say) -> Iterator[Path]:
    if arguments.out is not None:
        plan = plan_of(drafted, arguments.version, lay, say, arguments.scarf)
        yield from write_lay_pictures(arguments.out, plan, arguments.scale)
    if arguments.keep:
        path = lay_path(arguments.pattern)
        write_lay(path, arguments.version, lay, say.unit)
        yield path


def _lines(report: _Report) -> Iterator[str]:
    lay, say = report.lay, report.say
    if len(report.searched.compared) > 1:
        yield from _table(report.searched.compared, say)
        yield ""
    yield f"{report.drafted.name}, {FOLD_WORDS[lay.folding.fold]}"
    yield from cloth_lines(report.drafted, lay, report.buying, say, report.scarf_in)
    for stage in lay_recipe(lay, say):
        yield "Fold"
        yield from (f"{number:3}  {step}" for number, step in enumerate(stage.fold, start=1))
        yield "Cut, in this order"
        yield from (f"{number:3}  {step}" for number, step in enumerate(stage.cut, start=stage.first))
    yield from (f"look: {broken}" for broken in report.broken)
    yield from (f"written: {path}" for path in report.written)


def _table(compared: tuple[Compared, ...], say: Say) -> Iterator[str]:
    """Length, waste and remnant of each fold, the best first; why the others give none."""
    at_hand = any(one.lay is not None and one.lay.cloth.length_in is not None for one in compared)
    yield f"{'fold':<11} {'used':>10} {'takes' if at_hand else 'to buy':>10} {'waste':>6}  stays whole"
    for one in compared:
        if one.lay is None:
            yield f"{one.fold.value:<11} no: {one.why_not}"
            continue
        buying = Buying.of(one.lay)
        remnant = buying.remnant
        whole = f"{say(remnant.width_in)} x {say(remnant.length_in)}" if remnant.area_in2 > 0 else "nothing"
        used = say(one.lay.used_in)
        yield f"{one.fold.value:<11} {used:>10} {buying.words:>10} {100 * buying.wasted:>4.0f} %  {whole}"


def _result(report: _Report) -> Mapping[str, Any]:
    lay, buying, folding = report.lay, report.buying, report.lay.folding
    return {
        "fold": folding.fold.value,
        **_figures(lay, buying),
        "buy_words": buying.words,
        "used": buying.used,
        "placed": [
            {
                "piece": one.piece.name,
                "layer": one.layer.value,
                "outline": one.outline_in.tolist(),
                "on_fold": one.on_fold,
                "opened": one.placement.opened,
                "mirrored": one.placement.mirrored,
                "turn_deg": one.placement.turn_deg,
                "stage": one.stage,
            }
            for one in lay.placed
        ],
        "cloth_in": {"width": lay.cloth.width_in, "selvedge": lay.cloth.selvedge_in},
        "turned_over_in": {"left": folding.left_in, "right": folding.right_in, "far": folding.far_in},
        "recipe": [{"fold": list(one.fold), "cut": list(one.cut)} for one in lay_recipe(lay, report.say)],
        "violations": list(report.broken),
        "compared": [_compared(one) for one in report.searched.compared],
        "stopped": report.searched.stopped,
        "written": [str(path) for path in report.written],
    }


def _figures(lay: Lay, buying: Buying) -> Mapping[str, Any]:
    return {
        "used_in": lay.used_in,
        "buy": buying.length_in,
        "waste": buying.wasted,
        "remnant_in": [buying.remnant.width_in, buying.remnant.length_in],
    }


def _compared(one: Compared) -> Mapping[str, Any]:
    if one.lay is None:
        return {"fold": one.fold.value, "why_not": str(one.why_not)}
    return {"fold": one.fold.value, **_figures(one.lay, Buying.of(one.lay))}
