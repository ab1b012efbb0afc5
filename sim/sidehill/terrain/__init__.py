"""The ground as data: an array of typed features, evaluated by kernels."""
