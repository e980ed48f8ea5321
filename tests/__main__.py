"""Every check in one command: format, lint, types, tests. `python -m tests [pytest arguments]`."""

import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
CHECKS = (
    ("format", ("ruff", "format", "--check", ".")),
    ("lint", ("ruff", "check", ".")),
    ("types", ("mypy",)),
    ("tests", ("pytest", "-q", "-n", "2", "--dist", "loadfile")),
)


def main() -> int:
    """Run the checks, all of them, and return how many failed."""
    failed = []
    alone = os.environ | {"OPENBLAS_NUM_THREADS": "1"}  # the test workers share the cores already
    for name, (module, *arguments) in CHECKS:
        extra = sys.argv[1:] if name == "tests" else []
        command = [sys.executable, "-m", module, *arguments, *extra]
        print(f"== {name}: {' '.join([module, *arguments, *extra])}", flush=True)
        if subprocess.run(command, cwd=ROOT, env=alone, check=False).returncode:
            failed.append(name)
    if failed:
        print(f"failed: {', '.join(failed)}", file=sys.stderr)
    return len(failed)


if __name__ == "__main__":
    sys.exit(main())
