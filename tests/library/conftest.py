"""A client of the service, for what settings and files of a deployer change in its answers."""

import pytest
from flask.testing import FlaskClient

from service.app import create_app


@pytest.fixture(scope="session")
def client() -> FlaskClient:
    """A client of the service with default settings."""
    return create_app().test_client()
