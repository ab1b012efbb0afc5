"""What can be held against the tool: published values, assumptions, spread of the inputs."""
