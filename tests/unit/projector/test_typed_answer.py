"""What is answered by typing: an offer is taken, mended or typed over."""

from projector.actions import Offer, Type, Undo
from projector.tracing.bindings import NAMING
from projector.words.typed_answer import TypedAnswer

ASKED = TypedAnswer(asks="which piece?", bindings=NAMING, offers=("front", "back")).offered()


def typed(answer: TypedAnswer, text: str) -> TypedAnswer:
    for sign in text:
        answer = answer.after(Type(text=sign))
    return answer


def test_what_is_typed_takes_the_place_of_what_was_offered() -> None:
    assert ASKED.words == "which piece? front_"
    assert typed(ASKED, "back yoke").text == "back yoke"


def test_an_offer_is_mended_by_erasing() -> None:
    assert typed(ASKED.after(Undo()), "t band").text == "front band"


def test_the_next_offer_follows_whatever_stands_there() -> None:
    assert ASKED.after(Offer()).text == "back"
    assert typed(ASKED, "yoke").after(Offer()).text == "front"
