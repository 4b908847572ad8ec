"""Settings that all tests share."""

from hypothesis import settings

# How long an example takes is a property of the machine, not of the program: a busy one must not fail a test.
settings.register_profile("steady", deadline=None)
settings.load_profile("steady")
