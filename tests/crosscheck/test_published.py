"""Every published example, from the same table as the page and the command."""

import pkgutil
from dataclasses import replace
from importlib import import_module
from math import degrees, isnan, nan

import pytest

from sidehill.crosscheck import checks
from sidehill.crosscheck.checks.stages import CHECKS as STAGES
from sidehill.crosscheck.examples import CODE6_1
from sidehill.crosscheck.published import CHECKS
from sidehill.files.errors import InputError
from sidehill.statics.slopes import lift_off_slope


@pytest.fixture(params=CHECKS, ids=lambda check: check.id)
def check(request):
    return request.param


@pytest.fixture
def results(published):
    """By id."""
    return dict(zip((check.id for check in CHECKS), published, strict=True))


def test_published(check, results):
    result = results[check.id]
    assert result.passed, (
        f"{check.id}: expected {result.expected:g} {result.unit} ({result.tolerance}), computed "
        f"{result.computed:.7g}; {result.source} [{result.status}] {result.note}"
    )
    assert result.note == ""


def test_a_value_just_outside_the_tolerance_fails_and_just_inside_passes(check):
    limit = check.tolerance.limit(check.expected)
    for side in (-1.0, 1.0):
        outside = replace(check, compute=lambda side=side: check.expected + 1.01 * side * limit)
        inside = replace(check, compute=lambda side=side: check.expected + 0.99 * side * limit)
        assert not outside.run().passed
        assert inside.run().passed


def test_a_value_a_fifth_off_fails(check, results):
    computed = results[check.id].computed
    for factor in (0.8, 1.25):
        assert not replace(check, compute=lambda f=factor: f * computed).run().passed


def test_a_machine_5_mm_too_high_fails():
    right = next(c for c in STAGES if c.id == "Two-stage tip: lift-off")
    wrong = replace(CODE6_1, cg_height=0.767).tipping()
    result = replace(right, compute=lambda: degrees(lift_off_slope(wrong))).run()
    assert not result.passed
    assert result.difference < -result.limit


def test_what_cannot_be_computed_fails_and_says_why():
    def refuses():
        raise InputError("no such tyre")

    for compute, note in ((lambda: nan, ""), (refuses, "could not be computed: no such tyre")):
        result = replace(CHECKS[0], compute=compute).run()
        assert not result.passed
        assert isnan(result.computed)
        assert result.note == note


def test_a_fault_of_the_program_is_not_taken_for_a_failed_check():
    def breaks():
        raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        replace(CHECKS[0], compute=breaks).run()


def test_the_results_are_those_of_the_table(results):
    assert [f"{r.name}: {r.quantity}" for r in results.values()] == list(results)
    for result, check in zip(results.values(), CHECKS, strict=True):
        assert result.difference == result.computed - check.expected
        assert (result.source, result.status) == (check.source, check.status)


def test_every_module_of_checks_is_in_the_table():
    names = [module.name for module in pkgutil.iter_modules(checks.__path__, f"{checks.__name__}.")]
    assert len(names) == 12
    for name in names:
        assert set(import_module(name).CHECKS) <= set(CHECKS)


def test_a_constant_of_the_code_is_not_counted_as_its_own_evidence():
    fitted = [check.quantity for check in CHECKS if check.is_fitted]
    assert sum("volume from dimensions" in name for name in fitted) == 8  # one factor, their mean
    assert sum("over water" in name for name in fitted) == 4  # densities copied from the chart
    assert len(fitted) == 12


def test_ids_differ_and_every_check_has_its_source():
    assert len({check.id for check in CHECKS}) == len(CHECKS)
    for check in CHECKS:
        assert check.source
        assert check.tolerance.stated
        assert check.status != "common practice" or "common practice" in check.source
        assert check.status != "memory" or "memory" in check.source
