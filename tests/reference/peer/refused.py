class Refused(Exception):
    """A layout has a part, or a behaviour, that this program does not compute."""
