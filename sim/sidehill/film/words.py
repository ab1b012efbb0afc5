"""The language file: every word a film shows."""

from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from string import Formatter

from sidehill.files import toml
from sidehill.files.errors import InputError

BUILT_IN = Path(__file__).parent / "captions.toml"
LONGEST = 400  # characters of one text


@dataclass(frozen=True)
class Words:
    """Texts by name."""

    texts: dict[str, str]

    def say(self, name: str, **values: str) -> str:
        """The text with its values filled in."""
        return self.texts[name].format(**values)


@lru_cache(maxsize=1)
def built_in() -> Words:
    """The words in English."""
    return Words(dict(toml.read(BUILT_IN).data))


def read_words(path: Path | None) -> Words:
    """The words of a language file; what it leaves out stays in English.

    Raises:
        InputError: a name that is not known, or braces that are not those of the original.
    """
    if path is None:
        return built_in()
    document, known = toml.read(path), built_in().texts
    for name, text in document.data.items():
        where = document.where((name,))
        if name not in known:
            raise InputError(f'{where}: no caption called "{name[:60]}"; see {BUILT_IN.name}')
        if not isinstance(text, str) or not text.strip() or len(text) > LONGEST:
            raise InputError(f"{where}: {name} must be a text of 1 to {LONGEST} characters")
        wanted, given = fields(known[name], where), fields(text, where)
        if given != wanted:
            asked = ", ".join(f"{{{field}}}" for field in sorted(wanted)) or "no braces"
            raise InputError(f"{where}: {name} must hold {asked}, as the original does")
    return Words(known | document.data)


def fields(text: str, where: str) -> set[str]:
    """The names in a text's braces.

    Raises:
        InputError: braces that do not close, or more than a name in them.
    """
    try:
        parts = list(Formatter().parse(text))
    except ValueError as error:
        raise InputError(f"{where}: {error}") from None
    if any(spec or conversion for _, _, spec, conversion in parts):
        raise InputError(f"{where}: only a name may stand in braces")
    return {name for _, name, _, _ in parts if name is not None}
