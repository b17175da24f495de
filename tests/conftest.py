"""What every test shares."""

from hypothesis import settings

# A shared machine can pause a test for longer than any deadline; wrong answers are what we look for.
settings.register_profile("kerfbook", deadline=None)
settings.load_profile("kerfbook")
