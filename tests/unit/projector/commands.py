"""The command run by tests, in this process or as people run it."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from calibration.table.saved import Alignment
from calibration.table.setups import TableFile
from calibration.table.table_file import save_table
from projector.command_line import main
from tests.unit.projector.samples import a_setup


def ours(*arguments: str | Path, env: dict[str, str] | None = None) -> "subprocess.CompletedProcess[str]":
    return subprocess.run(
        [sys.executable, "-m", "projector", *map(str, arguments)],
        capture_output=True,
        text=True,
        timeout=60,
        env={**os.environ, **(env or {})},
        check=False,
    )


def a_table(folder: Path, alignment: Alignment | None = None) -> Path:
    path = folder / "table.yaml"
    save_table(path, TableFile(setups=(a_setup(alignment),)))
    return path


def result(capsys: pytest.CaptureFixture[str], *arguments: str | Path) -> tuple[int, str, str]:
    code = main([str(argument) for argument in arguments])
    said = capsys.readouterr()
    return code, said.out, said.err


def check_refusal(
    capsys: pytest.CaptureFixture[str], folder: Path, arguments: tuple[str | Path, ...], sentence: str
) -> None:
    """The command ends with the one sentence on standard error, and nothing in the folder has changed."""
    before = {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()}
    code, out, err = result(capsys, *arguments)
    assert (code, out) == (1, "")
    assert err.startswith(f"chalkbeam {arguments[0]}: ")
    assert sentence in err
    assert "Traceback" not in err
    assert {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()} == before
