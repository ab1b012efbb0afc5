"""What a change to a machine costs and buys, whether it fits, and how much of it is enough."""
