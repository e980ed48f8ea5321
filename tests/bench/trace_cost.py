"""What tracing a 12-megapixel photo costs, in a process of its own, beside reading and blurring that photo."""

import json
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import Final

import cv2

from tests.bench.row import Row
from tests.whole.garment_scenes import KINDS, seen

ROUNDS: Final = 3
GOAL: Final = (3.0, 1.0)  # seconds, gigabytes

_EDGES: Final = "neck,overarm,sleeve hem,side,hem"
# VmHWM, since ru_maxrss has the parent's memory in it
_MEASURED: Final = """
import json, sys
from time import perf_counter, process_time
from pathlib import Path
{imports}
photo, out, edges = sys.argv[1:]
began, began_cpu = perf_counter(), process_time()
{work}
seconds, cpu = perf_counter() - began, process_time() - began_cpu
(peak,) = [line.split()[1] for line in open("/proc/self/status") if line.startswith("VmHWM")]
print(json.dumps([seconds, cpu, int(peak) / 2**20]))
"""
_PLAIN: Final = _MEASURED.format(
    imports="import cv2", work="cv2.GaussianBlur(cv2.imread(photo), (0, 0), 2.0)"
)
_OURS: Final = _MEASURED.format(
    imports="""
from calibration.sheets.sheet import PAPERS
from calibration.garment.silhouette import find_silhouette, read_colour_photo
from patterns.tracing.outline import half_piece
from patterns.pattern import Pattern
from patterns.files.writer import write_pattern""",
    work="""
found = find_silhouette(read_colour_photo(Path(photo)), PAPERS["letter"])
traced = half_piece(found.contour_in, noise_in=found.noise_in, names=edges.split(","))
write_pattern(Path(out), Pattern(name="traced", pieces=(traced.piece,)))""",
)


def cost() -> list[Row]:
    """A photo of 12 megapixels becomes a pattern file, a process of its own: time, and memory at its most"""
    with tempfile.TemporaryDirectory() as folder:
        photo = Path(folder) / "photo.jpg"
        one = seen(110, "phone", KINDS["light"], 4)
        cv2.imwrite(str(photo), one.photo[..., ::-1], [cv2.IMWRITE_JPEG_QUALITY, 95])
        ours, plain = (_fastest(source, photo) for source in (_OURS, _PLAIN))
    return [
        (
            "time",
            f"{ours[0]:.2f} s",
            f"goal {GOAL[0]} s; CPU {ours[1]:.2f} s; {ours[0] / plain[0]:.1f} times read and blur",
        ),
        ("memory", f"{ours[2]:.2f} GB", f"goal {GOAL[1]} GB; {ours[2] / plain[2]:.1f} times read and blur"),
    ]


def _fastest(source: str, photo: Path) -> tuple[float, float, float]:
    """Seconds, CPU seconds and gigabytes of the fastest of some runs."""
    runs = []
    for n in range(ROUNDS):
        out = photo.with_name(f"{len(source)}-{n}.yaml")
        done = subprocess.run(
            [sys.executable, "-c", source, str(photo), str(out), _EDGES],
            check=True, capture_output=True, text=True,
        )  # fmt: skip
        runs.append(tuple(json.loads(done.stdout.splitlines()[-1])))
    seconds, cpu, memory = min(runs)
    return seconds, cpu, memory
