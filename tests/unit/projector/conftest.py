from pathlib import Path

import pytest

from tests.unit.projector.fake_photos import TakePhotos, take_photos


@pytest.fixture
def take(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> TakePhotos:
    """Photos in which `trace` finds what the test says."""
    return lambda found: take_photos(tmp_path, monkeypatch, found)
