"""The [sample] table of a study: how what varies is drawn."""

from math import log2
from typing import Annotated, Any, Literal, Self

from pydantic import Field, field_validator, model_validator

from sidehill.files.fields import FieldError, Text
from sidehill.files.spec import Spec

Method = Literal["grid", "latin", "sobol", "saltelli", "shapley", "table"]
Correlation = tuple[str, str, float]  # two drawn fields and their rank correlation

EVEN = ("sobol", "saltelli", "shapley")  # methods that draw from a Sobol sequence
GROWS = ("sobol", "saltelli", "shapley", "table")  # twice the draws begin with the same ones


class Sample(Spec):
    """How the varied fields are drawn.

    grid: lists and ranges are crossed; distributions are drawn `n` times (Latin hypercube), the
    same draws at every place of the grid. latin, sobol: `n` draws of everything at once, and so
    `replicates` times, each with the next seed. saltelli: n (d + 2) draws of d fields for Sobol
    indices; shapley: n (d + 1) for Shapley effects. table: the rows of a file of one's own, at
    every place of the grid.
    """

    method: Method = "grid"
    n: Annotated[int, Field(strict=True, ge=1, le=10_000_000)] = 256
    seed: Annotated[int, Field(strict=True, ge=0, le=2**31 - 1)] = 1
    replicates: Annotated[int, Field(strict=True, ge=1, le=1000)] = 1
    correlation: tuple[Correlation, ...] = ()
    table: Annotated[str, Text(400)] | None = None

    @property
    def grows(self) -> bool:
        """Whether twice the draws begin with those that there are."""
        return self.method in GROWS

    @field_validator("correlation", mode="before")
    @classmethod
    def _as_written(cls, raw: Any) -> Any:
        """Lists of three are what a file has."""
        return tuple(tuple(row) for row in raw) if isinstance(raw, list | tuple) else raw

    @model_validator(mode="after")
    def _is_balanced(self) -> Self:
        if self.method in EVEN and self.n & (self.n - 1):
            near = 2 ** round(log2(self.n))
            raise FieldError("n", f"a Sobol sequence is even at powers of 2 only; as {near}")
        return self

    @model_validator(mode="after")
    def _has_what_its_method_needs(self) -> Self:
        if (self.method == "table") != (self.table is not None):
            raise FieldError("table", 'allowed: with method = "table", which needs it')
        if self.replicates > 1 and self.method not in ("latin", "sobol"):
            raise FieldError("replicates", 'allowed: with method = "latin" or "sobol"')
        return self

    @model_validator(mode="after")
    def _may_be_correlated(self) -> Self:
        if self.correlation and self.method in ("saltelli", "shapley", "table"):
            raise FieldError(
                "correlation",
                'allowed: with method = "grid", "latin" or "sobol"; indices are of fields that '
                "vary each for itself, and a table has its own",
            )
        for one, other, rank in self.correlation:
            if one == other or not -1.0 < rank < 1.0:
                raise FieldError(
                    "correlation",
                    f'["{one}", "{other}", {rank:g}]: allowed: two fields, and a number between -1 '
                    "and 1",
                )
        return self
