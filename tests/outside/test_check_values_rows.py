"""Every row of hand values that falls to a pattern has a test named after it."""

import re

from tests.outside import test_check_values_changes, test_check_values_checks, test_check_values_cut_lines

MODULES = (test_check_values_cut_lines, test_check_values_changes, test_check_values_checks)
ROWS = (*range(1, 28), 42, 43, 44)


def test_every_row_that_falls_to_a_pattern_is_held() -> None:
    named = (re.match(r"test((?:_\d+)+)_", name) for module in MODULES for name in vars(module))
    held = {int(number) for found in named if found for number in found[1].split("_")[1:]}
    assert held >= set(ROWS)
