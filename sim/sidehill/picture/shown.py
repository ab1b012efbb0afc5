"""A picture in hand: shown by a notebook, written where it is asked for."""

from dataclasses import dataclass
from pathlib import Path

from sidehill.files.whole import write_file
from sidehill.picture.style import Kind


@dataclass(frozen=True, repr=False)
class Picture:
    """A picture's file."""

    content: bytes
    kind: Kind

    def save(self, path: str | Path) -> Path:
        """Write it, whole or not at all.

        Raises:
            SidehillError: the place cannot be written.
        """
        return write_file(Path(path), self.content)

    def __repr__(self) -> str:
        return f"Picture({self.kind}, {len(self.content):,} bytes)"

    def _repr_png_(self) -> bytes | None:
        return self.content if self.kind == "png" else None

    def _repr_svg_(self) -> str | None:
        return self.content.decode() if self.kind == "svg" else None
