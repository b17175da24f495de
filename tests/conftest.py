"""What every test may ask for: a workshop that is set up, three standing people, a browser of each."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any
from unittest.mock import patch

import pytest
from django.db import connections
from django.db.backends.sqlite3.base import DatabaseWrapper
from django.test import Client as Browser
from django.test import override_settings
from hypothesis import settings

from jobs.append_only import kept_models, unprotect
from jobs.models import Person, Workshop
from tests import make


@pytest.fixture(scope="session", autouse=True)
def _folders_of_the_tests(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """Folders of their own, with the key of a place that was begun just now."""
    data = tmp_path_factory.mktemp("data")
    (data / "secret_key").touch()
    with override_settings(DATA_DIR=data, PHOTO_DIR=tmp_path_factory.mktemp("photos")):
        yield


@pytest.fixture(scope="session")
def django_db_modify_db_settings(
    django_db_modify_db_settings_parallel_suffix: None, tmp_path_factory: pytest.TempPathFactory
) -> None:
    """SQLite's test database is a file: kept in memory, all threads of a live server share one connection."""
    database = connections["default"].settings_dict
    if connections["default"].vendor == "sqlite":
        database["TEST"]["NAME"] = str(tmp_path_factory.mktemp("database") / "tests.sqlite3")
        database["OPTIONS"]["init_command"] += " PRAGMA synchronous=OFF;"  # tests need no power cut


@pytest.fixture(scope="session", autouse=True)
def _no_search_of_its_own() -> Iterator[None]:
    """The search for better plans is a process of its own, which knows nothing of the tests' database."""
    with patch("materials.services.plans.start_search", lambda run: None):
        yield


@pytest.fixture
def workshop(db: None) -> Workshop:
    return make.workshop()


@pytest.fixture
def owner(workshop: Workshop) -> Person:
    return make.person("Olive Owner", role="owner")


@pytest.fixture
def maker(workshop: Workshop) -> Person:
    return make.person("Miles Maker", role="maker")


@pytest.fixture
def bookkeeper(workshop: Workshop) -> Person:
    return make.person("Bea Bookkeeper", role="bookkeeper")


def logged_in(person: Person) -> Browser:
    browser = Browser()
    browser.force_login(person)
    return browser


@pytest.fixture
def as_owner(owner: Person) -> Browser:
    return logged_in(owner)


@pytest.fixture
def as_maker(maker: Person) -> Browser:
    return logged_in(maker)


@pytest.fixture
def as_bookkeeper(bookkeeper: Person) -> Browser:
    return logged_in(bookkeeper)


@pytest.fixture
def as_stranger(workshop: Workshop) -> Browser:
    return Browser()


@pytest.fixture(autouse=True, scope="session")
def _passwords_are_hashed_quickly() -> Iterator[None]:
    """The real hash takes its time on purpose, which tests need not wait for."""
    with override_settings(PASSWORD_HASHERS=["django.contrib.auth.hashers.MD5PasswordHasher"]):
        yield


settings.register_profile("kerfbook", deadline=None)  # a busy machine is no failure
settings.load_profile("kerfbook")


@pytest.fixture(autouse=True, scope="session")
def _ledgers_can_be_emptied_between_tests() -> Iterator[None]:
    """Tests that commit empty every table afterwards; SQLite does it by DELETE, which ledgers refuse."""
    operations: Any = DatabaseWrapper.ops_class
    flush = operations.sql_flush

    def without_triggers(self: Any, *args: Any, **kwargs: Any) -> list[str]:
        for model in kept_models():
            unprotect(self.connection, model._meta.db_table)
        return flush(self, *args, **kwargs)

    operations.sql_flush = without_triggers
    yield
    operations.sql_flush = flush
