"""The command as people and scripts run it: help that costs nothing, and mistakes of usage."""

import subprocess
import sys
import time

import pytest

from projector.command_line import VERBS, _named, main, parsed
from projector.usage.check import MODES, RULER_TEST

CHECK = ("check", "--table", "t.yaml")


@pytest.mark.parametrize("verb", VERBS)
def test_every_verb_has_help_with_an_example(verb: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        main([verb, "--help"])
    assert ended.value.code == 0
    said = capsys.readouterr().out
    assert f"example:\n  chalkbeam {verb}" in said


def test_help_needs_no_library() -> None:
    script = (
        "import sys\nfrom projector.command_line import main\n"
        "try:\n    main(['--help'])\nexcept SystemExit:\n    pass\n"
        "heavy = ('numpy', 'cv2', 'pygame', 'scipy', 'yaml', 'shapely')\n"
        "print([name for name in heavy if name in sys.modules])"
    )
    said = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, timeout=60, check=True
    )
    assert said.stdout.splitlines()[-1] == "[]"


def test_help_starts_about_as_fast_as_python() -> None:
    """The bench measures the tenth of a second; here the machine may be busy, so Python is timed too."""
    python: list[float] = []
    command: list[float] = []
    for _ in range(6):
        for times, arguments in ((python, ["-c", "pass"]), (command, ["-m", "projector", "--help"])):
            start = time.perf_counter()
            subprocess.run([sys.executable, *arguments], capture_output=True, timeout=60, check=True)
            times.append(time.perf_counter() - start)
    assert min(command) < max(0.1, 6 * min(python))


def test_nothing_typed_opens_the_whole_job_as_open_does() -> None:
    (alone, typed), (named, by_name) = parsed([]), parsed(["open"])
    assert alone is named is VERBS["open"]
    assert typed == by_name


@pytest.mark.parametrize(
    ("arguments", "complaint"),
    [
        (("sew",), "invalid choice: 'sew'"),
        (("cut", "p.yaml"), "--table"),
        (("cut", "p.yaml", "--table", "t", "--window", "wide"), '"wide" is not a size in pixels'),
        (("cut", "p.yaml", "--table", "t", "--json"), "--json goes with --frame"),
        (("cut", "p.yaml", "--table", "t", "--display", "-1"), "displays are numbered from 0"),
        (("cut", "p.yaml", "--table", "t", "--display", "1", "--window", "800x600"), "not allowed with"),
        (("sheet", "--out", "s.pdf", "--count", "8"), "--count: found 8; there are 1 to 7 sheets"),
        (("sheet", "--out", "s.pdf", "--paper", "legal"), "invalid choice: 'legal'"),
        (("align", "--targets", "t.png"), "--screen is needed"),
        (("align", "--photo", "p.jpg", "--screen", "1920x1080"), "--table is needed"),
        (
            ("align", "--by-hand", "--table", "t", "--mat-pitch", "1in"),
            "--mat-pitch and --mat-size go together",
        ),
        (("align", "--by-hand", "--table", "t", "--tape", "1-2"), "is not a measured distance"),
        (("align", "--photo", "p", "--printed-ruler", "8 ells"), "a length in inches, cm or mm"),
        (("align", "--photo", "p", "--camera", "0"), "not allowed with argument"),
        (("align", "--camera", "-1", "--table", "t"), "they are numbered from 0"),
        (("align", "--camera", "0"), "--table is needed"),
        (
            ("align", "--targets", "t.png", "--screen", "1920x1080", "--picture", "p.png"),
            "--picture shows an alignment, and --targets makes none",
        ),
        (("check",), "--table"),
        ((*CHECK, "--taped", "36", "24", "43"), "expected 4 arguments"),
        ((*CHECK, "--taped", "36", "24", "43", "0"), '"0" is no length to measure by'),
        ((*CHECK, "--photo", "p", "--camera", "0"), "not allowed with argument"),
        ((*CHECK, "--restore", "--loop"), "not allowed with argument"),
        ((*CHECK, "--realign"), "--realign goes with --photo or --camera"),
        ((*CHECK, "--by-hand", "--realign"), "--realign goes with --photo or --camera"),
        ((*CHECK, "--loop", "--paper", "a4"), "--paper goes with --photo or --camera or --loop-frame or"),
        ((*CHECK, "--taped", "1", "1", "1", "1", "--sheets", "5"), "--sheets goes with --photo"),
        ((*CHECK, "--correct"), "--correct goes with --surface"),
        ((*CHECK, "--lens", "1,2,60"), "--lens goes with --surface"),
        ((*CHECK, "--surface", "1/4 in", "--lens", "1,2"), '"1,2" is not a place and a height'),
        ((*CHECK, "--surface", "1/4 in", "--lens", "1,2,0"), '"0" is no length to measure by'),
        ((*CHECK, "--surface", "1/4 in", "--window", "1920x1080"), "--surface opens no window"),
        ((*CHECK, "--surface", "0", "--window", "1920x1080"), "--surface opens no window"),
        ((*CHECK, "--restore", "--json"), "--restore has no numbers to print"),
    ],
)
def test_mistakes_of_usage_exit_with_2(
    arguments: tuple[str, ...], complaint: str, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit) as ended:
        main(arguments)
    assert ended.value.code == 2
    assert complaint in capsys.readouterr().err


@pytest.mark.parametrize(
    "name",
    [
        *MODES.values(),
        RULER_TEST,
        "projector.demo.demo",
        "projector.verbs.sheet.sheet",
        "projector.verbs.align.write_targets",
        "projector.verbs.align.align_photos",
        "projector.verbs.by_hand.by_hand",
        "projector.verbs.camera.align_by_camera",
        "projector.verbs.cut.cut",
    ],
)
def test_what_a_verb_runs_is_there(name: str) -> None:
    """Names are text till a verb is called, so nothing else would notice one that is wrong."""
    assert callable(_named(name))
