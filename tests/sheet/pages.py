"""What a page says, read as a person's text."""

import re
from html.parser import HTMLParser

VOID = {"meta", "link", "img", "br", "path", "use", "rect"}


class Balanced(HTMLParser):
    """Text and tags; every element that is opened must be closed."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.text: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        if self.open[-1:] != ["style"]:
            self.text.append(data)


def read_page(data: bytes) -> tuple[str, list[tuple[str, dict[str, str | None]]]]:
    """Its text, spaces made one, and its tags; the markup is checked on the way."""
    parser = Balanced()
    parser.feed(data.decode("utf-8"))
    parser.close()
    assert parser.open == []
    return re.sub(r"\s+", " ", " ".join(parser.text)), parser.tags
