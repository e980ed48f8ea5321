"""The demo as a person runs it: headless, in an empty folder, nothing but files and numbers."""

import json
import os
import subprocess
import sys
from pathlib import Path

from calibration import load_alignment
from patterns import read_pattern

EDGES = ["neck", "overarm", "sleeve hem", "side", "hem", "centre front"]


def test_the_whole_path_runs_and_measures_itself(tmp_path: Path) -> None:
    out = tmp_path / "out"
    no_display = {
        name: value for name, value in os.environ.items() if name not in ("DISPLAY", "WAYLAND_DISPLAY")
    }
    done = subprocess.run(
        [sys.executable, "-m", "projector", "demo", "--out", str(out), "--json"],
        env=no_display,
        capture_output=True,
        text=True,
        timeout=300,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    result = json.loads(done.stdout)
    assert result["table"]["rms_in"] < 0.06
    assert result["table"]["p95_in"] <= result["claimed_p95_in"]
    assert list(result["cut_lines"]) == ["front", "back", "front facing", "back facing"]
    assert all(
        error["rms_in"] < 1 / 32 and error["most_in"] < 1 / 16 for error in result["cut_lines"].values()
    )
    trace = result["trace"]
    assert trace["mean_in"] < trace["expected_in"] < 1 / 64  # 0.4 mm
    assert trace["p95_in"] < 1.5 / 25.4
    assert [edge.name for edge in read_pattern(out / "traced.yaml").pieces[0].edges] == EDGES
    lay = result["lay"]
    assert lay["fold"] == "partial"
    assert lay["used_in"] + 2 <= lay["buy"] < lay["used_in"] + 2 + 4.5  # squared, then in eighths of a yard
    assert lay["remnant_in"][0] > 26  # beside the fold
    assert load_alignment(out / "table.yaml").size_checked
    pictures = {"targets.png", "photo.png", "alignment.png", "forecast.jpg", "front-above.jpg", "table.jpg"}
    pictures |= {"garment.jpg", "traced.jpg", "lay.svg", "lay.png", "lay-table.jpg"}
    assert {"sheets.pdf", "card.pdf", *pictures} <= {path.name for path in out.iterdir()}
    drawn = {path.stem for path in (out / "pieces").iterdir()}
    assert drawn == {"front", "back", "front-facing", "back-facing", "joined"}


def test_a_folder_that_cannot_be_made_is_named(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    done = subprocess.run(
        [sys.executable, "-m", "projector", "demo", "--out", str(tmp_path / "file" / "out")],
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )
    assert done.returncode == 1
    assert done.stderr.strip().endswith("name another with --out")
    assert "Traceback" not in done.stderr
