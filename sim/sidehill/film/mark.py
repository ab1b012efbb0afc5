"""A class's own mark, as a school or a dealer has one: put on the cards, and nowhere else."""

from pathlib import Path

from PIL import Image, UnidentifiedImageError

from sidehill.files.errors import InputError

LARGEST = 16_000_000  # pixels that are read
SMALLEST = 16  # [pixels] of a side
ENDINGS = (".png", ".jpg", ".jpeg")


def read_mark(path: Path | None) -> Image.Image | None:
    """The picture of a file, with what of it can be seen through.

    Raises:
        InputError: not there, not a picture of these kinds, too small or too large.
    """
    if path is None:
        return None
    if path.suffix.lower() not in ENDINGS:
        raise InputError(f"{path}: a mark ends in {', '.join(ENDINGS)}")
    try:
        with Image.open(path, formats=("PNG", "JPEG")) as image:
            width, height = image.size
            if width * height > LARGEST or min(width, height) < SMALLEST:
                raise InputError(
                    f"{path}: {width}x{height} pixels; allowed: {SMALLEST} or more along a side, "
                    f"{LARGEST // 1_000_000} million in all"
                )
            return image.convert("RGBA")
    except FileNotFoundError:
        raise InputError(f"{path}: no such file") from None
    except (OSError, UnidentifiedImageError, Image.DecompressionBombError, SyntaxError) as error:
        raise InputError(f"{path}: not a picture that can be read ({error})") from None


def place_mark(image: Image.Image, mark: Image.Image, x: int, y: int, wide: int, high: int) -> None:
    """Put a mark into a space, as large as it goes there, at its left."""
    share = min(wide / mark.width, high / mark.height)
    size = max(round(share * mark.width), 1), max(round(share * mark.height), 1)
    small = mark.resize(size, Image.Resampling.LANCZOS)
    image.paste(small, (x, y + (high - size[1]) // 2), small)
