"""The decision sheet: what each change to a machine buys, how much is enough, what it costs."""
