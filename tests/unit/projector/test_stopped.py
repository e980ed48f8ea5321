"""Stopped while it is still loading, the command says so and shows no traceback."""

import sys
from collections.abc import Sequence
from importlib.abc import MetaPathFinder
from importlib.machinery import ModuleSpec
from types import ModuleType

import pytest

from projector.__main__ import run


class Stops(MetaPathFinder):
    """Ctrl-C at the very moment when a module is being imported."""

    def __init__(self, module: str) -> None:
        self.module = module

    def find_spec(
        self, fullname: str, path: Sequence[str] | None, target: ModuleType | None = None
    ) -> ModuleSpec | None:
        if fullname == self.module:
            raise KeyboardInterrupt
        return None


@pytest.mark.parametrize("module", ["projector.command_line", "projector.errors", "projector.verbs.tape"])
def test_a_stop_while_loading_is_said(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], module: str
) -> None:
    monkeypatch.delitem(sys.modules, module, raising=False)
    monkeypatch.setattr(sys, "meta_path", [Stops(module), *sys.meta_path])
    monkeypatch.setattr(sys, "argv", ["chalkbeam", "tape", "none.yaml"])
    assert run() == 1
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err in ("chalkbeam: stopped\n", "chalkbeam tape: stopped\n")
