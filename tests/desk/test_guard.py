"""Only this computer's own page is answered; all else gets a sentence, and changes nothing."""

from copy import deepcopy
from pathlib import Path
from typing import Any

import pytest
from desk.conftest import HERE, PORT, TOKEN, asked, opened, quiet_folder
from starlette.testclient import TestClient

from sidehill.desk.desk import Desk
from sidehill.desk.guard import MOST_BYTES
from sidehill.desk.serve import HERE as ADDRESS
from sidehill.desk.serve import build, listening
from sidehill.files.errors import InputError

PATHS = ("/", "/everything", "/events", "/bank.svg", "/strip/1", "/files/study.toml",
         "/replays/1", "/web/main.js")  # fmt: skip
POSTS = ("/change", "/option", "/open", "/save", "/make", "/stop", "/replay")


def sentence(answer: Any) -> str:
    """What a refusal says."""
    assert 400 <= answer.status_code < 500, (answer.status_code, answer.text[:200])
    said: str = answer.json()["error"]
    assert len(said) > 8
    assert "Traceback" not in said
    return said


def stranger(desk: Desk) -> TestClient:
    return TestClient(build(desk, PORT, TOKEN), base_url=HERE, follow_redirects=False)


def test_it_listens_on_this_computer_alone() -> None:
    with listening(0) as sock:
        assert sock.getsockname()[0] == ADDRESS == "127.0.0.1"
        with pytest.raises(InputError, match="leave it out"):
            listening(sock.getsockname()[1])


@pytest.mark.parametrize("path", PATHS)
def test_without_its_cookie_nothing_is_shown(path: str, quiet: Desk) -> None:
    for token in ("", "?token=", "?token=wrong", f"?token={TOKEN[:-1]}"):
        assert "sidehill desk" in sentence(stranger(quiet).get(path + token))


def test_the_token_is_asked_once_and_the_cookie_is_strict(quiet: Desk) -> None:
    answer = stranger(quiet).get(f"/?token={TOKEN}")
    cookie = answer.headers["set-cookie"].lower()
    assert answer.status_code == 303
    assert answer.headers["location"] == "/"
    assert "httponly" in cookie
    assert "samesite=strict" in cookie


@pytest.mark.parametrize(
    "headers",
    [{"host": "evil.example"}, {"host": f"evil.example:{PORT}"}, {"host": "127.0.0.1:1"},
     {"origin": "https://evil.example"}, {"origin": "null"},
     {"origin": f"http://127.0.0.1:{PORT + 1}"},
     {"sec-fetch-site": "cross-site"}, {"sec-fetch-site": "same-site"}],
)  # fmt: skip
def test_another_site_is_refused_even_with_the_cookie(
    headers: dict[str, str], client: TestClient, quiet: Desk
) -> None:
    before = deepcopy(quiet.state)
    body = {"changes": [["units", "us"]]}
    assert sentence(client.post("/change", json=body, headers=headers))
    assert sentence(client.get("/everything", headers=headers))
    assert quiet.state == before
    assert client.post("/change", json=body, headers={"origin": HERE}).status_code == 200


def test_no_script_runs_that_does_not_lie_on_the_desk(client: TestClient) -> None:
    answer = client.get("/")
    policy = answer.headers["content-security-policy"]
    assert "default-src 'none'" in policy
    assert "script-src 'self'" in policy
    assert "unsafe" not in policy
    assert "frame-ancestors 'none'" in policy
    assert answer.headers["x-content-type-options"] == "nosniff"
    page = answer.text
    assert "<script>" not in page
    assert " style=" not in page
    assert not any(f" on{event}=" in page for event in ("click", "load", "error", "input"))
    assert "http://" not in page.replace("http://www.w3.org", "")
    assert "https://" not in page


def test_what_is_typed_is_never_markup(quiet: Desk, client: TestClient) -> None:
    evil = '"><img src=x onerror=alert(1)>'
    quiet.change([("options/1/name", evil), ("tractor/own/name", evil), ("title", evil)], False)
    for text in (client.get("/").text, *client.get("/everything").json()["parts"].values()):
        assert "<img src=x" not in text


WRONG_BODIES: list[Any] = [
    b"", b"{", b"[]", b"null", b'"x"', b"[" * 5000, b"\xff\xfe", b'{"changes": 1}',
    b'{"changes": []}', b'{"changes": [["units"]]}', b'{"changes": [["units", 7]]}',
    b'{"changes": [["nothing", "x"]]}', b'{"changes": [["units", "us"], ["units", "feet"]]}',
    b'{"changes": [' + b'["units", "us"],' * 80 + b'["units", "us"]]}',
    b'{"do": "add"}', b'{"do": "burn", "number": 1}', b'{"do": "remove", "number": 99}',
    b'{"do": "add", "number": true}', b'{"number": 1e99, "do": "add"}', b'{"kind": "rocket"}',
    b'{"kind": 4}', b'{"way": "1", "value": "10.0"}', b'{"way": "free-9", "value": "bank"}',
    b'{"way": "../1", "value": "nan"}', b'{"name": "x.toml", "text": "not toml ["}',
    b'{"name": "../../x.toml", "text": "a = 1"}', b'{"name": 1, "text": 2}',
]  # fmt: skip


def test_a_hundred_wrong_requests_are_refused_and_change_nothing(tmp_path: Path) -> None:
    with opened(quiet_folder(tmp_path / "desk")) as desk, asked(desk) as client:
        before, files = deepcopy(desk.state), desk.files()
        json = {"content-type": "application/json"}
        count = 0
        for path in POSTS:
            for body in WRONG_BODIES:
                assert sentence(client.post(path, content=body, headers=json)), (path, body)
                count += 1
            assert sentence(client.post(path, content=b"x=1"))
            assert sentence(client.get(path))
        for path in ("/x", "/files/..%2fdesk.json", "/files/desk.json", "/files/.lock", "/web/../x",
                     "/files/%00.toml", "/web/__init__.py", "/replays/9", "/strip/1", "/strip/x",
                     "/" + "x" * 3000, "/?q=" + "x" * 3000):  # fmt: skip
            assert sentence(client.get(path)), path
            count += 1
        assert count > 100
        assert sentence(client.request("DELETE", "/files/study.toml"))
        big = b'{"changes": "' + b"x" * MOST_BYTES + b'"}'
        assert sentence(client.post("/change", content=big, headers=json))
        assert desk.state == before
        assert desk.files() == files == []


def test_a_body_without_a_length_is_cut_off_too(client: TestClient) -> None:
    def endless() -> Any:
        for _ in range(40):
            yield b"x" * 50_000

    answer = client.post("/change", content=endless(), headers={"content-type": "application/json"})
    assert sentence(answer)
