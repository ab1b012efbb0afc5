"""Which tests run in one worker, because something costly is made once for all of them."""

from typing import Any

# the beginning of a test's name, and what is made
TOGETHER = {
    "tests/crosscheck/test_published.py": "published values",
    "tests/cli/test_examples.py::test_the_examples_of_crosschecks": "published values",
    "tests/cli/test_examples.py::test_the_examples_of_films": "short run",
    "tests/cli/test_demo.py": "quick demo",
    "tests/cli/test_map.py": "swept studies",
    "tests/sweep/test_shipped_studies.py": "swept studies",
    "tests/sweep/test_run_study.py": "serial sweep",
    "tests/sweep/test_compare.py": "comparison",
    "tests/sheet/": "sheet",
    "tests/film/test_same_pixels.py": "show",
}


def group(name: str) -> str:
    """What is made for a test and others, or its own name if nothing is."""
    return next((made for start, made in TOGETHER.items() if name.startswith(start)), name)


def scheduler(config: Any, log: Any) -> Any:
    """xdist's own for groups of tests. (Its marks of groups are not heeded under pytest 9.2.)"""
    from xdist.scheduler import LoadScopeScheduling  # it may not be installed

    class Together(LoadScopeScheduling):
        def _split_scope(self, nodeid: str) -> str:
            return group(nodeid)

    return Together(config, log)
