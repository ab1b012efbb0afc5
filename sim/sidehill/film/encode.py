"""Frames to a film file."""

from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from typing import Protocol

import imageio_ffmpeg
import numpy as np
from PIL import Image

from sidehill.files.errors import SidehillError
from sidehill.film.ink import ALARM, AMBER, DIM, DUSK, FILL, GOOD, PAPER, PLUM
from sidehill.film.render.planes import planes

CRF, PRESET, THREADS = 21, "veryfast", 2  # one count everywhere: the same frames, the same file
SPACE = [  # of the planes that are handed over; said of them and, so, of the film
    "-colorspace", "bt709", "-color_primaries", "bt709", "-color_trc", "bt709",
    "-color_range", "tv",
]  # fmt: skip
COLOURS = 128  # of a GIF
KEPT = (PLUM, DUSK, PAPER, DIM, FILL, ALARM, AMBER, GOOD)  # colours it has whatever is common
SAMPLES = 8  # frames that a GIF's colours are taken from


class Writer(Protocol):
    """Takes frames in order."""

    @staticmethod
    def pack(image: Image.Image) -> bytes:
        """A frame as it is to be written; may be asked for side by side."""

    def write(self, frame: bytes, times: int) -> None:
        """A packed frame, shown for that many frames."""

    def finish(self) -> None:
        """Complete the file, and make sure that it is whole."""

    def close(self) -> None:
        """Let go of everything, whatever happened."""


class Mp4:
    """H.264 through the ffmpeg that comes with imageio-ffmpeg."""

    def __init__(self, path: Path, size: tuple[int, int], fps: int, about: dict[str, str]) -> None:
        tags = [part for key, text in about.items() for part in ("-metadata", f"{key}={text}")]
        self.sink = imageio_ffmpeg.write_frames(
            str(path), size, fps=fps, codec="libx264", pix_fmt_in="yuv420p", pix_fmt_out="yuv420p",
            macro_block_size=2, quality=None, ffmpeg_log_level="error", input_params=SPACE,
            output_params=[
                "-crf", str(CRF), "-preset", PRESET, "-threads", str(THREADS),
                "-movflags", "+faststart", "-fflags", "+bitexact", "-flags:v", "+bitexact", *tags,
            ],
        )  # fmt: skip
        self.sink.send(None)
        self.path, self.sent = path, 0

    @staticmethod
    def pack(image: Image.Image) -> bytes:
        """Planes of luma and chroma: made here, ffmpeg has the encoding to do."""
        return planes(np.asarray(image))

    def write(self, frame: bytes, times: int) -> None:
        """Send it on."""
        for _ in range(times):
            self.sink.send(frame)
        self.sent += times

    def finish(self) -> None:
        """Wait for ffmpeg and count its frames: it does not tell how it ended."""
        self.sink.close()
        if imageio_ffmpeg.count_frames_and_secs(str(self.path))[0] != self.sent:
            raise RuntimeError("frames are missing from the file")

    def close(self) -> None:
        """End ffmpeg."""
        self.sink.close()


class Gif:
    """An endless GIF in one set of colours."""

    def __init__(self, path: Path, size: tuple[int, int], fps: int, about: dict[str, str]) -> None:
        self.path, self.size, self.about = path, size, about
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
        """Write the file."""
        palette = self.palette()
        images = [
            image.quantize(palette=palette, dither=Image.Dither.NONE) for image, _ in self.frames
        ]
        images[0].save(
            self.path, save_all=True, append_images=images[1:], loop=0, optimize=False,
            duration=[10 * round(times * self.shown / 10) for _, times in self.frames],
            comment="; ".join(self.about.values()).encode(),
        )  # fmt: skip

    def close(self) -> None:
        """Nothing is held."""

    def palette(self) -> Image.Image:
        """The colours of a few frames from all over the film, and those of what is written."""
        chosen = self.frames[:: max(len(self.frames) // SAMPLES, 1)]
        width, height = self.size
        sheet = Image.new("RGB", (width, height * len(chosen)))
        for k, (image, _) in enumerate(chosen):
            sheet.paste(image, (0, k * height))
        common = sheet.quantize(COLOURS - len(KEPT), Image.Quantize.FASTOCTREE).getpalette() or []
        palette = Image.new("P", (1, 1))
        palette.putpalette(common[: 3 * (COLOURS - len(KEPT))] + [c for ink in KEPT for c in ink])
        return palette


KINDS: dict[str, type[Mp4] | type[Gif]] = {".mp4": Mp4, ".gif": Gif}  # by ending


@contextmanager
def encoder(path: Path, size: tuple[int, int], fps: int, about: dict[str, str]) -> Iterator[Writer]:
    """A writer for the kind of file that the path names; `about`: tags written into it.

    Raises:
        SidehillError: no encoder, or it gave up.
    """
    try:
        with closing(KINDS[path.suffix](path, size, fps, about)) as writer:
            yield writer
            writer.finish()
    except (OSError, RuntimeError) as error:
        why = str(error).partition("\n")[0]
        raise SidehillError(
            f"the film could not be encoded ({why}); is there room on the disk?"
        ) from None
