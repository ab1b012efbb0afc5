"""Frames to a film file."""

from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from typing import Protocol

import imageio_ffmpeg
import numpy as np
from PIL import Image

from sidehill.files.errors import SidehillError
from sidehill.film.gif import Gif
from sidehill.film.render.planes import planes

CRF, PRESET, THREADS = 21, "veryfast", 2  # one count everywhere: the same frames, the same file
SPACE = [  # of the planes that are handed over; said of them and, so, of the film
    "-colorspace", "bt709", "-color_primaries", "bt709", "-color_trc", "bt709",
    "-color_range", "tv",
]  # fmt: skip


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


KINDS = (".mp4", ".gif")  # endings


def writer_of(
    path: Path, size: tuple[int, int], fps: int, about: dict[str, str], most: int | None
) -> Writer:
    """The writer for the kind of file that a path names."""
    return (
        Gif(path, size, fps, about, most) if path.suffix == ".gif" else Mp4(path, size, fps, about)
    )


@contextmanager
def encoder(
    path: Path, size: tuple[int, int], fps: int, about: dict[str, str], most: int | None = None
) -> Iterator[Writer]:
    """A writer for the kind of file that the path names.

    Args:
        about: tags written into it; most: [bytes] that a GIF may have.

    Raises:
        SidehillError: no encoder, or it gave up.
    """
    try:
        with closing(writer_of(path, size, fps, about, most)) as writer:
            yield writer
            writer.finish()
    except (OSError, RuntimeError) as error:
        why = str(error).partition("\n")[0]
        raise SidehillError(
            f"the film could not be encoded ({why}); is there room on the disk?"
        ) from None
