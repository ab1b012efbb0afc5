"""Frames to an endless GIF in one set of colours, no larger than is asked for."""

from collections.abc import Sequence
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path

from PIL import Image

from sidehill.files.errors import InputError
from sidehill.film.ink import ALARM, AMBER, DIM, DUSK, FILL, GOOD, PAPER, PLUM

KEPT = (PLUM, DUSK, PAPER, DIM, FILL, ALARM, AMBER, GOOD)  # colours it has whatever is common
SAMPLES = 8  # frames that the colours are taken from, and at most so many times that are tried
SPARE = 0.94  # of the size asked for, that a trial may foretell
MEGABYTE = 1_000_000


@dataclass(frozen=True)
class Coarseness:
    """What is given up for a smaller file."""

    colours: int
    scale: float  # of width and height
    every: int  # frames of which one is kept


FINEST = Coarseness(128, 1.0, 1)
# the order in which things are given up: words stay readable longest
LADDER = (
    FINEST,
    Coarseness(64, 1.0, 1),
    Coarseness(64, 0.75, 1),
    Coarseness(64, 0.75, 2),
    Coarseness(48, 0.6, 2),
    Coarseness(32, 0.5, 2),
    Coarseness(32, 0.5, 3),
    Coarseness(24, 0.4, 4),
)

Frames = Sequence[tuple[Image.Image, int]]  # pictures, and how many times each is shown


class Gif:
    """Keeps the frames until all are there: their colours are chosen from all of them."""

    def __init__(
        self, path: Path, size: tuple[int, int], fps: int, about: dict[str, str], most: int | None
    ) -> None:
        self.path, self.size, self.about, self.most = path, size, about, most
        self.shown = 1000 / fps  # [ms]
        self.frames: list[tuple[Image.Image, int]] = []

    @staticmethod
    def pack(image: Image.Image) -> bytes:
        """Packed RGB."""
        return image.tobytes()

    def write(self, frame: bytes, times: int) -> None:
        """Keep it until the colours are known."""
        self.frames.append((Image.frombytes("RGB", self.size, frame), times))

    def finish(self) -> None:
        """Write the file, as fine as its size allows.

        Raises:
            InputError: even the coarsest is larger than asked for.
        """
        for coarseness in LADDER if self.most is not None else (FINEST,):
            frames = coarser(self.frames, coarseness)
            if self.most and self.foretold(frames, coarseness.colours) > SPARE * self.most:
                continue
            data = self.encoded(frames, coarseness.colours)
            if self.most is None or len(data) <= self.most:
                self.path.write_bytes(data)
                return
        raise InputError(
            f"{len(self.frames)} pictures do not fit into a GIF of {(self.most or 0) / MEGABYTE:g}"
            " MB; allow more (--most), or take fewer (--fps, --slow 1) or smaller ones (--size)"
        )

    def close(self) -> None:
        """Nothing is held."""

    def foretold(self, frames: Frames, colours: int) -> float:
        """[bytes] of all frames, by one stretch of neighbours out of the middle."""
        some = min(len(frames), SAMPLES)
        start = (len(frames) - some) // 2
        return len(self.encoded(frames[start : start + some], colours)) * len(frames) / some

    def encoded(self, frames: Frames, colours: int) -> bytes:
        """The file of some frames."""
        palette = palette_of(frames, colours)
        images = [image.quantize(palette=palette, dither=Image.Dither.NONE) for image, _ in frames]
        into = BytesIO()
        images[0].save(
            into, "GIF", save_all=True, append_images=images[1:], loop=0, optimize=False,
            duration=[10 * round(times * self.shown / 10) for _, times in frames],
            comment="; ".join(self.about.values()).encode(),
        )  # fmt: skip
        return into.getvalue()


def coarser(frames: Frames, coarseness: Coarseness) -> Frames:
    """Fewer and smaller frames that are shown for as long in all; what stands still is kept."""
    kept: list[tuple[Image.Image, int]] = []
    since = 0
    for image, times in frames:
        if kept and times == 1 and since + 1 < coarseness.every:
            kept[-1] = kept[-1][0], kept[-1][1] + times
            since += 1
        else:
            kept.append((image, times))
            since = 0
    if coarseness.scale == 1.0:
        return kept
    width, height = (round(coarseness.scale * side) for side in frames[0][0].size)
    lanczos = Image.Resampling.LANCZOS
    return [(image.resize((width, height), lanczos), times) for image, times in kept]


def palette_of(frames: Frames, colours: int) -> Image.Image:
    """The colours of a few frames from all over the film, and those of what is written."""
    chosen = frames[:: max(len(frames) // SAMPLES, 1)]
    width, height = chosen[0][0].size
    sheet = Image.new("RGB", (width, height * len(chosen)))
    for k, (image, _) in enumerate(chosen):
        sheet.paste(image, (0, k * height))
    common = sheet.quantize(colours - len(KEPT), Image.Quantize.FASTOCTREE).getpalette() or []
    palette = Image.new("P", (1, 1))
    palette.putpalette(common[: 3 * (colours - len(KEPT))] + [c for ink in KEPT for c in ink])
    return palette
