"""Text and byte mutations of TOML files, from a seeded generator."""

import random
import re
from collections.abc import Callable

ABSURD = (
    *("nan", "inf", "-inf", '"nan m"', '"inf kg"', "1e999", "-1e999", '"1e308 km"', "1e-320"),
    *("0", "-1", "true", "false", '""', "[]", "{}", '"0 m"', '"-5 kg"', '"1e30 kN/m"', '"1e-9 kg"'),
    *("2020-01-01", "07:32:00", "0xffffffffffffffffffffffff", "0x" + "f" * 5000, "9" * 400),
    *('"' + "x" * 5000 + '"', '"\\u0000"', '"\\u202e25 mm"', '"٣ m"', '"１ m"', '"1 m m m m m"'),
    *('"1:0"', '"1:1e9"', '"100000 %"', '"90 deg"', '"-90 deg"', '"1 kg^-1"', '"1 m**9999"'),
    *("[[[[[[[[[[[[[[[[1]]]]]]]]]]]]]]]]", "{ a = { b = { c = 1 } } }", '"../../etc/passwd"'),
    *('"=1+1"', '"<b>x</b>"', '"[red]x[/red]"', '"{0}"', '"%s%n"', "'''", '"""', "\\", "."),
)
UNITS = ("m", "mm", "kg", "lb", "deg", "%", "N", "kN/m", "s", "m^3", "L", "°", "furlong", "")
WORDS = ("uphill", "downhill", "rear", "all", "both", "hard", "none", "full", "carry", "tilt table")
STRAY = "\x00\t\r\n\"'[]{}=#.,\\é漢\u202e\ufeff\U0001f69c\x7f"
_VALUE = re.compile(r"^([^=#\[]+=\s*)([^#]*?)(\s*(?:#.*)?)$")
_QUANTITY = re.compile(r'"([+-]?[0-9.]+(?:e[+-]?[0-9]+)?)\s*([^"0-9]*)"')

Mutation = Callable[[random.Random, str], str]


def _lines(rng: random.Random, text: str, change: Callable[[list[str], int], None]) -> str:
    lines = text.split("\n")
    change(lines, rng.randrange(len(lines)))
    return "\n".join(lines)


def drop_line(rng: random.Random, text: str) -> str:
    """One line less."""
    return _lines(rng, text, lambda lines, k: lines.__delitem__(k))


def repeat_line(rng: random.Random, text: str) -> str:
    """A line once more, somewhere else."""
    there = rng.random()
    return _lines(rng, text, lambda lines, k: lines.insert(int(there * len(lines)), lines[k]))


def swap_lines(rng: random.Random, text: str) -> str:
    """Two lines changed over."""
    lines = text.split("\n")
    a, b = rng.randrange(len(lines)), rng.randrange(len(lines))
    lines[a], lines[b] = lines[b], lines[a]
    return "\n".join(lines)


def _values(rng: random.Random, text: str, new: Callable[[str], str]) -> str:
    """The value of one pair rewritten."""
    lines = text.split("\n")
    pairs = [k for k, line in enumerate(lines) if _VALUE.match(line)]
    if not pairs:
        return text
    k = rng.choice(pairs)
    found = _VALUE.match(lines[k])
    assert found is not None
    lines[k] = f"{found[1]}{new(found[2])}{found[3]}"
    return "\n".join(lines)


def absurd_value(rng: random.Random, text: str) -> str:
    """A value that no field takes, or hardly."""
    return _values(rng, text, lambda _: rng.choice(ABSURD))


def other_value(rng: random.Random, text: str) -> str:
    """The value of another field, or a word of the language."""
    others = [found[2] for line in text.split("\n") if (found := _VALUE.match(line))]
    others += [f'"{word}"' for word in WORDS]
    return _values(rng, text, lambda _: rng.choice(others))


def other_unit(rng: random.Random, text: str) -> str:
    """The number with another unit."""
    unit = rng.choice(UNITS)
    return _values(rng, text, lambda value: _QUANTITY.sub(rf'"\1 {unit}"', value))


def other_size(rng: random.Random, text: str) -> str:
    """The number larger or smaller, by a little or by orders of magnitude, or negative."""
    factor = rng.choice((-1.0, 0.0, 0.5, 0.8, 1.1, 1.3, 2.0, 10.0, 1e3, 1e6, 1e-3, 1e-9))

    def scaled(value: str) -> str:
        return _QUANTITY.sub(lambda m: f'"{factor * float(m[1]):.6g} {m[2]}"', value)

    try:
        return _values(rng, text, scaled)
    except ValueError:  # an earlier mutation left no number
        return text


def rename_key(rng: random.Random, text: str) -> str:
    """A letter of a line's start changed: an unknown key or table."""

    def change(lines: list[str], k: int) -> None:
        at = rng.randrange(min(len(lines[k]), 12) + 1)
        lines[k] = lines[k][:at] + rng.choice("abcxyz_-.") + lines[k][at + 1 :]

    return _lines(rng, text, change)


def stray_character(rng: random.Random, text: str) -> str:
    """A character that does not belong."""
    at = rng.randrange(len(text) + 1)
    return text[:at] + rng.choice(STRAY) * rng.choice((1, 1, 1, 300)) + text[at:]


def nest(rng: random.Random, text: str) -> str:
    """Tables and lists as deep as the parser lets them."""
    depth = rng.choice((3, 50, 400, 3000))
    deep = rng.choice(
        (
            f"x = {'[' * depth}1{']' * depth}",
            f"[{'.'.join('a' * depth)}]",
            f"{'.'.join('b' * depth)} = 1",
            f"y = {'{ a = ' * depth}1{' }' * depth}",
        )
    )
    return _lines(rng, text, lambda lines, k: lines.insert(k, deep))


def cut(rng: random.Random, text: str) -> str:
    """The end is missing."""
    return text[: rng.randrange(len(text) + 1)]


MUTATIONS: tuple[Mutation, ...] = (
    *(drop_line, repeat_line, swap_lines, absurd_value, absurd_value, other_value, other_value),
    *(other_unit, other_size, other_size, other_size, rename_key, stray_character, nest, cut),
)


def flip_bytes(rng: random.Random, raw: bytes, most: int = 4) -> bytes:
    """A few bytes replaced by others."""
    found = bytearray(raw)
    for _ in range(rng.randint(1, most)):
        if found:
            found[rng.randrange(len(found))] = rng.randrange(256)
    return bytes(found)


def mutated(rng: random.Random, text: str) -> tuple[bytes, str]:
    """A mutated file, and what was done to it."""
    done = []
    for _ in range(rng.choice((1, 1, 1, 2, 3))):
        mutation = rng.choice(MUTATIONS)
        text = mutation(rng, text)
        done.append(mutation.__name__)
    raw = text.encode("utf-8", "surrogatepass")
    if rng.random() < 0.08:
        raw = flip_bytes(rng, raw)
        done.append("flip_bytes")
    return raw, ", ".join(done)
