"""The table of published values in a README, between two marks."""

from collections.abc import Sequence
from pathlib import Path

from sidehill.crosscheck.check import Result
from sidehill.crosscheck.published_words import SUMMARY_HEADINGS, WORTH, about, summary
from sidehill.files.errors import InputError

BEGIN, END = "<!-- crosscheck: begin -->", "<!-- crosscheck: end -->"


def block(results: Sequence[Result]) -> str:
    """The marked block, in Markdown."""
    lines = [SUMMARY_HEADINGS, ("---",) * len(SUMMARY_HEADINGS), *summary(results)]
    table = "\n".join("| " + " | ".join(cells) + " |" for cells in lines)
    told = f"{about(results)}. Refreshed by `sidehill crosscheck --published --readme`."
    return f"{BEGIN}\n{told}\n\n{table}\n\n{WORTH}\n{END}"


def refreshed(path: Path, results: Sequence[Result]) -> bytes:
    """The file with its marked block written anew.

    Raises:
        InputError: as `split`.
    """
    before, after = split(path)
    return f"{before}{block(results)}{after}".encode()


def split(path: Path) -> tuple[str, str]:
    """What stands before and after the marked block.

    Raises:
        InputError: no such file, not UTF-8, or not exactly one block in it.
    """
    try:
        text = path.read_text(encoding="utf-8")
    except FileNotFoundError:
        raise InputError(f"{path}: no such file; give a file with a block to refresh") from None
    except (OSError, UnicodeDecodeError) as error:
        raise InputError(f"{path}: cannot be read ({error})") from None
    before, begin, rest = text.partition(BEGIN)
    _, end, after = rest.partition(END)
    if not (begin and end) or BEGIN in rest or END in before + after:
        raise InputError(f"{path}: needs one block between the lines {BEGIN} and {END}")
    return before, after
