"""What several tests of the app begin with: photos as they are wished, folders in which the job has come so far."""

from dataclasses import replace
from pathlib import Path

import pytest

from calibration.table.setups import TableFile
from calibration.table.table_file import save_table
from patterns import example
from projector.job.left import Left
from tests.unit.projector.fake_photos import TakePhotos, take_photos
from tests.unit.projector.samples import a_map, a_setup, an_alignment


@pytest.fixture
def take(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> TakePhotos:
    """Photos in which `trace` finds what the test says."""
    return lambda found: take_photos(tmp_path, monkeypatch, found)


@pytest.fixture
def left(tmp_path: Path) -> Left:
    return Left(folder=str(tmp_path))


@pytest.fixture
def aligned(left: Left) -> Left:
    save_table(left.table_path, TableFile(setups=(a_setup(an_alignment(a_map())),)))
    return left


@pytest.fixture
def drafting(aligned: Left) -> Left:
    (Path(aligned.folder) / "overtop.yaml").write_bytes(example("harbour overtop").read_bytes())
    return replace(aligned, pattern="overtop.yaml")
