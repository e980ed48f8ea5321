"""The job's page for tests: what a folder has, and a step opened by answers."""

from projector.actions import Accept, Type
from projector.job.found import Found
from projector.job.lay_questions import BEST, NO, TO_BUY
from projector.job.left import Left
from projector.job.steps import number_of
from projector.stations.job import JobStation

SCREEN_PX = (1920, 1080)
LIKE_SHOWN = (TO_BUY, BEST, NO, NO)


def found(left: Left) -> Found:
    return Found.of(left, SCREEN_PX)


def answered(station: JobStation, answer: str) -> JobStation:
    """After one answer, typed over what is offered."""
    for sign in answer:
        station = station.after(Type(text=sign))
    return station.after(Accept())


def opened(left: Left, name: str, *answers: str) -> list[str]:
    """The command that the step is, once it was answered: with what is offered where nothing else is given."""
    station = JobStation.begun(found(left), SCREEN_PX, number_of(name)).opened()
    for answer in answers:
        station = answered(station, answer)
    while station.question is not None:
        station = station.after(Accept())
    assert station.opens is not None, station.notice
    return list(station.opens)
