"""Two runs of one bank, and their replay: made once for all tests here."""

from pathlib import Path
from typing import Any

import pytest
from film.posed import case_of

from sidehill.replay import write_replay
from sidehill.run.record import Record, simulate

TITLES = [
    "bucket high",
    "bucket <i>low</i> & \"wide\" </script><img src=x onerror='document.title=1'>",
]
NOTE = "Watch the <b>uphill</b> rear wheel.</script><script>document.title = 'run'</script>"
SLOPE = "ground.slope=12 deg"
LOAD = {"bucket_load": "250 kg"}
OUTFITS = ({**LOAD, "bucket_height": "full"}, {**LOAD, "rear_spacer": "76 mm"})


@pytest.fixture(scope="session")
def runs() -> list[Record]:
    """One that goes over while it is set on the slope, and one that comes across the stone."""
    cases = [case_of("bramble", "bank-stone", [SLOPE], outfit) for outfit in OUTFITS]
    return [simulate(case, "compiled") for case in cases]


@pytest.fixture(scope="session")
def file(runs: list[Record], tmp_path_factory: Any) -> Path:
    """Their page, with names that would like to be markup."""
    path: Path = tmp_path_factory.mktemp("replay") / "replay.html"
    return write_replay(path, runs, TITLES, note=NOTE, command="sidehill replay a.parquet")
