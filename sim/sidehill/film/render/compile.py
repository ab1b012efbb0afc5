"""The one way to compile a drawing kernel: as in `sidehill.kernels.jit`, with a cache of its own.

Strict arithmetic, so the same pixels anywhere. A change to the drawing must not change the
physics version, so drawing kernels are hashed apart; they call the ground's height, so the
version of the physics kernels is part of their hash.
"""

from pathlib import Path

from sidehill.kernels import jit

kernel = jit.Compiler("film", Path(__file__).parent.parent, ("render",), jit.kernel.version)
PICTURE_VERSION = kernel.version
