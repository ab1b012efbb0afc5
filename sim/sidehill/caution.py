"""The words that stand on every report, picture sheet and film: one place."""

CAUTION = (
    "A model compares; it does not permit. Slopes that a calculation survives still kill. "
    "Roll bar up and belt on, bucket low, keep off slopes you are unsure of, follow the machine's "
    "manual, local codes and a qualified person."
)

IN_SHORT = CAUTION.partition(".")[0] + "."  # where there is room for one line

NOT_MODELLED = (
    "sinkage beyond a spring",
    "whether ground gives way",
    "the side of a tyre against a kerb",
    "liquid slosh",
    "a load that shifts in the bucket",
    "clutch-start rear tipping",
    "frame flex",
    "operator reaction",
)

SHOWN_SLOPE = "slope chosen to show the difference; not a slope to work on"
