"""The examples in the docstrings run."""

import doctest
import importlib
import pkgutil

import pytest

from materials import takeoff

MODULES = [module.name for module in pkgutil.iter_modules(takeoff.__path__, "materials.takeoff.")]


@pytest.mark.parametrize("name", MODULES)
def test_examples(name):
    assert doctest.testmod(importlib.import_module(name)).failed == 0


def test_some_modules_have_examples():
    assert sum(doctest.testmod(importlib.import_module(name)).attempted for name in MODULES) >= 10
