"""A replay where the browser cannot draw in 3D: it says so, and what needs no 3D stands."""

from pathlib import Path

from replay.screen import WITHOUT_3D, ready, settled
from sheet.browser import browser, complaints, violations


def test_without_3d_stills_and_curves_stand(file: Path) -> None:
    with browser(*WITHOUT_3D) as started:
        page = ready(started, file)
        assert page.evaluate("document.documentElement.dataset.ready") == "stills"
        assert complaints(page, file) == []
        assert "no WebGL" in page.locator("#told").inner_text()
        stills = page.locator(".sheet img")
        moments = page.evaluate("replay.runs.reduce((sum, run) => sum + run.moments.length, 0)")
        assert stills.count() == moments
        assert all(stills.nth(k).bounding_box()["width"] > 200 for k in range(moments))
        assert page.locator("#charts svg").count() >= 4
        settled(page, "replay.seek(1.5)")
        assert page.locator("#now").inner_text() == "1.50 s"
        assert page.locator("#stage").is_hidden()
        assert violations(page) == []
