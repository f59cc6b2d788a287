"""The invented class of twelve: made through the desk's own acts, so that there is something to look at."""
