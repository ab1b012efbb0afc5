"""Side-slope stability of compact tractors: statics, rigid-body simulation, comparison."""
