"""Progress: quiet where nobody watches, honest about the first compile."""

from pathlib import Path

import pytest

from sidehill.cli import progress as module


def test_quiet_without_a_terminal(capsys: pytest.CaptureFixture[str]) -> None:
    with module.progress("working") as say:
        say("still working")
    assert capsys.readouterr() == ("", "")


def test_compiled_only_once_there_is_machine_code(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(module, "CACHE_FOLDER", tmp_path)
    (tmp_path / "folder_of_a_module").mkdir()  # numba makes it when a kernel is declared
    assert not module.is_compiled()
    (tmp_path / "folder_of_a_module" / "step.forces.nbi").touch()
    assert module.is_compiled()
    monkeypatch.setattr(module, "CACHE_FOLDER", None)
    assert not module.is_compiled()
