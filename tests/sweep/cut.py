"""A shipped study made small enough for a test."""

from dataclasses import replace

from sidehill.study.sample import Sample
from sidehill.study.study import Study


def cut(study: Study) -> Study:
    """Two values of every list, four draws of what is drawn, one option."""
    axes = tuple(
        replace(axis, values=(axis.values[0], axis.values[-1])) if len(axis.values) > 2 else axis
        for axis in study.axes
    )
    sample = study.sample and Sample(method=study.sample.method, n=4, seed=study.sample.seed)
    return replace(study, axes=axes, sample=sample, options=study.options[:1])
