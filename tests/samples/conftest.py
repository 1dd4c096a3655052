"""A running service for the sample clients."""

from collections.abc import Iterator

import pytest

from tests.wire.serving import Served, served


@pytest.fixture(scope="session")
def service(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """The real server on a free port."""
    with served(tmp_path_factory.mktemp("samples"), WEB_CONCURRENCY="1") as running:
        yield running


@pytest.fixture(scope="session")
def address(service: Served) -> str:
    """Its address."""
    return f"http://127.0.0.1:{service.port}"
