"""Open photographs that tests outside are held against, fetched once into pytest's cache."""

import shutil
import subprocess
import tempfile
from pathlib import Path
from zlib import crc32

import pytest

_PACKAGE = "opencv-doc"  # Debian's; photographs under Apache-2.0 and BSD licences
_DOC = Path("usr/share/doc/opencv-doc")
_WANTED = (
    "examples/data/left[01]*.jpg",
    "examples/data/right[01]*.jpg",
    "opencv4/html/singlemarkersoriginal.jpg",
    "opencv4/html/choriginal.jpg",
    "opencv4/html/gboriginal.png",
    "examples/aruco/tutorial_dict.yml",
    "examples/data/stuff.jpg",
)


@pytest.fixture(scope="session")
def opencv_pictures(pytestconfig: pytest.Config) -> Path:
    """A folder with OpenCV's sample photographs, flat; fails where they are neither installed nor to be had."""
    assert pytestconfig.cache is not None
    # another list of pictures is another folder: what an older run kept may lack some
    kept = pytestconfig.cache.mkdir(_PACKAGE) / f"pictures-{crc32(repr(_WANTED).encode()):08x}"
    if not kept.is_dir():
        with tempfile.TemporaryDirectory(dir=kept.parent) as work:
            root = Path("/") if _has_all(Path("/") / _DOC) else _unpacked(Path(work))
            flat = Path(work) / "flat"
            flat.mkdir()
            for pattern in _WANTED:
                for picture in (root / _DOC).glob(pattern):
                    shutil.copy(picture, flat)
            # two test processes may have come here at once: the first wins
            if not kept.is_dir():
                flat.rename(kept)
    return kept


def _has_all(folder: Path) -> bool:
    return all(any(folder.glob(pattern)) for pattern in _WANTED)


def _unpacked(work: Path) -> Path:
    _run(["apt-get", "download", _PACKAGE], work)
    (archive,) = work.glob(f"{_PACKAGE}*.deb")
    _run(["dpkg-deb", "-x", archive.name, "root"], work)
    if not _has_all(work / "root" / _DOC):
        pytest.fail(
            f"the package {_PACKAGE} came without the photographs {', '.join(_WANTED)}", pytrace=False
        )
    return work / "root"


def _run(command: list[str], folder: Path) -> None:
    try:
        subprocess.run(command, cwd=folder, check=True, capture_output=True, text=True, timeout=300)
    except (OSError, subprocess.SubprocessError) as error:
        said = getattr(error, "stderr", None) or str(error)
        pytest.fail(
            f"the real photographs of Debian's {_PACKAGE} are needed and `{' '.join(command)}` failed: "
            f"{said.strip()}; run apt-get update, or install {_PACKAGE}, and test again",
            pytrace=False,
        )
