"""How a missing part of a machine file is named to a person."""

from sidehill.machine.file import Machine


def lacks(machine: Machine, what: str) -> str:
    """What to add, as "the machine file x.toml lacks [limits]; add it to have this checked"."""
    return (
        f"the machine file {machine.file or machine.name} lacks {what}; add it to have this checked"
    )
