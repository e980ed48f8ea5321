"""For all tests: a skipped test is a failed run, since a check that did not run has shown nothing."""

import pytest
from hypothesis import settings

# A deadline would be a timed test: a machine that is busy would fail it.
settings.register_profile("untimed", deadline=None)
settings.load_profile("untimed")

WAITED_FOR = ("window", "whole")  # folders whose files take longest


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Those files first: at the end one worker would still be at them while the other has nothing left to do."""
    items.sort(key=lambda item: item.path.parent.name not in WAITED_FOR)


def pytest_sessionfinish(session: pytest.Session, exitstatus: int) -> None:
    reporter = session.config.pluginmanager.get_plugin("terminalreporter")
    skipped = reporter.stats.get("skipped", []) if reporter is not None else []
    if reporter is not None and skipped and exitstatus == pytest.ExitCode.OK:
        session.exitstatus = pytest.ExitCode.TESTS_FAILED
        reporter.write_line(f"{len(skipped)} skipped: a skip counts as a failure", red=True)
