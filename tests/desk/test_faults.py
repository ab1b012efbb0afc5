"""Two desks, a full disk, an end in mid-save, a page that takes nothing: nothing is lost."""

import asyncio
import json
from pathlib import Path
from typing import Any

import pytest
from desk.conftest import eventually, opened, quiet_folder

from sidehill.desk import keep
from sidehill.desk.desk import Desk
from sidehill.desk.events import MOST_WAITING, Hub
from sidehill.desk.keep import FORM, held
from sidehill.files.errors import InputError, SidehillError
from sidehill.files.whole import MARK


def kept(desk: Desk) -> Any:
    return json.loads((desk.folder / FORM).read_text("utf-8"))


def test_a_second_desk_on_the_folder_is_refused_and_the_first_goes_on(quiet: Desk) -> None:
    with pytest.raises(InputError, match="another desk is open"), held(quiet.folder):
        pass
    quiet.change([("title", "still here")], False)
    eventually(lambda: kept(quiet)["title"] == "still here")


def test_what_is_typed_is_on_the_disk_a_moment_later_and_at_the_end(tmp_path: Path) -> None:
    with opened(quiet_folder(tmp_path / "desk")) as desk:
        for number in range(50):
            desk.change([("title", f"title {number}")], False)
    assert json.loads((desk.folder / FORM).read_text("utf-8")) == desk.state
    assert desk.state["title"] == "title 49"


def test_a_desk_killed_in_mid_save_leaves_the_form_before_it(tmp_path: Path) -> None:
    folder = quiet_folder(tmp_path / "desk")
    before = (folder / FORM).read_bytes()
    (folder / f".123{MARK}{FORM}").write_bytes(before[: len(before) // 2])
    with opened(folder) as desk:
        assert desk.state == json.loads(before)
        assert not list(folder.glob(f".*{MARK}*"))


def test_a_full_disk_is_said_and_what_was_typed_is_kept_until_there_is_room(
    quiet: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    heard: list[dict[str, Any]] = []
    monkeypatch.setattr(quiet.hub, "say", lambda kind, **news: heard.append({"kind": kind, **news}))
    write = keep.write_file

    def full(path: Path, data: bytes) -> Path:
        raise SidehillError(f"{path}: cannot be written (No space left on device)")

    monkeypatch.setattr(keep, "write_file", full)
    quiet.change([("title", "typed on a full disk")], False)
    said = eventually(lambda: [news for news in heard if news["kind"] == "notice"])
    assert "not saved" in said[0]["words"]
    assert "No space left" in said[0]["words"]
    assert quiet.everything()["parts"]
    assert quiet.state["title"] == "typed on a full disk"
    monkeypatch.setattr(keep, "write_file", write)
    quiet.change([("options/1/name", "more")], False)
    eventually(lambda: [news for news in heard if news.get("words") == ""])
    assert kept(quiet) == quiet.state


def test_two_pages_write_different_fields_and_both_stay(quiet: Desk) -> None:
    quiet.change([("title", "from the one")], False, by="one")
    quiet.change([("options/1/name", "from the other")], False, by="other")
    assert quiet.state["title"] == "from the one"
    assert quiet.state["options"][0]["name"] == "from the other"


def test_a_page_that_takes_nothing_is_asked_to_look_again_and_fills_no_memory() -> None:
    async def sleeping() -> list[str]:
        hub = Hub()
        lines = hub.listen()
        await anext(lines)
        for number in range(5 * MOST_WAITING):
            hub.say("parts", number=number)
            if number % 50 == 0:
                await asyncio.sleep(0)
        await asyncio.sleep(0)
        taken = [await anext(lines)]
        hub.end()
        taken += [line async for line in lines]
        assert hub.pages == 0
        return taken

    taken = asyncio.run(sleeping())
    assert len(taken) <= MOST_WAITING + 1
    assert '"again"' in taken[0]


def test_a_change_is_whole_or_not_at_all(quiet: Desk) -> None:
    before = json.dumps(quiet.state)
    with pytest.raises(InputError):
        quiet.change([("title", "half"), ("nothing/here", "x")], False)
    assert json.dumps(quiet.state) == before
