"""Settings that all tests share."""

import os

from hypothesis import settings

# How long an example takes is a property of the machine, not of the program: a busy one must not fail a test.
# The suite draws the same examples each time, so that a red run is about the change at hand; the profile
# `searching` draws new ones (HYPOTHESIS_PROFILE=searching), and what it finds becomes an @example.
settings.register_profile("steady", deadline=None, derandomize=True)
settings.register_profile("searching", deadline=None, max_examples=1000)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "steady"))
