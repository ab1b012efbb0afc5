"""What every picture shares."""

from matplotlib.figure import Figure

from sidehill.picture.style import footnote, image, look


def test_a_dollar_in_a_name_is_a_dollar() -> None:
    for kind in ("png", "svg"):
        with look():
            figure = Figure(figsize=(3.0, 1.0))
            figure.suptitle(r"paid $\frac and 5$")  # no formula that could be read
            footnote(figure, "$10$ a bucket")
            assert image(figure, kind)
