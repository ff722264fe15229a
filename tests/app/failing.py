"""Engines that fail; nothing is imported here, so that each fails at once."""

import os


def ends_at_once(pipe):
    """An engine that cannot even begin."""
    os._exit(3)


def ends_when_asked(pipe):
    """An engine that a question is too much for."""
    pipe.recv()
    os._exit(3)
