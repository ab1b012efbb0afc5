"""What the tests of sweeps share: a cheap study, and its table as one process makes it."""

import pytest
from sweep.cheap import cheap_study

from sidehill.study.study import Study
from sidehill.sweep.results import Results
from sidehill.sweep.run_study import run_study

DRAWS = 30  # of two options: 60 cases in chunks of 4


@pytest.fixture(scope="session")
def cheap(tmp_path_factory: pytest.TempPathFactory) -> Study:
    return cheap_study(tmp_path_factory.mktemp("study"), DRAWS)


@pytest.fixture(scope="session")
def serial(cheap: Study, tmp_path_factory: pytest.TempPathFactory) -> Results:
    """Computed in this process, in the compiled engine alone."""
    return run_study(cheap, tmp_path_factory.mktemp("serial"), engine="compiled", workers=1)
