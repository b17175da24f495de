"""Copies of everything: one dated file out while the program runs, and back into an empty place."""
