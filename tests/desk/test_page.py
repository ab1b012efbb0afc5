"""The page in a browser: one's own tractor to an answer, by keyboard, on a phone, in two tabs."""

import re
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from threading import Thread
from typing import Any

import pytest
from desk.conftest import OWN, eventually, opened
from replay.screen import DRAWN
from sheet.browser import LAPTOP, PHONE, browser, violations

from sidehill.desk.desk import Desk
from sidehill.desk.serve import listening, server_of
from sidehill.machine.file import load_machine

PLACES = ("tractor", "bank", "options", "away")
ZOOMED = {"width": LAPTOP["width"] // 2, "height": LAPTOP["height"] // 2}  # what 200 % leaves
LOW = {"width": 683, "height": 384}  # 200 % on a small laptop
PATIENCE = 120_000  # [ms] of a slow machine


@contextmanager
def served(folder: Path) -> Iterator[tuple[Desk, str]]:
    """A desk that answers, and its address."""
    address: list[str] = []
    with opened(folder) as desk, listening(0) as sock:
        desk.change([("bank/base", "bank-plain")], False)
        desk.option("remove", 3)
        server = server_of(desk, sock, address.append)
        thread = Thread(target=server.run, args=([sock],))
        thread.start()
        try:
            yield desk, eventually(lambda: address)[0]
        finally:
            server.should_exit = True
            thread.join()


@pytest.fixture(scope="module")
def chromium() -> Iterator[Any]:
    with browser(*DRAWN) as started:
        yield started


@pytest.fixture(scope="module")
def place(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Desk, str]]:
    with served(tmp_path_factory.mktemp("page") / "desk") as found:
        yield found


@pytest.fixture
def page(chromium: Any, place: tuple[Desk, str]) -> Iterator[Any]:
    context = chromium.new_context(viewport=LAPTOP)
    opened_page = context.new_page()
    opened_page.set_default_timeout(PATIENCE)
    complaints: list[str] = []
    opened_page.on(
        "console",
        lambda message: "WebGL" in message.text or complaints.append(message.text),
    )
    opened_page.on("pageerror", lambda error: complaints.append(str(error)))
    opened_page.goto(place[1], wait_until="domcontentloaded")
    yield opened_page
    assert complaints == []
    context.close()


def field(path: str) -> str:
    return "#f-" + re.sub(r"[/._]", "-", path)


def told(page: Any, name: str) -> str:
    text: str = page.locator(f'[data-part="{name}"]').inner_text()
    return text


def test_own_tractor_from_a_dozen_figures_to_what_it_does(page: Any, place: Any) -> None:
    desk: Desk = place[0]
    page.get_by_label("My own, or a customer's").check()
    page.wait_for_selector(field("tractor/own/weighed.front_axle"))
    assert "front axle" in told(page, "tractor-told")
    page.fill(field("tractor/own/weighed.front_axle"), "1020")
    beside = page.locator("#e-tractor-own-weighed-front-axle")
    beside.get_by_text("without a unit").wait_for()
    beside.get_by_role("button", name="lb").click()
    eventually(lambda: desk.state["tractor"]["own"].get("weighed.front_axle") == "1020 lb")
    for path, text in OWN.items():
        place_of = field(f"tractor/own/{path}")
        if page.locator(place_of).evaluate("one => one.tagName") == "SELECT":
            page.select_option(place_of, text)
        else:
            page.fill(place_of, text)
    page.locator('[data-part="tractor-told"]').get_by_text("Save as my-tractor.toml").wait_for()
    assert beside.inner_text() == ""
    page.locator('[data-part="guess"]').get_by_text("Measure next: CG height").wait_for()
    page.locator('[data-part="told-1"] .what .sign').wait_for()
    eventually(lambda: desk.found("1").strip is not None, 300.0)
    page.locator('[data-part="told-1"]').get_by_text("each change narrowed").wait_for()
    assert "best estimate" in told(page, "told-1")
    page.reload(wait_until="domcontentloaded")
    assert page.input_value(field("tractor/own/rear_tyre.track")) == "42.5 in"
    assert page.get_by_label("My own, or a customer's").is_checked()


def test_a_slider_by_keyboard_moves_figure_and_field_and_is_announced(page: Any) -> None:
    number = page.locator('[data-part="told-2"] [data-figure-of="lift-off"]')
    number.get_by_text("best estimate").wait_for()
    before = number.inner_text().split("best estimate")[1]
    slider = page.get_by_label("rear spacers, a side, option 2, slider")
    slider.focus()
    for _ in range(6):
        page.keyboard.press("ArrowRight")
    assert page.input_value(field("options/2/typed/rear_spacer")) == "88 mm"
    eventually(lambda: number.inner_text().split("best estimate")[1].split(";")[0] != before)
    eventually(lambda: "rear spacers" in page.locator("#status").inner_text())
    assert page.evaluate("document.activeElement.type") == "range"


@pytest.mark.slow
def test_everything_can_be_reached_by_tab_and_the_focus_is_seen(page: Any) -> None:
    seen = set()
    for _ in range(400):
        page.keyboard.press("Tab")
        seen.add(page.evaluate("document.activeElement.dataset.field ?? "
                               "document.activeElement.dataset.do ?? "
                               "document.activeElement.dataset.make ?? ''"))  # fmt: skip
        outline = page.evaluate("getComputedStyle(document.activeElement).outlineStyle")
        assert outline != "none"
        if "film" in seen:
            break
    assert {"units", "tractor/kind", "bank/typed/ground.slope", "options/1/typed/rear_spacer",
            "replay", "add", "remove", "sheet", "film"} <= seen  # fmt: skip


@pytest.mark.parametrize(
    "size", [LAPTOP, PHONE, ZOOMED, LOW], ids=["laptop", "phone", "200 %", "200 %, low"]
)
def test_each_size_has_no_sideways_scroll_and_the_caution_in_view(page: Any, size: Any) -> None:
    page.set_viewport_size(size)
    assert page.evaluate("document.documentElement.scrollWidth") <= size["width"]
    for name in PLACES:
        page.locator(f'nav a[href="#{name}"]').click()
        caution = page.locator(".top .caution").bounding_box()
        assert caution["y"] >= 0.0
        assert caution["y"] + caution["height"] <= 0.25 * size["height"]  # room for the form
        heading = page.locator(f"#h-{name}").bounding_box()
        assert heading["y"] >= caution["y"] + caution["height"]
    assert page.locator("footer .full").inner_text().startswith("A model compares")


@pytest.mark.parametrize("size", [LAPTOP, PHONE], ids=["laptop", "phone"])
def test_axe_finds_nothing(page: Any, size: Any) -> None:
    page.set_viewport_size(size)
    page.locator('[data-part="told-1"] .what .sign').wait_for()
    assert violations(page, frozenset({"color-contrast", "label", "image-alt"})) == []


def test_a_slider_keeps_the_focus_while_the_form_is_written_anew(page: Any, place: Any) -> None:
    desk: Desk = place[0]
    slider = page.get_by_label("rear box, option 2, slider")
    slider.focus()
    desk.change([("units", "us")], False, by="another page")  # all forms are written anew
    eventually(lambda: slider.get_attribute("data-unit") == "lb")
    assert page.evaluate("document.activeElement.id") == "s-options-2-typed-rear-ballast"
    page.keyboard.press("ArrowRight")
    assert page.input_value(field("options/2/typed/rear_ballast")) == "25 lb"
    eventually(lambda: desk.state["options"][1]["typed"].get("rear_ballast") == "25 lb")
    desk.change([("units", "metric"), ("options/2/typed/rear_ballast", "")], False)


def test_what_one_tab_types_the_other_shows(page: Any, place: Any) -> None:
    other = page.context.new_page()
    other.goto(place[1].partition("?")[0], wait_until="domcontentloaded")
    other.wait_for_timeout(500)
    other.fill("#f-options-2-name", "typed elsewhere")
    eventually(lambda: page.input_value("#f-options-2-name") == "typed elsewhere")
    other.close()


@pytest.mark.slow
def test_a_cell_of_a_strip_opens_the_replay_of_that_run_beside_another(
    page: Any, place: Any
) -> None:
    desk: Desk = place[0]
    eventually(lambda: desk.found("1").strip is not None, 300.0)
    page.locator('[data-part="told-1"]').get_by_text("each change narrowed").wait_for()
    page.select_option('[data-beside="1"]', "2")
    cell = page.locator('[data-part="told-1"] .cell').nth(20)
    value = cell.get_attribute("data-value")
    cell.click(force=True)
    page.locator("#viewer-frame").wait_for(state="visible")
    inside = page.frame_locator("#viewer-frame")
    inside.locator("h2 .name").nth(1).wait_for()
    eventually(lambda: " beside " in page.locator("#h-viewer").inner_text())
    inside.locator("html[data-ready]").wait_for(state="attached")  # drawn, under its own policy
    assert inside.locator("canvas").count() >= 1
    slope = f"{float(value):.1f} deg"
    assert slope in inside.locator("body").inner_text()


@pytest.mark.slow
def test_a_quick_sheet_is_made_and_printed_and_a_film_is_stopped(page: Any, place: Any) -> None:
    desk: Desk = place[0]
    page.get_by_role("button", name="Sheet, quick").click()
    link = page.locator("#jobs").get_by_role("link", name="open sheet.html")
    link.wait_for(timeout=600_000)
    with page.context.expect_page() as news:
        link.click()
    sheet = news.value
    sheet.wait_for_load_state()
    assert sheet.locator("h1").inner_text() == desk.question.title
    assert len(sheet.pdf(format="A4", print_background=True)) > 20_000
    sheet.close()
    page.get_by_role("button", name="Film", exact=True).click()
    page.get_by_role("button", name="Stop the film").click(timeout=60_000)
    page.locator("#jobs").get_by_text("film: stopped").wait_for()
    left = [path.name for path in desk.folder.iterdir()]
    assert not [name for name in left if ".writing." in name or name.endswith(".mp4")]


def test_a_slider_stands_where_the_word_beside_it_says(page: Any, place: Any) -> None:
    loader = load_machine("bramble").loader
    assert loader is not None
    slider = page.get_by_label("bucket height, option 2, slider")
    field_of = page.locator(field("options/2/typed/bucket_height"))
    beside = page.locator("#options .card").nth(1)
    assert float(slider.input_value()) == pytest.approx(1e3 * loader.carry_height, abs=50)
    beside.get_by_role("button", name="full", exact=True).click()
    assert field_of.input_value() == "full"
    assert float(slider.input_value()) == pytest.approx(1e3 * loader.full_height, abs=50)
    page.reload(wait_until="domcontentloaded")
    assert float(slider.input_value()) == pytest.approx(1e3 * loader.full_height, abs=50)
    field_of.fill("")
    eventually(lambda: "bucket_height" not in place[0].state["options"][1]["typed"])


def test_what_is_being_made_is_there_again_after_a_reload(page: Any, place: Any) -> None:
    desk: Desk = place[0]
    page.get_by_role("button", name="Film", exact=True).click()
    page.get_by_role("button", name="Stop the film").wait_for()
    page.reload(wait_until="domcontentloaded")
    page.get_by_role("button", name="Stop the film").click()
    eventually(lambda: not desk.jobs.at_work())


def test_the_policy_holds_against_a_page_that_tries(chromium: Any, place: Any) -> None:
    """Inline scripts, handlers, evaluated text, other sites, frames of other sites: none."""
    context = chromium.new_context(viewport=LAPTOP)
    page, asked_for = context.new_page(), []
    page.on("requestfinished", lambda request: asked_for.append(request.url))
    page.goto(place[1], wait_until="domcontentloaded")
    page.evaluate("""() => {
      window.ran = [];
      const add = (name, what) => document.body.append(Object.assign(document.createElement(name), what));
      add("script", { textContent: "window.ran.push('inline')" });
      add("script", { src: "data:text/javascript,window.ran.push('data')" });
      add("script", { src: "https://evil.invalid/x.js" });
      add("img", { src: "https://evil.invalid/x.png" });
      add("iframe", { srcdoc: "<script>parent.ran.push('frame')</script>" });
      add("iframe", { src: "https://evil.invalid/" });
      const box = document.createElement("div");
      box.innerHTML = "<img src=/nothing onerror='window.ran.push(1)'>";
      document.body.append(box);
      const link = Object.assign(document.createElement("a"), { href: "javascript:window.ran.push('link')" });
      document.body.append(link); link.click();
    }""")  # noqa: E501
    tried = page.evaluate("fetch('https://evil.invalid/').then(() => 'through', () => 'stopped')")
    page.wait_for_timeout(1500)
    assert tried == "stopped"
    assert page.evaluate("window.ran") == []
    assert not [url for url in asked_for if "evil.invalid" in url]
    context.close()
