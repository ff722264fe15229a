"""Settings for all tests."""

from hypothesis import settings

# No deadlines: a slow machine is no fault. Derandomised, so that a run can be repeated.
settings.register_profile("kerfwind", deadline=None, derandomize=True)
settings.load_profile("kerfwind")
