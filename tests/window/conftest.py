"""One virtual display for all window tests, and a table file for it."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from calibration.table.saved import Alignment
from calibration.table.setups import TableFile
from calibration.table.table_file import save_table
from tests.unit.projector.samples import a_map, a_setup, an_alignment
from tests.window.desk import Desk, a_desk


@pytest.fixture(scope="session")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    with a_desk(tmp_path_factory.mktemp("display")) as one:
        yield one


@pytest.fixture
def alignment() -> Alignment:
    return an_alignment(a_map(sigma=0.2))


@pytest.fixture
def table(tmp_path: Path, alignment: Alignment) -> Path:
    path = tmp_path / "table.yaml"
    save_table(path, TableFile(setups=(a_setup(alignment),)))
    return path
