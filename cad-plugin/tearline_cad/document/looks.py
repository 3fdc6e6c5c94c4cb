"""How a new object looks is the window's to see to, where there is one; the document only tells."""

# Called with an object that was just made; set by the workbench, None without a window.
dress = None


def dress_new(made):
    """Gives a new object its looks."""
    if dress is not None:
        dress(made)
