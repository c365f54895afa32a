"""Tests that ask the page's own modules need node."""

import shutil

import pytest

node = pytest.mark.skipif(shutil.which("node") is None, reason="node is not installed")
