"""The side of the table is the same from station to station, for every kind of station that turns its words."""

import pkgutil
from dataclasses import fields, is_dataclass, replace
from importlib import import_module
from inspect import getmembers, isclass

import pytest

import projector.stations
from calibration.hand.by_hand import HandAlignment
from projector.actions import ChangeSide
from projector.person import FAR, SIDES
from projector.standing import Standing
from projector.stations.align import AlignStation
from tests.unit.projector.samples import SCREEN_PX

ALIGN = AlignStation.begun(HandAlignment.over_mat(SCREEN_PX, 1.0, (36.0, 24.0)), "table")


def stations() -> list[type]:
    """Every class that the session may show."""
    modules = [
        import_module(f"{projector.stations.__name__}.{module.name}")
        for module in pkgutil.iter_modules(projector.stations.__path__)
    ]
    return [
        found
        for module in modules
        for _, found in getmembers(module, isclass)
        if found.__module__ == module.__name__ and hasattr(found, "scene") and is_dataclass(found)
    ]


def unexpected(side: int) -> None:
    """Nobody has walked."""
    pytest.fail(f"told of side {side}")


@pytest.mark.parametrize("station", stations(), ids=lambda found: found.__name__)
def test_every_station_has_the_side(station: type) -> None:
    assert "side" in {field.name for field in fields(station)}


def test_a_side_that_was_turned_to_is_told_once_and_is_the_next_stations() -> None:
    told: list[int] = []
    standing = Standing(told=told.append)
    standing.see(ALIGN.after(ChangeSide()))
    standing.see(ALIGN.after(ChangeSide()))
    assert told == [FAR]
    assert standing.turned(ALIGN).upside_down


def test_words_that_cannot_be_turned_to_a_narrow_side_stand_upright_and_do_not_lose_it() -> None:
    standing = Standing(SIDES - 1, unexpected)
    shown = standing.turned(ALIGN)
    standing.see(shown)
    assert not shown.upside_down
    assert replace(shown, side=0).after(ChangeSide()).side == shown.after(ChangeSide()).side == FAR


def test_what_has_no_side_is_as_it_was() -> None:
    standing = Standing(1, unexpected)
    standing.see("a station without words")
    assert standing.turned("a station without words") == "a station without words"
