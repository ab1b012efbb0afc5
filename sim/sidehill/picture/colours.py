"""The colours of every picture."""

PLUM, DARK_PLUM, PALE_PLUM = "#5c214f", "#3a1433", "#c9a9c2"
GREY, DARK_GREY, PALE_GREY = "#6b6e73", "#333538", "#d9d9dc"
