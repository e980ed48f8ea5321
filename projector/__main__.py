"""The command `chalkbeam`, also as `python -m projector`."""

import sys


def run() -> int:
    """Run it; the exit code. It can be stopped with a word from the first moment, while it is still loading."""
    try:
        from projector.command_line import main

        return main()
    except KeyboardInterrupt:
        print("chalkbeam: stopped", file=sys.stderr)
        return 1


if __name__ == "__main__":
    sys.exit(run())
