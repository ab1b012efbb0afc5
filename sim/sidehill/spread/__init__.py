"""Intervals of an answer from the spread of its inputs."""
