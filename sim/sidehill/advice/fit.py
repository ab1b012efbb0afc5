"""Whether an outfit fits: widths, cover of attachments, clearances, rear attachments' mass."""

from dataclasses import dataclass

from sidehill.advice.carried import carried_findings
from sidehill.advice.clearance import clearance_findings
from sidehill.advice.cover import cover_findings
from sidehill.advice.finding import Finding
from sidehill.advice.site import Site
from sidehill.advice.width import width_findings
from sidehill.machine.build import fit
from sidehill.machine.file import Machine
from sidehill.machine.outfit import Outfit


@dataclass(frozen=True)
class Fit:
    """What was found, in the order that people read it."""

    widths: tuple[Finding, ...]
    cover: tuple[Finding, ...]
    clearance: tuple[Finding, ...]
    carried: tuple[Finding, ...]

    @property
    def findings(self) -> tuple[Finding, ...]:
        """All of them."""
        return self.widths + self.cover + self.clearance + self.carried


def check_fit(machine: Machine, outfit: Outfit, site: Site | None = None) -> Fit:
    """How an outfit fits its machine, its attachments and the ways it must pass.

    Args:
        site: its grades are those that rear attachments are carried on; level by default.

    Raises:
        InputError: the outfit does not suit the machine at all (see `machine.build.fit`).
    """
    site = site or Site()
    fitted = fit(machine, outfit, site.downhill)
    return Fit(
        widths=width_findings(fitted),
        cover=cover_findings(fitted),
        clearance=clearance_findings(fitted),
        carried=carried_findings(machine, outfit, site),
    )
