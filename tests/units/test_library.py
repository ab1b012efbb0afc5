"""Shipped files by name, own files by path."""

from pathlib import Path

import pytest

from sidehill.files.errors import InputError
from sidehill.files.library import find, shipped


def test_shipped() -> None:
    assert {"bramble", "hawthorn", "sorrel"} <= set(shipped("machine"))
    assert list(shipped("machine")) == sorted(shipped("machine"))
    assert {"bank-plain", "bank-stone", "bank-rut", "tilt-table"} <= set(shipped("scenario"))
    assert find("machine", "bramble").is_file()


def test_own_path() -> None:
    assert find("machine", "mine.toml") == Path("mine.toml")
    assert find("machine", "dir/mine") == Path("dir/mine")
    assert find("scenario", Path("x")) == Path("x")


def test_unknown_name_offers_the_nearest() -> None:
    with pytest.raises(InputError, match=r'called "brambel"; did you mean "bramble"\?'):
        find("machine", "brambel")
    with pytest.raises(InputError, match=f"Shipped: {', '.join(shipped('machine'))}"):
        find("machine", "zzz")
