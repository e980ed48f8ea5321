"""Every check in one command: format, lint, types, tests. `python -m tests [pytest arguments]`."""

import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
QUICK = (("format", ("ruff", "format", "--check", ".")), ("lint", ("ruff", "check", ".")))
TYPES = ("mypy",)
# in the order of tests/conftest.py: longest files first, not those with the most tests
TESTS = ("pytest", "-q", "-n", "2", "--dist", "loadfile", "--no-loadscope-reorder")
ENVIRONMENT = os.environ | {
    "OPENBLAS_NUM_THREADS": "1",  # the test workers share the cores already
    "PYTHONDONTWRITEBYTECODE": "",  # each program that a test starts would else be compiled anew
}


def main() -> int:
    """Run the checks, all of them, and return how many failed."""
    failed = [name for name, (module, *arguments) in QUICK if run(name, module, *arguments)]
    # types beside the tests: they leave a core idle here and there
    types = subprocess.Popen(
        [sys.executable, "-m", *TYPES], cwd=ROOT, env=ENVIRONMENT, stdout=subprocess.PIPE, text=True
    )
    failed += ["tests"] if run("tests", *TESTS, *sys.argv[1:]) else []
    said, _ = types.communicate()
    print(f"== types: {' '.join(TYPES)}\n{said}", end="", flush=True)
    failed += ["types"] if types.returncode else []
    if failed:
        print(f"failed: {', '.join(failed)}", file=sys.stderr)
    return len(failed)


def run(name: str, module: str, *arguments: str) -> int:
    """One check, shown as it runs; its exit code."""
    print(f"== {name}: {' '.join([module, *arguments])}", flush=True)
    command = [sys.executable, "-m", module, *arguments]
    return subprocess.run(command, cwd=ROOT, env=ENVIRONMENT, check=False).returncode


if __name__ == "__main__":
    sys.exit(main())
