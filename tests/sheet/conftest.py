"""A small study and a dealer's, and a sheet of each: made once for all tests here."""

from pathlib import Path
from typing import Any

import pytest

from sidehill.sheet.make import Sheet, make_sheet
from sidehill.sheet.wish import Wish
from sidehill.study.study import Study, load_study

DATA = Path(__file__).with_name("data")
STUDY = """
title = "Bucket high or low, wide or narrow"
machine = "bramble"
scenario = "bank-stone"

[outfit]
bucket_load = "250 kg"
bucket_height = "full"

[[option]]
name = "as delivered"

[[option]]
name = "rear spacers 76 mm"
rear_spacer = "76 mm"

[[option]]
name = "bucket low"
bucket_height = "carry"
"""


@pytest.fixture(scope="session")
def study(tmp_path_factory: Any) -> Study:
    path: Path = tmp_path_factory.mktemp("study") / "small.toml"
    path.write_text(STUDY, encoding="utf-8")
    return load_study(path)


@pytest.fixture(scope="session")
def folder(tmp_path_factory: Any) -> Path:
    return Path(tmp_path_factory.mktemp("sheet"))


@pytest.fixture(scope="session")
def made(study: Study, folder: Path) -> Sheet:
    """Quick, without its film."""
    wish = Wish(folder / "records", quick=True, film="none", replay="none")
    return make_sheet(study, folder / "sheet.html", wish)


@pytest.fixture(scope="session")
def dealer(folder: Path) -> Sheet:
    """A dealer's question, of an invented machine on an invented bank."""
    wish = Wish(folder / "records", quick=True, film="none", replay="none")
    return make_sheet(load_study(DATA / "dealer.toml"), folder / "dealer.html", wish)
